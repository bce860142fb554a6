"""A delivery from the carton to the decision without an editor: by flags, and at a terminal.

How many to look at is table I and II-A of MIL-STD-105E: 150 pieces at level II are letter F, 20
pieces; AQL 2.5 accepts 1 and rejects 2. 72 pieces are letter E, and its arrow leads to F. 12 pieces
are letter B, and its arrow leads to C: 5 pieces, 0 and 1.
"""

import datetime
import json
from pathlib import Path
from typing import Any

import pytest

from blankbook.records.load_ledger import load_ledger
from blankbook.text.yaml_tree import read_tree
from blankbook.words.answers import Answer
from blankbook.words.delivery_terms import FAULTS
from made_deliveries import judge_all
from support import LedgerMaker, Program
from terminals import Terminal

BLANK = "tarn-thrush/h6"
FILE = f"blanks/{BLANK}/2024-03-04-bulk-delivery.yaml"
CAME = ("--came", "M=60,L=90", "--lot", "TT-2402-B", "--by", "jt", "--date", "2024-03-04")


@pytest.fixture
def root(ledger_factory: LedgerMaker) -> Path:
    """Return a ledger with an approved round."""
    return ledger_factory()


def tree_of(root: Path) -> dict[str, Any]:
    """Return what the delivery's file says."""
    return read_tree("", (root / FILE).read_text(encoding="utf-8")).tree


def faults_of(root: Path) -> list[str]:
    """Return the rules that the ledger breaks."""
    found = load_ledger(root, today=datetime.date(2024, 4, 1)).findings
    return [finding.rule for finding in found if finding.level == "error"]


def test_what_was_counted_is_a_file(root: Path, command: Program) -> None:
    """How many to look at is said; nothing of it is looked at yet, and so nothing is shown."""
    ended = command("receive", BLANK, *CAME, "--ledger", str(root))
    assert ended.code == 0, ended.err
    assert "of 150 pieces look at 20; up to 1 bad is accepted, 2 is rejected" in ended.out
    assert ended.out.endswith(f"next: blankbook enter {FILE}\n")
    tree = tree_of(root)
    assert (tree["delivered"], tree["inspected"]) == ({"M": "60", "L": "90"}, "0")
    assert [piece["piece"] for piece in tree["pieces"]] == ["M-black-1", "L-black-1"]
    assert faults_of(root) == []
    (result,) = [r for r in judge_all(root)[BLANK].results if r.check == "delivery"]
    assert result.answer == Answer.NOT_TESTED
    assert "nobody has looked yet: look at 20" in result.reason


def test_flags_take_it_to_the_decision(root: Path, command: Program) -> None:
    """Looked at, faults, the tape, and what was decided."""
    here = (FILE, "--ledger", str(root))
    command("receive", BLANK, *CAME, "--ledger", str(root))
    look = ("--looked", "20", "--fault", "M-black=seam, left shoulder", "--fault", "L-black-1=hole")
    put = ("--put", "M-black-1.half_chest=20", "--put", "L-black-1.half_chest=221")
    ended = command("enter", *look, *put, *here)
    assert ended.code == 0, ended.err
    decide = ("--decide", "rejected", "--by", "rv", "--date", "2024-03-05")
    assert command("enter", *decide, *here).code == 0
    tree = tree_of(root)
    assert tree["inspected"] == "20"
    assert tree["faults"] == [
        {"size": "M", "colour": "black", "fault": "seam", "note": "left shoulder"},
        {"size": "L", "colour": "black", "piece": "L-black-1", "fault": "hole"},
    ]
    assert tree["pieces"][1]["received"] == {"half_chest": "22 1/8"}
    assert tree["decision"] == {"decision": "rejected", "date": "2024-03-05", "by": "rv"}
    assert faults_of(root) == []
    (result,) = [r for r in judge_all(root)[BLANK].results if r.check == "delivery"]
    assert result.answer == Answer.FAILS


@pytest.mark.parametrize(
    ("flags", "words"),
    [
        (("--looked", "151"), "must be at most the 150 delivered"),
        (("--looked", "1", "--fault", "M=hole", "--fault", "L=hole"), "2 pieces are"),
        (("--looked", "20", "--fault", "S=hole"), "must be a size that was delivered"),
        (("--looked", "20", "--fault", "M=holes"), "there are hole, stain"),
        (("--looked", "20", "--fault", "M-mauve=hole"), "no size or piece called M-mauve"),
        (("--looked", "20", "--fault", "M"), "--fault must be SIZE=FAULT"),
        (("--decide", "hold", "--by", "rv"), "must be one of the known words"),
        (("--decide", "accepted", "--by", "rv", "--date", "2024-03-01"), "before it was inspected"),
        (("--washed", "1", "--put", "M-black-1.half_chest=20"), "looked at as it came"),
        (("--put", "M-black-1.half_chest=20"), "1 piece is measured, and 0 were inspected"),
    ],
)
def test_what_the_check_would_refuse_is_not_written(
    root: Path, command: Program, flags: tuple[str, ...], words: str
) -> None:
    """With the words of the check."""
    command("receive", BLANK, *CAME, "--ledger", str(root))
    before = (root / FILE).read_bytes()
    ended = command("enter", FILE, *flags, "--ledger", str(root))
    assert ended.code == 2
    assert words in ended.err + ended.out
    assert (root / FILE).read_bytes() == before


