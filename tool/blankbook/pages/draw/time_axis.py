"""Days on a line: to scale, and moved apart only where lots would cover each other."""

from collections.abc import Sequence
from itertools import pairwise

from blankbook.pages.draw.axis_labels import spread_apart

GAP = 7.0
"""Pixels between neighbours, where there is room."""

EDGE = 5.0
"""Pixels kept free at both ends, so that a mark there is whole."""


class TimeAxis:
    """An axis from *left* to *right*, on which lots stand and charts begin.

    Days are counted from any day. Lots and charts keep the order of their days; a chart that
    begins on the day of a lot stands before it, since that lot is judged by it.
    """

    def __init__(
        self, lots: Sequence[int], charts: Sequence[int], end: int, left: float, right: float
    ) -> None:
        begin = min(lots, default=0)
        whole = max(end - begin, 1)
        marks = [(day, False, n) for n, day in enumerate(charts) if day > begin]
        marks += [(day, True, n) for n, day in enumerate(lots)]
        marks.sort()  # False comes before True, and so a chart before the lots of its day
        wide = right - left
        gap = min(GAP, (wide - 2 * EDGE) / max(len(marks), 1))
        inner = (left + EDGE, right - EDGE)
        scaled = [inner[0] + (day - begin) / whole * (inner[1] - inner[0]) for day, _, _ in marks]
        places = spread_apart(scaled, gap, *inner)
        self.left, self.right = left, right
        self.lots = [0.0] * len(lots)
        self.charts: list[float | None] = [None] * len(charts)
        """Where each chart begins; None where it began before the first lot was bought."""
        for (_, is_lot, n), place in zip(marks, places, strict=True):
            if is_lot:
                self.lots[n] = place
            else:
                self.charts[n] = place
        days = [float(day) for day, _, _ in marks]
        self._known = [*zip(days, places, strict=True), (float(max(end, begin + 1)), inner[1])]

    def day(self, day: int) -> float:
        """Return the place of any other day, such as that of a decision: between its neighbours."""
        for (before, x), (after, then) in pairwise(self._known):
            if day <= after:
                share = (day - before) / (after - before) if after > before else 1.0
                return x + max(share, 0.0) * (then - x)
        return self._known[-1][1]

    def span(self, number: int) -> tuple[float, float]:
        """Return the ends of the stretch over which a chart holds, until the next begins."""
        begin, *_ = [self.charts[number], self.left]
        after = (place for place in self.charts[number + 1 :] if place is not None)
        return (self.left if begin is None else begin), next(after, self.right)
