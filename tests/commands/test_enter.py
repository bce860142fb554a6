"""Readings into a round: from a list, and at the table in a terminal of its own."""

import json
import random
import re
import time
from pathlib import Path

import pytest

from blankbook.records.load_ledger import load_ledger
from support import Program
from terminals import ROUND, WHO, Terminal, readings_of, round_tree


def test_readings_given_as_flags_are_written(demo_copy: Path, command: Program) -> None:
    """And the plan is a round from then on, that checks."""
    put = ("--put", "M-black-1.half_chest=205", "--put", "M-black-1.body_length=28 1/2")
    ended = command("enter", "hobnettle/q5", *put, *WHO, "--ledger", str(demo_copy))
    assert ended.code == 0, ended.err
    assert readings_of(demo_copy, "M-black-1") == {"half_chest": "20 5/8", "body_length": "28 1/2"}
    assert (round_tree(demo_copy)["date"], round_tree(demo_copy)["lot"]) == (
        "2026-11-24",
        "HN 1126",
    )
    checked = command("check", "--ledger", str(demo_copy))
    assert ROUND not in checked.out
    ledger = load_ledger(demo_copy).ledger
    assert ledger
    assert ledger.blanks["hobnettle/q5"].rounds[-1].key == "2026-11-16-winter"


def test_the_rest_of_the_file_is_as_it_was(demo_copy: Path, command: Program) -> None:
    """Every line but the one that got readings, and the head."""
    before = (demo_copy / ROUND).read_bytes().splitlines()
    put = ("--put", "M-black-1.half_chest=205")
    command("enter", ROUND, *put, *WHO, "--ledger", str(demo_copy))
    after = (demo_copy / ROUND).read_bytes().splitlines()
    assert [line for line in before if line not in after] == [
        b"  - {piece: M-black-1, size: M, colour: black}"
    ]
    assert len(after) == len(before) + 4


def test_a_list_on_standard_input_is_written(
    demo_copy: Path, program: Program, tmp_path: Path
) -> None:
    """A line each; what is not measured is left out, and a star reads once more."""
    lines = tmp_path / "lines"
    lines.write_text(
        "# by hand\nL-black-1 half_chest 224\nL-black-1 half_chest *225\n\n"
        "L-black-1 body_length -\n"
    )
    ended = program(
        "enter", "hobnettle/q5", "--lines", str(lines), *WHO, "--ledger", str(demo_copy)
    )
    assert ended.code == 0, ended.err
    assert readings_of(demo_copy, "L-black-1") == {"half_chest": ["22 1/2", "22 5/8"]}


def test_an_odd_reading_is_said_and_strictly_refused(demo_copy: Path, command: Program) -> None:
    """Without --strict it is written, and the code says that something wants a look."""
    put = ("--put", "M-black-1.half_chest=225")
    before = (demo_copy / ROUND).read_bytes()
    refused = command("enter", "hobnettle/q5", *put, *WHO, "--strict", "--ledger", str(demo_copy))
    assert refused.code == 1
    assert "it measures as L" in refused.err
    assert (demo_copy / ROUND).read_bytes() == before
    written = command("enter", "hobnettle/q5", *put, *WHO, "--ledger", str(demo_copy))
    assert written.code == 1
    assert "look again: M-black-1 half_chest 225" in written.out
    assert readings_of(demo_copy, "M-black-1") == {"half_chest": "22 5/8"}


def test_a_dry_run_shows_the_difference(demo_copy: Path, command: Program) -> None:
    """And writes nothing."""
    before = (demo_copy / ROUND).read_bytes()
    put = ("--put", "M-black-1.half_chest=205")
    flags = (*put, *WHO, "--dry-run", "--json", "--ledger", str(demo_copy))
    told = json.loads(command("enter", "hobnettle/q5", *flags).out)
    assert "+    received" in told["difference"] or "received: {half_chest" in told["difference"]
    assert told["written"] is False
    assert (demo_copy / ROUND).read_bytes() == before


def test_later_stages_go_into_the_same_round(demo_copy: Path, command: Program) -> None:
    """Washed, worn, looked over, printed and decided: the file has it all, and checks."""
    here = ("--ledger", str(demo_copy))
    steps: list[tuple[str, ...]] = [
        ("--put", "M-black-1.half_chest=205", *WHO),
        ("--washed", "1", "--put", "M-black-1.half_chest=20", "--wash", "home_warm,tumble_low"),
        ("--washed", "5", "--put", "M-black-1.half_chest=197", "--put", "M-black-1.colour=45"),
        ("--workmanship", "--put", "M-black-1.seams=5"),
        ("--worn", "10", "--put", "M-black-1.shape=4"),
        ("--decorated", "film_transfer", "--put", "M-black-1.cover=5"),
        ("--decide", "hold", "--by", "rv", "--date", "2026-11-25", "--reason", "the XL: not yet",
         "--uses", "own label,clients"),
    ]  # fmt: skip
    for step in steps:
        ended = command("enter", ROUND, *step, *here)
        assert ended.code == 0, (step, ended.err, ended.out)
    piece = next(one for one in round_tree(demo_copy)["pieces"] if one["piece"] == "M-black-1")
    assert piece["washed"] == [
        {"cycles": "1", "half_chest": "20"},
        {"cycles": "5", "half_chest": "19 7/8", "colour": "4-5"},
    ]
    assert piece["workmanship"] == {"seams": "5"}
    assert piece["worn"] == [{"days": "10", "shape": "4"}]
    assert round_tree(demo_copy)["decorated"][0]["result"] == {"cover": "5"}
    assert round_tree(demo_copy)["decision"]["uses"] == ["own label", "clients"]
    checked = command("check", "--ledger", str(demo_copy))
    assert f"{ROUND}:" not in "\n".join(
        line for line in checked.out.splitlines() if ": error:" in line
    )


