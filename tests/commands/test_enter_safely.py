"""What entering must not do: alter what stands there, or what somebody else has written."""

from pathlib import Path

import pytest

from blankbook.records.load_ledger import load_ledger
from support import Program
from terminals import ROUND, WHO, Terminal, readings_of, round_tree


def filled(root: Path, command: Program) -> None:
    """Give the round its head and one reading."""
    put = ("--put", "M-black-1.half_chest=205")
    assert command("enter", ROUND, *put, *WHO, "--ledger", str(root)).code == 0


CONTRADICTS = [
    (("--by", "mo"), "who measures is rv in the round, found --by mo"),
    (("--date", "2026-12-01", "--washed", "1"), "the day of measuring is 2026-11-24"),
    (("--lot", "other"), "is HN 1126 in the round"),
    (("--tape", "0.1 cm"), "the round is read with a tape of 1/8 in"),
]


@pytest.mark.parametrize(("flags", "words"), CONTRADICTS)
def test_what_a_measured_round_says_stays(
    demo_copy: Path, command: Program, flags: tuple[str, ...], words: str
) -> None:
    """A washing does not move the day of measuring, nor another tape the lengths before it."""
    filled(demo_copy, command)
    before = (demo_copy / ROUND).read_bytes()
    put = ("--put", "M-black-1.half_chest=20")
    ended = command("enter", ROUND, *put, *flags, "--ledger", str(demo_copy))
    assert ended.code == 2
    assert words in ended.err
    assert (demo_copy / ROUND).read_bytes() == before


def test_a_decision_with_readings_has_its_own_day_and_hand(
    demo_copy: Path, command: Program
) -> None:
    """And the round keeps its own."""
    filled(demo_copy, command)
    put = ("--put", "M-black-1.body_length=28 1/2", "--decide", "hold", "--reason", "waiting")
    who = ("--by", "mo", "--date", "2026-11-26")
    assert command("enter", ROUND, *put, *who, "--ledger", str(demo_copy)).code == 0
    assert (round_tree(demo_copy)["by"], round_tree(demo_copy)["date"]) == ("rv", "2026-11-24")
    decision = round_tree(demo_copy)["decision"]
    assert (decision["by"], decision["date"]) == ("mo", "2026-11-26")


def test_a_plan_takes_another_tape_before_anything_is_read(
    demo_copy: Path, command: Program
) -> None:
    """The file then says so, and means the same lengths."""
    put = ("--put", "M-black-1.half_chest=520")
    ended = command("enter", ROUND, *put, *WHO, "--tape", "0.1 cm", "--ledger", str(demo_copy))
    assert ended.code == 0, ended.err
    assert round_tree(demo_copy)["tape"] == {"unit": "cm", "reads_to": "0.1"}
    assert readings_of(demo_copy, "M-black-1") == {"half_chest": "52"}


def test_a_repeat_is_held_against_the_first_reading(demo_copy: Path, command: Program) -> None:
    """More than three marks between two readings of one seam is a slip, as `check` says."""
    filled(demo_copy, command)
    again = ("--put", "M-black-1.half_chest=*201", "--strict", "--ledger", str(demo_copy))
    refused = command("enter", ROUND, *again)
    assert refused.code == 1
    assert "more than 3 marks from 20 5/8 in, read before" in refused.err
    near = ("--put", "M-black-1.half_chest=*202", "--strict", "--ledger", str(demo_copy))
    assert command("enter", ROUND, *near).code == 0
    assert readings_of(demo_copy, "M-black-1")["half_chest"] == ["20 5/8", "20 1/4"]


def test_a_plan_is_a_plan_until_something_is_read(demo_copy: Path) -> None:
    """Whoever only looks in has measured nothing, and the file is as it was."""
    before = (demo_copy / ROUND).read_bytes()
    at = Terminal(demo_copy, "hobnettle/q5", *WHO, "--points", "half_chest")
    at.until("M-black-1  half chest (20 1/2 in) >")
    at.key("q\r")
    at.until("go on with the same command")
    assert at.end() == 0
    assert (demo_copy / ROUND).read_bytes() == before


