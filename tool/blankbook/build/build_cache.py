"""What a build leaves for the next: the files it read, the rows of the blanks, the files it made.

Nothing in it is trusted further than it can be checked: inputs by their content, outputs by the
hash of theirs. A cache that is damaged, older or foreign counts as none. It is JSON, never code.
"""

import json
import os
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from blankbook.build.file_stamps import HASH_INDEX, FileStates, Stamp, digest
from blankbook.build.frozen_json import as_list, from_list

if TYPE_CHECKING:
    from blankbook.pages.shop.blank_row import BlankRow

CACHE_VERSION = 1
KEY_INDEX = HASH_INDEX + 1
"""Where the key of a spec stands in the state of an output."""


@dataclass(slots=True)
class BlankState:
    """What is known of one blank."""

    read: str = ""
    """Key of everything that was read for it."""
    contribution: Any = None
    """What it contributes to what is learned from the whole ledger, as JSON data."""
    made: str = ""
    """Key of everything that its pages depend on: what was read, and what was learned."""
    row: "BlankRow | None" = None
    """What the lists know of it."""
    specs: dict[str, str] = field(default_factory=dict)
    """By path: the key of each page and chart."""
    photos: list[str] = field(default_factory=list)
    """The photos that its records name, by path."""
    findings: list[list[Any]] = field(default_factory=list)
    """What was found in its records, each as a list of the finding's fields."""


@dataclass(slots=True)
class BuildState:
    """What is known after a build."""

    code: str = ""
    """Hash of the code; with another one nothing else here is of use."""
    code_stamps: dict[str, Stamp] = field(default_factory=dict)
    """The stamps of the files that this hash was made from."""
    inputs: FileStates = field(default_factory=dict)
    """The files that were read, by path in the ledger."""
    outputs: FileStates = field(default_factory=dict)
    """The files that were made, by path in the site; after the hash comes the key of the spec."""
    findings: list[list[Any]] = field(default_factory=list)
    """All findings: a build in which nothing has changed prints them again."""
    blanks: dict[str, BlankState] = field(default_factory=dict)
    head: str = ""
    """The commit that was checked out."""
    day: str = ""
    """The day of that commit."""
    uncommitted: list[str] = field(default_factory=list)
    """The inputs that were not as they were committed."""
    commits: dict[str, list[str]] = field(default_factory=dict)
    """By path in the ledger: the newest commit of the file, its day, and git's hash of it."""
    recent_changes: dict[str, Any] = field(default_factory=dict)
    """What the last commits mean, and the commit that was checked out then."""
    blanks_file: Path | None = None
    """The file with the blanks, which only a build that changes something reads."""


def load(folder: Path) -> BuildState:
    """Return what an earlier build left in *folder*, without the blanks; else an empty state."""

    def made(data: Any) -> BuildState:
        state = BuildState(**{name: data[name] for name in _INDEX})
        _check_form(state)
        state.blanks_file = folder / "blanks.json"
        return state

    return _read(folder / "index.json", made) or BuildState()


_INDEX = (
    *("code", "code_stamps", "inputs", "outputs", "findings"),
    *("head", "day", "uncommitted", "commits"),
)


def _check_form(state: BuildState) -> None:
    """Check that what was read has the form that was written.

    Raises: ValueError, TypeError.
    """
    for states, length in ((state.inputs, HASH_INDEX + 1), (state.outputs, KEY_INDEX + 1)):
        if any(
            len(facts) != length or not isinstance(facts[HASH_INDEX], str)
            for facts in states.values()
        ):
            raise ValueError("not an index")
    # outputs are carried over by their paths: none may lead out of the site
    if any(path.startswith("/") or ".." in path.split("/") for path in state.outputs):
        raise ValueError("not an index")
    if any(len(facts) != 3 for facts in state.commits.values()):
        raise ValueError("not an index")


def load_blanks(state: BuildState) -> None:
    """Add the blanks to *state*, and what the last commits mean."""
    from blankbook.pages.shop.blank_row import BlankRow

    def made(data: Any) -> tuple[dict[str, BlankState], dict[str, Any]]:
        if data["code"] != state.code:
            return {}, {}
        blanks = {key: BlankState(**blank) for key, blank in data["blanks"].items()}
        for blank in blanks.values():
            blank.row = from_list(BlankRow, blank.row)
        return blanks, dict(data["recent_changes"])

    if state.blanks_file:
        state.blanks, state.recent_changes = _read(state.blanks_file, made) or ({}, {})


def _read(place: Path, make: Callable[[Any], Any]) -> Any:
    """Return what *make* makes of a cache file; None where the file is not as it was written."""
    try:
        head, _, body = place.read_bytes().partition(b"\n")
        return make(json.loads(body)) if head.decode() == _head(body) else None
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return None


def _head(body: bytes) -> str:
    return f"blankbook {CACHE_VERSION} {digest(body)}"


def save(folder: Path, state: BuildState) -> None:
    """Write the state; each file takes the old one's place in one step.

    Raises: OSError.
    """
    folder.mkdir(parents=True, exist_ok=True)
    blanks = {
        key: {name: getattr(blank, name) for name in BlankState.__slots__}
        for key, blank in sorted(state.blanks.items())
    }
    _write(
        folder / "blanks.json",
        {"code": state.code, "blanks": blanks, "recent_changes": state.recent_changes},
    )
    save_index(folder, state)


def save_index(folder: Path, state: BuildState) -> None:
    """Write the state without its blanks.

    Raises: OSError.
    """
    _write(folder / "index.json", {name: getattr(state, name) for name in _INDEX})


def _write(place: Path, data: Mapping[str, Any]) -> None:
    part = place.with_suffix(f".{os.getpid()}.part")
    body = json.dumps(data, separators=(",", ":"), default=as_list).encode()
    try:
        part.write_bytes(f"{_head(body)}\n".encode() + body)
        part.replace(place)
    except BaseException:
        with suppress(OSError):
            part.unlink(missing_ok=True)
        raise
