"""Dates, money, tapes and decisions, which several kinds of file have."""

import datetime
from decimal import Decimal

from blankbook.records.convert.tree_values import Faults, to_length
from blankbook.records.model import Decision, Tape
from blankbook.records.money import exact_amount
from blankbook.text.yaml_tree import Tree


def to_day(text: str | None) -> datetime.date | None:
    """Return a day, or None where none is written."""
    return datetime.date.fromisoformat(text) if text else None


def to_money(written: float | None) -> Decimal | None:
    """Return an amount as it was written, or None where none is written."""
    return None if written is None else exact_amount(written)


def to_tape(tree: Tree, faults: Faults) -> Tape:
    """Return what the lengths of a file were read with."""
    unit = tree["unit"]
    return Tape(unit, to_length(tree["reads_to"], unit, ("tape", "reads_to"), faults))


def to_decision(tree: Tree | None) -> Decision | None:
    """Return what a person decided, or None."""
    if tree is None:
        return None
    return Decision(
        decision=tree["decision"],
        date=datetime.date.fromisoformat(tree["date"]),
        by=tree["by"],
        reason=tree.get("reason", ""),
        sizes=tuple(tree.get("sizes", ())),
        uses=tuple(tree.get("uses", ())),
        conditions=tuple(tree.get("conditions", ())),
    )