def test_a_cell_that_somebody_else_filled_is_asked_about(demo_copy: Path) -> None:
    """Theirs stays where the person says nothing, and is replaced only by saying so."""
    at = Terminal(demo_copy, "hobnettle/q5", *WHO, "--points", "half_chest")
    place = demo_copy / ROUND
    for piece, answer, stays in (("M-black-1", "", "20 1/8"), ("M-cream-2", "m", "20 5/8")):
        at.until(f"{piece}  half chest (")
        at.until(" >")
        text = place.read_text(encoding="utf-8")
        line = next(one for one in text.splitlines() if f"piece: {piece}," in one)
        theirs = line.replace("}", ", received: {half_chest: 20 1/8}}")
        place.write_text(text.replace(line, theirs), encoding="utf-8")
        at.key("205\r")
        at.until("somebody else has written 20 1/8 there meanwhile")
        at.until(" >")
        at.key(f"{answer}\r")
        at.until("L-black-1" if piece == "M-cream-2" else "M-cream-2")
        assert readings_of(demo_copy, piece) == {"half_chest": stays}
    at.kill()


def test_why_an_odd_reading_is_right_and_a_note_are_kept(demo_copy: Path, command: Program) -> None:
    """Words at the question keep the reading, and `check` has its answer; digits read it anew."""
    at = Terminal(demo_copy, "hobnettle/q5", *WHO, "--points", "half_chest")
    at.until("M-black-1  half chest (20 1/2 in) >")
    at.key("c\r")
    at.until("note on M-black-1 >")
    at.key("collar: sits flat\r")
    at.until("M-black-1  half chest")
    at.key("266\r")
    at.until("keep it?")
    at.key("265\r")
    at.until("26 5/8 in")
    at.until("keep it?")
    at.key("measured twice, tag says M\r")
    at.until("M-cream-2")
    at.kill()
    piece = round_tree(demo_copy)["pieces"][0]
    assert piece["confirmed"] == "measured twice, tag says M"
    assert piece["note"] == "collar: sits flat"
    assert piece["received"] == {"half_chest": "26 5/8"}
    assert load_ledger(demo_copy).ledger
    checked = command("check", "--ledger", str(demo_copy), "--all")
    assert not [one for one in checked.out.splitlines() if ROUND in one and "far from" in one]


@pytest.mark.parametrize("keys", ["c\r\x04", "266\rq\r", "266\r\x04", "\x04", "c\r\x03"])
def test_a_sitting_can_be_stopped_at_any_question(demo_copy: Path, keys: str) -> None:
    """By q or the keys that end input; what was asked about and not kept is not written."""
    before = (demo_copy / ROUND).read_bytes()
    at = Terminal(demo_copy, "hobnettle/q5", *WHO, "--points", "half_chest")
    at.until("M-black-1  half chest (20 1/2 in) >")
    for part in keys.partition("\r")[:2]:
        at.key(part)
    if "\r" in keys:
        at.until("note on" if keys.startswith("c") else "keep it?")
        at.until(">")
        at.key(keys.partition("\r")[2])
    at.until("go on with the same command")
    assert at.end() == 0
    assert (demo_copy / ROUND).read_bytes() == before


def test_a_closed_terminal_loses_nothing(demo_copy: Path) -> None:
    """The window is closed in the middle of a reading: the one before it is in the file."""
    at = Terminal(demo_copy, "hobnettle/q5", *WHO, "--points", "half_chest")
    at.until("M-black-1  half chest (20 1/2 in) >")
    at.key("205\r")
    at.until("M-cream-2  half chest")
    at.key("20")
    at.hang_up()
    assert readings_of(demo_copy, "M-black-1") == {"half_chest": "20 5/8"}
    assert readings_of(demo_copy, "M-cream-2") == {}
