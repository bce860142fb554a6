"""What stands first on a blank's page: whether it may be ordered today, in which sizes, and why."""

import datetime
from collections.abc import Iterable
from dataclasses import dataclass

from blankbook.pages.page_types import AnswerSign
from blankbook.pages.value_words import sign_of
from blankbook.results.result_types import Judged
from blankbook.results.standing.make_standing import say_evidence
from blankbook.results.standing.offer_words import say_offers
from blankbook.results.standing.size_words import say_day
from blankbook.results.standing.standing_types import DatedReason, LeftOutSize


@dataclass(frozen=True, slots=True)
class ReasonLine:
    """One thing that the standing follows from."""

    day: str
    says: str
    against: bool
    """Whether it speaks against the decision that governs."""


@dataclass(frozen=True, slots=True)
class StandingTop:
    """What holds today for one blank."""

    sign: AnswerSign
    sentence: str
    evidence: str
    """The day and lot that it rests on, and how many lots there are; empty for none."""
    sizes: tuple[str, ...]
    left_out: tuple[LeftOutSize, ...]
    offers: tuple[str, ...]
    washed: str
    conditions: tuple[str, ...]
    reasons: tuple[ReasonLine, ...]
    more: tuple[ReasonLine, ...]
    """The reasons past those that are shown."""
    next: str


def standing_top(judged: Judged) -> StandingTop:
    """Return what the page of a blank opens with."""
    standing = judged.standing
    shown = standing.shown_reasons
    against = {(reason.day, reason.says) for reason in standing.against}
    return StandingTop(
        sign=sign_of(standing.kind),
        sentence=standing.sentence,
        evidence=say_evidence(standing),
        sizes=standing.sizes,
        left_out=standing.left_out,
        offers=say_offers(judged),
        washed=standing.washed,
        conditions=standing.conditions,
        reasons=_lines(shown, against),
        more=_lines(standing.reasons[len(shown) :], against),
        next=standing.next_step,
    )


def _lines(
    reasons: Iterable[DatedReason], against: set[tuple[datetime.date, str]]
) -> tuple[ReasonLine, ...]:
    return tuple(
        ReasonLine(say_day(reason.day), reason.says, (reason.day, reason.says) in against)
        for reason in reasons
    )
