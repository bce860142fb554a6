"""How a check's answers are laid out. A check that is not named here still shows, row by row."""

from collections.abc import Callable
from dataclasses import dataclass

from blankbook.pages.value_words import limits_text, number_text, share_text
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
    """With it, the answers make a grid with a column for each point, and this in every cell."""
    shows: str = ""
    """What a cell of a grid holds; may hold ``{unit}``, the unit of length in words."""
    tells: frozenset[Answer] = frozenset({Answer.NOT_SHOWN, Answer.NOT_TESTED})
    """The answers that say why in words: none where the columns say the same."""


def _value(name: str, *, signs: bool = False) -> CellText:
    return lambda result, unit: number_text(result.number(name), unit, signed_length=signs)


def _span(name: str, *, signs: bool = False) -> CellText:
    return lambda result, unit: limits_text(result.number(name), unit, signed_length=signs)


def _share(name: str) -> CellText:
    return lambda result, _: share_text(result.number(name))


def _measures_as(result: Result, _: str) -> str:
    return result.word.removeprefix("measures as ") or result.size


GRADE_COLUMNS = (
    CheckColumn("pieces", _value("pieces")),
    CheckColumn("mean grade", _value("mean grade", signs=True)),
    CheckColumn("limits", _span("mean grade", signs=True)),
    CheckColumn("at least", _value("least grade")),
    CheckColumn("worst", _value("worst grade")),
    CheckColumn("below, up to", _share("share that may be below")),
)
"""What every check of grades shows."""
_SAYS = frozenset({Answer.NOT_SHOWN, Answer.NOT_TESTED, Answer.FAILS})

LAYOUTS: dict[str, CheckLayout] = {
    "size_against_chart": CheckLayout(
        (
            CheckColumn("pieces", _value("pieces")),
            CheckColumn("chart, {unit}", _value("chart")),
            CheckColumn("measured, {unit}", _value("mean")),
            CheckColumn("off, {unit}", _value("off the chart", signs=True)),
            CheckColumn("limits, {unit}", _span("off the chart", signs=True)),
            CheckColumn("expected inside", _share("share inside")),
        ),
        first="size",
        by_point=True,
    ),
    "grade_steps": CheckLayout(
        (
            CheckColumn("charted, {unit}", _value("charted step", signs=True)),
            CheckColumn("measured, {unit}", _value("step", signs=True)),
            CheckColumn("limits, {unit}", _span("step", signs=True)),
        ),
        first="step",
        by_point=True,
    ),
    "mix_up": CheckLayout(
        first="step", cell=_value("mix-up chance"), shows="the chance of a mix-up"
    ),
    "label": CheckLayout(
        (
            CheckColumn("tag", lambda result, _: result.size),
            CheckColumn("measures as", _measures_as),
            CheckColumn("chance that the tag is right", _share("chance that the tag is right")),
        ),
        first="piece",
        tells=frozenset(),
    ),
    "piece_against_chart": CheckLayout(
        first="piece",
        cell=_value("off the chart", signs=True),
        shows="the distance from the chart in {unit}",
    ),
    "spread": CheckLayout(
        (
            CheckColumn("one deviation, {unit}", _value("spread")),
            CheckColumn("limits, {unit}", _span("spread")),
            CheckColumn("the tolerance carries, {unit}", _value("most that the tolerance carries")),
            CheckColumn("not from this blank", _value("share from elsewhere")),
        ),
        first="point",
        tells=frozenset(),
    ),
    "washing": CheckLayout(
        (
            CheckColumn("pieces", _value("pieces")),
            CheckColumn("change, %", _value("change", signs=True)),
            CheckColumn("limits, %", _span("change", signs=True)),
            CheckColumn("accepted, ± %", _value("limit")),
        ),
        first="after",
        by_point=True,
    ),
    "washed_size": CheckLayout(
        (
            CheckColumn("pieces", _value("pieces")),
            CheckColumn("chart, {unit}", _value("chart")),
            CheckColumn("washed, {unit}", _value("washed")),
            CheckColumn("off, {unit}", _value("washed, off the chart", signs=True)),
            CheckColumn("limits, {unit}", _span("washed, off the chart", signs=True)),
            CheckColumn("half a step, {unit}", _value("half a step")),
        ),
        first="size",
        by_point=True,
    ),
    "washed_as_new": CheckLayout(
        (
            CheckColumn("pieces", _value("pieces")),
            CheckColumn("new, {unit}", _value("own size when new")),
            CheckColumn("washed, {unit}", _value("washed")),
            CheckColumn("off, {unit}", _value("off its own size", signs=True)),
            CheckColumn("limits, {unit}", _span("off its own size", signs=True)),
        ),
        first="size",
        by_point=True,
        tells=_SAYS,
    ),
    "skew": CheckLayout(
        (
            CheckColumn("pieces", _value("pieces")),
            CheckColumn("twist, %", _value("twist")),
            CheckColumn("limits, %", _span("twist")),
            CheckColumn("accepted, %", _value("limit")),
            CheckColumn("as received, %", _value("as received")),
            CheckColumn("added, %", _value("added", signs=True)),
        ),
        first="after",
        tells=_SAYS,
    ),
    "colour": CheckLayout(GRADE_COLUMNS, first="part", tells=_SAYS),
    "pilling": CheckLayout(GRADE_COLUMNS, first="after", tells=_SAYS),
    "workmanship": CheckLayout(GRADE_COLUMNS, first="part", tells=_SAYS),
    "wear": CheckLayout(
        (*GRADE_COLUMNS, CheckColumn("days, at least", _value("days worn, at least"))),
        first="part",
        tells=_SAYS,
    ),
    "decoration": CheckLayout(GRADE_COLUMNS, first="part", by_way=True, tells=_SAYS),
    "fabric": CheckLayout(
        (
            CheckColumn("swatches", _value("swatches")),
            CheckColumn("claimed, g/m2", _value("claimed")),
            CheckColumn("found, g/m2", _value("mass")),
            CheckColumn("limits, g/m2", _span("mass")),
            CheckColumn("off, %", _value("off the claim", signs=True)),
        ),
    ),
    "delivery": CheckLayout(
        (
            CheckColumn("pieces", _value("delivered")),
            CheckColumn("to look at", _value("to look at")),
            CheckColumn("looked at", _value("inspected")),
            CheckColumn("bad", _value("bad")),
            CheckColumn("accepted up to", _value("acceptance number")),
            CheckColumn("rejected from", _value("rejection number")),
        ),
        first="delivery",
        tells=frozenset({Answer.NOT_SHOWN, Answer.FAILS}),
    ),
    "lots": CheckLayout(
        (
            CheckColumn("lots", _value("lots")),
            CheckColumn("moved by, {unit}", _value("moved by", signs=True)),
            CheckColumn("limits, {unit}", _span("moved by", signs=True)),
            CheckColumn("margin, ± {unit}", _value("margin")),
            CheckColumn("between lots, {unit}", _value("between lots")),
            CheckColumn("next lot, {unit}", _span("next lot", signs=True)),
        ),
        first="point",
        tells=frozenset(Answer),
    ),
}
