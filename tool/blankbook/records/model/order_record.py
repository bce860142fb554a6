"""A bulk order of one style: what is needed, what was bought, and how it went."""

import datetime
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from blankbook.records.model.basics import Source

Line = tuple[str, str]
"""A colour and a size."""
Counts = Mapping[str, Mapping[str, int]]
"""By colour, then by size: pieces."""


def lines_of(counts: Counts) -> Iterator[tuple[Line, int]]:
    """Yield colour and size with their pieces, as they were written."""
    for colour, sizes in counts.items():
        for size, pieces in sizes.items():
            yield (colour, size), pieces


def by_size(counts: Counts) -> dict[str, int]:
    """Return the pieces of each size, all colours together."""
    found: dict[str, int] = {}
    for (_, size), pieces in lines_of(counts):
        found[size] = found.get(size, 0) + pieces
    return found


@dataclass(frozen=True, slots=True)
class ShirtMoney:
    """What one shirt brings and costs; None where the order does not say."""

    currency: str = ""
    """ISO 4217; empty for the shop's own."""
    shirt: Decimal | None = None
    """What a finished shirt sells for."""
    printing: Decimal | None = None
    refund: Decimal | None = None
    """What a shirt that comes back costs beside a new one."""
    short: Decimal | None = None
    left_over: Decimal | None = None


@dataclass(frozen=True, slots=True)
class BoughtPieces:
    """What was bought in the end, and what was paid."""

    date: datetime.date
    pieces: Counts
    goods: Decimal
    currency: str = ""
    freight: Decimal = Decimal(0)
    samples: Decimal = Decimal(0)
    """What further samples, washing and inspection cost before."""

    @property
    def count(self) -> int:
        """How many pieces."""
        return sum(pieces for _, pieces in lines_of(self.pieces))


@dataclass(frozen=True, slots=True)
class OrderOutcome:
    """How an order went, by size; a size that is not named had none."""

    date: datetime.date
    spoiled: Mapping[str, int] = field(default_factory=dict)
    short: Mapping[str, int] = field(default_factory=dict)
    exchanged: Mapping[str, int] = field(default_factory=dict)
    returned: Mapping[str, int] = field(default_factory=dict)
    left_over: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Order:
    """blanks/SUPPLIER/STYLE/DATE-WORD-order.yaml."""

    source: Source
    key: str
    """The file's name without its ending, such as ``2026-05-02-choir-order``."""
    style: str
    date: datetime.date
    by: str
    client: str
    """For whom; nobody outside the shop sees it."""
    use: str = ""
    needed: Counts = field(default_factory=dict)
    total: Mapping[str, int] = field(default_factory=dict)
    """By colour, where the sizes are not known; beside `needed`, its sums."""
    give_or_take: int = 0
    """Standard deviation of the total, in shirts."""
    mix: Mapping[str, int] = field(default_factory=dict)
    """By size: the mix that the person gives."""
    needed_by: datetime.date | None = None
    enough: int | None = None
    """In 100; None for the shop's own."""
    money: ShirtMoney = field(default_factory=ShirtMoney)
    bought: BoughtPieces | None = None
    outcome: OrderOutcome | None = None
    note: str = ""

    @property
    def is_listed(self) -> bool:
        """Whether the sizes are known."""
        return bool(self.needed)
