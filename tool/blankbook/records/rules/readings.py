"""Readings: slips of the tape or the pen, caught while the piece is still there.

A reading is held against its siblings (same size and point in the round) and, where it has none,
against the chart. What is far off is asked about, never refused: ``confirmed`` on the piece says
that it was looked at. A piece that is off by whole grade steps everywhere carries another size's
measurements, which is for the judgement to say; the question here is only about its tag.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from statistics import median

from blankbook.records.lengths import Length, in_inches, say
from blankbook.records.model import Chart, Piece, Round, Shop, Style
from blankbook.text.findings import Fault, Path, visible
from blankbook.words.points import POINTS

FAR_FROM_SIBLINGS = 3.0
FAR_FROM_CHART = 5.0
"""How many tolerances off is far."""
MOST_CHANGE = 0.15
"""No wash shrinks or stretches a length by more than this share (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Expected:
    """What a reading is held against."""

    mm: float
    by: str
    """``siblings`` or ``chart``."""


def of_round(one: Round, style: Style, shop: Shop) -> Iterator[Fault]:
    """Yield readings that want a second look."""
    chart = style.chart_on(one.chart_day)
    yield from _finer_than_tape(one)
    for index, piece in enumerate(one.pieces):
        at: Path = ("pieces", index)
        yield from _out_of_range(piece, at)
        if piece.confirmed:
            continue
        yield from _repeats(piece, one, at)
        yield from _washed(piece, at)
        yield from _far(piece, one, style, chart, shop, at)


def _stages(piece: Piece, at: Path) -> Iterator[tuple[Path, str, tuple[Length, ...]]]:
    for point, repeats in piece.received.items():
        yield (*at, "received", point), point, repeats
    for number, stage in enumerate(piece.washed):
        for point, repeats in stage.readings.items():
            yield (*at, "washed", number, point), point, repeats


def _out_of_range(piece: Piece, at: Path) -> Iterator[Fault]:
    for where, point, repeats in _stages(piece, at):
        limits = POINTS[point]
        for reading in repeats:
            if not limits.least <= reading.exact <= limits.most:
                unit = "in" if reading.unit == "in" else "cm"
                span = f"{say(float(limits.least), unit)} and {say(float(limits.most), unit)}"
                message = f"{limits.name} must be between {span}, found {visible(reading.written)}"
                yield Fault(where, "out-of-range", message, _meant_unit(reading))


def _meant_unit(reading: Length) -> str:
    if reading.unit == "in" and reading.mm > 1000:
        return f"centimetres? write {visible(reading.written)} cm"
    return "write what the tape says"


def _repeats(piece: Piece, one: Round, at: Path) -> Iterator[Fault]:
    most = 3 * one.tape.reads_to.exact
    for where, point, repeats in _stages(piece, at):
        exact = [reading.exact for reading in repeats]
        if len(exact) > 1 and max(exact) - min(exact) > most:
            both = ", ".join(reading.written for reading in repeats)
            message = f"repeat readings of {POINTS[point].name} differ by more than 3 marks: {both}"
            yield Fault(where, "repeats-differ", message, _AGAIN, "warning")


_AGAIN = "measure it again; if it is right, add confirmed: and why"


def _washed(piece: Piece, at: Path) -> Iterator[Fault]:
    for number, stage in enumerate(piece.washed):
        for point, repeats in stage.readings.items():
            before = piece.received.get(point)
            if before and abs(repeats[0].mm / before[0].mm - 1) > MOST_CHANGE:
                change = 100 * (repeats[0].mm / before[0].mm - 1)
                name = POINTS[point].name
                message = f"{name} changed by {change:+.0f} % in the wash, from {before[0].written}"
                where = (*at, "washed", number, point)
                yield Fault(where, "far-from-received", message, _AGAIN, "warning")


def _far(
    piece: Piece, one: Round, style: Style, chart: Chart | None, shop: Shop, at: Path
) -> Iterator[Fault]:
    off = {}
    for point, repeats in piece.received.items():
        expected = _expected(piece, one, chart, point)
        if expected:
            off[point] = (repeats[0], expected)
    if size := _measures_as(piece, one, style, chart, shop):
        message = f"tagged {piece.size}, measures like {size}"
        remedy = "check the tag; if it says so, add confirmed: and what was looked at"
        yield Fault((*at, "size"), "measures-like-another", message, remedy, "warning")
        return
    for point, (reading, expected) in off.items():
        times = FAR_FROM_SIBLINGS if expected.by == "siblings" else FAR_FROM_CHART
        if abs(reading.mm - expected.mm) > times * shop.tolerance[point]:
            yield _far_fault(reading, expected, point, (*at, "received", point))


def _expected(piece: Piece, one: Round, chart: Chart | None, point: str) -> Expected | None:
    others = [
        other.received[point][0].mm
        for other in one.pieces
        if other.size == piece.size and other.key != piece.key and point in other.received
    ]
    charted = chart.sizes.get(piece.size, {}).get(point) if chart else None
    if len(others) == 1 and charted:
        own = piece.received[point][0].mm
        # Two that disagree: the one farther from the chart is asked about.
        closer = abs(own - charted.mm) <= abs(others[0] - charted.mm)
        return Expected(own if closer else others[0], "siblings")
    if others:
        return Expected(median(others), "siblings")
    return Expected(charted.mm, "chart") if charted else None


def _measures_as(piece: Piece, one: Round, style: Style, chart: Chart | None, shop: Shop) -> str:
    """Return the other size whose measurements the piece has at every graded point, if one."""
    points = [p for p in piece.received if shop.step[p] >= 2 * shop.tolerance[p]]
    if len(points) < 2 or piece.size not in style.sizes:
        return ""
    place = style.sizes.index(piece.size)
    for number, size in enumerate(style.sizes):
        if number != place and all(
            _near(piece, one, chart, shop, point, size, number - place) for point in points
        ):
            return size
    return ""


def _near(
    piece: Piece, one: Round, chart: Chart | None, shop: Shop, point: str, size: str, steps: int
) -> bool:
    expected = _expected(piece, one, chart, point)
    if expected is None:
        return False
    step = steps * shop.step[point]
    own, other = (chart.sizes.get(s, {}).get(point) if chart else None for s in (piece.size, size))
    if own and other:
        step = other.mm - own.mm
    off = piece.received[point][0].mm - expected.mm
    return abs(off - step) <= shop.tolerance[point] and abs(off) > shop.tolerance[point]


def _far_fault(reading: Length, expected: Expected, point: str, at: Path) -> Fault:
    unit = "in" if reading.unit == "in" else "cm"
    among = "its siblings" if expected.by == "siblings" else "the chart"
    message = (
        f"{POINTS[point].name} {visible(reading.written)} is far from "
        f"{say(expected.mm, unit)} of {among}"
    )
    meant = _meant(reading, expected.mm, float(POINTS[point].tolerance))
    return Fault(at, "far-from-siblings", message, f"{meant}{_AGAIN}", "warning")


def _meant(reading: Length, expected: float, tolerance: float) -> str:
    """Return a guess at the slip, as the start of the help."""
    if 0.94 < reading.mm / expected / 2.54 < 1.06:
        return "centimetres typed as inches? "
    if 0.94 < expected / reading.mm / 2.54 < 1.06:
        return "inches typed as centimetres? "
    for text, mm in _slips(reading):
        if abs(mm - expected) <= 1.5 * tolerance:
            return f"did you mean {text}? "
    return ""


def _slips(reading: Length) -> Iterator[tuple[str, float]]:
    """Yield the reading with its first two digits exchanged, and with either of them replaced."""
    whole, dot, rest = str(float(reading.as_unit(reading.unit))).partition(".")
    if len(whole) < 2:
        return
    tails = [whole[1] + whole[0] + whole[2:]]
    tails += [whole[:i] + d + whole[i + 1 :] for i in (0, 1) for d in "123456789"]
    per = reading.mm / float(reading.as_unit(reading.unit))
    for changed in tails:
        value = float(f"{changed}{dot}{rest}")
        shown = in_inches(value * 25.4) if reading.unit == "in" else f"{value:g}"
        yield shown, value * per


def _finer_than_tape(one: Round) -> Iterator[Fault]:
    step = one.tape.reads_to
    for index, piece in enumerate(one.pieces):
        for where, _, repeats in _stages(piece, ("pieces", index)):
            for reading in repeats:
                if reading.unit == one.tape.unit and (reading.exact / step.exact).denominator > 1:
                    message = (
                        f"{visible(reading.written)} is finer than a tape that reads to "
                        f"{step.written} {one.tape.unit}"
                    )
                    remedy = "round it to the mark, or correct reads_to"
                    yield Fault(where, "finer-than-tape", message, remedy, "note")
                    return
