"""How a check's answers are laid out. A check that is not named here still shows, row by row."""

from collections.abc import Callable
from dataclasses import dataclass

from blankbook.pages.value_words import number, share, span
from blankbook.results.result_types import Result
from blankbook.words.answers import Answer

Show = Callable[[Result, str], str]


@dataclass(frozen=True, slots=True)
class Column:
    """One column of numbers."""

    head: str
    """May hold ``{unit}`` for the shop's unit of length."""
    show: Show


@dataclass(frozen=True, slots=True)
class Layout:
    """How the answers of one check stand on a page."""

    columns: tuple[Column, ...] = ()
    first: str = "where"
    """What stands over the heads of the rows."""
    by_point: bool = False
    """Whether the rows are gathered under their point of measure."""
    by_way: bool = False
    """Whether the rows are gathered under the way of decorating."""
    cell: Show | None = None
    """With it, the answers make a grid with a column for each point, and this in every cell."""
    shows: str = ""
    """What a cell of a grid holds; may hold ``{unit}``, the unit of length in words."""
    tells: frozenset[Answer] = frozenset({Answer.NOT_SHOWN, Answer.NOT_TESTED})
    """The answers that say why in words: none where the columns say the same."""


def _value(name: str, *, signs: bool = False) -> Show:
    return lambda result, unit: number(result.number(name), unit, signed_length=signs)


def _span(name: str, *, signs: bool = False) -> Show:
    return lambda result, unit: span(result.number(name), unit, signed_length=signs)


def _share(name: str) -> Show:
    return lambda result, _: share(result.number(name))


def _measures_as(result: Result, _: str) -> str:
    return result.word.removeprefix("measures as ") or result.size


GRADED = (
    Column("pieces", _value("pieces")),
    Column("mean grade", _value("mean grade", signs=True)),
    Column("limits", _span("mean grade", signs=True)),
    Column("at least", _value("least grade")),
    Column("worst", _value("worst grade")),
    Column("below, up to", _share("share that may be below")),
)
"""What every check of grades shows."""
_SAYS = frozenset({Answer.NOT_SHOWN, Answer.NOT_TESTED, Answer.FAILS})

LAYOUTS: dict[str, Layout] = {
    "size_against_chart": Layout(
        (
            Column("pieces", _value("pieces")),
            Column("chart, {unit}", _value("chart")),
            Column("measured, {unit}", _value("mean")),
            Column("off, {unit}", _value("off the chart", signs=True)),
            Column("limits, {unit}", _span("off the chart", signs=True)),
            Column("expected inside", _share("share inside")),
        ),
        first="size",
        by_point=True,
    ),
    "grade_steps": Layout(
        (
            Column("charted, {unit}", _value("charted step", signs=True)),
            Column("measured, {unit}", _value("step", signs=True)),
            Column("limits, {unit}", _span("step", signs=True)),
        ),
        first="step",
        by_point=True,
    ),
    "mix_up": Layout(first="step", cell=_value("mix-up chance"), shows="the chance of a mix-up"),
    "label": Layout(
        (
            Column("tag", lambda result, _: result.size),
            Column("measures as", _measures_as),
            Column("chance that the tag is right", _share("chance that the tag is right")),
        ),
        first="piece",
        tells=frozenset(),
    ),
    "piece_against_chart": Layout(
        first="piece",
        cell=_value("off the chart", signs=True),
        shows="the distance from the chart in {unit}",
    ),
    "spread": Layout(
        (
            Column("one deviation, {unit}", _value("spread")),
            Column("limits, {unit}", _span("spread")),
            Column("the tolerance carries, {unit}", _value("most that the tolerance carries")),
            Column("not from this blank", _value("share from elsewhere")),
        ),
        first="point",
        tells=frozenset(),
    ),
    "washing": Layout(
        (
            Column("pieces", _value("pieces")),
            Column("change, %", _value("change", signs=True)),
            Column("limits, %", _span("change", signs=True)),
            Column("accepted, ± %", _value("limit")),
        ),
        first="after",
        by_point=True,
    ),
    "washed_size": Layout(
        (
            Column("pieces", _value("pieces")),
            Column("chart, {unit}", _value("chart")),
            Column("washed, {unit}", _value("washed")),
            Column("off, {unit}", _value("washed, off the chart", signs=True)),
            Column("limits, {unit}", _span("washed, off the chart", signs=True)),
            Column("half a step, {unit}", _value("half a step")),
        ),
        first="size",
        by_point=True,
    ),
    "washed_as_new": Layout(
        (
            Column("pieces", _value("pieces")),
            Column("new, {unit}", _value("own size when new")),
            Column("washed, {unit}", _value("washed")),
            Column("off, {unit}", _value("off its own size", signs=True)),
            Column("limits, {unit}", _span("off its own size", signs=True)),
        ),
        first="size",
        by_point=True,
        tells=_SAYS,
    ),
    "skew": Layout(
        (
            Column("pieces", _value("pieces")),
            Column("twist, %", _value("twist")),
            Column("limits, %", _span("twist")),
            Column("accepted, %", _value("limit")),
            Column("as received, %", _value("as received")),
            Column("added, %", _value("added", signs=True)),
        ),
        first="after",
        tells=_SAYS,
    ),
    "colour": Layout(GRADED, first="part", tells=_SAYS),
    "pilling": Layout(GRADED, first="after", tells=_SAYS),
    "workmanship": Layout(GRADED, first="part", tells=_SAYS),
    "wear": Layout(
        (*GRADED, Column("days, at least", _value("days worn, at least"))),
        first="part",
        tells=_SAYS,
    ),
    "decoration": Layout(GRADED, first="part", by_way=True, tells=_SAYS),
    "fabric": Layout(
        (
            Column("swatches", _value("swatches")),
            Column("claimed, g/m2", _value("claimed")),
            Column("found, g/m2", _value("mass")),
            Column("limits, g/m2", _span("mass")),
            Column("off, %", _value("off the claim", signs=True)),
        ),
    ),
    "delivery": Layout(
        (
            Column("pieces", _value("delivered")),
            Column("to look at", _value("to look at")),
            Column("looked at", _value("inspected")),
            Column("bad", _value("bad")),
            Column("accepted up to", _value("acceptance number")),
            Column("rejected from", _value("rejection number")),
        ),
        first="delivery",
        tells=frozenset({Answer.NOT_SHOWN, Answer.FAILS}),
    ),
    "lots": Layout(
        (
            Column("lots", _value("lots")),
            Column("moved by, {unit}", _value("moved by", signs=True)),
            Column("limits, {unit}", _span("moved by", signs=True)),
            Column("margin, ± {unit}", _value("margin")),
            Column("between lots, {unit}", _value("between lots")),
            Column("next lot, {unit}", _span("next lot", signs=True)),
        ),
        first="point",
        tells=frozenset(Answer),
    ),
}
