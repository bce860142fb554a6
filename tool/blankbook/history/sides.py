"""Two versions of a ledger side by side: laid out where needed, read, judged and compared."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from blankbook.history.charts_moved import chart_changes
from blankbook.history.differences import FileChange, What, compare, same_but_for_names
from blankbook.history.reviewed import BlankReview, Review
from blankbook.history.revisions import Revision
from blankbook.history.snapshots import Snapshot, is_picture, lay_out
from blankbook.history.standing import Standing, fall, load_side, standings
from blankbook.history.told import Told
from blankbook.records.entries import Entry, read_entry
from blankbook.records.model import Shop, Style


@dataclass(frozen=True, slots=True)
class Compared:
    """What came of comparing two versions."""

    review: Review
    taught: Mapping[str, Any]
    """What each blank taught at the older version."""


def touched_between(held: tuple[Snapshot, Snapshot]) -> list[str]:
    """Return the records that are not byte for byte the same in both, by path."""
    one, other = held
    paths = sorted(one.files.keys() | other.files.keys())
    return [path for path in paths if _hash(one, path) != _hash(other, path)]


def _hash(held: Snapshot, path: str) -> str | None:
    return held.blobs[path] if path in held.files else None


@dataclass(frozen=True, slots=True)
class Sides:
    """Both versions, with what of them has to be on disk."""

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

    @property
    def touched(self) -> list[str]:
        """The records that are not byte for byte the same."""
        return touched_between(self.held)

    def compared(self) -> Compared:
        """Return what differs.

        Raises: NoGit, OSError.
        """
        places = self._places()
        files = tuple(self._files(places))
        own = {one.blank for one in files if one.blank and one.what is not What.SAME}
        keys = sorted(own | (self._all_blanks() if self._rules_differ() else self._supplied()))
        before, after, shop, taught = self._standings(places, keys)
        blanks = [self._blank(key, files, before, after, shop) for key in keys]
        blanks = [one for one in blanks if one.flips or one.key in own]
        blanks.sort(
            key=lambda one: (-fall(one.before, one.after), not one.flips, not one.charts, one.key)
        )
        explained = [_explained(one, self.told.get(one.path, ())) for one in files]
        explained.sort(key=lambda one: (not one.rewrites, bool(one.reason), one.path))
        unit = shop.unit if shop else "in"
        unchanged = len(self.held[0].files.keys() | self.held[1].files.keys()) - len(self.touched)
        made = Review(*self.asked, unit, tuple(blanks), tuple(explained), unchanged, self.told)
        return Compared(made, taught)

    def _rules_differ(self) -> bool:
        """Say whether what every blank is judged by differs: the shop's rules, its measuring."""
        return any(path.startswith(("shop.yaml", "measuring/")) for path in self.touched)

    def _supplied(self) -> set[str]:
        """Return the blanks of suppliers whose file differs: without one they have a fault."""
        touched = set(self.touched)
        found = self._all_blanks()
        return {key for key in found if f"suppliers/{key.split('/')[0]}.yaml" in touched}

    def _all_blanks(self) -> set[str]:
        return {file.blank for held in self.held for file in held.files.values() if file.blank}

    def _is_read_whole(self, index: int) -> bool:
        """Say whether all blanks of a version must be read for what they teach."""
        return self._rules_differ() or (index == 1 and self.others is None)

    def needed(self) -> Iterator[str]:
        """Yield the blobs of both versions that will be asked for."""
        for index, held in enumerate(self.held):
            for path in _needed(held, self._touched_blanks(), self._is_read_whole(index)):
                yield held.blobs[path]

    def _touched_blanks(self) -> set[str]:
        return self._supplied() | {
            held.files[path].blank
            for held in self.held
            for path in self.touched
            if path in held.files and held.files[path].blank
        }

    def _places(self) -> tuple[Path, Path]:
        """Return the folder of each version; a commit's files are laid out first."""
        blanks = self._touched_blanks()
        found = []
        for index, (asked, held) in enumerate(zip(self.asked, self.held, strict=True)):
            if not asked.commit:
                found.append(self.root)
                continue
            place = self.scratch / str(index)
            place.mkdir()
            whole = self._is_read_whole(index)
            lay_out(self.root, held, _needed(held, blanks, whole), place, self.body)
            found.append(place)
        return found[0], found[1]

    def _files(self, places: tuple[Path, Path]) -> Iterator[FileChange]:
        found: list[FileChange] = []
        for path in self.touched:
            old, new = (
                _entry(place, held, path) for place, held in zip(places, self.held, strict=True)
            )
            file = self.held[0].files.get(path) or self.held[1].files[path]
            found.append(compare(file, old, new))
        yield from _with_renamed(found)

    def _standings(
        self, places: tuple[Path, Path], keys: Sequence[str]
    ) -> tuple[dict[str, Standing], dict[str, Standing], Shop | None, Mapping[str, Any]]:
        """Return where each blank stood and stands, and what each taught at the older version."""
        shared = self._rules_differ()
        now = load_side(places[1], keys, whole=self._is_read_whole(1))
        then = load_side(places[0], keys, whole=shared)
        known = {} if self._is_read_whole(1) else self.others or {}
        new = {key: one for key, one in known.items() if key not in keys} | {**now.gathered}
        old: dict[str, Any] = dict(then.gathered)
        if not shared:
            old = {key: one for key, one in new.items() if key not in keys} | old
        ledger = now.ledger or then.ledger
        shop = ledger.shop if ledger else None
        return standings(then, old, keys), standings(now, new, keys), shop, old

    def _blank(
        self,
        key: str,
        files: tuple[FileChange, ...],
        before: Mapping[str, Standing],
        after: Mapping[str, Standing],
        shop: Shop | None,
    ) -> BlankReview:
        style = next((one for one in files if one.blank == key and one.kind == "style"), None)
        made = BlankReview(key, before.get(key), after.get(key))
        if style is None or not isinstance(style.old, Style) or not isinstance(style.new, Style):
            return made
        charts = tuple(chart_changes(style.old, style.new, shop))
        touched = self._dated_from(key, style.new, {one.since for one in charts})
        rounds = tuple(name for name in touched if not name.endswith("-delivery"))
        came = tuple(name for name in touched if name.endswith("-delivery"))
        return replace(made, charts=charts, rounds=rounds, deliveries=came)

    def _dated_from(self, key: str, style: Style, since: set[str]) -> Iterator[str]:
        """Yield the records of a blank whose day falls to one of these charts."""
        place = self.scratch / "1" if self.asked[1].commit else self.root
        for file in self.held[1].files.values():
            if file.blank == key and file.kind in {"round", "delivery"}:
                record = read_entry(place, file).record
                day = getattr(record, "chart_day", None) or getattr(record, "date", None)
                chart = style.chart_on(day) if day else None
                if chart and str(chart.since) in since:
                    yield file.stem


def _needed(held: Snapshot, blanks: set[str], whole: bool) -> Iterator[str]:
    """Yield what has to be laid out: records and the photos beside them, all or of some blanks."""
    for path in held.blobs:
        file = held.files.get(path)
        of_blank = "/".join(path.split("/")[1:3]) if path.startswith("blanks/") else ""
        shared = file is not None and not file.blank
        wanted = file is not None or is_picture(path)
        if shared or (of_blank and wanted and (whole or of_blank in blanks)):
            yield path


def _entry(place: Path, held: Snapshot, path: str) -> Entry | None:
    file = held.files.get(path)
    return read_entry(place, file) if file else None


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
