"""How a check's answers are laid out. A check that is not named here still shows, row by row."""

from collections.abc import Callable
from dataclasses import dataclass

from blankbook.pages.value_words import limits_text, number_text, share_text
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Result
from blankbook.words.answers import Answer

CellText = Callable[[Result, str], str]


@dataclass(frozen=True, slots=True)
class CheckColumn:
    """One column of numbers."""

    head: str
    """May hold ``{unit}`` for the shop's unit of length."""
    show: CellText


@dataclass(frozen=True, slots=True)
class CheckLayout:
    """How the answers of one check stand on a page."""

    columns: tuple[CheckColumn, ...] = ()
    first: str = "where"
    """What stands over the heads of the rows."""
    by_point: bool = False
    """Whether the rows are gathered under their point of measure."""
    by_way: bool = False
    """Whether the rows are gathered under the way of decorating."""
    cell: CellText | None = None
    """What stands in a cell. With it the answers make a grid, with a column for each point."""
    shows: str = ""
    """What a cell of a grid holds; may hold ``{unit}``, the unit of length in words."""
    tells: frozenset[Answer] = frozenset({Answer.NOT_SHOWN, Answer.NOT_TESTED})
    """The answers whose reason is written out; for the others the columns say the same."""


def _value(name: Quantity, *, signs: bool = False) -> CellText:
    return lambda result, unit: number_text(result.number(name), unit, signed_length=signs)


def _span(name: Quantity, *, signs: bool = False) -> CellText:
    return lambda result, unit: limits_text(result.number(name), unit, signed_length=signs)


def _share(name: Quantity) -> CellText:
    return lambda result, _: share_text(result.number(name))


def _measures_as(result: Result, _: str) -> str:
    return result.word.removeprefix("measures as ") or result.size


GRADE_COLUMNS = (
    CheckColumn("pieces", _value(Quantity.PIECES)),
    CheckColumn("mean grade", _value(Quantity.MEAN_GRADE, signs=True)),
    CheckColumn("limits", _span(Quantity.MEAN_GRADE, signs=True)),
    CheckColumn("at least", _value(Quantity.LEAST_GRADE)),
    CheckColumn("worst", _value(Quantity.WORST_GRADE)),
    CheckColumn("below, up to", _share(Quantity.SHARE_BELOW)),
)
"""What every check of grades shows."""
_SAYS = frozenset({Answer.NOT_SHOWN, Answer.NOT_TESTED, Answer.FAILS, Answer.NOTED})

