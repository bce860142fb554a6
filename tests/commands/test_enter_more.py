"""One more size or piece comes into a round that was planned without it."""

from pathlib import Path

import pytest

from support import Program
from terminals import ROUND, WHO, Terminal, readings_of, round_tree


def names(root: Path) -> list[str]:
    """Return the names of the round's pieces."""
    return [piece["piece"] for piece in round_tree(root)["pieces"]]


def test_a_piece_is_added_by_a_flag(demo_copy: Path, command: Program) -> None:
    """Behind the others, and nothing else of the file is touched."""
    before = names(demo_copy)
    put = ("--put", "S-black-1.half_chest=184", "--put", "M-black-9.half_chest=205")
    flags = ("--add", "S-black-1,M-black-9", *WHO, "--ledger", str(demo_copy))
    ended = command("enter", "hobnettle/q5", *put, *flags)
    assert ended.code == 0, ended.err
    assert names(demo_copy) == [*before, "S-black-1", "M-black-9"]
    assert round_tree(demo_copy)["pieces"][-2]["size"] == "S"
    assert readings_of(demo_copy, "S-black-1") == {"half_chest": "18 1/2"}
    assert ROUND not in command("check", "--ledger", str(demo_copy)).out


@pytest.mark.parametrize(
    ("flags", "words"),
    [
        (("--put", "S-black-1.half_chest=184"), "--add S-black-1 adds it"),
        (("--add", "M-black-1"), "M-black-1 is in the round already"),
        (("--add", "S-mauve-1"), "must be called SIZE-COLOUR-NUMBER"),
        (("--add", "S-black-0"), "must be called SIZE-COLOUR-NUMBER"),
    ],
)
def test_what_cannot_be_added_is_told(
    demo_copy: Path, command: Program, flags: tuple[str, ...], words: str
) -> None:
    """And nothing is written."""
    before = (demo_copy / ROUND).read_bytes()
    put = ("--put", "M-black-1.half_chest=205")
    ended = command("enter", "hobnettle/q5", *put, *flags, *WHO, "--ledger", str(demo_copy))
    assert ended.code == 2
    assert words in ended.err
    assert (demo_copy / ROUND).read_bytes() == before


def test_a_piece_is_added_at_the_table(demo_copy: Path) -> None:
    """By a plus; a name that cannot be is asked about, and the new piece is next."""
    at = Terminal(demo_copy, "hobnettle/q5", *WHO, "--points", "half_chest")
    at.until("M-black-1  half chest (20 1/2 in) >")
    for name in ("S-mauve-1", "S-black-1"):
        at.key("+\r")
        at.until("one more piece")
        at.key(f"{name}\r")
    at.until("S-black-1  half chest (18 1/2 in) >")
    at.key("184\r")
    at.until("M-black-1  half chest")
    at.key("q\r")
    at.end()
    assert readings_of(demo_copy, "S-black-1") == {"half_chest": "18 1/2"}
