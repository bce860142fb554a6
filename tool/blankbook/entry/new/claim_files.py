"""The texts of a new supplier and of a new style, as a person would have written them."""

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from blankbook.entry.charts.size_chart import SizeChart
from blankbook.entry.new.planned_file import schema_lines
from blankbook.records.lengths import Length
from blankbook.text.writing.yaml_scalars import yaml_list, yaml_mapping, yaml_scalar

SUPPLIER_FIELDS = (
    *("supplier", "name", "contact", "website", "terms", "lead_time_days", "sends", "minimum"),
    *("since", "note"),
)
"""In the order in which they are written."""


@dataclass(frozen=True, slots=True)
class NewPrice:
    """What one piece costs, as it was typed."""

    since: datetime.date
    each: str
    currency: str = ""
    sizes: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class NewChart:
    """A size chart, and where it comes from."""

    chart: SizeChart
    since: datetime.date
    source: str


@dataclass(frozen=True, slots=True)
class NewStyle:
    """What is known of a style when it is added."""

    key: str
    fields: Mapping[str, str]
    """``name``, ``called``, ``construction``, ``neck_label``, ``wearer``, ``note``."""
    fabric: Mapping[str, str]
    sizes: Sequence[str]
    colours: Sequence[str]
    uses: Sequence[str] = ()
    chart: NewChart | None = None
    price: NewPrice | None = None


def supplier_file(fields: Mapping[str, str], schema: str) -> str:
    """Return the text of a supplier's file, without empty fields."""
    lines = schema_lines(schema)
    lines += [
        f"{name}: {yaml_scalar(fields[name])}" for name in SUPPLIER_FIELDS if fields.get(name)
    ]
    return "\n".join(lines) + "\n"


def style_file(style: NewStyle, schema: str) -> str:
    """Return the text of a style's file, without what is not known."""
    texts = {key: yaml_scalar(value) for key, value in style.fields.items() if value}
    lines = [*schema_lines(schema), f"style: {style.key}"]
    lines += [f"{key}: {texts[key]}" for key in ("name", "called") if key in texts]
    if fabric := {key: value for key, value in style.fabric.items() if value}:
        lines.append(f"fabric: {yaml_mapping(fabric)}")
    own = ("construction", "neck_label", "wearer")
    lines += [f"{key}: {texts[key]}" for key in own if key in texts]
    lines += [
        f"sizes: {yaml_list(list(style.sizes))}",
        f"colours: {yaml_list(list(style.colours))}",
    ]
    if style.uses:
        lines.append(f"uses: {yaml_list(list(style.uses))}")
    lines += _chart(style.chart) if style.chart else []
    lines += _price(style.price) if style.price else []
    if "note" in texts:
        lines.append(f"note: {texts['note']}")
    return "\n".join(lines) + "\n"


def _chart(new: NewChart) -> list[str]:
    first, *rest = chart_yaml_lines(new)
    return ["charts:", f"  - {first}", *(f"    {line}" for line in rest)]


def chart_yaml_lines(new: NewChart) -> list[str]:
    """Return a chart as it stands in a style's list of charts, without indentation."""
    chart = new.chart
    lines = [f"since: {new.since.isoformat()}", f"source: {yaml_scalar(new.source)}",
             f"unit: {chart.unit}"]  # fmt: skip
    if chart.how:
        lines.append(f"how: {yaml_mapping(dict(chart.how))}")
    if chart.tolerance:
        lines.append(f"tolerance: {_lengths(chart.tolerance)}")
    return [
        *lines,
        "sizes:",
        *(f"  {yaml_scalar(size)}: {_lengths(row)}" for size, row in chart.sizes.items()),
    ]


def _lengths(lengths: Mapping[str, Length]) -> str:
    return yaml_mapping({point: length.written for point, length in lengths.items()})


def _price(price: NewPrice) -> list[str]:
    texts = {"since": price.since.isoformat(), "each": price.each}
    if price.currency:
        texts["currency"] = price.currency
    text = yaml_mapping(texts)
    if price.sizes:
        text = f"{text[:-1]}, sizes: {yaml_mapping(dict(price.sizes))}}}"
    return ["prices:", f"  - {text}"]
