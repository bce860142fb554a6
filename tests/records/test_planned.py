"""A round that is planned: known, shown, and no evidence until somebody has measured."""

import datetime

import pytest

from blankbook.records.load_ledger import load_ledger
from support import LedgerMaker

PLAN = """\
style: tarn-thrush/h6
planned: 2026-12-01
pieces:
  - {piece: M-black-1, size: M, colour: black}
  - {piece: L-black-1, size: L, colour: black}
"""
PATH = "blanks/tarn-thrush/h6/2026-12-01-next.yaml"


def test_a_plan_is_known_and_not_evidence(ledger_factory: LedgerMaker) -> None:
    """Its pieces are there, and no round more is judged."""
    root = ledger_factory()
    before = load_ledger(root).ledger
    (root / PATH).write_text(PLAN, encoding="utf-8")
    loaded = load_ledger(root, today=datetime.date(2026, 11, 25))
    assert loaded.findings == ()
    assert before
    assert loaded.ledger
    blank = loaded.ledger.blanks["tarn-thrush/h6"]
    assert blank.rounds == before.blanks["tarn-thrush/h6"].rounds
    (plan,) = blank.planned
    assert [(piece.key, piece.size) for piece in plan.pieces] == [
        ("M-black-1", "M"),
        ("L-black-1", "L"),
    ]
    assert (plan.by, plan.lot, plan.tape) == ("", "", None)


def test_it_becomes_a_round_when_it_has_a_date(ledger_factory: LedgerMaker) -> None:
    """The file keeps its name, and the day it was planned."""
    root = ledger_factory()
    text = PLAN + "date: 2026-12-04\nby: rv\nlot: A\ntape: {unit: in, reads_to: 1/8}\n"
    text = text.replace("colour: black}", "colour: black, received: {half_chest: 20 1/8}}")
    (root / PATH).write_text(text, encoding="utf-8")
    loaded = load_ledger(root)
    assert [finding.rule for finding in loaded.findings if finding.level == "error"] == []
    assert loaded.ledger
    blank = loaded.ledger.blanks["tarn-thrush/h6"]
    assert blank.planned == ()
    assert blank.rounds[-1].planned == datetime.date(2026, 12, 1)


FAULTS = {
    "readings without a day": (
        ("black}", "black, received: {half_chest: 20}}"), "no-date", "received is there, but not"),
    "a decision without a day": (
        ("pieces:", "decision: {decision: approved, date: 2026-12-02, by: rv}\npieces:"),
        "no-date", "decision is there, but not the day of measuring"),
    "another name": (
        ("2026-12-01", "2026-12-02"), "name-against-content", "must begin with 2026-12-02"),
    "an unknown size": (("size: M", "size: Q"), "unknown-size", "unknown size Q"),
    "a date, and nothing else that a round has": (
        ("pieces:", "date: 2026-12-04\npieces:"), "missing-key", "by is missing"),
    "neither planned nor measured": (("planned: 2026-12-01\n", ""), "missing-key", "is missing"),
    "measured before it was planned": (
        ("pieces:", "date: 2026-11-04\nby: rv\nlot: A\ntape: {unit: in, reads_to: 1/8}\npieces:"),
        "dates-backwards", "planned on 2026-12-01, after it was measured on 2026-11-04"),
}  # fmt: skip


@pytest.mark.parametrize("case", FAULTS)
def test_faults_of_a_plan_are_told(case: str, ledger_factory: LedgerMaker) -> None:
    """Each with its rule, in words that name the fault."""
    (old, new), rule, words = FAULTS[case]
    root = ledger_factory()
    assert old in PLAN
    (root / PATH).write_text(PLAN.replace(old, new, 1), encoding="utf-8")
    found = [finding for finding in load_ledger(root).findings if finding.path == PATH]
    assert any(finding.rule == rule and words in finding.message for finding in found), found
