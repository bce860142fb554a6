"""Results as text for a terminal of 80 columns, readable without colour."""

import textwrap
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from blankbook.commands.shared.errors import shown
from blankbook.records.chart_remarks import newest_chart_remarks
from blankbook.results.advice.cautions import cautions
from blankbook.results.advice.next_step import say_purchase
from blankbook.results.causes.explanations import say_explanation
from blankbook.results.checks.all_checks import CHECKS
from blankbook.results.checks.delivery import is_expected, next_plan
from blankbook.results.deliveries.delivery_words import say_plan
from blankbook.results.json_results import decision_data
from blankbook.results.learning.stand_ins import stand_ins
from blankbook.results.methods.power_statements import times_in_100
from blankbook.results.number_words import say_counted, say_list
from blankbook.results.planning.can_show import WANTED_CHANCE, ShowingRow, can_show, showing_rows
from blankbook.results.planning.left_open import left_open
from blankbook.results.planning.planned_rounds import say_planned
from blankbook.results.result_types import Judged, Result, UncertaintyBudget
from blankbook.words.answers import SIGNS, Advice, Answer
from blankbook.words.points import POINTS

WIDTH = 80
_EVERYDAY = {"washing", "label"}
_URGENT = (
    Answer.FAILS,
    Answer.NOT_SHOWN,
    Answer.NOT_TESTED,
    Answer.NOTED,
    Answer.MEETS,
)


class Line(NamedTuple):
    """What one line says of a blank."""

    advice: Advice
    key: str
    headline: str


def line_of(judged: Judged) -> Line:
    """Return what the line of one blank says."""
    return Line(judged.verdict.advice, judged.blank.style.key, judged.verdict.headline)


def line_for_each(lines: Sequence[Line]) -> str:
    """Return one line for every blank: advice, key, and the start of the sentence that matters."""
    if not lines:
        return "no blanks yet: blankbook add supplier NAME, then blankbook add style SUPPLIER/STYLE"
    wide = max(len(one.key) for one in lines)
    return "\n".join(
        _cut(f"{SIGNS[one.advice].shape} {one.advice:<24} {one.key:<{wide}}  {shown(one.headline)}")
        for one in lines
    )


def blank_sheet(judged: Judged, every: bool = False) -> str:
    """Return everything about one blank, the finding that matters first."""
    parts = [_opening(judged), *_checks(judged, every)]
    if judged.explanations:
        parts.insert(1, _why(judged))
    parts.append(_next_delivery(judged, every))
    parts += [_unlooked(judged), _cautions(judged)]
    if every:
        parts += [_budget(one) for one in judged.budgets]
        parts.append(_nearest(judged))
    if every or judged.case.round is None:
        parts.append(_showing(judged))
    return "\n\n".join(part for part in parts if part)


def _opening(judged: Judged) -> str:
    style, verdict = judged.blank.style, judged.verdict
    lines = [
        wrap(f"{style.key}  {style.name}"),
        f"advice: {SIGNS[verdict.advice].shape} {verdict.advice}",
        *_decided(judged),
        "",
        wrap(verdict.headline),
        "",
    ]
    lines += [wrap(reason, "  - ") for reason in verdict.reasons]
    if verdict.orderable:
        lines.append(f"sizes that may be ordered: {', '.join(verdict.orderable)}")
    lines.append(wrap(verdict.next_step, "next: "))
    lines += [wrap(says, "look again: ") for says in newest_chart_remarks(style)]
    for one in judged.blank.planned:
        lines.append(wrap(f"{say_planned(one)} ({shown(one.key)}), not measured yet", "planned: "))
    return "\n".join(lines)


def _next_delivery(judged: Judged, every: bool) -> str:
    """Return how the next delivery is to be inspected, where one may come."""
    if not (every or is_expected(judged.blank, judged.verdict.advice)):
        return ""
    plan = say_plan(*next_plan(judged.case))
    return "\n".join(["the next delivery", wrap(plan, "    ")])


def _decided(judged: Judged) -> list[str]:
    made = decision_data(judged)
    if made is None:
        return ["decision: none yet"]
    sign = SIGNS[made["decision"]].shape
    text = f"{sign} {made['decision']}, {made['date']}, by {made['by']}"
    text += f": {made['reason']}" if made["reason"] else ""
    return [wrap(text, "decision: ")]


def _why(judged: Judged) -> str:
    likely = [one for one in judged.explanations if one.odds >= 0.01]
    lines = ["why it may be so", *(wrap(say_explanation(one), "  - ") for one in likely)]
    if judged.purchase:
        lines.append(wrap(say_purchase(judged.purchase), "  cheapest to tell: "))
    return "\n".join(lines)