@pytest.mark.parametrize(
    ("flags", "words"),
    [
        (("--came", "M=0"), "must hold at least one piece"),
        (("--came", "M=1.5"), "must be a whole number"),
        (("--came", "XS=4"), "unknown size XS"),
        (("--again", "2024-03-01-gone-delivery"), "no delivery of this style"),
        (("--colours", "mauve"), "the style has no colour mauve"),
        (("--date", "2199-01-01"), "date must be between"),
        (("--lot", ""), "is not given, and nobody can be asked here"),
        (("--by", ""), "is not given, and nobody can be asked here"),
    ],
)
def test_what_cannot_have_come_is_refused(
    root: Path, command: Program, flags: tuple[str, ...], words: str
) -> None:
    """And no file is left behind."""
    ended = command("receive", BLANK, *CAME, *flags, "--ledger", str(root))
    assert ended.code == 2, ended.out
    assert words in ended.err
    assert not (root / FILE).exists()


def test_an_order_says_what_should_have_come(
    ledger_factory: LedgerMaker, command: Program, small_ledger_files: dict[str, str]
) -> None:
    """What was bought and has no outcome yet is compared with the count, in its colours."""
    style = f"blanks/{BLANK}/style.yaml"
    two = small_ledger_files[style].replace("[black]", "[black, cream]")
    order = (
        f"style: {BLANK}\ndate: 2024-02-20\nby: rv\nfor: the choir\n"
        "needed: {cream: {M: 20, L: 50}}\n"
        "bought: {date: 2024-02-21, goods: 331.20, pieces: {cream: {M: 22, L: 50}}}\n"
    )
    root = ledger_factory({style: two, f"blanks/{BLANK}/2024-02-20-choir-order.yaml": order})
    flags = (*CAME, "--came", "M=20,L=52", "--json", "--ledger", str(root))
    told = json.loads(command("receive", BLANK, *flags).out)
    assert told["bought"] == "against what was bought: 2 M short, 2 L over"
    assert told["look_at"].startswith("of 72 pieces look at 20; ")
    tree = tree_of(root)
    assert tree["order"] == "2024-02-20-choir-order"
    assert [piece["piece"] for piece in tree["pieces"]] == ["M-cream-1", "L-cream-1"]
    assert faults_of(root) == []


def test_it_is_looked_over_at_a_terminal(root: Path) -> None:
    """One fault a key, each on disk at once; what was killed goes on there; then the tape."""
    at = Terminal(root, BLANK, "--date", "2024-03-04", door="receive")
    for question, answer in (("  S", ""), ("  M", "some"), ("  M", "12"), ("  L", ""),
                             ("the lot", "TT-2402-B"), ("who looks at it", "jt")):  # fmt: skip
        at.until(question)
        at.key(f"{answer}\r")
    at.until("of 12 pieces look at 5; ")
    at.until("next: ")
    assert at.end() == 0

    at = Terminal(root, FILE)
    at.until("of 12 pieces look at 5; ")
    at.until("piece 1 of 5 >")
    at.key("\r")
    at.until("piece 2 of 5 >")
    at.kill()
    assert tree_of(root)["inspected"] == "1"

    seam = str(1 + list(FAULTS).index("seam"))
    at = Terminal(root, FILE)
    at.until("piece 2 of 5 >")
    at.key(f"{seam}\r")
    at.until("size or piece (M) [M] >")
    at.key("XL\r")
    at.until("no size or piece called XL")
    at.until("size or piece")
    at.key("\r")
    at.until("where and how")
    at.key("left shoulder\r")
    at.until("piece 3 of 5 >")
    assert tree_of(root)["faults"] == [{"size": "M", "fault": "seam", "note": "left shoulder"}]
    at.key("u\r")
    at.until("piece 2 of 5 >")
    assert "faults" not in tree_of(root)
    for number in (2, 3, 4, 5):
        at.key("\r")
        at.until(f"piece {number + 1} of 5 >" if number < 5 else "M-black-1  half chest")
    at.key("20\r")
    at.until("M-black-1  body length")
    at.key("29\r")
    at.until("0 bad of 5 looked at")
    at.until("--decide accepted")
    assert at.end() == 0
    tree = tree_of(root)
    assert tree["inspected"] == "5"
    assert tree["pieces"][0]["received"] == {"half_chest": "20", "body_length": "29"}
    assert faults_of(root) == []


def test_more_pieces_than_were_looked_at_are_not_measured(root: Path, command: Program) -> None:
    """The bad ones that were not measured count as looked at, too."""
    small = (*CAME[2:], "--came", "M=2", "--each", "2", "--ledger", str(root))
    command("receive", BLANK, *small)
    look = ("--looked", "2", "--fault", "M=hole", "--ledger", str(root))
    assert command("enter", FILE, *look).code == 0
    at = Terminal(root, FILE, "--points", "half_chest")
    at.until("M-black-1  half chest")
    at.key("20\r")
    at.until("M-black-2  half chest")
    at.key("20\r")
    at.until("3 pieces are measured or bad, and 2 were inspected")
    at.until("M-black-2  half chest")
    at.key("q\r")
    at.until("1 bad of 2 looked at")
    assert at.end() == 0
    assert "received" not in tree_of(root)["pieces"][1]
    assert faults_of(root) == []
