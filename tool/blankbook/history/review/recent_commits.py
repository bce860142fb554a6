"""The last commits that changed records, each told by what it means.

What a commit means follows from it and the one before it alone, so it is told once and kept. The
way goes from the newest commit back: what the blanks teach is known of the newest, and of each
before it by reading again only the blanks that the commit touched. All bytes come in one call.
"""

import hashlib
import tempfile
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any

from blankbook.history.report.short_lines import Part, in_short
from blankbook.history.review.compare_versions import Sides
from blankbook.history.versions.commit_notes import Told, told_between
from blankbook.history.versions.file_commits import SHORT, Commits, Step
from blankbook.history.versions.git import run_git
from blankbook.history.versions.revisions import Revision
from blankbook.history.versions.snapshots import Snapshot, bodies, is_picture, is_safe
from blankbook.text.ledger_files import ledger_file_at

MOST = 20
"""Commits that are looked at; those before them are counted."""
MOST_JUDGED = 6
"""A commit that touches more blanks, or the rules for all, is told without judging any."""
MOST_PARTS = 8
"""Blanks and suppliers that are told of in one commit; the rest are counted."""
_BEGINS = {
    **dict.fromkeys((".jpg", "jpeg"), b"\xff\xd8\xff\xe0"),
    ".png": b"\x89PNG\r\n\x1a\n",
    "webp": b"RIFF\0\0\0\0WEBPVP8 ",
}
"""How a picture begins, by the end of its name."""
Entry = dict[str, Any]
"""What is told of one commit, as JSON data: ``id``, ``key``, ``commit``, ``day``, ``at``, ``parts``
and ``rest``."""


@dataclass(frozen=True, slots=True)
class Recent:
    """The last changes of the ledger."""

    entries: tuple[Entry, ...]
    """The newest first; one without parts changed nothing in meaning."""
    more: int
    """Commits before them that touched records as well."""
    cut: bool
    """Whether only a part of the history was fetched, which ends here."""
    origin: str
    """What the first commit of the ledger is known by; empty where it was not fetched."""


@dataclass(frozen=True, slots=True)
class _Walked:
    """One step of the way back."""

    step: Step
    held: tuple[Snapshot, Snapshot]
    """Before and after."""


def recent(
    root: Path, commits: Commits, known: Mapping[str, Entry], taught: Mapping[str, Any] | None
) -> Recent:
    """Return the last changes; *known* is what was told before, by commit.

    *taught* is what each blank teaches as it was committed last, where that is known.
    Raises: NoGit, OSError.
    """
    steps = [step for step in commits.steps if _touches_records(step)]
    shown = steps[:MOST]
    cut = bool(steps) and not steps[-1].parents and _is_shallow(root)
    if cut:
        shown = [step for step in shown if step.parents]
    missing = {step.id for step in shown if step.parents and step.id not in known}
    made = {**known, **(_told(root, commits, missing, taught) if missing else {})}
    for step in shown:
        if not step.parents:
            made[step.id] = _entry(step, [Part("shop", "", (_began(step),))])
    entries = tuple(made[step.id] for step in shown)
    return Recent(entries, len(steps) - len(shown) - cut, cut, "" if cut else _first(steps))


def _first(steps: list[Step]) -> str:
    return _key(steps[-1]) if steps else ""


def _touches_records(step: Step) -> bool:
    return any(ledger_file_at(path) for path in step.files)


def _is_shallow(root: Path) -> bool:
    return run_git(root, "rev-parse", "--is-shallow-repository").strip() == b"true"


def _began(step: Step) -> str:
    """Return what is said of the commit that a ledger begins with."""
    files = [file for path in step.files if (file := ledger_file_at(path))]
    blanks = sum(file.kind == "style" for file in files)
    suppliers = sum(file.kind == "supplier" for file in files)
    count = [
        f"{number} {word}{'' if number == 1 else 's'}"
        for number, word in ((blanks, "blank"), (suppliers, "supplier"))
    ]
    return f"the ledger begins: {', '.join(count)}"


def _told(
    root: Path, commits: Commits, missing: Collection[str], taught: Mapping[str, Any] | None
) -> dict[str, Entry]:
    """Return what the *missing* commits mean."""
    walked = list(_walk_back(commits, missing))
    found: dict[str, Entry] = {}
    with tempfile.TemporaryDirectory(prefix="blankbook-") as scratch:
        rules = bodies(root, _rules_in(walked))
        sides = [_sides(root, Path(scratch) / one.step.id, one, rules) for one in walked]
        body = _bytes_of(root, _as_they_will_be(sides, known=taught is not None))
        for one, side in zip(walked, sides, strict=True):
            side.scratch.mkdir()
            compared = replace(side, others=taught, body=body).compared()
            taught = compared.taught
            if one.step.id in missing:
                found[one.step.id] = _entry(one.step, in_short(compared.review))
    return found


