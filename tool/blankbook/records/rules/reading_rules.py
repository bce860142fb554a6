"""Rules of readings: slips of the tape or the pen, found while the piece is still there.

A reading is compared with its siblings (same size and point in the round) and, where it has none,
with the chart. What is far off is asked about, never refused: ``confirmed`` on the piece says that
somebody looked. A piece that measures like another size at every point is asked about once, for its
tag, and not once for each reading.
"""

from collections.abc import Iterator, Set
from dataclasses import dataclass
from functools import lru_cache

from blankbook.records.comparable import comparable_chart
from blankbook.records.lengths import Length, read_length, say_length
from blankbook.records.model import Piece, Round, Shop, Style
from blankbook.records.rules import scale_rules, slip_guesses
from blankbook.records.rules.expected_readings import (
    FAR_FROM_SIBLINGS,
    ExpectedReading,
    RoundExpectations,
)
from blankbook.text.findings import Fault, ValuePath, visible
from blankbook.words.points import POINTS

FAR_FROM_CHART = 5.0
"""Number of tolerances from which a reading without siblings is far from the chart."""
MOST_CHANGE = 0.15
"""No wash shrinks or stretches a length by more than this share (common practice, no source)."""

_LIMITS = {key: (float(point.least), float(point.most)) for key, point in POINTS.items()}
_AGAIN = "measure it again; if it is right, add confirmed: and why"


@dataclass(frozen=True, slots=True)
class _PieceContext:
    """One piece of a round, and what its readings are compared with."""

    piece: Piece
    at: ValuePath
    tape: str
    expectations: RoundExpectations
    shop: Shop


def of_round(round_: Round, style: Style, shop: Shop) -> Iterator[Fault]:
    """Yield readings that want a second look."""
    chart = comparable_chart(style.chart_on(round_.chart_day), round_.how)
    yield from _finer_than_tape(round_)
    if unit := slip_guesses.guess_unit(round_, chart):
        meant = "centimetres" if unit == "cm" else "inches"
        message = f"the tape says {round_.tape.unit}, and every reading looks like {meant}"
        yield Fault(("tape", "unit"), "wrong-unit", message, f"write unit: {unit}")
        return  # every reading would be far from the chart: one finding is enough
    expectations = RoundExpectations(round_, style, chart, shop)
    slips = scale_rules.scale_slips(round_, style, chart, shop)
    yield from scale_rules.scale_faults(round_, slips)
    yield from scale_rules.span_faults(round_, style, chart, shop)
    for index, piece in enumerate(round_.pieces):
        looked = _PieceContext(piece, ("pieces", index), round_.tape.unit, expectations, shop)
        odd = _is_odd(piece)
        if odd:
            yield from _out_of_range(looked)
        if not piece.confirmed:
            if odd:
                yield from _repeats(looked, round_)
            yield from _washed(looked)
            if piece.size in expectations.uneven:
                asked = {point for number, point in slips if number == index}
                yield from _far_readings(looked, asked)


def _is_odd(piece: Piece) -> bool:
    """Say whether some point has more than one reading, or one out of range.

    Most pieces are not odd, and then need no further look at repeats and ranges.
    """
    for readings in (piece.received, *(stage.readings for stage in piece.washed)):
        for point, repeats in readings.items():
            least, most = _LIMITS[point]
            if len(repeats) != 1 or not least <= repeats[0].mm <= most:
                return True
    return False


def _stages(piece: Piece, at: ValuePath) -> Iterator[tuple[ValuePath, str, tuple[Length, ...]]]:
    for point, repeats in piece.received.items():
        yield (*at, "received", point), point, repeats
    for number, stage in enumerate(piece.washed):
        for point, repeats in stage.readings.items():
            yield (*at, "washed", number, point), point, repeats


def _is_possible(point: str, reading: Length) -> bool:
    least, most = _LIMITS[point]
    return least <= reading.mm <= most


def _out_of_range(looked: _PieceContext) -> Iterator[Fault]:
    """Yield readings that no garment for a person has."""
    for where, point, repeats in _stages(looked.piece, looked.at):
        for number, reading in enumerate(repeats):
            if not _is_possible(point, reading):
                place = where if len(repeats) == 1 else (*where, number)
                yield _range_fault(place, point, reading)


def _range_fault(where: ValuePath, point: str, reading: Length) -> Fault:
    """Return the fault of a reading that no garment has, with a guess at the unit."""
    unit = "in" if reading.unit == "in" else "cm"
    least, most = _LIMITS[point]
    written = visible(reading.written)
    bounds = f"between {say_length(least, unit)} and {say_length(most, unit)}"
    message = f"{POINTS[point].name} must be {bounds}, found {written}"
    in_cm = reading.unit == "in" and least <= reading.mm / 2.54 <= most
    remedy = f"centimetres? write {written} cm" if in_cm else "write what the tape says"
    return Fault(where, "out-of-range", message, remedy)


