"""The records of one version, read from bytes in memory; only named photos are put on disk."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from blankbook.history.versions.snapshots import Snapshot
from blankbook.records.load_file import LoadedFile, load_bytes, load_file
from blankbook.text.ledger_files import LedgerFile


@lru_cache(maxsize=256)
def _shared(file: LedgerFile, body: bytes) -> LoadedFile:
    """Return a record that every blank shares. It is the same in most of many versions."""
    return load_bytes(file, body)


def may_name_photo(body: bytes) -> bool:
    """Say whether a record may name a photo.

    Nothing is parsed. Only an escape, which begins with a backslash, can hide the key from this.
    """
    return b"photos" in body or b"\\" in body


@dataclass(frozen=True, slots=True)
class LedgerVersion:
    """One version of the ledger, with the bytes that are needed of it."""

    root: Path
    """The folder with the photos of its records."""
    snapshot: Snapshot
    bodies: Mapping[str, bytes]
    """By git's hash."""
    files_by_blank: Mapping[str, tuple[LedgerFile, ...]]
    """By ``supplier/style``: its records, sorted by path; by "" those that every blank shares."""

    def entry(self, file: LedgerFile) -> LoadedFile:
        """Return one record of this version, or what is wrong with it.

        Raises: OSError.
        """
        body = self.bodies.get(self.snapshot.blobs[file.path])
        if body is None:
            return load_file(self.root, file)
        return load_bytes(file, body) if file.blank else _shared(file, body)

    def blanks_naming_photos(self, blanks: Collection[str]) -> set[str]:
        """Return the blanks whose records may name a photo."""
        blobs = self.snapshot.blobs
        return {
            key
            for key in blanks
            if any(
                may_name_photo(self.bodies[blobs[file.path]])
                for file in self.files_by_blank.get(key, ())
            )
        }

    def write_photos(self, blanks: Collection[str]) -> None:
        """Write the photos of these blanks to `root`, where the rules look for them.

        Raises: OSError.
        """
        for path in self.snapshot.photos(blanks):
            place = self.root / path
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_bytes(self.bodies[self.snapshot.blobs[path]])
