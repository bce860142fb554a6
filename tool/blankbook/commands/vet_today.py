"""What holds today for one blank, on one screen of 80 columns by 40 lines."""

import textwrap
from collections.abc import Iterable, Iterator, Sequence

from blankbook.commands.shared.errors import shown
from blankbook.commands.shared.terminal import columns
from blankbook.records.chart_remarks import newest_chart_remarks
from blankbook.records.lengths import in_centimetres, in_inches
from blankbook.results.advice.cautions import cautions
from blankbook.results.causes.explanations import say_explanation
from blankbook.results.checks.all_checks import CHECKS
from blankbook.results.number_words import say_counted
from blankbook.results.planning.planned_rounds import say_planned
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Judged, Result
from blankbook.results.standing.make_standing import say_evidence
from blankbook.results.standing.offer_words import say_offers
from blankbook.results.standing.size_words import say_day, say_sizes
from blankbook.words.answers import SIGNS, Answer
from blankbook.words.points import POINTS

MOST_LINES = 40
"""A screen has so many."""
_MOST = 3
"""So many conditions, sizes and causes are listed; the rest are counted."""
_MOST_ROWS = 8
"""From more sizes on, those that are right in everything are left out."""
_COLUMN = 17
_EVERYDAY = {"washing", "label"}
"""Cautions that every shop knows by now; the pages show them where they belong."""
_WORST_FIRST = (
    Answer.FAILS, Answer.NOT_SHOWN, Answer.NOT_TESTED, Answer.NOTED, Answer.MEETS,
)  # fmt: skip


def today_sheet(judged: Judged) -> str:
    """Return what a shop has to know of one blank before it orders."""
    parts = [
        *([*_standing_lines(judged)], [*_why_lines(judged)], [*_next_lines(judged)]),
        *([*_size_lines(judged)], [*_rest_lines(judged)]),
    ]
    return "\n\n".join("\n".join(lines) for lines in parts if lines)


def wrap(text: str, first: str = "", most: int = 0) -> str:
    """Return *text* at the width of the terminal, hanging under where it begins.

    With *most*, no more lines than that: what is left out is marked by an ellipsis.
    """
    limit = {"max_lines": most, "placeholder": " …"} if most else {}
    return textwrap.fill(
        shown(text),
        columns(),
        initial_indent=first,
        subsequent_indent=" " * len(first),
        **limit,  # type: ignore[arg-type]  # textwrap types its options one by one
    )


def _standing_lines(judged: Judged) -> Iterator[str]:
    standing, style = judged.standing, judged.blank.style
    yield wrap(f"{style.key}  {style.name}", most=1)
    sizes = f" in {say_sizes(style.sizes, standing.sizes)}" if standing.sizes else ""
    yield wrap(f"{SIGNS[standing.kind].shape} {standing.kind}{sizes}", most=1)
    if evidence := say_evidence(standing):
        yield wrap(evidence, "  ", most=2)
    yield ""
    yield wrap(standing.sentence, most=3)
    if standing.washed:
        yield wrap(standing.washed, most=2)
    for says in say_offers(judged):
        yield wrap(says, most=2)
    for says in newest_chart_remarks(style)[:1]:
        yield wrap(says, "look again: ", most=2)
    yield from _few([f"not {left.size}: {left.why}" for left in standing.left_out])
    if standing.conditions:
        yield "on condition:"
        yield from _few(standing.conditions)


def _few(texts: Sequence[str]) -> Iterator[str]:
    """Yield the first texts, each on a line, and how many more there are."""
    for text in texts[:_MOST]:
        yield wrap(text, "  - ", most=1)
    if len(texts) > _MOST:
        yield f"    and {len(texts) - _MOST} more"


def _why_lines(judged: Judged) -> Iterator[str]:
    standing = judged.standing
    against = {(reason.day, reason.says) for reason in standing.against}
    for reason in standing.shown_reasons:
        speaks = "against the decision: " if (reason.day, reason.says) in against else ""
        yield wrap(f"{say_day(reason.day)}: {speaks}{reason.says}", "  - ", most=2)
    if standing.more_reasons:
        yield f"    and {standing.more_reasons} more"


def _next_lines(judged: Judged) -> Iterator[str]:
    yield wrap(judged.standing.next_step, "next: ", most=3)
    if not any(reason.says.startswith("likely cause") for reason in judged.standing.shown_reasons):
        for cause in [cause for cause in judged.explanations if cause.odds >= 0.01][:2]:
            yield wrap(say_explanation(cause), "perhaps: ", most=1)
    for planned in judged.blank.planned[:2]:
        says = f"{say_planned(planned)} ({shown(planned.key)}), not measured yet"
        yield wrap(says, "planned: ", most=2)


