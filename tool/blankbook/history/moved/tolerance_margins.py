"""Measured rounds and deliveries against a chart that moved: how much room the tolerance leaves."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from blankbook.records.comparable import is_comparable
from blankbook.records.model import Chart, Delivery, Round, Shop, Style
from blankbook.words.points import POINTS

Record = Round | Delivery
BORDER = 1e-6
"""Millimetres: nearer to the border of a tolerance than this is upon it, and inside."""


@dataclass(frozen=True, slots=True)
class Margin:
    """The pieces of one size in one record at one point, against the chart before and now.

    A margin is the tolerance less the distance of the pieces' mean from the chart, millimetres:
    positive inside, negative outside. It is of these pieces; what they show of all others is for
    the check to say.
    """

    record: str
    lot: str
    size: str
    point: str
    pieces: int
    old: float | None
    """None where no length of the chart can be held against the pieces."""
    new: float | None

    @property
    def word(self) -> str:
        """What became of them."""
        if self.new is None:
            return "no longer comparable"
        if self.old is None:
            return "now comparable"
        was, now = self.old >= -BORDER, self.new >= -BORDER
        if was == now:
            return "" if now else "still outside"
        return "now inside" if now else "now outside"

    @property
    def rank(self) -> tuple[bool, bool, float]:
        """Where it stands in a list, the worst first."""
        left = float("inf") if self.new is None else self.new
        return self.word != "now outside", left >= -BORDER, left


@dataclass(frozen=True, slots=True)
class Touched:
    """What rests on one chart that moved."""

    judged: tuple[str, ...] = ()
    """Records of whose day it is the chart."""
    decided: tuple[str, ...] = ()
    """Decisions on those records, in words."""
    margins: tuple[Margin, ...] = ()
    """The worst first: of the records of its time, or, for a new chart, of those before it too."""


def touched_by(
    old: Style, new: Style, since: str, records: Sequence[Record], shop: Shop | None
) -> Touched:
    """Return what rests on the chart of *new* that holds from *since*.

    *records* are the measured ones of the newer version, *shop* states the tolerances.
    """
    index = next(n for n, chart in enumerate(new.charts) if str(chart.since) == since)
    chart, found = new.charts[index], list[Margin]()
    judged = [one for one in records if _chart_of(new, one) is chart]
    for one in judged:
        found += _margins(one, _chart_of(old, one), chart, new, shop)
    is_new = all(one.since != chart.since for one in old.charts)
    before = new.charts[index - 1] if is_new and index else None
    for one in records if before else ():
        if _chart_of(new, one) is before:
            found += _margins(one, before, chart, new, shop)
    return Touched(
        tuple(one.key for one in judged),
        tuple(f"{one.key} ({one.decision.decision} by {one.decision.by})"
              for one in judged if one.decision),
        tuple(sorted(found, key=lambda one: (*one.rank, one.record, one.point))),
    )  # fmt: skip


def _chart_of(style: Style, one: Record) -> Chart | None:
    return style.chart_on(one.chart_day if isinstance(one, Round) else one.date)


def _margins(
    one: Record, old: Chart | None, new: Chart, style: Style, shop: Shop | None
) -> Iterator[Margin]:
    from blankbook.results.evidence import size_sample

    seen = one if isinstance(one, Round) else one.as_tagged
    if seen is None or shop is None:
        return
    for size in style.sizes:
        for point in POINTS:
            pieces = size_sample(seen, size, point)
            if pieces is None:
                continue
            was, now = (
                _margin(chart, size, point, pieces.mean, shop)
                if chart and is_comparable(point, chart.how, one.how)
                else None
                for chart in (old, new)
            )
            if _differ(was, now):
                lot = ", ".join(pieces.lots)
                yield Margin(one.key, lot, size, point, len(pieces.values), was, now)


def _margin(chart: Chart, size: str, point: str, mean: float, shop: Shop) -> float | None:
    from blankbook.results.evidence import chart_tolerance, charted_length

    target = charted_length(chart, size, point)
    return None if target is None else chart_tolerance(shop, chart, point) - abs(mean - target)


def _differ(was: float | None, now: float | None) -> bool:
    if was is None or now is None:
        return was is not now
    return abs(was - now) > BORDER