WRONG = [
    (("--put", "M-blak-1.half_chest=20", *WHO), "did you mean M-black-1?"),
    (("--put", "M-black-1.half_chst=20", *WHO), "did you mean half_chest?"),
    (("--put", "M-black-1.half_chest=22.1", *WHO), "must be on a tape read to 1/8 in"),
    (("--put", "half_chest=22", *WHO), "must be PIECE.POINT=READING"),
    (("--put", "M-black-1.half_chest=205"), "--by"),
    (("--washed", "0"), "--washed must be 1 or more"),
    (("--washed", "1", "--worn", "3"), "one stage each"),
    (("--decorated", "crayon"), "--decorated names no method"),
    (("--decide", "maybe", "--by", "rv"), "so nothing was written"),
    (("--decide", "hold"), "--by NAME"),
    (("--tape", "1/8"), "--tape must end with in, cm or mm"),
    ((), "nobody can be asked here"),
]


@pytest.mark.parametrize(("flags", "words"), WRONG)
def test_wrong_use_is_told_and_nothing_written(
    demo_copy: Path, command: Program, flags: tuple[str, ...], words: str
) -> None:
    """With what to write instead."""
    before = (demo_copy / ROUND).read_bytes()
    ended = command("enter", "hobnettle/q5", *flags, "--ledger", str(demo_copy))
    assert ended.code == 2
    assert words in ended.err
    assert (demo_copy / ROUND).read_bytes() == before


def test_a_round_is_typed_at_the_table(demo_copy: Path) -> None:
    """A few keys a reading, an odd one asked about, one taken back, one read once more."""
    at = Terminal(demo_copy, "hobnettle/q5", *WHO, "--points", "half_chest,body_length")
    at.until("M-black-1  half chest (20 1/2 in) >")
    at.key("206\r")
    assert "20 3/4 in  +1/4 in" in at.until("body length")
    at.until(">")
    at.key("315\r")
    assert "! +3 1/8 in against the chart (28 1/2 in)" in at.until("keep it?")
    at.key("n\r")
    at.until("body length (28 1/2 in) >")
    at.key("285\r")
    at.until("M-cream-2  half chest (20 1/2 in) >")
    at.key("*286\r")
    at.until("M-cream-2  half chest")
    at.key("\x1b[A")
    at.until("M-black-1  body length")
    at.key("u\r")
    at.until("taken back: M-black-1 body_length")
    at.key("q\r")
    at.until("go on with the same command")
    assert at.end() == 0
    assert readings_of(demo_copy, "M-black-1") == {"half_chest": "20 3/4", "body_length": "28 5/8"}


@pytest.mark.seldom(3)
def test_whatever_was_said_back_is_there_after_a_kill(demo_copy: Path) -> None:
    """Killed at random moments, and taken up again: no reading that was said back is lost."""
    dice = random.Random(20261125)
    said: dict[str, str] = {}
    keys = {"M": "205", "L": "225", "X": "245"}
    pieces = [one["piece"] for one in round_tree(demo_copy)["pieces"]]
    for _ in range(9):
        if all(readings_of(demo_copy, piece) for piece in pieces):
            break
        at = Terminal(demo_copy, "hobnettle/q5", *WHO, "--points", "half_chest")
        asked = re.findall(r"([MLX]+-[a-z]+-\d)  half chest \(", at.until(" in) >"))[-1]
        at.key(keys[asked[0]] + "\r")
        if dice.random() < 0.5:
            at.until("/8 in  ")
            said[asked] = "5/8"
        time.sleep(dice.uniform(0.0, 0.05))
        at.kill()
        for one, value in said.items():
            assert readings_of(demo_copy, one)["half_chest"].endswith(value)
        assert load_ledger(demo_copy).ledger
    assert len(said) > 2


def test_a_file_changed_elsewhere_keeps_that_change(demo_copy: Path) -> None:
    """Somebody adds a note in an editor while the piece lies on the table."""
    at = Terminal(demo_copy, "hobnettle/q5", *WHO, "--points", "half_chest")
    at.until("M-black-1  half chest")
    place = demo_copy / ROUND
    place.write_text(place.read_text(encoding="utf-8") + "\n# seen by mo\n", encoding="utf-8")
    at.key("205\r")
    at.until("M-cream-2  half chest")
    at.key("q\r")
    at.until("go on with")
    at.end()
    assert "# seen by mo" in place.read_text(encoding="utf-8")
    assert readings_of(demo_copy, "M-black-1") == {"half_chest": "20 5/8"}
