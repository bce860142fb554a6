"""What a reading is expected to be: the median of its siblings, or else the charted length."""

from dataclasses import dataclass
from statistics import median

from blankbook.records.model import Chart, Piece, Round, Shop, Style

FAR_FROM_SIBLINGS = 3.0
"""Number of tolerances from which a reading is far from its siblings."""


def is_graded(point: str, shop: Shop) -> bool:
    """Say whether the sizes differ enough at *point* to tell each from the next."""
    return shop.step[point] >= 2 * shop.tolerance[point]


@dataclass(frozen=True, slots=True)
class ExpectedReading:
    """What a reading is compared with."""

    mm: float
    by: str
    """``siblings`` or ``chart``."""


class RoundExpectations:
    """What each reading of one round is expected to be; readings are gathered once."""

    def __init__(self, round_: Round, style: Style, chart: Chart | None, shop: Shop) -> None:
        self._sizes = style.sizes
        self._chart = chart
        found: dict[tuple[str, str], list[float]] = {}
        for piece in round_.pieces:
            for point, repeats in piece.received.items():
                found.setdefault((piece.size, point), []).append(repeats[0].mm)
        self._read = {key: sorted(lengths) for key, lengths in found.items()}
        self.uneven = {size for size, point in found if self._is_uneven(size, point, shop)}
        """Sizes with readings far apart at some point; only these are looked at closely."""

    def _is_uneven(self, size: str, point: str, shop: Shop) -> bool:
        allowed = shop.tolerance[point] * (1 if is_graded(point, shop) else FAR_FROM_SIBLINGS)
        read, charted = self._read[size, point], self._charted(size, point)
        if len(read) == 1 and charted is not None:
            return abs(read[0] - charted) > allowed
        return read[-1] - read[0] > allowed

    def of(self, piece: Piece, point: str) -> ExpectedReading | None:
        """Return what the first reading of *point* is expected to be, if anything."""
        own = piece.received[point][0].mm
        read = self._read[piece.size, point]
        charted = self._charted(piece.size, point)
        if len(read) == 2 and charted is not None:
            other = read[1] if own == read[0] else read[0]
            # Of two that disagree, the one farther from the chart is asked about.
            closer = abs(own - charted) <= abs(other - charted)
            return ExpectedReading(own if closer else other, "siblings")
        if len(read) == 2:
            # No chart says which is off: the longer is asked about, so that there is one finding.
            return ExpectedReading(read[0] if own == read[1] else own, "siblings")
        if len(read) > 1:
            return ExpectedReading(median(read), "siblings")
        return ExpectedReading(charted, "chart") if charted is not None else None

    def measures_as(self, piece: Piece, shop: Shop) -> str:
        """Return the other size that *piece* measures like at every graded point, or nothing."""
        off: dict[str, float] = {}
        for point in piece.received:
            if is_graded(point, shop):
                expected = self.of(piece, point)
                by = piece.received[point][0].mm - expected.mm if expected else 0.0
                if abs(by) <= shop.tolerance[point]:
                    return ""
                off[point] = by
        if len(off) < 2 or piece.size not in self._sizes:
            return ""
        for size in self._sizes:
            if size != piece.size and all(
                abs(by - self._apart(piece.size, size, point, shop)) <= shop.tolerance[point]
                for point, by in off.items()
            ):
                return size
        return ""

    def _charted(self, size: str, point: str) -> float | None:
        length = self._chart.sizes.get(size, {}).get(point) if self._chart else None
        return length.mm if length else None

    def _apart(self, size: str, other: str, point: str, shop: Shop) -> float:
        """Return how much longer *other* is than *size*, by the chart or else by the usual step."""
        low, high = self._charted(size, point), self._charted(other, point)
        if low is not None and high is not None:
            return high - low
        return (self._sizes.index(other) - self._sizes.index(size)) * shop.step[point]
