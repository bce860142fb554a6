"""A small invented blank, judged for the worked examples of the method page.

It stands in code and in no ledger: three sizes from two lots, two pieces washed, two swatches. The
same checks judge it as a shop's blanks, by the shop's own rules.
"""

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import replace

from blankbook.records.lengths import read_length
from blankbook.records.model import (
    Blank,
    Chart,
    Decision,
    Decorated,
    Delivery,
    Flaw,
    Grade,
    Grades,
    Laundering,
    Piece,
    Readings,
    Round,
    Seam,
    Shop,
    Source,
    Style,
    Supplier,
    Swatch,
    Tape,
    Washed,
    WashedPrint,
    Workmanship,
    Worn,
)
from blankbook.words.grade_scales import GRADES

NO_FILE = Source("example")
EXAMPLE_POINTS = ("half_chest", "body_length")
SIZES = ("M", "L", "XL")
CHARTED = {"M": ("20", "29"), "L": ("22", "30"), "XL": ("24", "31")}
WrittenReadings = Mapping[str, Sequence[str]]
"""By piece: what the tape said at half chest and at body length; readings apart by a comma."""

FIRST_LOT: WrittenReadings = {
    "M-1": ("20", "29 1/8"),
    "L-1": ("21 7/8", "30"),
    "XL-1": ("24 1/8", "31"),
}
SECOND_LOT: WrittenReadings = {
    "M-1": ("20 1/8, 20 1/4", "29"),
    "M-2": ("20", "29 1/4"),
    "L-1": ("22 1/4", "30 1/8"),
    "L-2": ("22", "29 7/8"),
    "XL-1": ("24", "31"),
    "XL-2": ("23 7/8", "31 1/4"),
}
WASHED_READINGS: WrittenReadings = {"M-1": ("19 3/4", "28 1/8"), "L-1": ("21 3/4", "29 1/4")}
WASHED_GRADES = {
    "M-1": {"colour": "4-5", "staining": "5", "pilling": "3-4"},
    "L-1": {"colour": "4", "staining": "4-5", "pilling": "4-5"},
}
SIDE_SEAMS = {"M-1": ("1/2", "17"), "L-1": ("3/4", "17 1/2")}
"""How far the side seam has moved after washing, and its length, in inches."""
WORKMANSHIP_GRADES = {"M-1": {"seams": "5", "collar": "4-5"}, "M-2": {"seams": "4", "collar": "4"}}
WORN_GRADES = {"XL-1": {"shape": "4", "collar": "4-5"}, "XL-2": {"shape": "4", "collar": "4-5"}}
FRESH_PRINT_GRADES = {"M-2": {"cover": "5", "edge": "4-5"}, "L-2": {"cover": "4-5", "edge": "5"}}
WASHED_PRINT_GRADES = {"M-2": {"cracking": "4-5"}, "L-2": {"cracking": "4"}}
SMALL_LOT: WrittenReadings = {
    "M-1": ("19 1/4", "28 5/8"),
    "L-1": ("21 1/2", "29 3/4"),
    "XL-1": ("23 1/4", "30 1/2"),
}


def example_rules(shop: Shop) -> Shop:
    """Return the shop's own rules, at the points that the example was measured at."""
    return replace(shop, deciding_points=EXAMPLE_POINTS)


def sound_blank(readings: WrittenReadings = SECOND_LOT) -> Blank:
    """Return two lots that are much as charted; *readings* are those of the second."""
    first = _round("2026-02-09-first", "A", _pieces(FIRST_LOT, "A"))
    approved = Decision("approved", first.date, "ek", "as charted")
    second = replace(
        _round("2026-09-14-reorder", "B", _looked_at(_washed(_pieces(readings, "B")))),
        swatches=(Swatch(10_000, 1.79, "M-2"), Swatch(10_000, 1.84, "L-2")),
        laundering=Laundering("home_warm", "tumble_low"),
        decorated=_decorated(),
    )
    return replace(_blank(replace(first, decision=approved), second), deliveries=(_delivery(),))


