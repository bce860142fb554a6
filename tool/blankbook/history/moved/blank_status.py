"""Where a blank stands at one version: what holds, advice, decision, answers, clients' view.

It is small, since it is brought over from the process that judged the blank.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from blankbook.words.answers import MayOrder

if TYPE_CHECKING:
    from blankbook.history.moved.client_changes import ClientView
    from blankbook.results.result_types import Judged, Result


@dataclass(frozen=True, slots=True)
class BlankStatus:
    """Where a blank stands."""

    key: str
    standing: str
    """Whether it may be ordered."""
    sentence: str
    advice: str
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
    standing = judged.standing
    decided = ""
    if decision:
        decided = f"{decision['decision']}, {decision['date']}, by {decision['by']}"
    return BlankStatus(
        judged.blank.style.key,
        str(standing.kind),
        standing.sentence,
        str(judged.verdict.advice),
        decided,
        standing.sizes,
        answers,
        client_view(judged),
    )


def _about(result: "Result") -> str:
    return " ".join(part for part in (result.size, result.point, result.lot) if part)


def standing_drop(before: BlankStatus | None, after: BlankStatus | None) -> int:
    """Return by how many steps a standing got worse: 0 where it did not, most where it is gone."""
    order = [str(kind) for kind in MayOrder]
    if before is None:
        return 0
    if after is None:
        return len(order)
    return max(0, order.index(after.standing) - order.index(before.standing))