LAYOUTS: dict[str, CheckLayout] = {
    "size_against_chart": CheckLayout(
        (
            CheckColumn("pieces", _value(Quantity.PIECES)),
            CheckColumn("chart, {unit}", _value(Quantity.CHART)),
            CheckColumn("measured, {unit}", _value(Quantity.MEAN)),
            CheckColumn("off, {unit}", _value(Quantity.OFF_THE_CHART, signs=True)),
            CheckColumn("limits, {unit}", _span(Quantity.OFF_THE_CHART, signs=True)),
            CheckColumn("expected inside", _share(Quantity.SHARE_INSIDE)),
        ),
        first="size",
        by_point=True,
    ),
    "grade_steps": CheckLayout(
        (
            CheckColumn("charted, {unit}", _value(Quantity.CHARTED_STEP, signs=True)),
            CheckColumn("measured, {unit}", _value(Quantity.STEP, signs=True)),
            CheckColumn("limits, {unit}", _span(Quantity.STEP, signs=True)),
        ),
        first="step",
        by_point=True,
    ),
    "mix_up": CheckLayout(
        first="step", cell=_value(Quantity.MIX_UP_CHANCE), shows="the chance of a mix-up"
    ),
    "label": CheckLayout(
        (
            CheckColumn("tag", lambda result, _: result.size),
            CheckColumn("measures as", _measures_as),
            CheckColumn("tag is right", _share(Quantity.RIGHT_TAG_CHANCE)),
        ),
        first="piece",
        tells=frozenset(),
    ),
    "piece_against_chart": CheckLayout(
        first="piece",
        cell=_value(Quantity.OFF_THE_CHART, signs=True),
        shows="the distance from the chart in {unit}",
    ),
    "spread": CheckLayout(
        (
            CheckColumn("one deviation, {unit}", _value(Quantity.SPREAD)),
            CheckColumn("limits, {unit}", _span(Quantity.SPREAD)),
            CheckColumn("the tolerance carries, {unit}", _value(Quantity.CARRIED_SPREAD)),
            CheckColumn("not from this blank", _value(Quantity.SHARE_FROM_ELSEWHERE)),
        ),
        first="point",
        tells=frozenset(),
    ),
    "washing": CheckLayout(
        (
            CheckColumn("pieces", _value(Quantity.PIECES)),
            CheckColumn("change, %", _value(Quantity.CHANGE, signs=True)),
            CheckColumn("limits, %", _span(Quantity.CHANGE, signs=True)),
            CheckColumn("accepted, ± %", _value(Quantity.LIMIT)),
        ),
        first="after",
        by_point=True,
    ),
    "washed_size": CheckLayout(
        (
            CheckColumn("pieces", _value(Quantity.PIECES)),
            CheckColumn("new, {unit}", _value(Quantity.OWN_SIZE_WHEN_NEW)),
            CheckColumn("washed, {unit}", _value(Quantity.WASHED)),
            CheckColumn("off, {unit}", _value(Quantity.OFF_ITS_OWN_SIZE, signs=True)),
            CheckColumn("limits, {unit}", _span(Quantity.OFF_ITS_OWN_SIZE, signs=True)),
        ),
        first="size",
        by_point=True,
        tells=_SAYS,
    ),
    "skew": CheckLayout(
        (
            CheckColumn("pieces", _value(Quantity.PIECES)),
            CheckColumn("twist, %", _value(Quantity.TWIST)),
            CheckColumn("limits, %", _span(Quantity.TWIST)),
            CheckColumn("accepted, %", _value(Quantity.LIMIT)),
            CheckColumn("as received, %", _value(Quantity.TWIST_AS_RECEIVED)),
            CheckColumn("added, %", _value(Quantity.TWIST_ADDED, signs=True)),
        ),
        first="after",
        tells=_SAYS,
    ),
    "colour": CheckLayout(GRADE_COLUMNS, first="part", tells=_SAYS),
    "pilling": CheckLayout(GRADE_COLUMNS, first="after", tells=_SAYS),
    "workmanship": CheckLayout(GRADE_COLUMNS, first="part", tells=_SAYS),
    "wear": CheckLayout(
        (*GRADE_COLUMNS, CheckColumn("days, at least", _value(Quantity.DAYS_WORN))),
        first="part",
        tells=_SAYS,
    ),
    "decoration": CheckLayout(GRADE_COLUMNS, first="part", by_way=True, tells=_SAYS),
    "fabric": CheckLayout(
        (
            CheckColumn("swatches", _value(Quantity.SWATCHES)),
            CheckColumn("claimed, g/m2", _value(Quantity.CLAIMED)),
            CheckColumn("found, g/m2", _value(Quantity.MASS)),
            CheckColumn("limits, g/m2", _span(Quantity.MASS)),
            CheckColumn("off, %", _value(Quantity.OFF_THE_CLAIM, signs=True)),
        ),
    ),
    "delivery": CheckLayout(
        (
            CheckColumn("pieces", _value(Quantity.DELIVERED)),
            CheckColumn("to look at", _value(Quantity.TO_LOOK_AT)),
            CheckColumn("looked at", _value(Quantity.INSPECTED)),
            CheckColumn("bad", _value(Quantity.BAD)),
            CheckColumn("accepted up to", _value(Quantity.ACCEPTANCE_NUMBER)),
            CheckColumn("rejected from", _value(Quantity.REJECTION_NUMBER)),
        ),
        first="delivery",
        tells=frozenset({Answer.NOT_SHOWN, Answer.FAILS}),
    ),
    "lots": CheckLayout(
        (
            CheckColumn("lots", _value(Quantity.LOTS)),
            CheckColumn("moved by, {unit}", _value(Quantity.MOVED_BY, signs=True)),
            CheckColumn("limits, {unit}", _span(Quantity.MOVED_BY, signs=True)),
            CheckColumn("margin, ± {unit}", _value(Quantity.MARGIN)),
            CheckColumn("between lots, {unit}", _value(Quantity.BETWEEN_LOTS)),
            CheckColumn("next lot, {unit}", _span(Quantity.NEXT_LOT, signs=True)),
        ),
        first="point",
        tells=frozenset(Answer),
    ),
}
