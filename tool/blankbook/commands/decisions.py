"""Decisions that go against the evidence want a reason: where the two doors of the ledger meet."""

from pathlib import Path
from typing import TYPE_CHECKING

from blankbook.text.findings import Fault, Finding

if TYPE_CHECKING:
    from blankbook.records.load import Loaded
    from blankbook.records.model import Blank, Round
    from blankbook.results.frame import Judged


def unreasoned(root: Path, loaded: "Loaded") -> list[Finding]:
    """Return a finding for each blank whose newest decision contradicts the advice, silently.

    *loaded* must hold the blanks that were `decided_silently`, and what all blanks teach; so a
    ledger that gives its reasons is checked without judging anything.
    """
    from blankbook.commands.judging import judge_loaded

    return [
        _finding(root, one, judged.verdict.advice)
        for judged in judge_loaded(loaded)
        if (one := _against(judged))
    ]


def _newest_decided(blank: "Blank") -> "Round | None":
    return next((one for one in reversed(blank.rounds) if one.decision), None)


def decided_silently(blank: "Blank") -> bool:
    """Say whether the newest decision on a blank gives no reason."""
    one = _newest_decided(blank)
    return one is not None and one.decision is not None and not one.decision.reason


def _against(judged: "Judged") -> "Round | None":
    from blankbook.results.verdict import goes_against

    one = _newest_decided(judged.blank)
    if one is None or one.decision is None or not decided_silently(judged.blank):
        return None
    return one if goes_against(one.decision.decision, judged.verdict.advice) else None


def _finding(root: Path, one: "Round", advice: str) -> Finding:
    from blankbook.text.bytes import decode
    from blankbook.text.tree import read_tree

    assert one.decision is not None
    path = one.source.path
    read = read_tree(path, decode((root / path).read_bytes()))
    message = f"decided {one.decision.decision}, and the evidence advises {advice}"
    remedy = "add reason: and why; both are shown"
    at = ("decision", "decision")
    return read.finding(Fault(at, "decision-without-reason", message, remedy, "warning"))
