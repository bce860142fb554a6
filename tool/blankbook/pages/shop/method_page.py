"""The method page: every rule in words, with its formula, its source and a worked example."""

import json
from collections.abc import Iterator, Mapping, Sequence
from importlib.resources import files
from itertools import groupby
from operator import itemgetter
from typing import Any

from blankbook.pages.blank.planning_table import usual_planning_table
from blankbook.pages.charts import all_charts
from blankbook.pages.charts.chart_types import ApprovalData
from blankbook.pages.page_spec import ChartSpec, PageSpec
from blankbook.pages.page_types import chart_image
from blankbook.pages.shop.method_types import (
    CauseBelief,
    CheckRule,
    ContentsLine,
    ExampleRow,
    MethodContext,
    OperatingRow,
    OperatingTable,
    PointRules,
    SignMeaning,
    StandingRule,
    TrialGroup,
    TrialRow,
    TrialsTable,
    WorkedExamples,
    WorkedStep,
)
from blankbook.pages.shop.order_method import order_method
from blankbook.pages.value_words import (
    DASH,
    length_text,
    sign_of,
    unit_name,
    unit_words,
    whole_percent,
)
from blankbook.records.model import Blank, Shop
from blankbook.results.checks.all_checks import CHECKS
from blankbook.results.judge_blank import judge
from blankbook.results.make_case import make_case
from blankbook.results.methods.proportions import say_zero_failures
from blankbook.results.number_words import say_list, times_in_100
from blankbook.results.standing.standing_rules import RULES
from blankbook.results.worked.all_worked import WORKED
from blankbook.results.worked.example_blank import (
    EXAMPLE_POINTS,
    example_rules,
    small_lot_blank,
    sound_blank,
    unmeasured_blank,
    wrong_tag_blank,
)
from blankbook.results.worked.rules_worked import (
    cause_lines,
    label_lines,
    planning_lines,
    purchase_lines,
    reading_lines,
    verdict_lines,
    zero_failure_lines,
)
from blankbook.results.worked.working_lines import WorkedLine
from blankbook.words.answers import SIGNS, Advice, Answer, MayOrder
from blankbook.words.causes import CAUSES, TUBE_FACTOR
from blankbook.words.grade_scales import nearest_grade
from blankbook.words.points import POINTS

CONTENTS = (
    ("answers", "The answers"),
    ("advice", "The advice"),
    ("standing", "What holds today"),
    ("example", "The example"),
    ("uncertainty", "What one reading is worth"),
    ("checks", "The checks"),
    *((f"check-{check.key}", check.title) for check in CHECKS),
    ("causes", "Causes"),
    ("tags", "Tags, before measuring"),
    ("purchases", "The cheapest purchase"),
    ("planning", "What so many pieces can show"),
    ("trials", "Is it right as often as it says?"),
    ("orders", "Bulk orders"),
    ("policy", "This shop's rules"),
)
ZERO_COUNTS = (3, 8, 20)
"""Pieces that were all good, for the sentence on what they leave open."""


def method_page(shop: Shop) -> PageSpec[MethodContext]:
    """Return the page: what every answer means, and how it is found."""
    total = sum(cause.weight for cause in CAUSES.values())
    tried = json.loads((files("blankbook.pages.shop") / "trials.json").read_text(encoding="utf-8"))
    drawn = all_charts.approval_chart(tried["operating"])
    context = MethodContext(
        up="",
        contents=tuple(ContentsLine(id=key, title=title) for key, title in CONTENTS),
        unit=unit_name(shop.unit),
        answers=tuple(map(_meaning, Answer)),
        advice=tuple(map(_meaning, Advice)),
        kinds=tuple(map(_meaning, MayOrder)),
        rules=tuple(
            StandingRule(rule.name, rule.when, sign_of(rule.ceiling), rule.opens, rule.sentence)
            for rule in RULES
        ),
        checks=_checks(shop),
        unit_words=unit_words(shop.unit),
        examples=_examples(shop),
        risk=whole_percent(shop.risk),
        twice=whole_percent(2 * shop.risk),
        sure=whole_percent(1 - shop.risk),
        points=tuple(_policy(shop, key) for key in POINTS),
        wash={key: f"{value:g}" for key, value in sorted(shop.wash_limit.items())},
        mass=f"{shop.mass_tolerance:g}",
        mix_up=f"{1 / shop.mix_up_limit:.0f}",
        skew=f"{shop.skew_limit:g}",
        least=tuple(
            f"{nearest_grade(grade)} for {what}" for what, grade in shop.least_grade.items()
        ),
        causes=tuple(
            CauseBelief(
                title=cause.title,
                weight=whole_percent(cause.weight / total),
                stays="the next lot shows it again" if cause.stays else "the next lot need not",
            )
            for cause in CAUSES.values()
        ),
        tube=f"{TUBE_FACTOR:g}",
        planning=usual_planning_table(shop),
        zero=tuple(say_zero_failures(count, shop.risk) for count in ZERO_COUNTS),
        trials=_trials(tried, drawn),
        orders=order_method(),
    )
    return PageSpec("method.html", "Method", "shop/method.html.j2", context, (drawn,))


