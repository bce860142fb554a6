"""Two versions of a ledger side by side: read as far as needed, judged and compared."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from typing import Any

from blankbook.history.facts.file_differences import FileChange, What, same_but_for_names
from blankbook.history.moved.blank_status import Standing, fall
from blankbook.history.moved.chart_changes import chart_changes
from blankbook.history.moved.chart_effects import with_touched
from blankbook.history.moved.client_changes import clients_moved
from blankbook.history.moved.rule_changes import rules_moved
from blankbook.history.review.judge_versions import Side, standings
from blankbook.history.review.read_blanks import (
    Both,
    Entries,
    Read,
    blanks_of,
    known_by,
    read_blanks,
)
from blankbook.history.review.read_plan import Teaching
from blankbook.history.review.review_types import BlankReview, Review
from blankbook.history.versions.commit_notes import Told
from blankbook.history.versions.revisions import Revision
from blankbook.history.versions.snapshots import Snapshot, bodies
from blankbook.history.versions.version_bytes import Version
from blankbook.history.versions.version_pair import touched_between
from blankbook.records.model import Shop, Style

_MEASURED = {"round", "delivery"}
Stand = tuple[Mapping[str, Standing], Mapping[str, Standing]]


@dataclass(frozen=True, slots=True)
class Compared:
    """What came of comparing two versions."""

    review: Review
    taught: Mapping[str, Any] | None
    """What each blank taught at the older version; None where that was not worked out."""


@dataclass(frozen=True)
class Sides:
    """Both versions, with what is known of them."""

    root: Path
    scratch: Path
    asked: tuple[Revision, Revision]
    held: tuple[Snapshot, Snapshot]
    told: Mapping[str, tuple[Told, ...]]
    """What commits say of each file."""
    others: Mapping[str, Any] | None = None
    """What each blank of the newer version teaches, where that is known: else it is read."""
    body: Mapping[str, bytes] | None = None
    """The bytes of blobs, where they are known: else they are asked for."""
    most: int | None = None
    """So many touched blanks are judged at most; with more, or with other rules, none is."""

    def compared(self) -> Compared:
        """Return what differs.

        Only what differs is read, and what it is judged by.
        Raises: NoGit, OSError.
        """
        teaching = self._teaching
        both = self._opened(teaching)
        entries = Entries(both)
        known = known_by(both, entries)
        reads = read_blanks(both, known, teaching.asked, teaching.kept_whole)
        files = self._files(entries, reads, teaching)
        own = {one.blank for one in files if one.blank and one.what is not What.SAME}
        keys = sorted(own | (teaching.blanks if teaching.judges_all else teaching.supplied))
        taught = teaching.taught(reads, keys)
        sides = [Side(known[side], taught[side]) for side in (0, 1)]
        judged = keys if teaching.judges else []
        stand = standings((sides[0], sides[1]), judged, blanks_of(reads))
        shop = known[1].shop or known[0].shop
        blanks = [self._blank(key, files, stand, entries, shop) for key in keys]
        blanks = [one for one in blanks if one.counts or one.key in own]
        blanks.sort(
            key=lambda one: (-fall(one.before, one.after), not one.flips, not one.charts, one.key)
        )
        explained = [_explained(one, self.told.get(one.path, ())) for one in files]
        explained.sort(key=lambda one: (not one.rewrites, bool(one.reason), one.path))
        unit = shop.unit if shop else "in"
        unchanged = len(self.held[0].files.keys() | self.held[1].files.keys())
        unchanged -= len(teaching.touched)
        made = Review(*self.asked, unit, tuple(blanks), tuple(explained), unchanged, self.told)
        return Compared(made, taught[0] if teaching.is_known_before else None)

    @cached_property
    def _teaching(self) -> Teaching:
        touched = touched_between(self.held)
        files = {path: self.held[0].files.get(path) or self.held[1].files[path] for path in touched}
        rules_differ = rules_moved(self.root, self.held, files.values(), self.body or {})
        before, after = (held.by_blank.keys() - {""} for held in self.held)
        return Teaching(files, (before, after), self.others, rules_differ, self.most)

    @property
    def judges(self) -> bool:
        """Whether any blank is judged."""
        return self._teaching.judges

    @property
    def rules_differ(self) -> bool:
        """Whether what every blank is judged by differs."""
        return self._teaching.rules_differ

    def needed(self) -> Iterator[tuple[str, str]]:
        """Yield path and blob of all that may be asked for: records, and photos beside them."""
        teaching = self._teaching
        for side, held in enumerate(self.held):
            groups, blanks = held.by_blank, teaching.read_at(side)
            for key in ("", *sorted(blanks)):
                yield from ((one.path, held.blobs[one.path]) for one in groups.get(key, ()))
            yield from ((path, held.blobs[path]) for path in held.pictures(blanks))

    def _opened(self, teaching: Teaching) -> Both:
        """Return both versions with the bytes that are needed, and the photos that are named."""
        found = {**self.held[0].bodies, **self.held[1].bodies, **(self.body or {})}
        groups = [held.by_blank for held in self.held]
        if self.body is None:
            files = [
                (held, file)
                for side, held in enumerate(self.held)
                for key in ("", *teaching.read_at(side))
                for file in groups[side].get(key, ())
            ]
            wanted = {held.blobs[file.path] for held, file in files}
            found |= bodies(self.root, wanted - found.keys())
        made = []
        for side, (asked, held) in enumerate(zip(self.asked, self.held, strict=True)):
            if not asked.commit:
                made.append(Version(self.root, held, found, groups[side]))
                continue
            place = self.scratch / str(side)
            place.mkdir()
            one = Version(place, held, found, groups[side])
            naming = one.naming_photos(teaching.read_at(side))
            blobs = {held.blobs[path] for path in held.pictures(naming)}
            found |= bodies(self.root, blobs - found.keys())
            one.lay_out_photos(naming)
            made.append(one)
        return made[0], made[1]

    def _files(
        self, entries: Entries, reads: Sequence[Read], teaching: Teaching
    ) -> tuple[FileChange, ...]:
        found = [change for one in reads for change in one.changes]
        found += [entries.change(path) for path, one in teaching.touched.items() if not one.blank]
        found.sort(key=lambda one: one.path)
        return tuple(_with_renamed(found))

    def _blank(
        self,
        key: str,
        files: tuple[FileChange, ...],
        stand: Stand,
        entries: Entries,
        shop: Shop | None,
    ) -> BlankReview:
        style = next((one for one in files if one.blank == key and one.kind == "style"), None)
        old, new = stand[0].get(key), stand[1].get(key)
        seen = clients_moved(old.clients if old else None, new.clients if new else None)
        made = BlankReview(key, old, new, clients=seen)
        if style is None or not isinstance(style.old, Style) or not isinstance(style.new, Style):
            return made
        charts = tuple(chart_changes(style.old, style.new, shop))
        if not charts:
            return made
        named = [one for one in entries.both[1].of.get(key, ()) if one.kind in _MEASURED]
        records = [entries.of(1, file).record for file in named]
        return with_touched(made, charts, (style.old, style.new), records, shop)


def _with_renamed(found: list[FileChange]) -> list[FileChange]:
    """Return the changes with what went and what came joined, where both say the same."""
    gone = [one for one in found if one.what is What.REMOVED]
    joined: list[FileChange] = []
    taken: set[str] = set()
    for one in found:
        if one.what is not What.ADDED:
            joined.append(one)
            continue
        was = next((old for old in gone if old.path not in taken and _is_same(old, one)), None)
        if was is None:
            joined.append(one)
        else:
            taken.add(was.path)
            joined.append(replace(one, what=What.RENAMED, before=was.path, old=was.old))
    return [one for one in joined if one.what is not What.REMOVED or one.path not in taken]


def _is_same(old: FileChange, new: FileChange) -> bool:
    return old.kind == new.kind and same_but_for_names(old.old, new.new)


def _explained(one: FileChange, told: tuple[Told, ...]) -> FileChange:
    """Return a rewrite with its reason from a commit's message, where the file gives none."""
    if not one.rewrites or one.reason:
        return one
    return replace(one, reason=next((t.reason for t in told if t.reason), ""))
