"""A study of the shop's own measuring: several people read the same pieces several times."""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass

from blankbook.records.lengths import Length
from blankbook.records.model.basics import Source, Tape


@dataclass(frozen=True, slots=True)
class StudiedPiece:
    """One piece, read again and again."""

    key: str
    read: Mapping[str, tuple[Length, ...]]
    """By person: the readings, in the order they were taken."""


@dataclass(frozen=True, slots=True)
class Study:
    """measuring/NAME.yaml: one occasion on which the measuring itself was measured."""

    source: Source
    key: str
    """The file's name without its ending."""
    date: datetime.date
    by: str
    """Who ran it."""
    point: str
    tape: Tape
    pieces: tuple[StudiedPiece, ...]
    note: str = ""

    @property
    def people(self) -> tuple[str, ...]:
        """Everyone who measured, in the order in which they first appear."""
        return tuple(dict.fromkeys(person for piece in self.pieces for person in piece.read))
