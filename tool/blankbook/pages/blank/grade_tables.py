"""What was graded in a round, as it was written: tables of pieces against parts."""

from collections.abc import Iterable, Iterator, Mapping

from blankbook.pages.blank.round_types import GradedCell, GradedRow, GradedTable
from blankbook.pages.value_words import DASH
from blankbook.records.model import Decorated, Grades, Heat, Round, Seam
from blankbook.results.number_words import say_counted
from blankbook.words.decoration_methods import METHODS
from blankbook.words.grade_scales import (
    AFTER_WASHING,
    FRESH_PRINT,
    WASHED_PRINT,
    WEAR,
    WORKMANSHIP,
    Part,
)

_Row = tuple[str, list[str], str]
"""The piece, its cells, and its note."""


def graded_tables(round_: Round) -> tuple[GradedTable, ...]:
    """Return the tables of a round, without those that would be empty."""
    tables = (
        _twist(round_),
        _after_washing(round_),
        _workmanship(round_),
        _worn(round_),
        *_prints(round_),
    )
    return tuple(table for table in tables if table)


def _table(title: str, heads: list[str], rows: Iterable[_Row], texts: int) -> GradedTable | None:
    """Return a table without its empty columns; the first *texts* columns are words, not grades."""
    found = list(rows)
    if not found:
        return None
    kept = [at for at in range(len(heads)) if any(row[1][at] != DASH for row in found)]
    return GradedTable(
        title=title,
        heads=tuple(GradedCell(text=heads[at], words=at < texts) for at in kept),
        rows=tuple(
            GradedRow(
                head=head,
                cells=tuple(GradedCell(text=cells[at], words=at < texts) for at in kept),
                note=note,
            )
            for head, cells, note in found
        ),
    )


def _cells(parts: Mapping[str, Part], grades: Grades) -> list[str]:
    return [grades[part].written if part in grades else DASH for part in parts]


def _titles(parts: Mapping[str, Part]) -> list[str]:
    return [part.title for part in parts.values()]


def _twist(round_: Round) -> GradedTable | None:
    def rows() -> Iterator[_Row]:
        for piece in round_.pieces:
            if piece.seam:
                yield piece.key, ["received", *_seam(piece.seam)], ""
            for stage in piece.washed:
                if stage.seam:
                    yield (
                        piece.key,
                        [f"after {say_counted(stage.cycles, 'wash')}", *_seam(stage.seam)],
                        "",
                    )

    heads = ["stage", "seam moved by", "side seam"]
    return _table(f"Twist at the hem as it was written, {round_.tape.unit}", heads, rows(), 1)


def _seam(seam: Seam) -> list[str]:
    return [seam.written or DASH, seam.length.written if seam.length else DASH]


def _after_washing(round_: Round) -> GradedTable | None:
    rows = (
        (
            piece.key,
            [f"after {say_counted(stage.cycles, 'wash')}", *_cells(AFTER_WASHING, stage.grades)],
            stage.note,
        )
        for piece in round_.pieces
        for stage in piece.washed
        if stage.grades or stage.note
    )
    return _table("Graded after washing", ["stage", *_titles(AFTER_WASHING)], rows, 1)


def _workmanship(round_: Round) -> GradedTable | None:
    rows = (
        (piece.key, _cells(WORKMANSHIP, piece.workmanship.grades), piece.workmanship.note)
        for piece in round_.pieces
        if piece.workmanship
    )
    return _table("Workmanship as received", _titles(WORKMANSHIP), rows, 0)


def _worn(round_: Round) -> GradedTable | None:
    rows = (
        (
            piece.key,
            [_days(worn.days), str(worn.washes), worn.by or DASH, *_cells(WEAR, worn.grades)],
            worn.note,
        )
        for piece in round_.pieces
        for worn in piece.worn
    )
    return _table("Worn", ["worn", "washes", "by", *_titles(WEAR)], rows, 3)


def _days(days: int) -> str:
    return say_counted(days, "day")


def _prints(round_: Round) -> Iterator[GradedTable | None]:
    """Yield two tables for each way of decorating and its settings: once cold, and washed."""
    ways: dict[str, list[Decorated]] = {}
    for test in round_.decorated:
        ways.setdefault(_way(test), []).append(test)
    for way, tests in ways.items():
        cold = ((test.piece, _cells(FRESH_PRINT, test.result), test.note) for test in tests)
        yield _table(f"Decorated by {way}: graded once cold", _titles(FRESH_PRINT), cold, 0)
        washed = (
            (
                test.piece,
                [f"after {say_counted(stage.cycles, 'wash')}", *_cells(WASHED_PRINT, stage.grades)],
                stage.note,
            )
            for test in tests
            for stage in test.washed
        )
        heads = ["stage", *_titles(WASHED_PRINT)]
        yield _table(f"Decorated by {way}: graded after washing", heads, washed, 1)


def _way(test: Decorated) -> str:
    """Return how a piece was decorated, with the settings as they were written."""
    settings = [f"press {_heat(test.press)}"] if test.press else []
    settings += [f"dryer {_heat(test.dryer)}"] if test.dryer else []
    material = [test.material] if test.material else []
    return "; ".join([METHODS[test.method].title, *material, *settings])


def _heat(heat: Heat) -> str:
    """Return a setting as it was written."""
    seconds = f"{heat.seconds:g} s" if heat.seconds is not None else ""
    degrees = heat.temperature.written if heat.temperature else ""
    return ", ".join(text for text in (degrees, seconds, heat.pressure) if text)
