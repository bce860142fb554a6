"""One check's answers as a page shows them: a table or a grid, whatever the check."""

from collections.abc import Iterator, Sequence

from blankbook.pages.blank.check_columns import LAYOUTS, CheckLayout
from blankbook.pages.blank.check_types import (
    AnswerGrid,
    CheckRow,
    CheckSection,
    GridCell,
    GridReason,
    GridRow,
    MeansRow,
    RowGroup,
    UnchartedMeans,
)
from blankbook.pages.page_types import AnswerCount
from blankbook.pages.value_words import (
    DASH,
    decoration_name,
    number_text,
    part_name,
    point_name,
    row_head,
    sign_of,
    unit_name,
    unit_words,
)
from blankbook.results.comparable_lines import NOT_COMPARABLE, line_mismatches
from blankbook.results.evidence import YOUNGER_CHART, is_chart_younger
from blankbook.results.number_words import say_counted, say_list, say_sentences
from blankbook.results.planning.left_open import left_open
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Check, Judged, Result
from blankbook.words.answers import Answer

WORST_FIRST = (
    Answer.FAILS,
    Answer.NOT_SHOWN,
    Answer.NOT_TESTED,
    Answer.NOTED,
    Answer.MEETS,
)


def check_section(judged: Judged, check: Check, unit: str) -> CheckSection:
    """Return one check's answers: in rows, in a grid, or in a line where nobody has looked."""
    layout = LAYOUTS.get(check.key, CheckLayout())
    results = judged.of(check.key)
    silent = [r for r in results if r.answer == Answer.NOT_TESTED and not r.numbers]
    uncharted = [r for r in results if _is_uncharted(r)]
    rest = [r for r in results if r not in silent and r not in uncharted]
    grid = layout.cell is not None
    return CheckSection(
        key=check.key,
        title=check.title,
        question=check.question,
        required=check.key in judged.case.shop.required,
        counts=_answer_counts(results),
        answers=len(rest),
        first=layout.first,
        heads=tuple(column.head.format(unit=unit_name(unit)) for column in layout.columns),
        groups=() if grid else _groups(rest, layout, unit),
        grid=_grid(rest, layout, unit) if grid and rest else None,
        reasons=_reasons(rest) if grid else (),
        uncharted=_uncharted_means(judged, uncharted, unit) if uncharted else None,
        silent=unlooked_lines(silent),
        left_open=open_.says if (open_ := left_open(judged, check.key)) else "",
        troubles=_troubles(results, required=check.key in judged.case.shop.required),
        # What the shop's rules ask for has a section even where nobody has looked; other checks
        # without an answer are listed together at the end of the page.
        shown=bool(rest or uncharted or (silent and any(r.deciding for r in silent))),
    )


def _answer_counts(results: Sequence[Result]) -> tuple[AnswerCount, ...]:
    """Return how many of each answer there are, the worst first."""
    return tuple(
        AnswerCount(sign=sign_of(answer), count=sum(r.answer == answer for r in results))
        for answer in WORST_FIRST
    )


def _is_uncharted(result: Result) -> bool:
    """Say whether it was measured, but no chart speaks of it."""
    return result.answer == Answer.NOT_TESTED and bool(result.size and result.number(Quantity.MEAN))


def _groups(results: Sequence[Result], layout: CheckLayout, unit: str) -> tuple[RowGroup, ...]:
    """Return the rows, under their points or ways of decorating where the layout asks for it."""
    gathered: dict[str, list[Result]] = {}
    for result in results:
        gathered.setdefault(_group(result, layout), []).append(result)
    return tuple(
        RowGroup(
            title=title,
            deciding=any(result.deciding for result in rows),
            rows=tuple(_row(result, layout, unit) for result in rows),
        )
        for title, rows in gathered.items()
    )


def _group(result: Result, layout: CheckLayout) -> str:
    """Return the head that a row stands under."""
    if layout.by_way:
        return decoration_name(result)
    return point_name(result.point) if layout.by_point and result.point else ""


def _row(result: Result, layout: CheckLayout, unit: str) -> CheckRow:
    """Return one answer; its reason is left out where the columns say the same."""
    telling = not layout.columns or result.answer in layout.tells
    return CheckRow(
        head=_head(result, layout),
        answer=sign_of(result.answer),
        word="" if layout.first == "piece" or result.part else result.word,
        reason=result.reason if telling else "",
        cells=tuple(column.show(result, unit) for column in layout.columns),
    )


def _head(result: Result, layout: CheckLayout) -> str:
    """Return what a row is about, without what its group or its columns say already."""
    if layout.first == "piece":
        return result.piece
    if layout.first == "part":
        washes = f"after {say_counted(result.cycles, 'wash')}" if result.cycles else ""
        return ", ".join(text for text in (part_name(result), washes) if text) or row_head(result)
    if layout.first == "after" and result.cycles:
        return say_counted(result.cycles, "wash")
    if layout.first in {"size", "step"} and result.size:
        return f"{result.size} to {result.next_size}" if result.next_size else result.size
    return row_head(result)


