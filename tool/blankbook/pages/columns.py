"""Which numbers of a check a page sets in columns. A check that is not named here still shows."""

from collections.abc import Callable
from dataclasses import dataclass

from blankbook.pages.showing import number, span
from blankbook.results.frame import Result


@dataclass(frozen=True, slots=True)
class Column:
    """One column of numbers."""

    head: str
    """May hold ``{unit}`` for the shop's unit of length."""
    show: Callable[[Result, str], str]


def _value(name: str, *, signs: bool = False) -> Callable[[Result, str], str]:
    return lambda result, unit: number(result.number(name), unit, signed_length=signs)


def _span(name: str, *, signs: bool = False) -> Callable[[Result, str], str]:
    return lambda result, unit: span(result.number(name), unit, signed_length=signs)


COLUMNS: dict[str, tuple[Column, ...]] = {
    "size_against_chart": (
        Column("pieces", _value("pieces")),
        Column("chart, {unit}", _value("chart")),
        Column("measured, {unit}", _value("mean")),
        Column("off, {unit}", _value("off the chart", signs=True)),
        Column("limits, {unit}", _span("off the chart", signs=True)),
        Column("expected inside", _value("share inside")),
    ),
    "grade_steps": (
        Column("charted, {unit}", _value("charted step")),
        Column("measured, {unit}", _value("step", signs=True)),
        Column("limits, {unit}", _span("step", signs=True)),
    ),
    "mix_up": (
        Column("chance", _value("mix-up chance")),
        Column("limits", _span("mix-up chance")),
    ),
    "label": (
        Column("chance the tag is right", _value("chance that the tag is right")),
        Column(
            "measures as", lambda result, _: result.word.removeprefix("measures as ") or result.size
        ),
    ),
    "piece_against_chart": (
        Column("off, {unit}", _value("off the chart", signs=True)),
        Column("chance it conforms", _value("chance that it conforms")),
    ),
    "spread": (
        Column("one deviation, {unit}", _value("spread")),
        Column("limits, {unit}", _span("spread")),
        Column("assumption", _value("share that is assumption")),
    ),
    "washing": (
        Column("pieces", _value("pieces")),
        Column("change, %", _value("change", signs=True)),
        Column("limits, %", _span("change", signs=True)),
        Column("accepted, ± %", _value("limit")),
    ),
    "fabric": (
        Column("swatches", _value("swatches")),
        Column("claimed, g/m2", _value("claimed")),
        Column("found, g/m2", _value("mass")),
        Column("off, %", _value("off the claim", signs=True)),
    ),
}