def _repeats(looked: _PieceContext, round_: Round) -> Iterator[Fault]:
    """Yield repeat readings of one point that differ by more than 3 marks of the tape."""
    most = 3 * round_.tape.reads_to.mm + 1e-6
    for where, point, repeats in _stages(looked.piece, looked.at):
        if len(repeats) == 1 or not all(_is_possible(point, reading) for reading in repeats):
            continue
        lengths = [reading.mm for reading in repeats]
        if max(lengths) - min(lengths) > most:
            both = ", ".join(visible(reading.written, 20) for reading in repeats[:6])
            message = f"repeat readings of {POINTS[point].name} differ by more than 3 marks: {both}"
            yield Fault(where, "repeats-differ", message, _AGAIN, "warning")


def _washed(looked: _PieceContext) -> Iterator[Fault]:
    """Yield readings after washing that have changed more than a wash can do."""
    piece = looked.piece
    for number, stage in enumerate(piece.washed):
        for point, repeats in stage.readings.items():
            before = piece.received.get(point)
            change = repeats[0].mm / before[0].mm - 1 if before else 0.0
            if before and abs(change) > MOST_CHANGE and _is_as_expected(looked, point):
                if not _is_possible(point, before[0]) or not _is_possible(point, repeats[0]):
                    continue
                name = POINTS[point].name
                message = (
                    f"{name} changed by {100 * change:+.0f} % in the wash, "
                    f"from {visible(before[0].written)} to {visible(repeats[0].written)}"
                )
                where = (*looked.at, "washed", number, point)
                yield Fault(where, "far-from-received", message, _AGAIN, "warning")


def _is_as_expected(looked: _PieceContext, point: str) -> bool:
    """Say whether the reading as received raises no question itself."""
    expected = looked.expectations.of(looked.piece, point)
    return not expected or not _is_far(looked, point, expected)


def _is_far(looked: _PieceContext, point: str, expected: ExpectedReading) -> bool:
    times = FAR_FROM_SIBLINGS if expected.by == "siblings" else FAR_FROM_CHART
    off = looked.piece.received[point][0].mm - expected.mm
    return abs(off) > times * looked.shop.tolerance[point]


def _far_readings(looked: _PieceContext, asked: Set[str]) -> Iterator[Fault]:
    """Yield a piece that measures like another size, or else its readings that are far off.

    *asked* are its points that another rule asks about.
    """
    piece, shop = looked.piece, looked.shop
    if size := looked.expectations.measures_as(piece, shop):
        message = f"tagged {visible(piece.size)}, measures like {visible(size)}"
        remedy = "check the tag; if it says so, add confirmed: and what was looked at"
        where = (*looked.at, "size")
        yield Fault(where, "measures-like-another", message, remedy, "warning")
        return
    for point, repeats in piece.received.items():
        expected = looked.expectations.of(piece, point) if point not in asked else None
        if expected and _is_possible(point, repeats[0]) and _is_far(looked, point, expected):
            yield _far_fault(repeats[0], expected, point, (*looked.at, "received", point))


def _far_fault(reading: Length, expected: ExpectedReading, point: str, at: ValuePath) -> Fault:
    """Return the fault of a reading that is far off, with a guess at the slip."""
    unit = "in" if reading.unit == "in" else "cm"
    among = "its siblings" if expected.by == "siblings" else "the chart"
    message = (
        f"{POINTS[point].name} {visible(reading.written)} is far from "
        f"{say_length(expected.mm, unit)} of {among}"
    )
    meant = slip_guesses.slip_help(reading, expected.mm, float(POINTS[point].tolerance))
    return Fault(at, "far-from-siblings", message, f"{meant}{_AGAIN}", "warning")


@lru_cache(maxsize=65536)
def _is_on_mark(written: str, unit: str, step: str) -> bool:
    exact = read_length(written, unit).exact / read_length(step, unit).exact
    return exact.denominator == 1


def _finer_than_tape(round_: Round) -> Iterator[Fault]:
    """Yield the first reading that is finer than the tape is said to be read to."""
    step, unit = round_.tape.reads_to, round_.tape.unit
    written = {
        reading.written
        for piece in round_.pieces
        for readings in (piece.received, *(stage.readings for stage in piece.washed))
        for repeats in readings.values()
        for reading in repeats
        if reading.unit == unit
    }
    # The texts first, each once: nearly every round passes, and needs no second look.
    if all(_is_on_mark(text, unit, step.written) for text in written):
        return
    for index, piece in enumerate(round_.pieces):
        for where, point, repeats in _stages(piece, ("pieces", index)):
            for reading in repeats:
                if reading.unit != unit or not _is_possible(point, reading):
                    continue
                if not _is_on_mark(reading.written, unit, step.written):
                    message = (
                        f"{visible(reading.written)} is finer than a tape that reads to "
                        f"{visible(step.written)} {unit}"
                    )
                    remedy = "correct reads_to, or write the mark that was read"
                    yield Fault(where, "finer-than-tape", message, remedy, "note")
                    return