def _checks(shop: Shop) -> tuple[CheckRule, ...]:
    """Return every check with its rule, its formula, and the formula worked out."""
    usual, wrong = (
        make_case(blank, example_rules(shop)) for blank in (sound_blank(), wrong_tag_blank())
    )
    # The check of labels has something to show only where a tag is wrong.
    return tuple(
        CheckRule(
            key=check.key,
            title=check.title,
            question=check.question,
            rule=check.rule,
            source=check.source,
            required=check.key in shop.required,
            formula=tuple(check.formula.splitlines()),
            worked=_worked_steps(WORKED[check.key](wrong if check.key == "label" else usual)),
        )
        for check in CHECKS
    )


def _examples(shop: Shop) -> WorkedExamples:
    """Return the worked examples of the rules that are no check, and the readings behind all."""
    own = example_rules(shop)
    usual, few = make_case(sound_blank(), own), make_case(small_lot_blank(), own)
    nothing = make_case(unmeasured_blank(), own)
    small = [
        f"{row.piece} {row.cells[0]} and {row.cells[1]}" for row in _readings(small_lot_blank())
    ]
    return WorkedExamples(
        readings=tuple(_readings(sound_blank())),
        small=say_list(small),
        verdict=_worked_steps(verdict_lines(judge(sound_blank(), own))),
        verdict_small=_worked_steps(verdict_lines(judge(small_lot_blank(), own))),
        reading=_worked_steps(reading_lines(usual)),
        causes=_worked_steps(cause_lines(few)),
        tags=_worked_steps(label_lines(usual)),
        purchase=_worked_steps(purchase_lines(few)),
        planned=_worked_steps(planning_lines(nothing, 2)),
        zero=_worked_steps(zero_failure_lines(shop.risk, ZERO_COUNTS)),
    )


def _readings(blank: Blank) -> Iterator[ExampleRow]:
    """Yield the example's readings as they are written, a row for each piece and stage."""
    for piece in (piece for round_ in blank.rounds for piece in round_.pieces):
        stages = [("received", piece.received)]
        stages += [(f"{w.cycles} washes", w.readings) for w in piece.washed]
        for stage, readings in stages:
            cells = (", ".join(r.written for r in readings[point]) for point in EXAMPLE_POINTS)
            yield ExampleRow(piece.key, piece.lot, stage, tuple(cells))


def _worked_steps(lines: Sequence[WorkedLine]) -> tuple[WorkedStep, ...]:
    """Return the lines of a worked example."""
    return tuple(
        WorkedStep(
            what=line.what,
            put_in=line.put_in,
            comes=line.comes,
            answer=sign_of(line.answer) if line.answer else None,
        )
        for line in lines
    )


def _trials(data: Mapping[str, Any], drawn: ChartSpec[ApprovalData]) -> TrialsTable:
    """Return the table of the simulation, as it was last run and written."""
    groups = groupby(filter(_is_shown, data["rows"]), key=itemgetter("group"))
    return TrialsTable(
        rounds=data["rounds"],
        each=data["each"],
        seed=data["seed"],
        date=data["date"],
        operating=_operating(data["operating"]),
        drawn=chart_image(drawn),
        groups=tuple(TrialGroup(title, tuple(map(_trial, rows))) for title, rows in groups),
    )


def _is_shown(row: Mapping[str, Any]) -> bool:
    """Say whether the page has a row, besides the operating characteristic; it must load fast."""
    what: str = row["what"]
    tabled = what.endswith("spread drawn") or what.startswith(("size on the border", "size off by"))
    same = row["group"].endswith(("a step is sound", "pieces inside"))
    same = same or what.startswith(("washing, ", "grade steps, "))
    return not tabled and (not same or row["held"] is False)


def _operating(rows: Sequence[Mapping[str, Any]]) -> OperatingTable:
    """Return the operating characteristic with a row for each distance."""
    bought = tuple(dict.fromkeys(row["bought"] for row in rows))
    cells = {(row["off"], row["bought"]): row["approved"] for row in rows}
    return OperatingTable(
        bought,
        tuple(
            OperatingRow(f"{off:g}", tuple(times_in_100(cells[off, name]) for name in bought))
            for off in sorted({row["off"] for row in rows})
        ),
        min(row["cases"] for row in rows),
    )


def _trial(row: Mapping[str, Any]) -> TrialRow:
    return TrialRow(
        what=row["what"],
        promise=row["promise"],
        seen=f"{row['seen']:.3f}",
        cases=row["cases"],
        held={True: "yes", False: "no", None: DASH}[row["held"]],
    )


def _meaning(word: str) -> SignMeaning:
    return SignMeaning(sign_of(word), SIGNS[word].meaning)


def _policy(shop: Shop, key: str) -> PointRules:
    unit = shop.unit
    return PointRules(
        name=POINTS[key].name,
        deciding=key in shop.deciding_points,
        tolerance=length_text(shop.tolerance[key], unit),
        step=length_text(shop.step[key], unit),
        step_tolerance=length_text(shop.step_tolerance[key], unit),
        spread=f"{shop.spread[key].deviation:.1f}",
        worth=f"{shop.spread[key].worth:g}",
    )