def _grid(results: Sequence[Result], layout: CheckLayout, unit: str) -> AnswerGrid:
    """Return a grid with a column for each point."""
    assert layout.cell
    points = list(dict.fromkeys(r.point for r in results))
    rows: dict[str, dict[str, Result]] = {}
    for result in results:
        rows.setdefault(_head(result, layout), {})[result.point] = result
    return AnswerGrid(
        shows=layout.shows.format(unit=unit_words(unit)),
        heads=tuple(point_name(point) if point else "answer" for point in points),
        rows=tuple(
            GridRow(
                head=head,
                cells=tuple(
                    GridCell(sign=sign_of(own[p].answer), text=layout.cell(own[p], unit))
                    if p in own
                    else GridCell(sign=None, text=DASH)
                    for p in points
                ),
            )
            for head, own in rows.items()
        ),
    )


def _reasons(results: Sequence[Result]) -> tuple[GridReason, ...]:
    """Return the reasons of deciding answers: a grid has no room for them in its cells."""
    return tuple(
        GridReason(sign=sign_of(r.answer), where=row_head(r), text=_without_point(r))
        for answer in WORST_FIRST[:3]
        for r in results
        if r.deciding and r.answer == answer
    )


def _without_point(result: Result) -> str:
    """Return a reason without the point that it begins with: it stands before it."""
    return (
        result.reason.removeprefix(f"{point_name(result.point)}: ")
        if result.point
        else result.reason
    )


def _troubles(results: Sequence[Result], *, required: bool) -> tuple[GridReason, ...]:
    """Return what fails, then what is required and open; what nobody has looked at is one line."""
    fails = [r for r in results if r.answer == Answer.FAILS]
    decides = [r for r in results if required and r.deciding]
    unsettled = [r for r in decides if r.answer == Answer.NOT_SHOWN]
    unseen = [r for r in decides if r.answer == Answer.NOT_TESTED]
    lines = [
        GridReason(sign=sign_of(r.answer), where="", text=r.reason) for r in (*fails, *unsettled)
    ]
    if unseen:
        text = say_sentences(*dict.fromkeys(_unseen_words(unseen)))
        lines.append(GridReason(sign=sign_of(Answer.NOT_TESTED), where="", text=text))
    return tuple(lines)


def _unseen_words(results: Sequence[Result]) -> Iterator[str]:
    """Yield what nobody has looked at, and what was measured without a chart, each in a line."""
    yield from unlooked_lines([r for r in results if not r.numbers])
    uncharted = [r for r in results if _is_uncharted(r)]
    if uncharted:
        sizes = list(dict.fromkeys(r.size for r in uncharted))
        yield f"{say_list(sizes)}: measured, and no chart to hold them against"


def _uncharted_means(judged: Judged, results: Sequence[Result], unit: str) -> UnchartedMeans:
    """Return the means of what no chart speaks of, points down and sizes along."""
    found = {(r.point, r.size): number_text(r.number(Quantity.MEAN), unit) for r in results}
    sizes = [size for size in judged.blank.style.sizes if any(s == size for _, s in found)]
    points = list(dict.fromkeys(r.point for r in results))
    return UnchartedMeans(
        sign=sign_of(Answer.NOT_TESTED),
        why="; ".join(_whys(judged, results)),
        unit=unit_words(unit),
        sizes=tuple(sizes),
        rows=tuple(
            MeansRow(head=point_name(p), cells=tuple(found.get((p, s), DASH) for s in sizes))
            for p in points
        ),
    )


def _whys(judged: Judged, results: Sequence[Result]) -> list[str]:
    """Return why these are checked against no chart."""
    other = [line.says for line in line_mismatches(judged.case, results)]
    silent = any(result.word != NOT_COMPARABLE for result in results)
    younger = is_chart_younger(judged.case, judged.case.round)
    none = YOUNGER_CHART if younger else "none speaks of it"
    return [*other, *([none] if silent else [])]


def unlooked_lines(results: Sequence[Result]) -> tuple[str, ...]:
    """Return what nobody has looked at: sizes with the same points together, else the reason."""
    by_size: dict[str, list[str]] = {}
    rest = []
    for result in results:
        if result.size and result.point and not (result.next_size or result.piece):
            by_size.setdefault(result.size, []).append(point_name(result.point))
        else:
            rest.append(result.reason)
    alike: dict[tuple[str, ...], list[str]] = {}
    for size, points in by_size.items():
        alike.setdefault(tuple(points), []).append(size)
    together = (f"{say_list(sizes)} at {say_list(points)}" for points, sizes in alike.items())
    return (*together, *rest)
