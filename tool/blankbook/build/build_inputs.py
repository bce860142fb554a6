"""What a build starts from, and whether any of it changed. Finding out loads nothing heavy."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from blankbook.build import code_fingerprint
from blankbook.build.build_cache import KEY_INDEX, BlankState, BuildState
from blankbook.build.file_stamps import (
    HASH_INDEX,
    FileStates,
    Stamp,
    digest,
    hash_file,
    read_file_states,
    stamp_tree,
)
from blankbook.text.ledger_files import LedgerFile, scan_ledger

if TYPE_CHECKING:
    from blankbook.history.versions.file_commits import Commits


@dataclass(slots=True)
class BuildInputs:
    """The ledger, the code and the old site as they are now."""

    root: Path
    ledger_files: list[LedgerFile]
    code: str
    code_stamps: dict[str, Stamp]
    file_states: FileStates
    """Of every record, and of every photo that a record was known to name."""
    kept_outputs: FileStates
    """Of the files of the old site that are as the last build left them."""
    commits: "Commits"
    nothing_changed: bool
    """Whether every page stays as it is, but for the commit that its foot names."""

    def read_keys(self, blanks: Mapping[str, BlankState]) -> dict[str, str]:
        """Return, by blank, a hash of all that is read for it."""
        own: dict[str, list[str]] = {}
        for file in self.ledger_files:
            if file.blank:
                own.setdefault(file.blank, []).append(file.path)
        return {
            key: self._read_key(key, [*paths, *(blanks[key].photos if key in blanks else ())])
            for key, paths in sorted(own.items())
        }

    def _read_key(self, blank: str, paths: list[str]) -> str:
        supplier = f"suppliers/{blank.partition('/')[0]}.yaml"
        shared = [self._hash("shop.yaml"), self._hash(supplier)]
        own = [part for path in sorted(paths) for part in (path, self._hash(path))]
        own += [commit.id for path in sorted(paths) if (commit := self.commits.by_path.get(path))]
        return digest(self.code, *shared, *own)

    def _hash(self, path: str) -> str:
        return str(self.file_states[path][HASH_INDEX]) if path in self.file_states else ""

    def add_photos(self, paths: set[str]) -> None:
        """Look at photos that no earlier build knew of."""
        self.file_states.update(
            read_file_states(str(self.root), sorted(paths - self.file_states.keys()), {})
        )

    def forget_moving_files(self) -> None:
        """Drop the hash of every file that changed while it was being read.

        What was read may be of either version, so the next build reads it again.
        """
        again = read_file_states(str(self.root), self.file_states, self.file_states)
        for path, now in again.items():
            if now[1:HASH_INDEX] != self.file_states[path][1:HASH_INDEX]:
                self.file_states[path] = [*now[:HASH_INDEX], ""]


def read_inputs(root: Path, out: Path, old: BuildState, *, public: bool = False) -> BuildInputs:
    """Return what is there now; what the last build knew is not read again."""
    files, stray = scan_ledger(root)
    code, code_stamps = code_fingerprint.code_fingerprint(old.code_stamps, old.code)
    paths = {file.path for file in files} | old.inputs.keys()
    inputs = read_file_states(str(root), sorted(paths), old.inputs)
    present = stamp_tree(str(out)) if old.outputs else {}
    kept_outputs = {
        path: [*now, *known[HASH_INDEX:]]
        for path, known in old.outputs.items()
        if (now := present.get(path)) and _is_ours(f"{out}/{path}", now, known)
    }
    commits = _commits(root, old, public=public)
    same = (
        code == old.code
        and commits.by_path == _known_commits(old).by_path
        and {p: file[HASH_INDEX] for p, file in inputs.items()}
        == {p: file[HASH_INDEX] for p, file in old.inputs.items()}
        and bool(old.outputs)
        and kept_outputs.keys() == old.outputs.keys() == present.keys()
        and not stray
    )
    return BuildInputs(root, files, code, code_stamps, inputs, kept_outputs, commits, same)


def _commits(root: Path, old: BuildState, *, public: bool) -> "Commits":
    """Return what git knows of the files; it is asked once for each commit, never for outsiders."""
    from blankbook.history.versions.file_commits import Commits, head_and_day, read_commits

    if public:
        return Commits()
    head, day = head_and_day(root)
    return _known_commits(old) if head == old.head else read_commits(root, head, day)


def _known_commits(old: BuildState) -> "Commits":
    from blankbook.history.versions.file_commits import Commits, FileCommit

    return Commits(
        old.head, old.day, {path: FileCommit(*facts) for path, facts in old.commits.items()}
    )


def _is_ours(place: str, now: Stamp, known: list[int | str]) -> bool:
    """Say whether a file of the site is the one that the last build made."""
    return known[:HASH_INDEX] == now or hash_file(place) == known[HASH_INDEX]


def has_output(kept_outputs: FileStates, path: str, key: str) -> bool:
    """Say whether the old site has *path*, made with *key*."""
    return path in kept_outputs and kept_outputs[path][KEY_INDEX] == key
