"""Where every number comes from: the record behind it, to be read in the site, and its commit."""

from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from blankbook.history.commits import Commits


def source_of(path: str) -> dict[str, Any]:
    """Return what a page says of a record: its place, and the copy of it in the site."""
    return {"path": path, "copied": copy_path(path), "commit": None}


def copy_path(path: str) -> str:
    """Return where the copy of a record goes: as plain text, which every browser shows."""
    return f"records/{path}.txt"


def sources_in(context: Any) -> Iterator[dict[str, Any]]:
    """Yield all that `source_of` has put into the context of a page."""
    if isinstance(context, dict):
        if context.keys() == {"path", "copied", "commit"}:
            yield context
            return
        context = context.values()
    elif not isinstance(context, list | tuple):
        return
    for one in context:
        yield from sources_in(one)


def add_commits(root: Path, sources: Iterable[dict[str, Any]], commits: "Commits") -> None:
    """Say of each record of the ledger at *root* which commit it comes from, where git knows."""
    for one in sources:
        commit = commits.of.get(one["path"])
        if commit:
            changed = not commit.has((root / one["path"]).read_bytes())
            one["commit"] = {"id": commit.short, "day": commit.day, "changed": changed}
