"""What the phone hands over is taken by a command, and never replaces a reading that is here."""

from pathlib import Path

import pytest

from support import Program
from terminals import ROUND, readings_of, round_tree

WHO = "by: rv\nlot: HN 1126\ndate: 2026-11-24\ntape: {unit: in, reads_to: 1/8}\n"


@pytest.fixture
def handed(demo_copy: Path, tmp_path: Path) -> Path:
    """Return the planned file with a head and two readings, one of them odd and confirmed."""
    text = (demo_copy / ROUND).read_text(encoding="utf-8")
    text = text.replace(
        "{piece: M-black-1, size: M, colour: black}",
        "{piece: M-black-1, size: M, colour: black, confirmed: looked twice, "
        "received: {half_chest: [22 5/8, 22 1/2]}}",
    )
    text = text.replace("pieces:\n", WHO + "pieces:\n", 1)
    place = tmp_path / "handed.yaml"
    place.write_text(text, encoding="utf-8")
    return place


def test_a_handed_over_round_is_taken(demo_copy: Path, handed: Path, command: Program) -> None:
    """Readings, head and reasons; taken twice, nothing changes the second time."""
    here = ("--handed", str(handed), "--ledger", str(demo_copy))
    ended = command("enter", "hobnettle/q5", *here)
    assert "wrote 2 readings" in ended.out, ended.err
    assert readings_of(demo_copy, "M-black-1") == {"half_chest": ["22 5/8", "22 1/2"]}
    tree = round_tree(demo_copy)
    assert (tree["by"], tree["lot"], tree["date"]) == ("rv", "HN 1126", "2026-11-24")
    assert tree["pieces"][0]["confirmed"] == "looked twice"
    after = (demo_copy / ROUND).read_bytes()
    assert "no change" in command("enter", ROUND, *here).out
    assert (demo_copy / ROUND).read_bytes() == after


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("M-black-1", "M-black-7", "the plan has changed since the page was made"),
        ("hobnettle/q5", "hobnettle/q7", "is of hobnettle/q7"),
        ("received", "recieved", "is no round's file"),
        ("half_chest: [22 5/8, 22 1/2]", "", "has no reading"),
    ],
)
def test_what_is_not_this_round_is_refused(
    demo_copy: Path, handed: Path, command: Program, old: str, new: str, words: str
) -> None:
    """With what to do, and nothing is written."""
    before = (demo_copy / ROUND).read_bytes()
    handed.write_text(handed.read_text(encoding="utf-8").replace(old, new), encoding="utf-8")
    flags = ("--handed", str(handed), "--ledger", str(demo_copy))
    ended = command("enter", "hobnettle/q5", *flags)
    assert ended.code == 2
    assert words in ended.err
    assert (demo_copy / ROUND).read_bytes() == before


def planned_anew(root: Path, old: str, new: str) -> None:
    """Change the plan after the page was made."""
    text = (root / ROUND).read_text(encoding="utf-8")
    assert old in text
    (root / ROUND).write_text(text.replace(old, new, 1), encoding="utf-8")


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("M-black-1, size: M", "M-black-1, size: L", "M-black-1 is L black here, M black there"),
        (
            "size: M, colour: black",
            "size: M, colour: cream",
            "M-black-1 is M cream here, M black there",
        ),
        (
            "pieces:",
            "how: {half_chest: below_armhole}\npieces:",
            "half_chest is measured below_armhole here, as the guide has it there",
        ),
    ],
)
def test_a_plan_that_has_changed_since_is_named(
    demo_copy: Path, handed: Path, command: Program, old: str, new: str, words: str
) -> None:
    """The readings may be of another garment, or another length, than they were typed for."""
    planned_anew(demo_copy, old, new)
    before = (demo_copy / ROUND).read_bytes()
    ended = command("enter", ROUND, "--handed", str(handed), "--ledger", str(demo_copy))
    assert ended.code == 2
    assert f"the plan has changed since the page was made: {words}" in ended.err
    assert (demo_copy / ROUND).read_bytes() == before


def test_pieces_that_were_planned_later_are_named(
    demo_copy: Path, handed: Path, command: Program
) -> None:
    """What was read is taken all the same."""
    more = "pieces:\n  - {piece: S-black-1, size: S, colour: black}"
    planned_anew(demo_copy, "pieces:", more)
    ended = command("enter", ROUND, "--handed", str(handed), "--ledger", str(demo_copy))
    assert "wrote 2 readings" in ended.out
    said = "the plan has changed since the page was made; planned later: S-black-1"
    assert said in ended.err


def test_a_reading_that_is_here_is_not_replaced(
    demo_copy: Path, handed: Path, command: Program
) -> None:
    """Both are named."""
    who = ("--by", "rv", "--lot", "HN 1126", "--date", "2026-11-24")
    put = ("--put", "M-black-1.half_chest=205", *who)
    command("enter", "hobnettle/q5", *put, "--ledger", str(demo_copy))
    ended = command("enter", ROUND, "--handed", str(handed), "--ledger", str(demo_copy))
    assert ended.code == 2
    assert "is 20 5/8 here, 22 5/8; 22 1/2 there" in ended.err
