"""What is left of a file once its faulty parts are taken out: enough to go on looking.

A slip in one line must not hide another slip further down; what is found in the rest is told with
the places of the whole.
"""

import copy
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from blankbook.records.convert import converters
from blankbook.text.findings import Fault, ValuePath
from blankbook.text.schema_messages import schema_faults
from blankbook.text.yaml_tree import Tree

LISTS = ("pieces", "charts", "swatches", "photos", "prices", "decorated", "faults")


@dataclass(frozen=True, slots=True)
class Rest:
    """A record made of the sound parts of a file."""

    record: Any
    kept: Mapping[str, tuple[int, ...]]
    """By list: the places in the file of the entries that are left."""
    more: tuple[Fault, ...] = ()
    """Faults that the first ones had hidden: texts that are no lengths."""

    def placed(self, faults: Iterable[Fault]) -> list[Fault]:
        """Return faults of the rest with the places that they have in the file."""
        return [
            replace(fault, at=self._whole(fault.at), first=self._whole(fault.first))
            for fault in faults
        ]

    def _whole(self, at: ValuePath) -> ValuePath:
        if len(at) > 1 and at[0] in self.kept and isinstance(at[1], int):
            return (at[0], self.kept[str(at[0])][at[1]], *at[2:])
        return at


def rest_of(tree: Tree, kind: str, path: str, faults: Iterable[Fault]) -> Rest | None:
    """Return the sound parts of a typed tree as a record, or None where too little is left."""
    sound: Tree = copy.deepcopy(tree)
    for fault in faults:
        _cut(sound, fault.at)
    kept = {name: tuple(range(len(sound[name]))) for name in LISTS if _is_list(sound.get(name))}
    for fault in schema_faults(sound, kind):
        if not _drop(sound, kept, fault.at):
            return None
    sound = {
        key: [value[place] for place in kept[key]] if key in kept else value
        for key, value in sound.items()
    }
    if schema_faults(sound, kind):
        return None
    more: list[Fault] = []
    record = converters.CONVERTERS[kind](sound, path, more)
    if not more:
        return Rest(record, kept)
    for fault in more:
        _cut(sound, fault.at)
    record = None if schema_faults(sound, kind) else converters.CONVERTERS[kind](sound, path, [])
    rest = Rest(record, kept)
    return replace(rest, more=tuple(rest.placed(more)))


def _is_list(value: Any) -> bool:
    return isinstance(value, list)


def _cut(tree: Tree, at: ValuePath) -> None:
    """Take out the value at *at*; of a list of readings, the whole list."""
    owner: Any = tree
    holder: tuple[dict[str, Any], str] | None = None
    for step in at:
        if isinstance(owner, dict) and step in owner:
            holder = (owner, str(step)) if _may_go(at, step) else holder
            owner = owner[step]
        elif isinstance(owner, list) and isinstance(step, int) and step < len(owner):
            owner = owner[step]
        else:
            return
    if holder and holder[1] not in LISTS:
        holder[0].pop(holder[1], None)


def _may_go(at: ValuePath, step: str | int) -> bool:
    return step != at[0] or len(at) == 1 or at[0] not in LISTS


def _drop(tree: Tree, kept: dict[str, tuple[int, ...]], at: ValuePath) -> bool:
    """Leave out the entry of a list that still has a fault; False where it is in no list."""
    if len(at) < 2 or at[0] not in kept or not isinstance(at[1], int):
        return False
    name = str(at[0])
    kept[name] = tuple(place for place in kept[name] if place != at[1])
    return bool(tree)
