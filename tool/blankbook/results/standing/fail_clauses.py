"""What failed, as the clause of a headline: no brackets, no limits, a shop's words.

Each check has its own way to say it. Sizes that are off the chart to one side are said together.
"""

from collections.abc import Callable, Iterable, Sequence
from statistics import fmean

from blankbook.records.lengths import in_centimetres, in_inches, say_length
from blankbook.results.checks.fabric import OUNCE
from blankbook.results.number_words import say_chance, say_counted
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Explanation, Result
from blankbook.results.standing.size_words import say_larger, say_off, say_sizes, say_smaller
from blankbook.words.answers import Answer
from blankbook.words.check_titles import CHECK_TITLES
from blankbook.words.decoration_methods import METHODS
from blankbook.words.grade_scales import (
    AFTER_WASHING,
    FRESH_PRINT,
    WASHED_PRINT,
    WEAR,
    WORKMANSHIP,
    nearest_grade,
)
from blankbook.words.points import INCH, POINTS

TELLING_CAUSES = frozenset({"mislabelled", "exchanged"})
"""Causes that say more than what they make fail: the sizes are right, and the tags are not."""
AS_GOOD_AS_CERTAIN = 0.9
_HEADLINE_ORDER = (
    "label", "grade_steps", "size_against_chart", "mix_up", "piece_against_chart", "washing",
    "washed_size", "fabric", "skew", "colour", "decoration", "workmanship", "wear", "pilling",
    "spread", "lots", "delivery",
)  # fmt: skip
"""Which check is said first: what cannot be sold as two sizes, then what is off, then the rest."""
_NO_STEP = float(INCH) / 8
"""A step that nobody reads off a tape of eighths, millimetres."""
_PARTS = {**AFTER_WASHING, **FRESH_PRINT, **WASHED_PRINT, **WORKMANSHIP, **WEAR}


def clauses_of_fails(case: Case, fails: Iterable[Result]) -> list[tuple[str, Result]]:
    """Return what failed in clauses, the most telling first, each with a result that it is about.

    Sizes off the chart at one point and to one side are one clause.
    """
    found: list[tuple[str, Result]] = []
    said = set()
    for result in sorted(fails, key=_headline_place):
        together = _off_alike(result, fails) if result.check == "size_against_chart" else []
        key = (result.point, _is_over(result)) if together else (result.check, result.reason)
        if key in said:
            continue
        said.add(key)
        clause = _off_chart(case, together) if together else _clause(case, result)
        found.append((clause, result))
    return found


def _clause(case: Case, result: Result) -> str:
    """Return what failed in the words of its check; a check without its own is named."""
    own = _CLAUSES.get(result.check)
    return own(case, result) if own else f"{CHECK_TITLES[result.check].lower()}: it fails"


def telling_cause(explanations: Sequence[Explanation]) -> str:
    """Return a cause that says more than the failed check, if it is as good as certain."""
    first = explanations[0] if explanations else None
    telling = first and first.odds >= AS_GOOD_AS_CERTAIN and first.key in TELLING_CAUSES
    return first.says if first and telling else ""


def _headline_place(result: Result) -> tuple[bool, int]:
    gone = result.word in {"collapsed", "reversed"}  # such sizes cannot be sold as two
    order = (*_HEADLINE_ORDER, result.check)  # a check that has no place comes last
    return not gone, order.index(result.check)


def _is_over(result: Result) -> bool:
    return _value(result, Quantity.OFF_THE_CHART) > 0


def _off_alike(result: Result, fails: Iterable[Result]) -> list[Result]:
    """Return the sizes that are off the chart at the same point and to the same side."""
    return [
        other
        for other in fails
        if other.check == result.check
        and other.point == result.point
        and _is_over(other) == _is_over(result)
    ]


def _off_chart(case: Case, alike: Sequence[Result]) -> str:
    unit, point = case.shop.unit, alike[0].point
    off = fmean(_value(result, Quantity.OFF_THE_CHART) for result in alike)
    if len(alike) == 1:
        return f"{say_off(off, point, unit, alike[0].size)} than the chart"
    measured = {piece.size for round_ in case.blank.rounds for piece in round_.pieces}
    sizes = {result.size for result in alike}
    if sizes == measured and len(sizes) > 2:
        return f"{say_off(off, point, unit, 'every size')} than the chart"
    named = say_sizes(case.blank.style.sizes, sizes)
    return f"{say_off(off, point, unit, named, 'are')} than the chart"


