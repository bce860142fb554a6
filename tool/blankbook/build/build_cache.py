"""What an earlier build knows: the files it read, the rows of the blanks, the files it made.

Nothing here is trusted further than it can be checked: inputs by their content, outputs by the
hash of theirs. A cache that is damaged, older or foreign is no cache. It is JSON, never code.
"""

import json
import os
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from blankbook.build.file_stamps import HASH, Known, Stamp, digest
from blankbook.build.frozen_json import as_list, from_list

if TYPE_CHECKING:
    from blankbook.pages.shop.blank_row import BlankRow

VERSION = 1
KEY = HASH + 1
"""Where the key of a spec stands in what is known of an output."""


@dataclass(slots=True)
class BlankState:
    """What is known of one blank."""

    read: str = ""
    """Key of everything that was read for it."""
    contribution: Any = None
    """What it gives to the values that are learned from the whole ledger."""
    made: str = ""
    """Key of everything that its pages depend on: what was read, and what was learned."""
    row: "BlankRow | None" = None
    """What the lists know of it."""
    specs: dict[str, str] = field(default_factory=dict)
    """By path: the key of each page and chart."""
    photos: list[str] = field(default_factory=list)
    """Files beside the records that were looked at, by path."""
    findings: list[list[Any]] = field(default_factory=list)


@dataclass(slots=True)
class State:
    """What is known after a build."""

    code: str = ""
    """Hash of the code; with another one nothing else here is of use."""
    code_stamps: dict[str, Stamp] = field(default_factory=dict)
    inputs: Known = field(default_factory=dict)
    outputs: Known = field(default_factory=dict)
    """By path in the site; after the hash comes the key of the spec, or nothing."""
    findings: list[list[Any]] = field(default_factory=list)
    """All of them, as a build in which nothing has changed tells them again."""
    blanks: dict[str, BlankState] = field(default_factory=dict)
    head: str = ""
    """The commit that was checked out."""
    day: str = ""
    """The day of that commit."""
    differing: list[str] = field(default_factory=list)
    """The inputs that were not as they were committed."""
    commits: dict[str, list[str]] = field(default_factory=dict)
    """By path in the ledger: the newest commit of the file, its day, and git's hash of it."""
    told: dict[str, Any] = field(default_factory=dict)
    """What the last commits mean, and the commit that was checked out then."""
    rows_at: Path | None = None
    """Where the blanks are; they are read only by a build that changes something."""


def load(folder: Path) -> State:
    """Return what an earlier build left in *folder*, without the blanks; or nothing known."""

    def made(data: Any) -> State:
        state = State(**{name: data[name] for name in _INDEX})
        _hold(state)
        state.rows_at = folder / "blanks.json"
        return state

    return _read(folder / "index.json", made) or State()


_INDEX = (
    *("code", "code_stamps", "inputs", "outputs", "findings"),
    *("head", "day", "differing", "commits"),
)


def _hold(state: State) -> None:
    """Hold what was read against the form it must have.

    Raises: ValueError, TypeError.
    """
    for known, least in ((state.inputs, HASH + 1), (state.outputs, KEY + 1)):
        if any(len(one) != least or not isinstance(one[HASH], str) for one in known.values()):
            raise ValueError("not an index")
    if any(path.startswith("/") or ".." in path.split("/") for path in state.outputs):
        raise ValueError("not an index")
    if any(len(one) != 3 for one in state.commits.values()):
        raise ValueError("not an index")


def load_blanks(state: State) -> None:
    """Add the blanks to *state*, and what commits mean."""
    from blankbook.pages.shop.blank_row import BlankRow

    def made(data: Any) -> tuple[dict[str, BlankState], dict[str, Any]]:
        if data["code"] != state.code:
            return {}, {}
        blanks = {key: BlankState(**one) for key, one in data["blanks"].items()}
        for blank in blanks.values():
            blank.row = from_list(BlankRow, blank.row)
        return blanks, dict(data["told"])

    if state.rows_at:
        state.blanks, state.told = _read(state.rows_at, made) or ({}, {})


def _read(place: Path, make: Callable[[Any], Any]) -> Any:
    """Return what *make* makes of a file of ours; None where it is not as it was written."""
    try:
        head, _, body = place.read_bytes().partition(b"\n")
        return make(json.loads(body)) if head.decode() == _head(body) else None
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return None


def _head(body: bytes) -> str:
    return f"blankbook {VERSION} {digest(body)}"


def save(folder: Path, state: State) -> None:
    """Write the state; each file takes the old one's place in one step.

    Raises: OSError.
    """
    folder.mkdir(parents=True, exist_ok=True)
    blanks = {
        key: {name: getattr(one, name) for name in BlankState.__slots__}
        for key, one in sorted(state.blanks.items())
    }
    _write(folder / "blanks.json", {"code": state.code, "blanks": blanks, "told": state.told})
    save_index(folder, state)


def save_index(folder: Path, state: State) -> None:
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
