"""What several kinds of record hold: readings, tapes, assumed spreads, and their place."""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Protocol

from blankbook.records.lengths import Length

Readings = Mapping[str, tuple[Length, ...]]
"""By point of measure: one reading, or repeat readings of the same piece."""


@dataclass(frozen=True, slots=True)
class Source:
    """The file that a record was read from."""

    path: str
    """Relative to the ledger, with forward slashes."""
    line: int = 1
    """1-based; 1 where it was not looked up."""


class DatedRecord(Protocol):
    """A record of one day on one blank: a round, a delivery, an order."""

    @property
    def key(self) -> str:
        """The file's name without its ending."""

    @property
    def style(self) -> str:
        """``supplier/style``."""

    @property
    def date(self) -> datetime.date:
        """The day that the name begins with."""


@dataclass(frozen=True, slots=True)
class Tape:
    """What the lengths of a file were read with."""

    unit: str
    """``in``, ``cm`` or ``mm``: what a bare number means."""
    reads_to: Length
    """The smallest step that was read off it."""


@dataclass(frozen=True, slots=True)
class Prior:
    """What is assumed of a spread before there is evidence."""

    deviation: float
    """Standard deviation: millimetres, or percent where a percentage spreads."""
    worth: float
    """The number of degrees of freedom that the assumption weighs."""
