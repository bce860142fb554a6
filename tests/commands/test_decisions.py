"""Decisions: which is the newest, what it replaces, and when it wants a reason."""

import pytest

from blankbook.text.yaml_tree import read_tree
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


def rounds(small: dict[str, str], *days: str) -> dict[str, str]:
    """Return a round of each day, decided on the day that follows behind a colon."""
    found = {}
    for number, day in enumerate(days):
        measured, _, decided_on = day.partition(":")
        text = small[ROUND].replace("2024-02-12", measured).replace("lot: A", f"lot: {number}")
        path = ROUND.replace("2024-02-12", measured)
        found[path] = text + f"decision: {{decision: hold, date: {decided_on}, by: rv}}\n"
    return found


def test_two_decisions_of_one_day_are_a_finding(
    ledger_factory: LedgerMaker, command: Program, small_ledger_files: dict[str, str]
) -> None:
    """Nobody can then say which of them is the newest; two days apart is no finding."""
    same = rounds(small_ledger_files, "2024-02-12:2024-04-01", "2024-03-12:2024-04-01")
    ended = command("check", "--ledger", ledger_factory(same))
    assert ended.code == 1
    assert "[decisions-on-one-day]" in ended.out
    assert "2024-03-12-first.yaml:" in ended.out
    assert "as in 2024-02-12-first" in ended.out
    apart = rounds(small_ledger_files, "2024-02-12:2024-04-02", "2024-03-12:2024-04-01")
    assert "[decisions-on-one-day]" not in command("check", "--ledger", ledger_factory(apart)).out


def test_a_decision_names_sizes_of_the_style(
    ledger_factory: LedgerMaker, command: Program, small_ledger_files: dict[str, str]
) -> None:
    """A size that the style does not come in is named with its line."""
    words = "decision: hold, sizes: [M, 4XL]"
    ended = command("check", "--ledger", ledger_factory(decided(small_ledger_files, words)))
    assert ended.code == 1
    assert ":16:39: error: 4XL is not a size of the style" in ended.out


OLD = "decision: approved, reason: as charted, uses: [events], conditions: [not 2XL]"
BLOCK = """\
decision:
  decision: approved
  # rv has the samples
  date: 2024-02-20
  by: rv
  sizes: [M, L]
  reason: >-
    Every size as charted,
    and more.
  uses:
    - events
  conditions: [not 2XL]
note: kept
"""


@pytest.mark.parametrize("form", ["in one line", "in a block"])
def test_a_new_decision_replaces_every_part_of_the_old(
    form: str,
    ledger_factory: LedgerMaker,
    command: Program,
    small_ledger_files: dict[str, str],
) -> None:
    """What was said for an approval does not stand behind a rejection."""
    files = decided(small_ledger_files, OLD)
    if form == "in a block":
        files = {ROUND: small_ledger_files[ROUND] + BLOCK}
    root = ledger_factory(files)
    flags = ("--decide", "rejected", "--by", "mo", "--date", "2024-06-01")
    assert command("enter", "tarn-thrush/h6", *flags, "--ledger", root).code == 0
    text = (root / ROUND).read_text(encoding="utf-8")
    new = read_tree(ROUND, text).tree["decision"]
    assert new == {"decision": "rejected", "date": "2024-06-01", "by": "mo"}
    assert ("# rv has the samples\n" in text) == (form == "in a block")


def test_a_decision_alone_is_made_on_what_was_measured(
    ledger_factory: LedgerMaker, command: Program, small_ledger_files: dict[str, str]
) -> None:
    """A plan that is there waits for its readings; the decision goes to the newest round."""
    root = ledger_factory(small_ledger_files)
    plan = ("plan", "tarn-thrush/h6", "--sizes", "M", "--colours", "black", "--day", "2024-05-01")
    assert command(*plan, "--ledger", root).code == 0
    flags = ("--decide", "hold", "--by", "mo", "--date", "2024-06-01", "--sizes", "M,L")
    assert command("enter", "tarn-thrush/h6", *flags, "--ledger", root).code == 0
    made = read_tree(ROUND, (root / ROUND).read_text(encoding="utf-8")).tree["decision"]
    assert (made["decision"], made["sizes"]) == ("hold", ["M", "L"])


WASHED = {
    "shop.yaml": """\
shop: Brackenlight Print Room
units: in
currency: USD
tape: {unit: in, reads_to: 1/8}
required: [size_against_chart, washing]
""",
}
