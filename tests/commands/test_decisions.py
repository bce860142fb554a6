"""A decision against the evidence wants a reason."""

import pytest

from support import LedgerMaker, Program

ROUND = "blanks/tarn-thrush/h6/2024-02-12-first.yaml"


def decided(small: dict[str, str], words: str) -> dict[str, str]:
    """Return the small ledger's round with a decision; its evidence advises to hold."""
    return {ROUND: small[ROUND] + f"decision: {{{words}, date: 2024-02-20, by: rv}}\n"}


def test_an_approval_against_the_evidence_asks_for_a_reason(
    ledger_factory: LedgerMaker, command: Program, small_ledger_files: dict[str, str]
) -> None:
    root = ledger_factory(decided(small_ledger_files, "decision: approved") | WASHED)
    ended = command("check", "--ledger", root)
    assert ended.code == 1
    assert "[decision-without-reason]" in ended.out
    line = small_ledger_files[ROUND].count("\n") + 1
    assert f"{ROUND}:{line}:22: warning" in ended.out
    assert "the evidence advises hold" in ended.out


@pytest.mark.parametrize(
    "words", ["decision: approved, reason: the client wants them", "decision: hold"]
)
def test_a_reason_or_an_agreement_is_enough(
    words: str,
    ledger_factory: LedgerMaker,
    command: Program,
    small_ledger_files: dict[str, str],
) -> None:
    root = ledger_factory(decided(small_ledger_files, words) | WASHED)
    ended = command("check", "--ledger", root)
    assert ended.code == 0, ended.out


WASHED = {
    "shop.yaml": """\
shop: Brackenlight Print Room
units: in
currency: USD
tape: {unit: in, reads_to: 1/8}
required: [size_against_chart, washing]
""",
}
