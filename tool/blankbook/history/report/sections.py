"""The sections of a review: plain text, lengths in words, and tables that are cut where long."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from blankbook.records.lengths import in_centimetres, in_inches
from blankbook.text.findings import visible

MOST_ROWS = 24
"""Rows of one table, the worst first; the others are counted."""
MOST_NAMES = 8
"""Names in one line; the others are counted."""
_PARTS = 32
"""A supplier's chart may be graded in 32nds of an inch."""

Row = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Section:
    """One section: a title, sentences, and a table where there is one."""

    title: str
    lines: tuple[str, ...] = ()
    head: Row = ()
    rows: tuple[Row, ...] = ()

    @property
    def table(self) -> tuple[Row, ...]:
        """Head and rows, without the columns that are empty in every row; empty without rows."""
        filled = [at for at in range(len(self.head)) if any(row[at] for row in self.rows)]
        whole = (self.head, *self.rows) if self.rows else ()
        return tuple(tuple(row[at] for at in filled) for row in whole)


def table_section(title: str, lines: Sequence[str], head: Row, rows: Sequence[Row]) -> Section:
    """Return a section with a table; a long one is cut, and the rows that are left out counted."""
    left = len(rows) - MOST_ROWS
    more = [f"{counted(left, 'more row')} left out here, none worse"] if left > 0 else []
    shown = tuple(rows[:MOST_ROWS])
    return Section(title, (*lines, *more), head if shown else (), shown)


def bounded_rows(key: str, rows: list[dict[str, Any]], count: int) -> dict[str, Any]:
    """Return the first rows of a list as data, with how many of its *count* are left out."""
    return {key: rows, f"{key}_left_out": count - len(rows)}


def signed_length(mm: Fraction | float) -> str:
    """Return a difference in inches and centimetres, signed."""
    sign = "+" if mm > 0 else ""
    return f"{sign}{in_inches(float(mm), _PARTS)} in, {sign}{in_centimetres(float(mm))} cm"


def length_text(mm: Fraction | float, unit: str) -> str:
    """Return a length in the shop's unit."""
    return (
        f"{in_inches(float(mm), _PARTS)} in" if unit == "in" else f"{in_centimetres(float(mm))} cm"
    )


def counted(count: int, word: str) -> str:
    """Return a count with its noun: "1 file", "2 files"."""
    return f"{count} {word}" if count == 1 else f"{count} {word}s"


def joined(words: Sequence[str]) -> str:
    """Return words with commas; "none" where there are none."""
    return ", ".join(words) or "none"


def joined_names(names: Sequence[str], nothing: str = "none") -> str:
    """Return the first names, and how many more there are; *nothing* where there are none."""
    left = len(names) - MOST_NAMES
    shown = ", ".join(visible(name, 120) for name in names[:MOST_NAMES])
    return f"{shown} and {left} more" if left > 0 else shown or nothing


def path_text(path: Sequence[str]) -> str:
    """Return the path to a fact in words: ``M-black-1 after 1 wash half chest``."""
    words, steps = list[str](), [step for step in path if step != "readings"]
    for before, step in zip(["", *steps], steps, strict=False):
        if before == "washed" and step.isdecimal():
            words[-1] = f"after {step} {'wash' if step == '1' else 'washes'}"
        else:
            words.append(key_text(step))
    return " ".join(words)


def key_text(step: str) -> str:
    """Return a key of a file in words."""
    return visible(step.replace("_", " "), 120)