def _checks(judged: Judged, every: bool) -> Iterable[str]:
    """Yield each check's answers as a block, the checks with the worst answers first."""
    blocks = []
    for check in CHECKS:
        results = sorted(judged.of(check.key), key=_urgency)
        if results and (every or any(_says_something(result) for result in results)):
            block = _block(check.title, results, every) + _left_open(judged, check.key)
            blocks.append((_urgency(results[0]), block))
    yield from (text for _, text in sorted(blocks, key=lambda block: block[0]))


def _left_open(judged: Judged, check: str) -> str:
    """Return the line that says what good pieces leave open, if all of them were good."""
    found = left_open(judged, check)
    return f"\n{wrap(found.says, '    ')}" if found else ""


def _showing(judged: Judged) -> str:
    """Return what so many pieces can show, a line for each question."""
    found = can_show(judged)
    first = found.purchases[0]
    lines = ["what so many pieces can show, times in 100"]
    if not found.measured:
        each = say_list([str(buy.each) for buy in found.purchases])
        lines = [f"what {each} pieces of each of {first.sizes} sizes could show, times in 100"]
    lines += [wrap(_shows(row), "  - ") for row in showing_rows(found)]
    return "\n".join(lines)


def _shows(row: ShowingRow) -> str:
    chances = [times_in_100(chance) for chance in row.chances if chance is not None]
    if not chances:
        return row.what
    return f"{row.what}: {', '.join(chances)} ({times_in_100(WANTED_CHANCE)} take {row.enough})"


def _says_something(result: Result) -> bool:
    return result.deciding or result.answer != Answer.NOT_TESTED


def _unlooked(judged: Judged) -> str:
    """Return what nobody has looked at and nobody asks for, in one line."""
    titles = [
        check.title.lower()
        for check in CHECKS
        if judged.of(check.key)
        and not any(_says_something(result) for result in judged.of(check.key))
    ]
    return wrap(", ".join(titles), "not tested, and not required: ") if titles else ""


def _cautions(judged: Judged) -> str:
    """Return the cautions that the record calls for beyond the wash, which every shop does."""
    found = [text for key, text in cautions(judged.blank).items() if key not in _EVERYDAY]
    return "\n".join(wrap(text, "caution: ") for text in found)


def _urgency(result: Result) -> tuple[bool, int]:
    return not result.deciding, _URGENT.index(result.answer)


def _block(title: str, results: Sequence[Result], every: bool) -> str:
    """Return one check; answers that neither decide nor fail are counted, not listed."""
    listed = [r for r in results if every or r.deciding or r.answer == Answer.FAILS]
    lines = [title.lower()]
    for result in listed:
        sign = SIGNS[result.answer].shape
        lines.append(wrap(result.reason, f"  {sign} {result.answer:<10}  "))
    rest = len(results) - len(listed)
    if rest:
        lines.append(f"    {rest} more that the advice does not rest on (--all lists them)")
    return "\n".join(lines)


def _budget(one: UncertaintyBudget) -> str:
    """Return what the uncertainty at one point is made of."""
    lines = [f"how far a reading can be trusted: {POINTS[one.point].name} (one deviation, mm)"]
    for part in one.parts:
        size = "  ?" if part.deviation is None else f"{part.deviation:.1f}"
        lines.append(wrap(part.origin, f"  {part.name:<17} {size:>4}  "))
    pieces = say_counted(one.pieces, "piece")
    mean = f"{one.of_mean:.1f}; for the next lot {one.of_next_lot:.1f}"
    lines.append(f"  the mean of {pieces}: {mean}")
    return "\n".join(lines)


def _nearest(judged: Judged) -> str:
    """Return what could stand in for the blank, with the size to order instead of each."""
    lines = []
    for one in stand_ins(judged.case):
        sizes = ", ".join(f"{size} → {other}" for size, (other, _) in one.instead.items())
        apart = f"{one.distance:.1f} tolerances apart over {one.shared} measures"
        differs = f"; {'; '.join(one.differs)}" if one.differs else ""
        lines.append(wrap(f"{one.key}, {apart}: {sizes}{differs}", "  - "))
    return "\n".join(["what could stand in for it", *lines]) if lines else ""


def wrap(text: str, first: str = "") -> str:
    """Return *text* at the width of the terminal, hanging under where it begins."""
    return textwrap.fill(
        shown(text), WIDTH, initial_indent=first, subsequent_indent=" " * len(first)
    )


def _cut(text: str) -> str:
    return text if len(text) <= WIDTH else text[: WIDTH - 1].rstrip() + "…"
