"""Decisions that go against the evidence want a reason: where the two doors of the ledger meet."""

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from blankbook.text.findings import Fault, Finding

if TYPE_CHECKING:
    from blankbook.records.load_ledger import LoadedLedger
    from blankbook.records.model import Blank, Decision, DeliveryDecision
    from blankbook.results.result_types import Judged


def unreasoned(root: Path, loaded: "LoadedLedger") -> list[Finding]:
    """Return a finding for each blank whose newest decision contradicts the advice, silently.

    And one for each delivery that was decided against its plan. *loaded* must hold the blanks that
    were `decided_silently`, and what all blanks teach; so a ledger that gives its reasons is
    checked without judging anything.
    """
    from blankbook.commands.shared.judge_ledger import judge_loaded

    def faults(judged: "Judged") -> list[tuple[str, str]]:
        return [*_against_advice(judged), *_against_plan(judged)]

    return [
        _finding(root, path, message)
        for found in judge_loaded(loaded, faults)
        for path, message in found
    ]


def decided_silently(blank: "Blank") -> bool:
    """Say whether the newest decision on a blank, or one on a delivery, gives no reason."""
    from blankbook.results.standing.newest_decision import newest_decision

    newest = newest_decision(blank)
    made = [newest.made if newest else None, *(delivery.decision for delivery in blank.deliveries)]
    return any(_is_silent(decision) for decision in made)


def _is_silent(made: "Decision | DeliveryDecision | None") -> bool:
    return made is not None and not made.reason


def _against_advice(judged: "Judged") -> Iterator[tuple[str, str]]:
    """Yield the newest decision, where it goes against what was known on its day."""
    from blankbook.results.advice.verdict import is_against_advice
    from blankbook.results.standing.newest_decision import newest_decision

    newest, advice = newest_decision(judged.blank), judged.verdict.advice
    if newest is None or not _is_silent(newest.made):
        return
    judged_on = judged.case.round
    was_known = judged_on is None or judged_on.date <= newest.made.date
    if was_known and is_against_advice(newest.made.decision, advice):
        words = f"decided {newest.made.decision}, and the evidence advises {advice}"
        yield newest.round.source.path, words


def _against_plan(judged: "Judged") -> Iterator[tuple[str, str]]:
    from blankbook.results.checks.delivery import delivery_results, is_against_plan
    from blankbook.results.deliveries.delivery_words import say_outcome

    if not any(_is_silent(one.decision) for one in judged.blank.deliveries):
        return
    for one in delivery_results(judged.case):
        made = one.delivery.decision
        if made and _is_silent(made) and is_against_plan(one):
            message = f"decided {made.decision}, against the plan: {say_outcome(one.inspection)}"
            yield one.delivery.source.path, message


def _finding(root: Path, path: str, message: str) -> Finding:
    from blankbook.text.decoding import decode
    from blankbook.text.yaml_tree import read_tree

    read = read_tree(path, decode((root / path).read_bytes()))
    remedy = "add reason: and why; both are shown"
    at = ("decision", "decision")
    return read.locate(Fault(at, "decision-without-reason", message, remedy, "warning"))
