"""One blank by its name, judged; and where the schemas of a ledger lie."""

import os
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from blankbook.commands.shared.errors import BlankbookError, WrongUse, shown

if TYPE_CHECKING:
    from blankbook.records.load_ledger import LoadedLedger
    from blankbook.results.result_types import Judged

CHECK = "run blankbook check to see where"
Shown = TypeVar("Shown")


def one_blank(root: Path, blank: str, show: "Callable[[Judged], Shown]") -> Shown:
    """Return what *show* makes of the blank of that name, judged by what the ledger teaches.

    Raises: WrongUse for an unknown name, BlankbookError where the files have faults.
    """
    from blankbook.commands.shared.judge_ledger import judge_ledger

    loaded, found = judge_ledger(root, show, {blank})
    if loaded.ledger is None:
        raise BlankbookError("shop.yaml has faults, so nothing can be judged", CHECK)
    if not found:
        raise missing(loaded, blank)
    return found[0]


def missing(loaded: "LoadedLedger", blank: str) -> BlankbookError:
    """Return why there is no such blank: faults in its files, or a slip in its name."""
    if any(f.path.startswith(f"blanks/{blank}/") and f.level == "error" for f in loaded.findings):
        return BlankbookError(f"the files of {shown(blank)} have faults", CHECK)
    import difflib

    near = [key for key in loaded.styles if key.endswith(f"/{blank}")]
    near = near[:1] or difflib.get_close_matches(blank, loaded.styles, n=1)
    remedy = f"did you mean {near[0]}?" if near else "blankbook vet lists every blank"
    return WrongUse(f"no blank called {shown(blank) or 'nothing'}", remedy)


def schema_of(root: Path, path: str, kind: str) -> str:
    """Return the way from a file of the ledger to its schema; empty where there is none beside."""
    depth = path.count("/")
    for above, folder in ((0, root), (1, root.parent)):
        if (folder / f"schemas/{kind}.schema.json").is_file():
            return "../" * (depth + above) + f"schemas/{kind}.schema.json"
    return ""


def relative(root: Path, place: Path) -> str:
    """Return a file's path in the ledger, with forward slashes."""
    return os.path.relpath(place, root).replace(os.sep, "/")
