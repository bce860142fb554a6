"""What a check can answer, what a blank can be advised, and the shapes that say so.

A check does not only pass or fail. With one to three pieces a size most questions are open, and a
shop that takes an open question for a pass loses money.
"""

from dataclasses import dataclass
from enum import StrEnum


class Answer(StrEnum):
    """What evidence says to a question; "not shown" is never a pass.

    What fails although the shop asks nothing of it is noted: it is worth knowing, and no fault.
    """

    MEETS = "meets"
    FAILS = "fails"
    NOT_SHOWN = "not shown"
    NOT_TESTED = "not tested"
    NOTED = "noted"


class Advice(StrEnum):
    """What the evidence advises, and what a person may decide."""

    APPROVED = "approved"
    CONDITIONS = "approved with conditions"
    HOLD = "hold"
    REJECTED = "rejected"


class MayOrder(StrEnum):
    """What holds today for a blank, from the most to the least that it allows."""

    YES = "may be ordered"
    CONDITIONS = "may be ordered on conditions"
    WAIT = "wait"
    NO = "do not order"


@dataclass(frozen=True, slots=True)
class Sign:
    """How an answer or an advice looks where a reader may not see its colour."""

    shape: str
    """One character that no other answer has."""
    meaning: str


SIGNS: dict[str, Sign] = {
    Answer.MEETS: Sign("●", "shown to be inside what is asked"),
    Answer.FAILS: Sign("■", "shown to be outside what is asked"),
    Answer.NOT_SHOWN: Sign("◐", "too few pieces, or too coarse a tape, to say"),
    Answer.NOT_TESTED: Sign("○", "nobody has looked yet"),
    Answer.NOTED: Sign("▷", "seen, and the shop's rules ask nothing of it"),
    Advice.APPROVED: Sign("●", "every required check meets"),
    Advice.CONDITIONS: Sign("◆", "every required check meets; something else fails"),
    Advice.HOLD: Sign("◐", "not shown yet, or another lot could clear it"),
    Advice.REJECTED: Sign("■", "a required check fails, and no other lot is likely to clear it"),
    MayOrder.YES: Sign("●", "in the sizes that are named, today"),
    MayOrder.CONDITIONS: Sign("◆", "in the sizes that are named, keeping the conditions"),
    MayOrder.WAIT: Sign("◐", "something is open, or was decided or found since"),
    MayOrder.NO: Sign("■", "a person rejected it, or two lots show the same fault"),
}
