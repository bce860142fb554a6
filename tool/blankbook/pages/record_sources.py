"""Where every number comes from: the record behind it, to be read in the site, and its commit."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from blankbook.history.versions.file_commits import Commits


def source_of(path: str) -> dict[str, Any]:
    """Return what a page says of a record: its place, and the copy of it in the site."""
    return {"path": path, "copied": copy_path(path), "commit": None}


def copy_path(path: str) -> str:
    """Return where the copy of a record goes: as plain text, which every browser shows."""
    return f"records/{path}.txt"


def sources_in(context: Any) -> Iterator[dict[str, Any]]:
    """Yield all that `source_of` has put into the context of a page, in no order."""
    left = [context]
    while left:  # without a call for each of the thousands of values
        value = left.pop()
        kind = type(value)
        if kind is dict:
            if len(value) == 3 and value.keys() == {"path", "copied", "commit"}:
                yield value
            else:
                left.extend(value.values())
        elif kind is list or kind is tuple:
            left.extend(value)


def add_commit(source: dict[str, Any], body: bytes, commits: "Commits") -> None:
    """Say of a record, which holds *body* now, which commit it comes from, where git knows."""
    commit = commits.of.get(source["path"])
    if commit:
        changed = not commit.has(body)
        source["commit"] = {"id": commit.short, "day": commit.day, "changed": changed}
