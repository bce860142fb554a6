"""What is at risk in an order: by size and cause, in money, each with the finding behind it."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from blankbook.records.money import NOTHING, parts_that_add_up, rounded
from blankbook.results.ordering.coming_lot import ComingLot
from blankbook.results.ordering.lot_outcomes import CAUSES, WrongSizes
from blankbook.results.result_types import Judged, Result

CHECK_OF = {
    "alike": "grade_steps",
    "off_chart": "size_against_chart",
    "shrinks": "washing",
    "wrong_tag": "label",
}
"""The check whose findings are behind a cause."""
SAYS = {
    "alike": "cannot be told from its neighbour",
    "off_chart": "is off the chart by more than the tolerance",
    "shrinks": "shrinks past the limit",
    "wrong_tag": "has a wrong tag",
}
LEAST_SHOWN = Decimal("0.005")


@dataclass(frozen=True, slots=True)
class RiskPart:
    """One size and one cause."""

    size: str
    cause: str
    """One of `lot_outcomes.CAUSES`."""
    chance: float
    """That the size is wrong; for tags, that a piece is."""
    pieces: int
    """How many pieces of the size are at stake."""
    cost: Decimal
    """What it is expected to cost, to the cent."""
    check: str
    finding: str
    """What was found, in the words of the check; where nothing was, what is assumed."""


@dataclass(frozen=True, slots=True)
class OrderRisk:
    """All parts; their sum is the whole."""

    parts: tuple[RiskPart, ...]
    by_size: Mapping[str, Decimal]
    chances: Mapping[str, float]
    """By size: that it is wrong as a whole."""
    total: Decimal
    pieces_wrong: float
    """How many pieces are expected to be other than approved."""
    comes_back: float
    """The expected share of the shirts that come back, 0 to 1."""


def order_risk(
    judged: Judged,
    lot: ComingLot,
    wrong: WrongSizes,
    pieces: Mapping[str, int],
    costs: Mapping[str, Decimal],
    comes_back: float,
) -> OrderRisk:
    """Return what is at risk; *costs* says, by size, what a shirt that comes back costs."""
    sizes = lot.measures.sizes
    exact: list[tuple[str, str, float, Decimal]] = []
    for size, count in pieces.items():
        at = sizes.index(size)
        for cause in CAUSES:
            chance = float(wrong.chances[cause][at])
            share = Decimal(repr(round(chance * comes_back, 9)))
            exact.append((size, cause, chance, share * count * costs[size]))
    cents = parts_that_add_up(cost for _, _, _, cost in exact)
    parts = tuple(
        RiskPart(
            size,
            cause,
            chance,
            pieces[size],
            cost,
            CHECK_OF[cause],
            _finding(judged, cause, size),
        )
        for (size, cause, chance, _), cost in zip(exact, cents, strict=True)
    )
    by_size = {size: sum((p.cost for p in parts if p.size == size), NOTHING) for size in pieces}
    whole = {size: float(wrong.any[sizes.index(size)]) for size in pieces}
    expected = sum(part.chance * part.pieces for part in parts)
    return OrderRisk(
        parts,
        by_size,
        whole,
        rounded(sum(by_size.values(), NOTHING)),
        expected,
        comes_back * expected / max(sum(pieces.values()), 1),
    )


def _finding(judged: Judged, cause: str, size: str) -> str:
    """Return what the check says of a size, the gravest first; else what is assumed."""
    found = [result for result in judged.of(CHECK_OF[cause]) if _concerns(result, cause, size)]
    deciding = [result for result in found if result.deciding] or found
    order = {"fails": 0, "not shown": 1, "meets": 2}
    if deciding:
        gravest = min(deciding, key=lambda result: order.get(str(result.answer), 3))
        return gravest.reason
    if cause == "wrong_tag":
        return "no tag was looked at; what is usual is assumed"
    return f"{size} was not measured; what is usual is assumed"


def _concerns(result: Result, cause: str, size: str) -> bool:
    if cause == "alike":
        return size in {result.size, result.next_size}
    return cause == "shrinks" or result.size == size
