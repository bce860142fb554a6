"""Where a blank stands at one version: advice, decision, answers and what clients see.

It is small, since it is brought over from the process that judged the blank.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from blankbook.words.answers import Advice

if TYPE_CHECKING:
    from blankbook.history.moved.client_changes import ClientView
    from blankbook.results.result_types import Judged, Result


@dataclass(frozen=True, slots=True)
class BlankStatus:
    """Where a blank stands."""

    key: str
    advice: str
    headline: str
    decision: str
    """What a person decided last, when, and who it was; empty where nobody decided."""
    orderable: tuple[str, ...]
    answers: Mapping[tuple[str, str], str]
    """The answers that the advice rests on, by the check's key and what the answer is about."""
    clients: "ClientView | None" = None
    """None where clients see nothing of it."""


def blank_status(judged: "Judged") -> BlankStatus:
    """Return where a judged blank stands."""
    from blankbook.history.moved.client_changes import client_view
    from blankbook.results.json_results import decision_data

    decision = decision_data(judged)
    answers = {
        (result.check, _about(result)): str(result.answer)
        for result in judged.results
        if result.deciding
    }
    verdict = judged.verdict
    decided = ""
    if decision:
        decided = f"{decision['decision']}, {decision['date']}, by {decision['by']}"
    return BlankStatus(
        judged.blank.style.key,
        str(verdict.advice),
        verdict.headline,
        decided,
        verdict.orderable,
        answers,
        client_view(judged),
    )


def _about(result: "Result") -> str:
    return " ".join(part for part in (result.size, result.point, result.lot) if part)


def advice_drop(before: BlankStatus | None, after: BlankStatus | None) -> int:
    """Return by how many steps the advice got worse: 0 where it did not, most where it is gone."""
    order = [str(advice) for advice in Advice]
    if before is None:
        return 0
    if after is None:
        return len(order)
    return max(0, order.index(after.advice) - order.index(before.advice))