def _step(case: Case, result: Result) -> str:
    unit, point = case.shop.unit, result.point
    small, large = result.size, result.next_size
    step = _value(result, Quantity.STEP)
    asked = result.number(Quantity.CHARTED_STEP) or result.number(Quantity.USUAL_STEP)
    wanted = say_length(asked.value, unit) if asked else ""
    if result.word == "reversed":
        return f"{large} is {say_length(-step, unit)} {say_smaller(point)} than {small}"
    if result.word == "collapsed" and step <= _NO_STEP:
        both = _in_both(case, result) if step >= -_NO_STEP else ""
        return f"{large} is no {say_larger(point)} than {small}{both}"
    only = "only " if result.word != "long" else ""
    more = f"{say_length(step, unit)} {say_larger(point)}"
    return f"{large} is {only}{more} than {small}, not {wanted}"


def _in_both(case: Case, result: Result) -> str:
    """Return the measure that two sizes share, as the end of a clause."""
    sizes = {result.size, result.next_size}
    rounds = {round_.key: round_ for round_ in case.blank.rounds}
    mean = fmean(
        fmean(reading.mm for reading in piece.received[result.point])
        for piece in rounds[result.round].pieces
        if piece.size in sizes and result.point in piece.received
    )
    if case.shop.unit == "in":
        return f": {in_inches(mean, 8)} in both"
    return f": {in_centimetres(mean)} cm in both"


def _mix_up(_case: Case, result: Result) -> str:
    chance = say_chance(_value(result, Quantity.MIX_UP_CHANCE))
    return f"{chance} times, {result.size} measures as large as {result.next_size}"


def _label(_case: Case, result: Result) -> str:
    return f"{result.piece} is tagged {result.size} and {result.word}"


def _piece(case: Case, result: Result) -> str:
    off = _value(result, Quantity.OFF_THE_CHART)
    return f"{say_off(off, result.point, case.shop.unit, result.piece)} than the chart"


def _spread(_case: Case, result: Result) -> str:
    return f"pieces of one size differ too much in {POINTS[result.point].name}"


def _washing(_case: Case, result: Result) -> str:
    washes = say_counted(result.cycles or 0, "wash")
    by = f"{abs(_value(result, Quantity.CHANGE)):.1f} %"
    return f"{POINTS[result.point].name} {result.word} by {by} after {washes}"


def _washed_size(_case: Case, result: Result) -> str:
    return f"after {say_counted(result.cycles or 0, 'wash')} {result.size} measures {result.word}"


def _fabric(case: Case, result: Result) -> str:
    off = _value(result, Quantity.OFF_THE_CLAIM)
    found, claimed = _value(result, Quantity.MASS), _value(result, Quantity.CLAIMED)
    more = "heavier" if off > 0 else "lighter"
    masses = f"{found:.0f} g/m2, not {claimed:.0f}"
    if case.shop.unit == "in":
        masses = f"{found / OUNCE:.1f} oz, not {claimed / OUNCE:.1f}"
    return f"the cloth is {abs(off):.0f} % {more} than claimed: {masses}"


def _skew(_case: Case, result: Result) -> str:
    washes = say_counted(result.cycles or 0, "wash")
    return f"the body twists by {_value(result, Quantity.TWIST):.1f} % after {washes}"


def _graded(_case: Case, result: Result) -> str:
    part = _PARTS[result.part].title if result.part in _PARTS else result.part
    if result.method:
        part = f"{part} of {METHODS[result.method].title}"
    mean, least = _value(result, Quantity.MEAN_GRADE), _value(result, Quantity.LEAST_GRADE)
    return f"grade {nearest_grade(mean)} for {part}; at least {nearest_grade(least)} is asked"


def _lots(case: Case, result: Result) -> str:
    moved = _value(result, Quantity.MOVED_BY)
    return (
        f"{say_off(moved, result.point, case.shop.unit, f'lot {result.lot}')} than the approved one"
    )


def _delivery(_case: Case, result: Result) -> str:
    bad, seen = _value(result, Quantity.BAD), _value(result, Quantity.INSPECTED)
    return f"{bad:.0f} of {seen:.0f} were bad in the newest delivery"


_CLAUSES: dict[str, Callable[[Case, Result], str]] = {
    "grade_steps": _step,
    "mix_up": _mix_up,
    "label": _label,
    "piece_against_chart": _piece,
    "spread": _spread,
    "washing": _washing,
    "washed_size": _washed_size,
    "fabric": _fabric,
    "skew": _skew,
    "colour": _graded,
    "pilling": _graded,
    "workmanship": _graded,
    "wear": _graded,
    "decoration": _graded,
    "lots": _lots,
    "delivery": _delivery,
}


def _value(result: Result, name: Quantity) -> float:
    found = result.number(name)
    return found.value if found else 0.0


def is_fail(result: Result) -> bool:
    """Say whether a result is shown to be outside what is asked."""
    return result.answer == Answer.FAILS
