"""What a build leaves for the next: the files it read, the rows of the blanks, the files it made.

Nothing in it is trusted further than it can be checked: inputs by their content, outputs by the
hash of theirs. A cache that is damaged, older or foreign counts as none (`trust.kept_files`).
It is JSON, never code.
"""

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from blankbook.build.file_stamps import HASH_INDEX, FileStates, Stamp
from blankbook.build.frozen_json import as_list, from_list
from blankbook.build.trust.kept_files import KeptFiles

if TYPE_CHECKING:
    from blankbook.pages.shop.blank_row import BlankRow

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
    kept: KeptFiles | None = None
    """Where the blanks are, which only a build that changes something reads."""


def load(kept: KeptFiles) -> BuildState:
    """Return what an earlier build kept, without the blanks; else an empty state."""

    def made(data: Any) -> BuildState:
        state = BuildState(**{name: data[name] for name in _INDEX})
        _check_form(state)
        state.kept = kept
        return state

    return _read(kept, "index.json", made) or BuildState()


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

    if state.kept:
        state.blanks, state.recent_changes = _read(state.kept, "blanks.json", made) or ({}, {})


def _read(kept: KeptFiles, name: str, make: Callable[[Any], Any]) -> Any:
    """Return what *make* makes of a cache file; None where the file is not as it was written."""
    body = kept.read(name)
    try:
        return make(json.loads(body)) if body else None
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return None


def save(kept: KeptFiles, state: BuildState) -> None:
    """Write the state; each file takes the old one's place in one step.

    Raises: OSError.
    """
    blanks = {
        key: {name: getattr(blank, name) for name in BlankState.__slots__}
        for key, blank in sorted(state.blanks.items())
    }
    _write(
        kept,
        "blanks.json",
        {"code": state.code, "blanks": blanks, "recent_changes": state.recent_changes},
    )
    save_index(kept, state)


def save_index(kept: KeptFiles, state: BuildState) -> None:
    """Write the state without its blanks.

    Raises: OSError.
    """
    _write(kept, "index.json", {name: getattr(state, name) for name in _INDEX})


def _write(kept: KeptFiles, name: str, data: Mapping[str, Any]) -> None:
    if kept.key:
        kept.write(name, json.dumps(data, separators=(",", ":"), default=as_list).encode())
