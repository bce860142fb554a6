"""What the evidence says of a blank at one version, kept small: advice, decision, answers."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from blankbook.words.answers import Advice

if TYPE_CHECKING:
    from blankbook.results.result_types import Judged


@dataclass(frozen=True, slots=True)
class Standing:
    """Where a blank stands."""

    key: str
    advice: str
    headline: str
    decision: str
    """What a person decided last; empty where nobody did."""
    orderable: tuple[str, ...]
    answers: Mapping[tuple[str, str], str]
    """Of each check that the advice rests on, by its key and what it is about."""
    clients: Mapping[str, Any] | None = None
    """What clients see of it, as JSON data of `clients_moved`; None where that is nothing."""


def standing_of(judged: "Judged") -> Standing:
    """Return where a judged blank stands."""
    from blankbook.history.moved.client_changes import seen_by_clients
    from blankbook.results.json_results import decision_data

    made = decision_data(judged)
    answers = {
        (one.check, " ".join(part for part in (one.size, one.point, one.lot) if part)): str(
            one.answer
        )
        for one in judged.results
        if one.deciding
    }
    verdict = judged.verdict
    decided = f"{made['decision']}, {made['date']}, by {made['by']}" if made else ""
    key = judged.blank.style.key
    head = (key, str(verdict.advice), verdict.headline, decided, verdict.orderable)
    return Standing(*head, answers, seen_by_clients(judged))


def fall(before: Standing | None, after: Standing | None) -> int:
    """Return by how many steps the advice got worse; most where the blank is gone, else 0."""
    order = [str(one) for one in Advice]
    if before is None:
        return 0
    if after is None:
        return len(order)
    return max(0, order.index(after.advice) - order.index(before.advice))
