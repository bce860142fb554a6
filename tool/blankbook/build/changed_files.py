"""What has changed since the last build: found by looking, before anything heavy is loaded."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from blankbook.build import code_fingerprint
from blankbook.build.build_cache import KEY, BlankState, State
from blankbook.build.file_stamps import HASH, Known, Stamp, digest, hash_file, look, tree
from blankbook.text.ledger_files import LedgerFile, scan_ledger

if TYPE_CHECKING:
    from blankbook.history.versions.file_commits import Commits


@dataclass(slots=True)
class Survey:
    """The ledger, the code and the old site as they are now."""

    root: Path
    files: list[LedgerFile]
    code: str
    code_stamps: dict[str, Stamp]
    inputs: Known
    """Every record, and every photo that a record was known to name."""
    held: Known
    """Files of the old site that are as the last build left them, with their stamps of now."""
    commits: "Commits"
    nothing_changed: bool
    """Whether every page is as it was, but for the commit that its foot names."""

    def read_keys(self, blanks: Mapping[str, BlankState]) -> dict[str, str]:
        """Return, for each blank, a hash of all that is read for it."""
        own: dict[str, list[str]] = {}
        for file in self.files:
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
        own += [one.id for path in sorted(paths) if (one := self.commits.by_path.get(path))]
        return digest(self.code, *shared, *own)

    def _hash(self, path: str) -> str:
        return str(self.inputs[path][HASH]) if path in self.inputs else ""

    def add_photos(self, paths: set[str]) -> None:
        """Look at photos that no earlier build knew of."""
        self.inputs.update(look(str(self.root), sorted(paths - self.inputs.keys()), {}))

    def forget_what_moved(self) -> None:
        """Drop the hash of every file that was changed while it was being read."""
        again = look(str(self.root), self.inputs, self.inputs)
        for path, now in again.items():
            if now[1:HASH] != self.inputs[path][1:HASH]:
                self.inputs[path] = [*now[:HASH], ""]


def survey(root: Path, out: Path, old: State, *, public: bool = False) -> Survey:
    """Return what is there now, held against what the last build knew."""
    files, stray = scan_ledger(root)
    code, code_stamps = code_fingerprint.of_code(old.code_stamps, old.code)
    paths = {file.path for file in files} | old.inputs.keys()
    inputs = look(str(root), sorted(paths), old.inputs)
    present = tree(str(out)) if old.outputs else {}
    held = {
        path: [*now, *known[HASH:]]
        for path, known in old.outputs.items()
        if (now := present.get(path)) and _is_ours(f"{out}/{path}", now, known)
    }
    commits = _commits(root, old, public=public)
    same = (
        code == old.code
        and commits.by_path == _known_commits(old).by_path
        and {p: one[HASH] for p, one in inputs.items()}
        == {p: one[HASH] for p, one in old.inputs.items()}
        and bool(old.outputs)
        and held.keys() == old.outputs.keys() == present.keys()
        and not stray
    )
    return Survey(root, files, code, code_stamps, inputs, held, commits, same)


def _commits(root: Path, old: State, *, public: bool) -> "Commits":
    """Return what git knows of the files: read once for each commit, and never for outsiders."""
    from blankbook.history.versions.file_commits import Commits, head_and_day, read_commits

    if public:
        return Commits()
    head, day = head_and_day(root)
    return _known_commits(old) if head == old.head else read_commits(root, head, day)


def _known_commits(old: State) -> "Commits":
    from blankbook.history.versions.file_commits import Commits, FileCommit

    return Commits(old.head, old.day, {path: FileCommit(*one) for path, one in old.commits.items()})


def _is_ours(place: str, now: Stamp, known: list[int | str]) -> bool:
    """Say whether a file of the site is the very one that was made."""
    return known[:HASH] == now or hash_file(place) == known[HASH]


def holds(held: Known, path: str, key: str) -> bool:
    """Say whether the old site has *path*, made with *key*."""
    return path in held and held[path][KEY] == key
