"""Readings on another scale: all the way around, in the other unit, or of another garment.

They are compared with the chart, or with the width that a letter usually has, and never with other
readings: a mistake that was made at every piece looks the same at each.
"""

from collections.abc import Iterator, Mapping
from fractions import Fraction

from blankbook.records.flat_or_around import usual_half_chest
from blankbook.records.lengths import exact_length
from blankbook.records.model import Chart, Round, Shop, Style
from blankbook.records.reading_slips import (
    is_other_scale,
    mistaken_scale,
    outside_span,
    say_mistaken_scale,
    say_outside_span,
)
from blankbook.text.findings import Fault, ValuePath, visible
from blankbook.words.points import POINTS, usual_span

Slips = Mapping[tuple[int, str], str]
"""What is odd about the first reading as received, by the index of its piece and its point."""


class ScaleExpectations:
    """What the readings of a round should be, whatever the other pieces measure."""

    def __init__(self, style: Style, chart: Chart | None, shop: Shop) -> None:
        self._style, self._chart = style, chart
        self._ease = exact_length(shop.ease)
        self._usual: dict[str, Fraction | None] = {}

    def charted(self, size: str, point: str) -> Fraction | None:
        """Return the charted length, exact millimetres, or None."""
        length = self._chart.sizes.get(size, {}).get(point) if self._chart else None
        return length.exact if length else None

    def of(self, size: str, point: str) -> Fraction | None:
        """Return the charted length, or the half chest that the letter usually has, or None."""
        charted = self.charted(size, point)
        if charted is not None or point != "half_chest":
            return charted
        if size not in self._usual:
            self._usual[size] = usual_half_chest(size, self._style.wearer, self._ease)
        return self._usual[size]


def scale_slips(round_: Round, style: Style, chart: Chart | None, shop: Shop) -> Slips:
    """Return the readings as received of pieces that nobody confirmed which look like a slip."""
    expected = ScaleExpectations(style, chart, shop)
    found: dict[tuple[int, str], str] = {}
    for index, piece in enumerate(round_.pieces):
        for point, repeats in () if piece.confirmed else piece.received.items():
            reading = repeats[0]
            wanted = expected.of(piece.size, point)
            if wanted is None or not is_other_scale(reading.exact, wanted):
                continue
            known = POINTS[point]
            if not known.least <= reading.exact <= known.most:
                continue
            if slip := mistaken_scale(reading.exact, wanted, point, reading.unit):
                words = say_mistaken_scale(slip, reading.exact, wanted, reading.unit)
                found[index, point] = words
    return found


def scale_faults(round_: Round, slips: Slips) -> Iterator[Fault]:
    """Yield readings that were measured all the way around, or in the other unit.

    Where every piece of a point has the same slip, it is asked about once.
    """
    for point in {point: None for _, point in slips}:
        read = [index for index, piece in enumerate(round_.pieces) if point in piece.received]
        odd = [index for index in read if (index, point) in slips]
        for index in odd[:1] if len(odd) == len(read) else odd:
            written = visible(round_.pieces[index].received[point][0].written)
            more = f", like all {len(odd)} pieces" if len(odd) == len(read) > 1 else ""
            where: ValuePath = ("pieces", index, "received", point)
            message = f"{POINTS[point].name} {written}{more}: {slips[index, point]}"
            remedy = "measure it again; if it is right, add confirmed: and why"
            yield Fault(where, "mistaken-scale", message, remedy, "warning")


def span_faults(round_: Round, style: Style, chart: Chart | None, shop: Shop) -> Iterator[Fault]:
    """Yield the first reading of a point where all lie outside what T-shirts measure.

    Only where no chart and no usual width say more.
    """
    expected = ScaleExpectations(style, chart, shop)
    seen: set[str] = set()
    for index, piece in enumerate(round_.pieces):
        for point, repeats in piece.received.items():
            if point in seen:
                continue
            seen.add(point)
            span = usual_span(point, style.wearer)
            read = [(p.received[point][0], p) for p in round_.pieces if point in p.received]
            if not all(outside_span(reading.exact, span) for reading, _ in read):
                continue
            if any(p.confirmed or expected.of(p.size, point) for _, p in read):
                continue
            known = POINTS[point]
            if known.least <= repeats[0].exact <= known.most:
                written, unit = visible(repeats[0].written), repeats[0].unit
                message = f"{known.name} {written}: {say_outside_span(span, unit)}"
                remedy = "measure it again; if it is right, add confirmed: and why"
                where = ("pieces", index, "received", point)
                yield Fault(where, "outside-usual-span", message, remedy, "warning")
