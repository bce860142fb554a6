"""What several kinds of file have in common, from typed trees to records."""

import datetime

from blankbook.records.convert.tree_values import Faults, length
from blankbook.records.model import Decision, Tape
from blankbook.text.yaml_tree import Tree


def day(text: str | None) -> datetime.date | None:
    """Return a day, if one is written."""
    return datetime.date.fromisoformat(text) if text else None


def tape(tree: Tree, faults: Faults) -> Tape:
    """Return what the lengths of a file were read with."""
    unit = tree["unit"]
    return Tape(unit, length(tree["reads_to"], unit, ("tape", "reads_to"), faults))


def decision(tree: Tree | None) -> Decision | None:
    """Return what a person decided, if anything."""
    if tree is None:
        return None
    return Decision(
        decision=tree["decision"],
        date=datetime.date.fromisoformat(tree["date"]),
        by=tree["by"],
        reason=tree.get("reason", ""),
        uses=tuple(tree.get("uses", ())),
        conditions=tuple(tree.get("conditions", ())),
    )
