"""What the check would say of one field, before it is in any file."""

import datetime
from typing import Any

from blankbook.records.rules.date_rules import date_faults
from blankbook.text.findings import Fault
from blankbook.text.schema_messages import schema_faults
from blankbook.text.schemas import is_date, with_types

AHEAD = {("round", "planned"), ("style", "charts"), ("style", "prices")}
"""By kind and first key: days that may lie in the future."""


def field_fault(
    kind: str, at: tuple[str | int, ...], text: str, today: datetime.date
) -> Fault | None:
    """Return the first fault of a field's text in a file of that *kind*, or None.

    *at* is the path to it; what else the file needs is not asked for.
    """
    found = _of_schema(kind, at, text)
    if found:
        return found[0]
    if str(at[-1]) in {"date", "since", "planned"} and is_date(text):
        latest = None if (kind, at[0]) in AHEAD else today
        return next(date_faults(at, datetime.date.fromisoformat(text), latest), None)
    return None


def _of_schema(kind: str, at: tuple[str | int, ...], text: str) -> list[Fault]:
    tree: Any = text
    for step in reversed(at):
        tree = [tree] if isinstance(step, int) else {step: tree}
    faults = schema_faults(with_types(tree, kind), kind)
    return [fault for fault in faults if fault.at[: len(at)] == at]
