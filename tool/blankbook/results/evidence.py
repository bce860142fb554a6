"""Which pieces answer which question: those of the newest round that has an answer."""

from collections import Counter
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from statistics import fmean
from typing import Any

from blankbook.records.model import Blank, Chart, Piece, Round, Shop
from blankbook.results.chart_values import chart_tolerance
from blankbook.results.piece_spread import mean_reading
from blankbook.results.result_types import Case
from blankbook.words.points import POINTS


@dataclass(frozen=True, slots=True)
class Sample:
    """The pieces of one size in one round, as received, at one point."""

    size: str
    point: str
    round: Round
    pieces: tuple[Piece, ...]
    values: tuple[float, ...]
    """One for each piece, millimetres; repeat readings are averaged."""
    aside: int = 0
    """How many pieces with this label are left out, because their tags are wrong."""

    @property
    def shares(self) -> dict[tuple[str, str], float]:
        """Which share of the pieces comes from each lot and colour."""
        counts = Counter((piece.lot, piece.colour) for piece in self.pieces)
        return {group: count / len(self.pieces) for group, count in counts.items()}

    @property
    def apart(self) -> float:
        """How unevenly the pieces come from the round's lots and colours, 0 if evenly."""
        there = {(p.lot, p.colour) for p in self.round.pieces if self.point in p.received}
        return shares_apart(self.shares, dict.fromkeys(there, 1 / len(there)))

    @property
    def mean(self) -> float:
        """The mean over pieces, millimetres."""
        return fmean(self.values)

    @property
    def lots(self) -> tuple[str, ...]:
        """The lots that the pieces come from, sorted."""
        return tuple(sorted({piece.lot for piece in self.pieces if piece.lot}))


def shares_apart(first: Mapping[Any, float], second: Mapping[Any, float]) -> float:
    """Return the sum of the squares of what two sets of shares differ by."""
    return sum((first.get(group, 0.0) - second.get(group, 0.0)) ** 2 for group in {*first, *second})


def size_sample(
    round_: Round, size: str, point: str, aside: Collection[str] = frozenset()
) -> Sample | None:
    """Return the pieces of *size* measured at *point* in one round, if there are any.

    Those *aside* (``round/piece``), whose tags are wrong, are left out where others are left.
    """
    every = tuple(p for p in round_.pieces if p.size == size and point in p.received)
    if not every:
        return None
    pieces = every
    if aside:
        pieces = tuple(p for p in every if f"{round_.key}/{p.key}" not in aside) or every
    values = tuple(mean_reading(piece.received[point]) for piece in pieces)
    return Sample(size, point, round_, pieces, values, len(every) - len(pieces))


def newest_first(case: Case) -> Iterator[Round]:
    """Yield the rounds that hold readings, the newest first."""
    yield from (round_ for round_ in reversed(case.blank.rounds) if round_.pieces)


def rounds_and_deliveries(blank: Blank) -> list[Round]:
    """Return rounds and deliveries with readings, the oldest first, as rounds.

    A delivery shows what a lot is like, by the pieces whose tags are right. The style itself is
    judged by its rounds alone.
    """
    came = [delivery.as_tagged for delivery in blank.deliveries]
    every = [*blank.rounds, *(round_ for round_ in came if round_)]
    return sorted(
        (round_ for round_ in every if round_.pieces), key=lambda round_: (round_.date, round_.key)
    )


def newest_sample(case: Case, size: str, point: str) -> Sample | None:
    """Return the newest sample of *size* at *point*."""
    aside = case.posterior.aside
    found = (size_sample(round_, size, point, aside) for round_ in newest_first(case))
    return next((sample for sample in found if sample), None)


def newest_pair(case: Case, small: str, large: str, point: str) -> tuple[Sample, Sample] | None:
    """Return the newest round's samples of two sizes measured on one occasion."""
    for round_ in newest_first(case):
        aside = case.posterior.aside
        first, second = (size_sample(round_, size, point, aside) for size in (small, large))
        if first and second:
            return first, second
    return None


def chart_for(case: Case, round_: Round) -> Chart | None:
    """Return the chart that was in force when the round was bought."""
    return case.blank.style.chart_on(round_.chart_day)


def is_chart_younger(case: Case, round_: Round | None) -> bool:
    """Say whether a style has charts, but none that held when the round was bought."""
    return bool(round_ and case.blank.style.charts and chart_for(case, round_) is None)


YOUNGER_CHART = "the chart is younger than this round"


def tolerance(case: Case, chart: Chart | None, point: str) -> float:
    """Return the tolerance in millimetres: the chart's, else the shop's."""
    return chart_tolerance(case.shop, chart, point)


def measured_points(case: Case) -> tuple[str, ...]:
    """Return the points that any piece was measured at, in the order of the vocabulary."""
    seen = {p for round_ in case.blank.rounds for piece in round_.pieces for p in piece.received}
    return tuple(point for point in POINTS if point in seen)


def measured_sizes(case: Case) -> tuple[str, ...]:
    """Return the size labels that were measured, smallest first."""
    seen = {piece.size for round_ in case.blank.rounds for piece in round_.pieces if piece.received}
    return tuple(size for size in case.blank.style.sizes if size in seen)


def is_required(case: Case, check: str) -> bool:
    """Say whether the shop approves nothing that does not meet this check."""
    return check in case.shop.required


def is_deciding(case: Case, point: str) -> bool:
    """Say whether the verdict rests on this point."""
    return point in case.shop.deciding_points


def points_to_measure(blank: Blank, shop: Shop) -> list[str]:
    """Return the points that are charted, were ever measured, or decide, in their usual order."""
    wanted = {
        point for chart in blank.style.charts[-1:] for row in chart.sizes.values() for point in row
    }
    wanted |= {p for round_ in blank.rounds for piece in round_.pieces for p in piece.received}
    wanted |= set(shop.deciding_points)
    return [point for point in POINTS if point in wanted]
