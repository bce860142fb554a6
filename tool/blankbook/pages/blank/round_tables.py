"""The rounds of a blank as its page shows them: every piece, every reading, as it was written."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from blankbook.pages.blank.grade_tables import graded_tables
from blankbook.pages.blank.page_photos import Picture, photos_of
from blankbook.pages.blank.round_types import (
    PieceRow,
    PlannedLine,
    ReadingsTable,
    RoundArticle,
    RoundLine,
    SwatchMass,
)
from blankbook.pages.over_time.earlier_parts import LISTED, earlier_places
from blankbook.pages.record_sources import RecordSource
from blankbook.pages.site_paths import from_blank_page, table_path
from blankbook.pages.value_words import DASH, point_name, sign_of
from blankbook.records.lengths import Length
from blankbook.records.model import Blank, Piece, Readings, Round
from blankbook.results.number_words import say_counted
from blankbook.results.planning.planned_rounds import say_planned
from blankbook.results.result_types import Judged
from blankbook.words.points import POINTS
from blankbook.words.wash_procedures import DRYINGS, WASHES


def newest_round(judged: Judged, pictures: Mapping[str, Picture]) -> tuple[RoundArticle, ...]:
    """Return the newest round, if there is one."""
    return tuple(round_article(round_, pictures) for round_ in judged.blank.rounds[-1:])


def planned_rounds(blank: Blank) -> tuple[PlannedLine, ...]:
    """Return the rounds that nothing was measured of yet."""
    return tuple(
        PlannedLine(
            key=planned.key,
            day=planned.planned.isoformat(),
            says=say_planned(planned),
            table=table_path(blank.style.key, planned.key),
            source=RecordSource(planned.source.path),
        )
        for planned in blank.planned
    )


def earlier_round_lines(judged: Judged) -> tuple[RoundLine, ...]:
    """Return a line for each of the newest earlier rounds, with a link to all its readings."""
    places = earlier_places(judged.blank)
    return tuple(
        RoundLine(
            page=from_blank_page(places[round_.source.path]),
            key=round_.key,
            date=round_.date.isoformat(),
            lot=round_.lot,
            pieces=len(round_.pieces),
            decision=sign_of(round_.decision.decision) if round_.decision else None,
        )
        for round_ in list(reversed(judged.blank.rounds[:-1]))[:LISTED]
    )


def round_article(round_: Round, pictures: Mapping[str, Picture]) -> RoundArticle:
    """Return all that was read in a round."""
    points = [point for point in POINTS if _has(round_, point)]
    return RoundArticle(
        key=round_.key,
        source=RecordSource(round_.source.path),
        date=round_.date.isoformat(),
        by=round_.by,
        lot=round_.lot,
        bought=_bought(round_),
        tape=f"read to {_tape_step(round_)}",
        laundering=_laundering(round_),
        points=tuple(point_name(point) for point in points),
        rows=tuple(
            row for piece in round_.pieces for row in _piece_rows(piece, points, round_.tape.unit)
        ),
        graded=graded_tables(round_),
        swatches=tuple(
            SwatchMass(piece=swatch.piece, mass=f"{swatch.mass / swatch.area * 1e6:.0f}")
            for swatch in round_.swatches
        ),
        decision=sign_of(round_.decision.decision) if round_.decision else None,
        decided=_decided(round_),
        photos=photos_of(round_, pictures),
        note=round_.note,
        pieces=len(round_.pieces),
    )


def readings_table(round_: Round) -> ReadingsTable:
    """Return the readings as received, as they were written."""
    points = [point for point in POINTS if any(point in piece.received for piece in round_.pieces)]
    return ReadingsTable(
        points=tuple(point_name(point) for point in points),
        rows=tuple(_piece_rows(piece, points, round_.tape.unit)[0] for piece in round_.pieces),
    )


def _has(round_: Round, point: str) -> bool:
    return any(
        point in readings
        for piece in round_.pieces
        for readings in (piece.received, *(stage.readings for stage in piece.washed))
    )


def _tape_step(round_: Round) -> str:
    """Return what the tape reads to as it was written, with its unit once."""
    written = round_.tape.reads_to.written.strip()
    return written if written[-1:].isalpha() else f"{written} {round_.tape.unit}"


def _bought(round_: Round) -> str:
    each = (
        f"{round_.each:.2f} {round_.currency}".strip() + " each" if round_.each is not None else ""
    )
    return ", ".join(
        part for part in (round_.bought.isoformat() if round_.bought else "", each) if part
    )


def _laundering(round_: Round) -> str:
    if round_.laundering is None:
        return ""
    said = f"{WASHES[round_.laundering.wash]}; {DRYINGS[round_.laundering.dry]}"
    return f"{said}; {round_.laundering.note}" if round_.laundering.note else said


def _decided(round_: Round) -> str:
    made = round_.decision
    if made is None:
        return ""
    parts = [f"{made.date.isoformat()} by {made.by}", made.reason.removesuffix(".")]
    parts += [f"for {', '.join(made.uses)}"] if made.uses else []
    parts += [f"on condition: {', '.join(made.conditions)}"] if made.conditions else []
    return "; ".join(part for part in parts if part)


def _piece_rows(piece: Piece, points: Sequence[str], unit: str) -> list[PieceRow]:
    """Return one row for a piece as received, and one for each time it was measured again."""
    note = "; ".join(text for text in (piece.confirmed, piece.note) if text)
    received = replace(_row(piece, "received", piece.received, points, unit), note=note)
    washed = (
        _row(piece, f"after {say_counted(stage.cycles, 'wash')}", stage.readings, points, unit)
        for stage in piece.washed
    )
    return [received, *washed]


def _row(
    piece: Piece, stage: str, readings: Readings, points: Sequence[str], unit: str
) -> PieceRow:
    return PieceRow(
        piece=piece.key,
        again=stage != "received",
        size=piece.size,
        lot=piece.lot,
        stage=stage,
        note="",
        cells=tuple(_written(readings.get(point), unit) for point in points),
    )


def _written(repeats: tuple[Length, ...] | None, unit: str) -> str:
    """Return readings as they were written; a unit other than the column's is named."""
    if repeats is None:
        return DASH
    texts = []
    for reading in repeats:
        text = reading.written.strip()
        named = reading.unit == unit or text[-1:].isalpha() or text[-1:] in '"″”'
        texts.append(text if named else f"{text} {reading.unit}")
    return "; ".join(texts)
