"""Measured rounds and deliveries against a chart that moved: how much room the tolerance leaves."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from blankbook.records.comparable import is_comparable
from blankbook.records.lengths import exact_length
from blankbook.records.model import Chart, Delivery, Round, Shop, Style
from blankbook.words.points import POINTS

if TYPE_CHECKING:
    from blankbook.results.evidence import Sample

MeasuredRecord = Round | Delivery
NOW_OUTSIDE = "now outside"
"""The outcome of pieces that were inside the tolerance and are outside now."""


@dataclass(frozen=True, slots=True)
class Margin:
    """The pieces of one size in one record at one point, against the chart before and now.

    A margin is the tolerance less the distance of the pieces' mean from the chart, millimetres:
    zero or more inside, negative outside. It is exact, and says nothing of other
    pieces: that is for the checks.
    """

    record: str
    lot: str
    size: str
    point: str
    pieces: int
    old: Fraction | None
    """None where the chart has no length that is comparable with the pieces."""
    new: Fraction | None

    @property
    def outcome(self) -> str:
        """What became of the pieces, in words; empty where they are inside before and now."""
        if self.new is None:
            return "no longer comparable"
        if self.old is None:
            return "now comparable"
        was, now = self.old >= 0, self.new >= 0
        if was == now:
            return "" if now else "still outside"
        return "now inside" if now else NOW_OUTSIDE

    @property
    def rank(self) -> tuple[bool, bool, float]:
        """Where it stands in a list, the worst first."""
        left = float("inf") if self.new is None else float(self.new)
        return self.outcome != NOW_OUTSIDE, left >= 0, left


@dataclass(frozen=True, slots=True)
class ChartEffects:
    """What rests on one chart that moved."""

    judged: tuple[str, ...] = ()
    """Records that are judged by it, by their keys."""
    decided: tuple[str, ...] = ()
    """Decisions on those records, in words."""
    margins: tuple[Margin, ...] = ()
    """The worst first: of the records that are judged by it, and, for a new chart, of those that
    were judged by the one before it."""


def chart_effects(
    old: Style, new: Style, since: str, records: Sequence[MeasuredRecord], shop: Shop | None
) -> ChartEffects:
    """Return what rests on the chart of *new* that holds from *since*.

    *records* are the measured ones of the newer version.
    """
    index = next(n for n, chart in enumerate(new.charts) if str(chart.since) == since)
    chart, found = new.charts[index], list[Margin]()
    judged = [record for record in records if _chart_of(new, record) is chart]
    for record in judged:
        found += _margins(record, _chart_of(old, record), chart, new, shop)
    is_new = all(earlier.since != chart.since for earlier in old.charts)
    before = new.charts[index - 1] if is_new and index else None
    for record in records if before else ():
        if _chart_of(new, record) is before:
            found += _margins(record, before, chart, new, shop)
    return ChartEffects(
        tuple(record.key for record in judged),
        tuple(f"{record.key} ({record.decision.decision} by {record.decision.by})"
              for record in judged if record.decision),
        tuple(sorted(found, key=lambda margin: (*margin.rank, margin.record, margin.point))),
    )  # fmt: skip


def _chart_of(style: Style, record: MeasuredRecord) -> Chart | None:
    return style.chart_on(record.chart_day if isinstance(record, Round) else record.date)


def _margins(
    record: MeasuredRecord, old: Chart | None, new: Chart, style: Style, shop: Shop | None
) -> Iterator[Margin]:
    from blankbook.results.evidence import size_sample

    tagged = record if isinstance(record, Round) else record.as_tagged
    if tagged is None or shop is None:
        return
    for size in style.sizes:
        for point in POINTS:
            pieces = size_sample(tagged, size, point)
            if pieces is None:
                continue
            was, now = (
                _margin(chart, pieces, shop)
                if chart and is_comparable(point, chart.how, record.how)
                else None
                for chart in (old, new)
            )
            if _differ(was, now):
                lot = ", ".join(pieces.lots)
                yield Margin(record.key, lot, size, point, len(pieces.values), was, now)


def _margin(chart: Chart, sample: "Sample", shop: Shop) -> Fraction | None:
    """Return the room to the border of the tolerance; None where nothing is charted."""
    target = chart.sizes.get(sample.size, {}).get(sample.point)
    if target is None:
        return None
    stated = chart.tolerance.get(sample.point)
    allowed = stated.exact if stated else exact_length(shop.tolerance[sample.point])
    return allowed - abs(_exact_mean(sample) - target.exact)


def _exact_mean(sample: "Sample") -> Fraction:
    """Return the mean over pieces, whose repeat readings are averaged: exact millimetres."""
    read = [[length.exact for length in p.received[sample.point]] for p in sample.pieces]
    means = [sum(repeats, Fraction()) / len(repeats) for repeats in read]
    return sum(means, Fraction()) / len(means)


def _differ(was: Fraction | None, now: Fraction | None) -> bool:
    return was is not now if was is None or now is None else was != now
