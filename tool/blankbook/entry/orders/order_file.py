"""The text of a new order, as a person would have written it."""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, field

from blankbook.entry.new.planned_file import schema_lines
from blankbook.text.writing.yaml_scalars import yaml_mapping, yaml_scalar

MONEY_FIELDS = ("shirt", "print", "refund", "short", "left_over")


@dataclass(frozen=True, slots=True)
class NewOrder:
    """What is known of an order before anything is bought, as it was typed."""

    style: str
    date: datetime.date
    by: str
    client: str
    use: str = ""
    needed: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    total: Mapping[str, str] = field(default_factory=dict)
    mix: Mapping[str, str] = field(default_factory=dict)
    give_or_take: str = ""
    needed_by: str = ""
    enough: str = ""
    money: Mapping[str, str] = field(default_factory=dict)
    note: str = ""


def order_text(order: NewOrder, schema: str) -> str:
    """Return the text of an order, without what is not known."""
    lines = [
        *schema_lines(schema),
        f"style: {order.style}",
        f"date: {order.date.isoformat()}",
        f"by: {yaml_scalar(order.by)}",
        f"for: {yaml_scalar(order.client)}",
    ]
    if order.use:
        lines.append(f"use: {yaml_scalar(order.use)}")
    if order.needed:
        lines.append("needed:")
        lines += [
            f"  {yaml_scalar(colour)}: {yaml_mapping(dict(sizes))}"
            for colour, sizes in order.needed.items()
        ]
    for key in ("total", "mix"):
        if pairs := getattr(order, key):
            lines.append(f"{key}: {yaml_mapping(dict(pairs))}")
    for key in ("give_or_take", "needed_by", "enough"):
        if text := getattr(order, key):
            lines.append(f"{key}: {yaml_scalar(text)}")
    if money := {key: order.money[key] for key in MONEY_FIELDS if order.money.get(key)}:
        lines.append(f"money: {yaml_mapping(money)}")
    if order.note:
        lines.append(f"note: {yaml_scalar(order.note)}")
    return "\n".join(lines) + "\n"
