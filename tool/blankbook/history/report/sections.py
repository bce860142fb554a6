"""A part of a review as plain text, and how it says lengths; bounded, so that none is a wall."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from blankbook.records.lengths import in_centimetres, in_inches
from blankbook.text.findings import visible

MOST_ROWS = 24
"""Rows of one table, the worst first; how many more there are is said."""
MOST_NAMES = 8
_PARTS = 32

Row = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Section:
    """One part: a title, sentences, and a table where there is one."""

    title: str
    lines: tuple[str, ...] = ()
    head: Row = ()
    rows: tuple[Row, ...] = ()

    @property
    def table(self) -> tuple[Row, ...]:
        """Head and rows without the columns in which no row says anything; empty without rows."""
        said = [at for at in range(len(self.head)) if any(row[at] for row in self.rows)]
        whole = (self.head, *self.rows) if self.rows else ()
        return tuple(tuple(row[at] for at in said) for row in whole)


def table(title: str, lines: Sequence[str], head: Row, rows: Sequence[Row]) -> Section:
    """Return a part whose table is cut where it is long; what is cut is counted."""
    left = len(rows) - MOST_ROWS
    more = [f"{many(left, 'more row')} left out here, none worse"] if left > 0 else []
    kept = tuple(rows[:MOST_ROWS])
    return Section(title, (*lines, *more), head if kept else (), kept)


def bounded(key: str, rows: list[dict[str, Any]], count: int) -> dict[str, Any]:
    """Return the first of *count* rows as data, with how many are left out."""
    return {key: rows, f"{key}_left_out": count - len(rows)}


def signed(mm: Fraction | float) -> str:
    """Return a difference in fractions of an inch and in centimetres, signed."""
    sign = "+" if mm > 0 else ""
    return f"{sign}{in_inches(float(mm), _PARTS)} in, {sign}{in_centimetres(float(mm))} cm"


def plain(mm: Fraction | float, unit: str) -> str:
    """Return a length in the shop's unit."""
    return (
        f"{in_inches(float(mm), _PARTS)} in" if unit == "in" else f"{in_centimetres(float(mm))} cm"
    )


def many(count: int, word: str) -> str:
    """Return a count with its noun: "1 file", "2 files"."""
    return f"{count} {word}" if count == 1 else f"{count} {word}s"


def named(names: Sequence[str], nothing: str = "none") -> str:
    """Return names joined, so many at most, and how many more there are."""
    left = len(names) - MOST_NAMES
    kept = ", ".join(visible(one, 120) for one in names[:MOST_NAMES])
    return f"{kept} and {left} more" if left > 0 else kept or nothing


def words(step: str) -> str:
    """Return a key as words."""
    return visible(step.replace("_", " "), 120)