def _size_lines(judged: Judged) -> Iterator[str]:
    """Yield a table: the sizes, each with how far off it is and its step, at each deciding point.

    Where there is no chart to be off, its measure stands there.
    """
    unit, style = judged.case.shop.unit, judged.blank.style
    points = [p for p in judged.case.shop.deciding_points if _found(judged, p)]
    points = points[: (columns() - 8) // (2 * _COLUMN)]
    rows = [_size_row(judged, size, points) for size in style.sizes]
    told = [row for row in rows if any(row.cells)]
    if not told:
        return
    if len(told) > _MOST_ROWS:
        told = [row for row in told if not row.is_right][:_MOST_ROWS]
    heads = [text for point in points for text in (POINTS[point].name, "step up")]
    yield f"{unit:<8}" + "".join(f"{text:<{_COLUMN}}" for text in heads).rstrip()
    for row in told:
        yield f"{shown(row.size)[:7]:<8}" + "".join(f"{c:<{_COLUMN}}" for c in row.cells).rstrip()
    left = sum(any(row.cells) for row in rows) - len(told)
    if left:
        yield f"and {say_counted(left, 'more size')} (--all)"


class _SizeRow:
    """One size: a cell for each column, and whether every answer in it is right."""

    def __init__(self, size: str, cells: list[str], *, is_right: bool) -> None:
        self.size, self.cells, self.is_right = size, cells, is_right


def _size_row(judged: Judged, size: str, points: Iterable[str]) -> _SizeRow:
    cells, answers = [], []
    for point in points:
        for check, names in (
            ("size_against_chart", (Quantity.OFF_THE_CHART, Quantity.MEAN)),
            ("grade_steps", (Quantity.STEP,)),
        ):
            own = [r for r in judged.of(check) if (r.size, r.point) == (size, point) and r.deciding]
            worst = _worst(own)
            cells.append(_cell(worst, names, judged.case.shop.unit) if worst else "")
            answers += [worst.answer] if worst else []
    return _SizeRow(size, cells, is_right=set(answers) == {Answer.MEETS})


def _worst(results: Sequence[Result]) -> Result | None:
    return min(results, key=lambda r: _WORST_FIRST.index(r.answer), default=None)


def _cell(result: Result, names: Sequence[Quantity], unit: str) -> str:
    """Return the shape of an answer, and the first of the numbers that it has."""
    shape = SIGNS[result.answer].shape
    for name in names:
        if found := result.number(name):
            size = abs(found.value)
            text = in_inches(size, 8) if unit == "in" else in_centimetres(size)
            plus = "+" if name == Quantity.OFF_THE_CHART else ""
            sign = "" if text in {"0", "0.0"} else "-" if found.value < 0 else plus
            return f"{shape} {sign}{text}"
    return shape


def _found(judged: Judged, point: str) -> bool:
    return any(r.point == point and r.numbers for r in judged.of("size_against_chart"))


def _rest_lines(judged: Judged) -> Iterator[str]:
    if washing := _washing(judged):
        yield wrap(washing, "washing: ", most=1)
    if unseen := unlooked(judged):
        yield wrap(", ".join(unseen), "not looked at: ", most=2)
    for key, text in cautions(judged.blank).items():
        if key not in _EVERYDAY:
            yield wrap(text, "caution: ", most=3)


def _washing(judged: Judged) -> str:
    """Return the change at each deciding point after the most washes, in one line."""
    tested = [r for r in judged.of("washing") if r.deciding and r.number(Quantity.CHANGE)]
    most = max((r.cycles or 0 for r in tested), default=0)
    said = [
        f"{SIGNS[r.answer].shape} {POINTS[r.point].name} {change.value:+.1f} %"
        for r in tested
        if r.cycles == most and (change := r.number(Quantity.CHANGE))
    ]
    return f"{', '.join(said)} after {say_counted(most, 'wash')}" if said else ""


def unlooked(judged: Judged) -> list[str]:
    """Return the titles of the checks for which there is nothing at all."""
    return [
        check.title.lower()
        for check in CHECKS
        if judged.of(check.key)
        and all(result.answer == Answer.NOT_TESTED for result in judged.of(check.key))
    ]
