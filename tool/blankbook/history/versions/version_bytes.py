"""One version of the ledger, read from memory; only photos that are named have to be on disk."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from blankbook.history.versions.snapshots import Snapshot
from blankbook.records.load_file import LoadedFile, load_bytes, load_file
from blankbook.text.ledger_files import LedgerFile


@lru_cache(maxsize=256)
def _shared(file: LedgerFile, body: bytes) -> LoadedFile:
    """Return a record that every blank shares: of many versions it is the same in most."""
    return load_bytes(file, body)


def may_name_photo(body: bytes) -> bool:
    """Say whether a record may name a photo; the key can be hidden only behind a backslash."""
    return b"photos" in body or b"\\" in body


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

    def entry(self, file: LedgerFile) -> LoadedFile:
        """Return one record of this version, or what is wrong with it.

        Raises: OSError.
        """
        body = self.bodies.get(self.held.blobs[file.path])
        if body is None:
            return load_file(self.root, file)
        return load_bytes(file, body) if file.blank else _shared(file, body)

    def naming_photos(self, blanks: Collection[str]) -> set[str]:
        """Return those of the blanks whose records may name a photo."""
        blobs = self.held.blobs
        return {
            key
            for key in blanks
            if any(may_name_photo(self.bodies[blobs[one.path]]) for one in self.of.get(key, ()))
        }

    def lay_out_photos(self, blanks: Collection[str]) -> None:
        """Write the pictures beside the records of these blanks, so that they are found like any.

        Raises: OSError.
        """
        for path in self.held.pictures(blanks):
            place = self.root / path
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_bytes(self.bodies[self.held.blobs[path]])
