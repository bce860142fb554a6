"""What one cell of a spreadsheet shows: its text, and what is odd about it."""

import datetime
import re
from dataclasses import dataclass
from typing import Any

from blankbook.entry.charts.chart_headings import unit_in_text

_LITERAL = re.compile(r'"([^"]*)"|\\(.)|_.|\*.|\[[^\]]*\]')
_ERROR = re.compile(r"#(?:REF!|DIV/0!|VALUE!|NAME\?|NUM!|NULL!|N/A|SPILL!|CALC!)")
_BEFORE = 1920
"""A date before this year is a number that was formatted as a date."""


@dataclass(frozen=True, slots=True)
class ShownCell:
    """What a cell shows."""

    text: str
    odd: str = ""
    """Why the text must not be taken as it stands, for a message."""


def shown_cell(cell: Any, formula: Any, struck: dict[int, bool]) -> ShownCell:
    """Return a cell as it is shown; *struck* remembers, by style, whether text is crossed out.

    To ask for a font takes long, and a sheet has few styles.
    """
    value = cell.value
    if value is None:
        return _without_value(formula)
    text, odd = _text(value, cell)
    if not odd and cell.has_style:
        key = cell.style_id
        if key not in struck:
            struck[key] = bool(cell.font and cell.font.strike)
        odd = f"is crossed out, found {text}" if struck[key] else ""
    return ShownCell(text, odd)


def _without_value(formula: Any) -> ShownCell:
    """Return a cell without a value: empty, or with a formula that was never computed."""
    if formula is None:
        return ShownCell("")
    text = formula if isinstance(formula, str) else str(getattr(formula, "text", "") or "")
    text = text if text.startswith("=") else f"={text}"
    return ShownCell(text, f"is a formula without a value, found {text[:40]}")


def _text(value: Any, cell: Any) -> tuple[str, str]:
    """Return the text of a value, and what is odd about it."""
    if isinstance(value, bool):
        return ("yes" if value else "no"), ""
    if isinstance(value, int | float):
        return _number(value, str(cell.number_format)), ""
    if isinstance(value, datetime.datetime):
        if value.year < _BEFORE:
            return value.isoformat(), f"is shown as a day, and holds the number {_counted(value)}"
        # A date without a time of the day comes as midnight.
        plain = value.time() == datetime.time()
        return (value.date().isoformat() if plain else value.isoformat()), ""
    if isinstance(value, datetime.time | datetime.timedelta):
        return str(value), f"is shown as a time of the day, found {value}"
    text = str(value)
    return text, (f"is an error of the spreadsheet, found {text}" if _ERROR.fullmatch(text) else "")


def _counted(value: datetime.datetime) -> str:
    from openpyxl.utils import datetime as spreadsheet_days

    number: Any = spreadsheet_days
    return f"{number.to_excel(value):.6g}"


def _number(value: float, form: str) -> str:
    """Return a number with the unit that its format shows behind it: 57.2 as 57.2 cm.

    Source of the format's parts: ECMA-376 Part 1, 18.8.30 and 18.8.31, from memory.
    """
    text = f"{value:.10g}"
    first = form.split(";", maxsplit=1)[0]
    if first.endswith("%"):
        return f"{value * 100:.10g} %"
    shown_unit = "".join(part[1] or part[2] or "" for part in _LITERAL.finditer(first)).strip()
    if unit := unit_in_text(shown_unit):
        return f"{text} {unit}"
    return f"{text} {shown_unit}" if any(letter.isalpha() for letter in shown_unit) else text
