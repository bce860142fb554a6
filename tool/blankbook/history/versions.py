"""One version of the ledger, read from memory; only photos that are named have to be on disk."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from blankbook.history.snapshots import Snapshot, is_picture
from blankbook.records.entries import Entry, entry_of, read_entry
from blankbook.text.digests import digest
from blankbook.text.files import LedgerFile


@dataclass(frozen=True, slots=True)
class Version:
    """One version."""

    root: Path
    """Where the photos beside its records are."""
    held: Snapshot
    bodies: Mapping[str, bytes]
    """Of what is needed, by git's hash."""
    of: Mapping[str, tuple[LedgerFile, ...]]
    """By ``supplier/style``: its records, sorted by path; by "" those that every blank shares."""

    def entry(self, file: LedgerFile) -> Entry:
        """Return one record of this version, or what is wrong with it.

        Raises: OSError.
        """
        body = self.bodies.get(self.held.blobs[file.path])
        return read_entry(self.root, file) if body is None else entry_of(file, body)

    def naming_photos(self, blanks: Collection[str]) -> set[str]:
        """Return those of the blanks whose records may name a photo."""
        blobs = self.held.blobs
        return {
            key
            for key in blanks
            if any(_may_name_photo(self.bodies[blobs[one.path]]) for one in self.of.get(key, ()))
        }

    def lay_out_photos(self, blanks: Collection[str]) -> None:
        """Write the pictures beside the records of these blanks, so that they are found like any.

        Raises: OSError.
        """
        for path in pictures(self.held, blanks):
            place = self.root / path
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_bytes(self.bodies[self.held.blobs[path]])


def by_blank(held: Snapshot) -> dict[str, tuple[LedgerFile, ...]]:
    """Return the records of a version by their blank, and by "" those that every blank shares."""
    found: dict[str, list[LedgerFile]] = {"": []}
    for _, file in sorted(held.files.items()):
        found.setdefault(file.blank, []).append(file)
    return {key: tuple(files) for key, files in found.items()}


def pictures(held: Snapshot, blanks: Collection[str]) -> Iterator[str]:
    """Yield the pictures in the folders of these blanks, by path."""
    yield from (path for path in held.blobs if is_picture(path) and _blank_at(path) in blanks)


def _blank_at(path: str) -> str | None:
    return "/".join(path.split("/")[1:3]) if path.startswith("blanks/") else None


def _may_name_photo(body: bytes) -> bool:
    """Say whether a record may name a photo; the key can be hidden only behind a backslash."""
    return b"photos" in body or b"\\" in body


def names_of(held: Snapshot, code: str, *, committed: bool) -> dict[str, str]:
    """Return, by blank, a hash of all that follows from its records: the code, bytes and names.

    By "" stands that of what every blank shares. The hash is empty where something unknown bears
    on a blank: a file that cannot be read, a stray one, or in a folder a photo, whose bytes nobody
    has looked at; and everywhere without a *code*.
    """
    groups = by_blank(held)
    if not code or held.stray or any(not held.blobs[one.path] for one in groups[""]):
        return dict.fromkeys(groups, "")
    beside: dict[str, list[str]] = {}
    for path in pictures(held, groups) if committed else ():
        beside.setdefault(_blank_at(path) or "", []).extend((path, held.blobs[path]))
    found = {}
    for key, files in groups.items():
        blobs = [held.blobs[one.path] for one in files]
        seen = committed or not any(_may_name_photo(held.bodies.get(one, b"")) for one in blobs)
        supplier = held.blobs.get(f"suppliers/{key.partition('/')[0]}.yaml", "")
        own = [part for one in files for part in (one.path, held.blobs[one.path])]
        rules = digest(code, held.blobs.get("shop.yaml", ""), supplier)
        made = digest(rules, digest(*own), *beside.get(key, ()))
        found[key] = made if seen and all(blobs) else ""
    return found
