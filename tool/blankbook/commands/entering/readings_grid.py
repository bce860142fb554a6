"""The readings of a few pieces as a grid that fits the terminal."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from blankbook.commands.shared.errors import shown
from blankbook.entry.round.stages import reading_title

if TYPE_CHECKING:
    from blankbook.entry.round.filled_round import FilledRound

OPEN = "·"


def grid_text(sheet: "FilledRound", pieces: Sequence[str], keys: Sequence[str], width: int) -> str:
    """Return a line for each piece; columns that do not fit go into a grid of their own below."""
    rows = [["", *(reading_title(key) for key in keys)]]
    for piece in pieces:
        cells = ["; ".join(sheet.texts((piece, key))) or OPEN for key in keys]
        rows.append([shown(piece), *(shown(cell) for cell in cells)])
    wide = [max(len(row[at]) for row in rows) for at in range(len(rows[0]))]
    blocks, at = [], 1
    while at < len(wide):
        upto = at + 1
        while upto < len(wide) and wide[0] + sum(w + 2 for w in wide[at : upto + 1]) <= width:
            upto += 1
        blocks.append("\n".join(_line(row, wide, at, upto) for row in rows))
        at = upto
    return "\n\n".join(blocks)


def _line(row: Sequence[str], wide: Sequence[int], start: int, end: int) -> str:
    cells = [f"{row[at]:<{wide[at]}}" for at in range(start, end)]
    return f"{row[0]:<{wide[0]}}  " + "  ".join(cells).rstrip()
