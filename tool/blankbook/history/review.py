"""The review of a change: one object, which is shown as text, Markdown, data or a page."""

import tempfile
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from blankbook.history.charts_moved import ChartChange, chart_changes
from blankbook.history.differences import FileChange, What, compare, same_but_for_names
from blankbook.history.revisions import Revision
from blankbook.history.snapshots import Snapshot, lay_out, snapshot
from blankbook.history.standing import Standing, load_side, standings
from blankbook.history.told import Told, told_between
from blankbook.records.entries import Entry, read_entry
from blankbook.records.model import Shop, Style

_PICTURES = (".jpg", ".jpeg", ".png", ".webp")


@dataclass(frozen=True, slots=True)
class BlankReview:
    """What a change does to one blank."""

    key: str
    before: Standing | None
    after: Standing | None
    charts: tuple[ChartChange, ...] = ()
    rounds: tuple[str, ...] = ()
    """Measured rounds that are judged by a chart that moved."""
    deliveries: tuple[str, ...] = ()
    """Deliveries that were held against one."""

    @property
    def flips(self) -> bool:
        """Whether advice, decision or an answer that it rests on is another one."""
        if self.before is None or self.after is None:
            return self.before is not self.after
        one, other = self.before, self.after
        told = [(s.advice, s.decision, s.orderable, dict(s.answers)) for s in (one, other)]
        return told[0] != told[1]


@dataclass(frozen=True, slots=True)
class Review:
    """What differs between two versions of a ledger."""

    old: Revision
    new: Revision
    unit: str
    """``in`` or ``cm``: how the shop reads lengths."""
    blanks: tuple[BlankReview, ...]
    """Those that differ, the ones first where something that is decided changes."""
    files: tuple[FileChange, ...]
    """Every file that is not byte for byte the same, rewrites of the past first."""
    unchanged: int
    told: Mapping[str, tuple[Told, ...]]

    @property
    def differs(self) -> bool:
        """Whether anything differs in meaning."""
        return any(one.what is not What.SAME for one in self.files)

    @property
    def rewritten(self) -> tuple[FileChange, ...]:
        """The files in which the past says something else now."""
        return tuple(one for one in self.files if one.rewrites)

    def count(self, what: What) -> int:
        """Return how many files became this."""
        return sum(one.what is what for one in self.files)


def review(root: Path, old: Revision, new: Revision) -> Review:
    """Return what differs between two versions of the ledger at *root*.

    Raises: NoGit, OSError.
    """
    one, other = snapshot(root, old), snapshot(root, new)
    paths = sorted(one.files.keys() | other.files.keys())
    touched = [path for path in paths if _hash(one, path) != _hash(other, path)]
    if not touched:
        return Review(old, new, "in", (), (), len(paths), {})
    with tempfile.TemporaryDirectory(prefix="blankbook-") as scratch:
        sides = _Sides(root, Path(scratch), (old, new), (one, other), touched)
        return sides.review(len(paths) - len(touched))


def _hash(held: Snapshot, path: str) -> str | None:
    return held.blobs[path] if path in held.files else None


@dataclass(frozen=True, slots=True)
class _Sides:
    """Both versions, with what of them has to be on disk."""

    root: Path
    scratch: Path
    asked: tuple[Revision, Revision]
    held: tuple[Snapshot, Snapshot]
    touched: list[str]

    def review(self, unchanged: int) -> Review:
        places = self._places()
        files = tuple(self._files(places))
        own = {one.blank for one in files if one.blank and one.what is not What.SAME}
        keys = sorted(own | self._all_blanks() if self._rules_differ() else own)
        before, after, shop = self._standings(places, keys)
        blanks = [self._blank(key, files, before, after, shop) for key in keys]
        blanks = [one for one in blanks if one.flips or one.key in own]
        blanks.sort(key=lambda one: (not one.flips, not one.charts, one.key))
        told = told_between(self.root, self.asked[0].commit, self.asked[1].commit or "HEAD")
        explained = [_explained(one, told.get(one.path, ())) for one in files]
        explained.sort(key=lambda one: (not one.rewrites, bool(one.reason), one.path))
        unit = shop.unit if shop else "in"
        return Review(*self.asked, unit, tuple(blanks), tuple(explained), unchanged, told)

    def _rules_differ(self) -> bool:
        """Say whether what every blank is judged by differs: the shop's rules, its measuring."""
        return any(path.startswith(("shop.yaml", "measuring/")) for path in self.touched)

    def _all_blanks(self) -> set[str]:
        return {file.blank for held in self.held for file in held.files.values() if file.blank}

    def _places(self) -> tuple[Path, Path]:
        """Return the folder of each version; a commit's files are laid out first."""
        blanks = {
            held.files[path].blank
            for held in self.held
            for path in self.touched
            if path in held.files and held.files[path].blank
        }
        found = []
        for index, (asked, held) in enumerate(zip(self.asked, self.held, strict=True)):
            if not asked.commit:
                found.append(self.root)
                continue
            place = self.scratch / str(index)
            place.mkdir()
            whole = index == 1 or self._rules_differ()
            lay_out(self.root, held, _needed(held, blanks, whole), place)
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
    ) -> tuple[dict[str, Standing], dict[str, Standing], Shop | None]:
        shared = self._rules_differ()
        now = load_side(places[1], keys, whole=True)
        then = load_side(places[0], keys, whole=shared)
        taught: dict[str, Any] = dict(then.gathered)
        if not shared:
            taught = {k: v for k, v in now.gathered.items() if k not in keys} | taught
        ledger = now.ledger or then.ledger
        shop = ledger.shop if ledger else None
        return standings(then, taught, keys), standings(now, now.gathered, keys), shop

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
        wanted = file is not None or path.lower().endswith(_PICTURES)
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
