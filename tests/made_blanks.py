"""Short ways to write down a blank for a test: ``from made_blanks import blank, piece, shop``."""

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from blankbook.records.lengths import read_length
from blankbook.records.model import (
    Blank,
    Chart,
    Grade,
    Laundering,
    Piece,
    Round,
    Seam,
    Shop,
    Source,
    Style,
    Supplier,
    Swatch,
    Tape,
    Washed,
)
from blankbook.results.result_types import Judged, Result
from blankbook.words.grade_scales import GRADES
from trials.shops import shop as silent_shop

Written = Mapping[str, str | Sequence[str]]
EIGHTH = Tape("in", read_length("1/8", "in"))
DAY = datetime.date(2026, 1, 20)


def shop(**changes: Any) -> Shop:
    """Return a shop that has said nothing but its limits of change after washing, and *changes*."""
    usual = replace(silent_shop(), wash_limit={"along": 6.0, "across": 5.0})
    return replace(usual, **changes)


def readings(written: Written) -> dict[str, Any]:
    """Return readings from inches as written; a list is repeat readings."""
    return {
        point: tuple(read_length(t, "in") for t in ([text] if isinstance(text, str) else text))
        for point, text in written.items()
    }


def piece(key: str, size: str, lot: str = "A", **points: str | Sequence[str]) -> Piece:
    """Return a piece as received; ``washed=(cycles, {point: text})`` is added by `washed`."""
    return Piece(Source("r.yaml"), key, size, "black", lot, readings(points))


def washed(piece: Piece, cycles: int, **points: str) -> Piece:
    """Return the piece with a washed stage."""
    stages = (*piece.washed, Washed(cycles, readings(points)))
    return Piece(
        piece.source, piece.key, piece.size, piece.colour, piece.lot, piece.received, stages
    )


def grades(**written: str) -> dict[str, Grade]:
    """Return grades by part, from their words."""
    return {part: Grade(GRADES[text], text) for part, text in written.items()}


def graded(piece: Piece, cycles: int, **written: str) -> Piece:
    """Return the piece with a washed stage of grades: ``graded(piece(…), 5, colour="4-5")``."""
    return replace(piece, washed=(*piece.washed, Washed(cycles, {}, grades(**written))))


def twisted(piece: Piece, cycles: int, shift: str, side: str = "", towards: str = "") -> Piece:
    """Return the piece with a washed stage in which its side seam has moved, in inches."""
    length = read_length(side, "in") if side else None
    seam = Seam(read_length(shift, "in").mm, f"{shift} {towards}".strip(), towards, length)
    return replace(piece, washed=(*piece.washed, Washed(cycles, {}, seam=seam)))


def chart(sizes: Mapping[str, Written]) -> Chart:
    """Return a chart in inches."""
    typed = {
        size: {p: length[0] for p, length in readings(row).items()} for size, row in sizes.items()
    }
    return Chart(datetime.date(2024, 1, 1), "sheet", "in", typed)


CHARTED = chart(
    {
        size: {"half_chest": str(18 + 2 * i), "body_length": str(28 + i)}
        for i, size in enumerate(("S", "M", "L", "XL"))
    }
)


def measured(
    *pieces: Piece,
    key: str = "2026-01-20-first",
    lot: str = "A",
    day: datetime.date = DAY,
    swatches: tuple[Swatch, ...] = (),
) -> Round:
    """Return a round measured with a tape read to 1/8 in."""
    laundering = Laundering("home_warm", "tumble_low")
    return Round(
        Source(f"{key}.yaml"),
        key,
        "a/b",
        day,
        "rv",
        lot,
        EIGHTH,
        tuple(pieces),
        laundering=laundering,
        swatches=swatches,
    )


def blank(
    *rounds: Round,
    sizes: tuple[str, ...] = ("S", "M", "L", "XL"),
    charts: tuple[Chart, ...] = (CHARTED,),
    **claims: Any,
) -> Blank:
    """Return a blank with the chart of the tests, or another."""
    style = Style(
        Source("style.yaml"), "a/b", "a", "Test tee", sizes, ("black",), charts=charts, **claims
    )
    return Blank(style, Supplier(Source("a.yaml"), "a", "A"), rounds)


def single_result(judged: Judged, check: str, **where: Any) -> Result:
    """Return the one result of *check* at the given place."""
    found = [
        result
        for result in judged.of(check)
        if all(getattr(result, name) == value for name, value in where.items())
    ]
    assert len(found) == 1, (check, where, [result.reason for result in judged.of(check)])
    return found[0]
