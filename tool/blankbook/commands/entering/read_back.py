"""What a person reads at the table: the question, the reading as it was read, the grid."""

import shutil
from typing import TYPE_CHECKING

from blankbook.commands.entering.readings_grid import grid_text
from blankbook.commands.shared.errors import shown
from blankbook.entry.round.stages import reading_title
from blankbook.records.lengths import say_length, say_length_change

if TYPE_CHECKING:
    from blankbook.entry.round.filled_round import FilledRound, RoundCell, TypedReading


def question(sheet: "FilledRound", cell: "RoundCell") -> str:
    """Return what is asked for a cell, with what is expected and what it holds."""
    wanted = sheet.expected(cell)
    about = f" ({say_length(float(wanted), sheet.tape.unit)})" if wanted is not None else ""
    held = sheet.texts(cell)
    has = f" [{'; '.join(held)}]" if held else ""
    return f"{shown(cell[0])}  {reading_title(cell[1])}{about}{has} > "


def read_back(sheet: "FilledRound", cell: "RoundCell", reading: "TypedReading") -> str:
    """Return a reading as it was read, with how far it is from what was expected."""
    unit = "" if reading.length is None else f" {sheet.tape.unit}"
    said = f"{reading.written}{unit if reading.written[-1:].isdigit() else ''}"
    wanted = None if reading.length is None else sheet.expected(cell)
    if wanted is not None and reading.length is not None:
        said += f"  {say_length_change(float(reading.length - wanted), sheet.tape.unit)}"
    return said


def group(sheet: "FilledRound", cell: "RoundCell", by_point: bool) -> str:
    """Return what a new grid is shown for: the label and colour of a piece, or a point."""
    row = sheet.pieces[cell[0]]
    return cell[1] if by_point else f"{row['size']} {row['colour']}"


def grid_of(sheet: "FilledRound", cell: "RoundCell", by_point: bool) -> str:
    """Return the readings of the pieces that a cell's belongs to, at the terminal's width."""
    here = group(sheet, cell, by_point)
    alike = [one for one in sheet.looked_at if group(sheet, (one, cell[1]), by_point) == here]
    keys = [cell[1]] if by_point else list(sheet.keys)
    return grid_text(sheet, alike, keys, shutil.get_terminal_size().columns)