def wrong_tag_blank() -> Blank:
    """Return the same with one wrong tag: L-2 was cut and sewn as an XL."""
    return sound_blank({**SECOND_LOT, "L-2": ("24 1/8", "30 7/8")})


def small_lot_blank() -> Blank:
    """Return one small lot: a bad lot, the way the style is cut, or the usual scatter?"""
    return _blank(_round("2026-02-09-first", "A", _pieces(SMALL_LOT, "A")))


def unmeasured_blank() -> Blank:
    """Return a style that nobody has measured, and for which no chart was published."""
    found = _blank()
    return replace(found, style=replace(found.style, charts=()))


def _blank(*rounds: Round) -> Blank:
    sizes = {
        size: {
            point: read_length(text, "in") for point, text in zip(EXAMPLE_POINTS, row, strict=True)
        }
        for size, row in CHARTED.items()
    }
    chart = Chart(datetime.date(2026, 1, 1), "", "in", sizes)
    style = Style(
        NO_FILE, "example/tee", "example", "Example tee", SIZES, ("black",), mass=180.0,
        charts=(chart,),
    )  # fmt: skip
    return Blank(style, Supplier(NO_FILE, "example", "Example"), rounds)


def _round(key: str, lot: str, pieces: tuple[Piece, ...]) -> Round:
    day = datetime.date.fromisoformat(key[:10])
    tape = Tape("in", read_length("1/8", "in"))
    return Round(NO_FILE, key, "example/tee", day, "ek", lot, tape, pieces)


def _pieces(readings: WrittenReadings, lot: str) -> tuple[Piece, ...]:
    return tuple(
        Piece(NO_FILE, key, key.partition("-")[0], "black", lot, _readings(row))
        for key, row in readings.items()
    )


def _washed(pieces: Sequence[Piece]) -> tuple[Piece, ...]:
    """Return the pieces, those that were washed with what was read and graded after it."""
    found = []
    for piece in pieces:
        if piece.key in WASHED_READINGS:
            shift, length = (read_length(text, "in") for text in SIDE_SEAMS[piece.key])
            stage = Washed(
                3,
                _readings(WASHED_READINGS[piece.key]),
                _grades(WASHED_GRADES[piece.key]),
                Seam(shift.mm, shift.written, length=length),
            )
            found.append(replace(piece, washed=(stage,)))
        else:
            found.append(piece)
    return tuple(found)


def _looked_at(pieces: Sequence[Piece]) -> tuple[Piece, ...]:
    """Return the pieces, some looked over as received and some worn."""
    return tuple(
        replace(
            piece,
            workmanship=Workmanship(_grades(WORKMANSHIP_GRADES[piece.key]))
            if piece.key in WORKMANSHIP_GRADES
            else None,
            worn=(Worn(7, 3, _grades(WORN_GRADES[piece.key])),) if piece.key in WORN_GRADES else (),
        )
        for piece in pieces
    )


def _decorated() -> tuple[Decorated, ...]:
    return tuple(
        Decorated(
            key,
            "screen_plastisol",
            result=_grades(fresh),
            washed=(WashedPrint(3, _grades(WASHED_PRINT_GRADES[key])),),
        )
        for key, fresh in FRESH_PRINT_GRADES.items()
    )


def _delivery() -> Delivery:
    return Delivery(
        NO_FILE,
        "2026-10-05-delivery",
        "example/tee",
        datetime.date(2026, 10, 5),
        "ek",
        "B",
        dict.fromkeys(SIZES, 24),
        20,
        flaws=(Flaw("L", "hole"),),
    )


def _grades(written: Mapping[str, str]) -> Grades:
    return {part: Grade(GRADES[grade], grade) for part, grade in written.items()}


def _readings(row: Sequence[str]) -> Readings:
    return {
        point: tuple(read_length(text.strip(), "in") for text in written.split(","))
        for point, written in zip(EXAMPLE_POINTS, row, strict=True)
    }
