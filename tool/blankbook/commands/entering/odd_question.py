"""What is asked about an odd reading, and whether words fit into the file."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from blankbook.commands.entering.line_prompt import STOP

if TYPE_CHECKING:
    from blankbook.entry.round.filled_round import FilledRound, TypedReading

KEEP, TAKE_BACK = {"y", "Y", "yes"}, {"n", "N", "no", "u", "U"}
"""What keeps an odd reading, and what does not: it was not written, so undo means it, too."""


def ask_why(
    sheet: "FilledRound",
    piece: str,
    reading: "TypedReading",
    ask: Callable[[str], str],
    say: Callable[[str], None],
) -> str:
    """Ask about an odd reading until something is answered; nothing never keeps it.

    Raises: EOFError where the person stops.
    """
    for one in reading.warnings:
        say(f"  ! {one.says}")
    while True:
        typed = ask("  keep it? y, or why it is right; n; or what it is > ").strip()
        if typed in STOP:
            raise EOFError
        if typed and not (is_reason(typed) and too_long(sheet, piece, "confirmed", typed, say)):
            return typed


def too_long(
    sheet: "FilledRound", piece: str, key: str, words: str, say: Callable[[str], None]
) -> bool:
    """Say whether words would not fit into the file, and tell the person."""
    room = sheet.room_for(piece, key)
    if len(words) > room:
        say(f"  ! must be at most {room} characters, found {len(words)}")
    return len(words) > room


def is_reason(text: str) -> bool:
    """Say whether what was typed are words, and neither a reading nor one of the keys."""
    return len(text) > 1 and text[0].isalpha() and text.isprintable() and text not in TAKE_BACK
