"""Decisions that go against the evidence want a reason: where the two doors of the ledger meet."""

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from blankbook.text.findings import Fault, Finding

if TYPE_CHECKING:
    from blankbook.records.model import Blank, Ledger, Round


def unreasoned(root: Path, ledger: "Ledger") -> list[Finding]:
    """Return a finding for each blank whose newest decision contradicts the advice, silently.

    Only a decision without a reason is looked into, so that a ledger that gives its reasons is
    checked without judging anything.
    """
    return [
        _finding(root, one, advice)
        for blank in ledger.blanks.values()
        for one, advice in _against(blank, ledger)
    ]


def _newest_decided(blank: "Blank") -> "Round | None":
    return next((one for one in reversed(blank.rounds) if one.decision), None)


def decided_silently(blank: "Blank") -> bool:
    """Say whether the newest decision on a blank gives no reason."""
    one = _newest_decided(blank)
    return one is not None and one.decision is not None and not one.decision.reason


def _against(blank: "Blank", ledger: "Ledger") -> "Iterator[tuple[Round, str]]":
    one = _newest_decided(blank)
    if one is None or one.decision is None or not decided_silently(blank):
        return
    from blankbook.results.judge import judge
    from blankbook.results.verdict import goes_against

    advice = judge(blank, ledger.shop).verdict.advice
    if goes_against(one.decision.decision, advice):
        yield one, advice


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
