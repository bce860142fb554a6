"""Which of a blank's earlier rounds and deliveries stand on which page.

A page is full from so many lines on, counted from the oldest record: a full page never changes
again, and the newest page takes what comes.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeVar

from blankbook.pages.site_paths import earlier_path
from blankbook.records.model import Blank, Delivery, Round

FULL_PAGE = 2_500
"""Readings and lines: a page of so many is a few hundred kilobytes."""
LISTED = 50
"""Earlier records that the blank's own page lists, the newest; the others have pages alone."""
Record = TypeVar("Record", Round, Delivery)


@dataclass(frozen=True, slots=True)
class EarlierPart:
    """One page, the newest record first."""

    path: str
    rounds: tuple[Round, ...]
    deliveries: tuple[Delivery, ...]

    @property
    def records(self) -> "list[Round | Delivery]":
        """All that stands on it."""
        return [*self.rounds, *self.deliveries]

    @property
    def name(self) -> str:
        """The days from its first record to its last."""
        days = sorted(record.date.isoformat() for record in self.records)
        return days[0] if days[0] == days[-1] else f"{days[0]} to {days[-1]}"


def earlier_parts(blank: Blank) -> tuple[EarlierPart, ...]:
    """Return the pages of all records before the newest, the newest page first."""
    rounds = _parts(blank.rounds[:-1], _lines_of_round)
    deliveries = _parts(blank.deliveries[:-1], lambda _: 12)
    count, key = max(len(rounds), len(deliveries)), blank.style.key
    return tuple(
        EarlierPart(
            earlier_path(key, 0 if place == count - 1 else place + 1),
            rounds[place] if place < len(rounds) else (),
            deliveries[place] if place < len(deliveries) else (),
        )
        for place in reversed(range(count))
    )


def earlier_places(blank: Blank) -> dict[str, str]:
    """Return the page of each earlier record, by the path of the record in the ledger."""
    return {
        record.source.path: part.path for part in earlier_parts(blank) for record in part.records
    }


def _lines_of_round(round_: Round) -> int:
    return 4 + sum(2 + len(piece.received) for piece in round_.pieces)


def _parts(records: Sequence[Record], lines: Callable[[Record], int]) -> list[tuple[Record, ...]]:
    """Return records in parts, from the oldest on; in each the newest comes first."""
    parts: list[list[Record]] = []
    left = 0
    for record in records:
        if left <= 0:
            parts.append([])
            left = FULL_PAGE
        parts[-1].insert(0, record)
        left -= lines(record)
    return [tuple(part) for part in parts]