def _rules_in(walked: Iterable[_Walked]) -> Iterator[str]:
    """Yield git's hashes of the shop's rules and studies that were touched, before and after."""
    for one in walked:
        for path, pair in one.step.files.items():
            if (file := ledger_file_at(path)) and file.kind in {"shop", "study"}:
                yield from pair


def _sides(root: Path, place: Path, one: _Walked, rules: Mapping[str, bytes]) -> Sides:
    step = one.step
    versions = (Revision("before", f"{step.id}^1"), Revision(step.id[:SHORT], step.id, step.day))
    return Sides(root, place, versions, one.held, _said(root, step), None, rules, MOST_JUDGED)


def _as_they_will_be(sides: Iterable[Sides], *, known: bool) -> Iterator[Sides]:
    """Yield each of them knowing what blanks teach, or not: it is read whole where it must be."""
    for one in sides:
        yield replace(one, others={} if known else None)
        known = (known or one.judges) and not one.rules_differ


def _said(root: Path, step: Step) -> dict[str, tuple[Told, ...]]:
    """Return what was said of each file; of a merge, also what its commits say."""
    own = Told(step.id, step.day, "", step.reason)
    found: dict[str, tuple[Told, ...]] = dict.fromkeys(step.files, (own,))
    if step.parents > 1 and not step.reason:
        within = told_between(root, f"{step.id}^1", step.id)
        found |= {path: (own, *within.get(path, ())) for path in step.files}
    return found


def _bytes_of(root: Path, sides: Iterable[Sides]) -> dict[str, bytes]:
    """Return the bytes of all that has to be laid out, in one call.

    A photo is asked for by nobody but whoever looks whether there is one: its first bytes will do.
    """
    needed = {(path, blob) for side in sides for path, blob in side.needed()}
    photos = {blob: _BEGINS[path[-4:].lower()] for path, blob in needed if is_picture(path)}
    return photos | bodies(root, (blob for path, blob in needed if not is_picture(path)))


def _entry(step: Step, parts: list[Part]) -> Entry:
    """Return what is told of a commit, as JSON data."""
    shown = [asdict(part) | {"lines": list(part.lines)} for part in parts[:MOST_PARTS]]
    rest = len(parts) - len(shown)
    return {
        "id": step.id,
        "key": _key(step),
        "commit": step.id[:SHORT],
        "day": step.day,
        "at": step.at,
        "parts": shown,
        "rest": rest,
    }


def _key(step: Step) -> str:
    """Return what no other commit has, nor another ledger that the same commit touched."""
    touched = sorted(f"{path}\0{old}\0{new}" for path, (old, new) in step.files.items())
    body = "\n".join((step.id, *touched)).encode("utf-8", "surrogateescape")
    return hashlib.sha256(body, usedforsecurity=False).hexdigest()


def _walk_back(commits: Commits, missing: Collection[str]) -> Iterable[_Walked]:
    """Yield every commit with what was held before and after it, until the last that is missing."""
    blobs = _newest(commits)
    left = len(missing)
    now = Snapshot({path: one for path in sorted(blobs) if (one := ledger_file_at(path))}, blobs)
    for step in commits.steps:
        if not left:
            return
        before = _before(now, step)
        if _touches_records(step):
            yield _Walked(step, (before, now))
        left -= step.id in missing
        now = before


def _newest(commits: Commits) -> dict[str, str]:
    """Return git's hash of every plain file as it was committed last."""
    held: dict[str, str] = {}
    for step in commits.steps:
        for path, (_, new) in step.files.items():
            held.setdefault(path, new)
    return {path: blob for path, blob in held.items() if blob and is_safe(path)}


def _before(now: Snapshot, step: Step) -> Snapshot:
    """Return what was held before a commit."""
    files, blobs = dict(now.files), dict(now.blobs)
    for path, (old, _) in step.files.items():
        files.pop(path, None)
        blobs.pop(path, None)
        if old and is_safe(path):
            blobs[path] = old
            if file := ledger_file_at(path):
                files[path] = file
    return Snapshot(files, blobs)
