"""Guesses at which slip was made: the wrong unit, two digits exchanged, one digit for another."""

from collections.abc import Iterator

from blankbook.records.lengths import Length, in_inches
from blankbook.records.model import Chart, Round
from blankbook.words.points import POINTS

_CLOSE = 0.06
"""How near, as a share, a reading must come in the other unit."""


def guess_unit(round_: Round, chart: Chart | None) -> str:
    """Return the unit that every reading as received looks like, if it is not the tape's.

    One reading without a chart could be of a very small or large garment: the guess takes two
    readings, and one of them near its charted length or impossible in the tape's unit.
    """
    unit = round_.tape.unit
    if unit not in {"in", "cm"}:
        return ""
    factor = 2.54 if unit == "in" else 1 / 2.54
    count = proofs = 0
    for piece in round_.pieces:
        charted = chart.sizes.get(piece.size, {}) if chart else {}
        for point, repeats in piece.received.items():
            reading = repeats[0]
            if reading.unit != unit:
                continue
            meant = reading.mm / factor
            length = charted.get(point)
            if not _could_be(point, meant, length):
                return ""
            count += 1
            proofs += length is not None or not _could_be(point, reading.mm, None)
    return ("cm" if unit == "in" else "in") if count > 1 and proofs else ""


def _could_be(point: str, mm: float, charted: Length | None) -> bool:
    if charted is not None:
        return abs(mm / charted.mm - 1) < _CLOSE
    return POINTS[point].least <= mm <= POINTS[point].most


def slip_help(reading: Length, expected: float, tolerance: float) -> str:
    """Return a guess at the slip as the beginning of a help text, or nothing."""
    for text, mm in _slips(reading):
        if abs(mm - expected) <= 1.5 * tolerance:
            return f"did you mean {text}? "
    return ""


def _slips(reading: Length) -> Iterator[tuple[str, float]]:
    """Yield the reading with its first two digits exchanged, and with either of them replaced."""
    number = float(reading.as_unit(reading.unit))
    whole, dot, rest = str(number).partition(".")
    if len(whole) < 2:
        return
    tails = [whole[1] + whole[0] + whole[2:]]
    tails += [whole[:i] + d + whole[i + 1 :] for i in (0, 1) for d in "0123456789"]
    for changed in tails:
        # Nobody writes a length with a zero in front.
        if changed.startswith("0"):
            continue
        value = float(f"{changed}{dot}{rest}")
        shown = in_inches(value * 25.4) if reading.unit == "in" else f"{value:g}"
        yield shown, value * reading.mm / number
