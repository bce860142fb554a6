"""What an earlier build knows: inputs as they were, rows of blanks, and the files it made.

Nothing in it is trusted further than it can be checked: inputs by their content, outputs by the
hash of theirs. A cache that is damaged, older or foreign is no cache. It is JSON, never code.
"""

import hashlib
import json
import os
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from importlib.metadata import version
from importlib.resources import files as package_files
from pathlib import Path
from typing import Any

from blankbook.pages.spec import ChartSpec, PageSpec

VERSION = 1
_LIBRARIES = ("jinja2", "matplotlib", "mkdocs", "numpy", "scipy", "ruamel.yaml")


def digest(*parts: bytes | str) -> str:
    """Return a hash of the parts, in order and apart from each other."""
    made = hashlib.blake2b(digest_size=16)
    for part in parts:
        body = part.encode() if isinstance(part, str) else part
        made.update(len(body).to_bytes(8, "little") + body)
    return made.hexdigest()


def code_fingerprint() -> str:
    """Return a hash of everything that turns records into pages: our files, and the libraries."""
    made = hashlib.blake2b(digest_size=16)
    for package in ("blankbook", "blankbook.schemas", "blankbook.theme", "blankbook.templates"):
        root = Path(str(package_files(package)))
        for place in sorted(_sources(root)):
            made.update(place.relative_to(root).as_posix().encode() + b"\0")
            made.update(place.read_bytes() + b"\0")
    for library in _LIBRARIES:
        made.update(f"{library} {version(library)}".encode() + b"\0")
    return made.hexdigest()


def _sources(root: Path) -> Iterable[Path]:
    for folder, names, files in os.walk(root):
        names[:] = [name for name in names if name != "__pycache__"]
        yield from (Path(folder) / name for name in files if not name.endswith(".pyc"))


def spec_key(spec: PageSpec | ChartSpec, fingerprint: str) -> str:
    """Return the key of a page or a chart: the same key, the same bytes."""
    data: Any = spec.context if isinstance(spec, PageSpec) else spec.data
    said = spec.title if isinstance(spec, PageSpec) else f"{spec.alt} {spec.width} {spec.height}"
    kind = spec.template if isinstance(spec, PageSpec) else spec.kind
    text = json.dumps(data, sort_keys=True, ensure_ascii=False, allow_nan=False)
    return digest(fingerprint, spec.path, kind, said, text)


Stamp = list[Any]
"""A file's mtime in nanoseconds, size and inode, and the hash of its content."""


def stamp(place: Path) -> Stamp:
    """Return the stamp of a file, without its hash."""
    found = place.stat()
    return [found.st_mtime_ns, found.st_size, found.st_ino]


@dataclass(slots=True)
class Cache:
    """The state after a build."""

    fingerprint: str = ""
    out: str = ""
    inputs: dict[str, Stamp] = field(default_factory=dict)
    outputs: dict[str, Stamp] = field(default_factory=dict)
    """By path in the site: mtime, size, inode, hash of the content, key of the spec."""
    blanks: dict[str, Any] = field(default_factory=dict)
    """By blank: key, row for the lists, and the paths that belong to it."""

    def hash_of(self, root: Path, path: str) -> str:
        """Return the hash of an input, from the stamp where nothing about the file has changed."""
        now = stamp(root / path)
        known = self.inputs.get(path)
        if known and known[:3] == now:
            return str(known[3])
        made = digest((root / path).read_bytes())
        self.inputs[path] = [*now, made]
        return made


def load(folder: Path) -> Cache:
    """Return what an earlier build left, or nothing known."""
    try:
        index = json.loads((folder / "index.json").read_bytes())
        if index["version"] != VERSION:
            return Cache()
        return Cache(index["fingerprint"], index["out"], index["inputs"], index["outputs"])
    except (OSError, ValueError, KeyError, TypeError):
        return Cache()


def load_blanks(folder: Path, cache: Cache) -> None:
    """Add the rows of the blanks, which only a build that changes something needs."""
    try:
        data = json.loads((folder / "blanks.json").read_bytes())
        if data["fingerprint"] == cache.fingerprint:
            cache.blanks = data["blanks"]
    except (OSError, ValueError, KeyError, TypeError):
        cache.blanks = {}


def save(folder: Path, cache: Cache) -> None:
    """Write the state; each file takes the old one's place in one step."""
    _write(folder / "blanks.json", {"fingerprint": cache.fingerprint, "blanks": cache.blanks})
    index = {
        "version": VERSION,
        "fingerprint": cache.fingerprint,
        "out": cache.out,
        "inputs": cache.inputs,
        "outputs": cache.outputs,
    }
    _write(folder / "index.json", index)


def _write(place: Path, data: Mapping[str, Any]) -> None:
    part = place.with_suffix(f".{os.getpid()}.part")
    try:
        part.write_text(json.dumps(data, ensure_ascii=False), encoding="utf-8")
        part.replace(place)
    finally:
        part.unlink(missing_ok=True)


def outputs_untouched(cache: Cache, out: Path) -> bool:
    """Say whether every file of the site is there as the build left it, by size and time."""
    try:
        return all(
            (found := os.stat(f"{out}/{path}")).st_mtime_ns == known[0]  # noqa: PTH116 - thousands
            and found.st_size == known[1]
            for path, known in cache.outputs.items()
        )
    except OSError:
        return False


def inputs_untouched(cache: Cache, root: Path, paths: Iterable[str]) -> bool:
    """Say whether the ledger's files are the very ones that were read, by their stamps."""
    paths = set(paths)
    if paths != cache.inputs.keys():
        return False
    try:
        return all(stamp(root / path) == cache.inputs[path][:3] for path in paths)
    except OSError:
        return False
