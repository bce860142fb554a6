"""Results as text for a terminal, readable without colour."""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from blankbook.commands.shared.errors import shown
from blankbook.commands.shared.terminal import columns
from blankbook.commands.vet_today import today_sheet, wrap
from blankbook.records.chart_remarks import newest_chart_remarks
from blankbook.results.advice.next_step import say_purchase
from blankbook.results.causes.explanations import say_explanation
from blankbook.results.checks.all_checks import CHECKS
from blankbook.results.checks.delivery import next_plan
from blankbook.results.deliveries.delivery_words import say_plan
from blankbook.results.json_results import decision_data
from blankbook.results.learning.stand_ins import stand_ins
from blankbook.results.number_words import say_counted, say_list, say_sentences, times_in_100
from blankbook.results.planning.can_show import WANTED_CHANCE, ShowingRow, can_show
from blankbook.results.planning.left_open import left_open
from blankbook.results.planning.planned_rounds import say_planned
from blankbook.results.result_types import Judged, Result, UncertaintyBudget
from blankbook.words.answers import SIGNS, Answer, MayOrder
from blankbook.words.points import POINTS

_URGENT = (
    Answer.FAILS,
    Answer.NOT_SHOWN,
    Answer.NOT_TESTED,
    Answer.NOTED,
    Answer.MEETS,
)


class Line(NamedTuple):
    """What one line says of a blank."""

    kind: MayOrder
    key: str
    sentence: str
    evidence: str
    """The day of the evidence, and how many lots there are."""


def line_of(judged: Judged) -> Line:
    """Return what the line of one blank says."""
    found = judged.standing.evidence
    evidence = f"{found.day.isoformat()} {say_counted(found.lots, 'lot')}" if found else ""
    standing = judged.standing
    return Line(standing.kind, judged.blank.style.key, standing.sentence, evidence)


def line_for_each(lines: Sequence[Line]) -> str:
    """Return two lines for every blank, the ones that may be ordered first.

    Shape, key, standing, the day and lots of its evidence; below it the sentence that matters.
    """
    if not lines:
        return "no blanks yet: blankbook add supplier NAME, then blankbook add style SUPPLIER/STYLE"
    order = tuple(MayOrder)
    wide = min(max(len(line.key) for line in lines), 28)
    said = []
    for line in sorted(lines, key=lambda line: (order.index(line.kind), line.key)):
        head = f"{SIGNS[line.kind].shape} {line.key:<{wide}}  {line.kind:<28}  {line.evidence}"
        said += [_cut(head.rstrip()), _cut(f"  {shown(line.sentence)}")]
    return "\n".join(said)


def blank_sheet(judged: Judged, every: bool = False) -> str:
    """Return what one blank's standing is and rests on, on one screen; with *every*, all of it."""
    if not every:
        return today_sheet(judged)
    parts = [today_sheet(judged), _advice(judged), *_checks(judged)]
    parts += [_why(judged), _next_delivery(judged), *(_budget(part) for part in judged.budgets)]
    parts += [_nearest(judged), _showing(judged)]
    return "\n\n".join(part for part in parts if part)


def _advice(judged: Judged) -> str:
    """Return what the samples say by themselves, everything about the decision, and all reasons."""
    verdict, standing = judged.verdict, judged.standing
    lines = [
        f"the samples: {SIGNS[verdict.advice].shape} {verdict.advice}",
        wrap(verdict.headline, "  "),
        *(wrap(reason, "  - ") for reason in verdict.reasons),
        *_decided(judged),
        *(wrap(says, "condition: ") for says in standing.conditions),
    ]
    lines += [wrap(f"{reason.day}: {reason.says}", "why: ") for reason in standing.reasons]
    lines += [wrap(f"{left.size}: {left.why}", "left out: ") for left in standing.left_out]
    lines += [wrap(says, "look again: ") for says in newest_chart_remarks(judged.blank.style)]
    lines += [
        wrap(f"{say_planned(planned)} ({shown(planned.key)}), not measured yet", "planned: ")
        for planned in judged.blank.planned
    ]
    return "\n".join(lines)


def _next_delivery(judged: Judged) -> str:
    """Return how the next delivery is to be inspected."""
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
    if not judged.explanations:
        return ""
    likely = [one for one in judged.explanations if one.odds >= 0.01]
    lines = ["why it may be so", *(wrap(say_explanation(one), "  - ") for one in likely)]
    if judged.purchase:
        lines.append(wrap(say_purchase(judged.purchase), "  cheapest to tell: "))
    return "\n".join(lines)


def _checks(judged: Judged) -> Iterable[str]:
    """Yield each check's answers as a block, the checks with the worst answers first."""
    blocks = []
    for check in CHECKS:
        results = sorted(judged.of(check.key), key=_urgency)
        if results:
            block = _block(check.title, results) + _left_open(judged, check.key)
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
    lines += [wrap(_shows(row), "  - ") for row in found.rows]
    return "\n".join(lines)


def _shows(row: ShowingRow) -> str:
    chances = [times_in_100(chance) for chance in row.chances if chance is not None]
    if not chances:
        return row.what
    enough = f" ({times_in_100(WANTED_CHANCE)} take {row.enough})" if row.enough else ""
    return f"{row.what}: {', '.join(chances)}{enough}"


def _urgency(result: Result) -> tuple[bool, int]:
    return not result.deciding, _URGENT.index(result.answer)


def _block(title: str, results: Sequence[Result]) -> str:
    """Return one check with all its answers."""
    lines = [title.lower()]
    for result in results:
        sign = SIGNS[result.answer].shape
        lines.append(wrap(result.reason, f"  {sign} {result.answer:<10}  "))
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
        apart = f"{one.key}, {one.distance:.1f} tolerances apart over {one.shared} measures"
        lines.append(wrap(say_sentences(apart, sizes, *one.differs), "  - "))
    return "\n".join(["what could stand in for it", *lines]) if lines else ""


def _cut(text: str) -> str:
    wide = columns()
    return text if len(text) <= wide else text[: wide - 1].rstrip() + "…"
