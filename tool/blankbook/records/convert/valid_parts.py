"""The sound parts of a faulty file, so that one run lists every fault.

A slip in one line must not hide another slip further down. The faulty parts are taken out, the
rules look at the rest, and what they find is placed in the whole file.
"""

import copy
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from blankbook.records.convert import converters
from blankbook.text.findings import Fault, ValuePath
from blankbook.text.schema_messages import schema_faults
from blankbook.text.yaml_tree import Tree

RECORD_LISTS = ("pieces", "charts", "swatches", "photos", "prices", "decorated", "faults")


@dataclass(frozen=True, slots=True)
class SoundParts:
    """A record made of the sound parts of a file."""

    record: Any
    kept: Mapping[str, tuple[int, ...]]
    """By list: the indices in the file of the entries that are left."""
    more: tuple[Fault, ...] = ()
    """Faults that were hidden at first: texts that are no lengths, in places of the whole file."""

    def located(self, faults: Iterable[Fault]) -> list[Fault]:
        """Return faults of the sound parts with the paths that they have in the whole file."""
        return [
            replace(fault, at=self._whole(fault.at), first=self._whole(fault.first))
            for fault in faults
        ]

    def _whole(self, at: ValuePath) -> ValuePath:
        if len(at) > 1 and at[0] in self.kept and isinstance(at[1], int):
            return (at[0], self.kept[str(at[0])][at[1]], *at[2:])
        return at


def sound_parts(tree: Tree, kind: str, path: str, faults: Iterable[Fault]) -> SoundParts | None:
    """Return the sound parts of a typed tree as a record, or None where too little is left.

    Faulty values are removed first; if the schema then misses them in an entry of a list, the
    whole entry is dropped.
    """
    sound: Tree = copy.deepcopy(tree)
    for fault in faults:
        _remove_value(sound, fault.at)
    kept = {
        name: tuple(range(len(sound[name]))) for name in RECORD_LISTS if _is_list(sound.get(name))
    }
    for fault in schema_faults(sound, kind):
        if not _drop_entry(sound, kept, fault.at):
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
        return SoundParts(record, kept)
    for fault in more:
        _remove_value(sound, fault.at)
    record = None if schema_faults(sound, kind) else converters.CONVERTERS[kind](sound, path, [])
    parts = SoundParts(record, kept)
    return replace(parts, more=tuple(parts.located(more)))


def _is_list(value: Any) -> bool:
    return isinstance(value, list)


def _remove_value(tree: Tree, at: ValuePath) -> None:
    """Remove the value at *at*; of a list of readings, the whole list."""
    owner: Any = tree
    holder: tuple[dict[str, Any], str] | None = None
    for step in at:
        if isinstance(owner, dict) and step in owner:
            holder = (owner, str(step)) if _is_removable(at, step) else holder
            owner = owner[step]
        elif isinstance(owner, list) and isinstance(step, int) and step < len(owner):
            owner = owner[step]
        else:
            return
    if holder and holder[1] not in RECORD_LISTS:
        holder[0].pop(holder[1], None)


def _is_removable(at: ValuePath, step: str | int) -> bool:
    """Say whether a key may be removed: not a whole list of entries for a fault in one of them."""
    return step != at[0] or len(at) == 1 or at[0] not in RECORD_LISTS


def _drop_entry(tree: Tree, kept: dict[str, tuple[int, ...]], at: ValuePath) -> bool:
    """Drop the entry of a list that still has a fault; return False where *at* is in no list."""
    if len(at) < 2 or at[0] not in kept or not isinstance(at[1], int):
        return False
    name = str(at[0])
    kept[name] = tuple(place for place in kept[name] if place != at[1])
    return bool(tree)
