"""What a shell may offer where a name is half typed: looked up in the ledger, and never a word.

Nothing is parsed and nothing is said: a slip here must not show at somebody's prompt.
"""

import os
import re
from collections.abc import Iterable
from pathlib import Path
from typing import Any

VARIABLE = "_BLANKBOOK_COMPLETE"
"""What a shell's own completion sets when it asks."""
_BLANK = re.compile(r"[a-z0-9-]+/[a-z0-9-]+")
_SIZES = re.compile(r"^sizes:\s*\[(.*)\]", re.MULTILINE)
_COLOURS = re.compile(r"^colours:\s*\[(.*)\]", re.MULTILINE)


def blanks(ctx: Any, incomplete: str) -> list[str]:
    """Return the blanks of the ledger, by the folders that there are."""
    root = _root(ctx)
    return _begun(_blanks(root), incomplete) if root else []


def points(incomplete: str) -> list[str]:
    """Return points of measure; after a comma, further ones."""
    from blankbook.words.points import POINTS

    return _next_of(POINTS, incomplete)


def sizes(ctx: Any, incomplete: str) -> list[str]:
    """Return the sizes of the blank that was named before."""
    return _next_of(_listed(ctx, _SIZES), incomplete)


def colours(ctx: Any, incomplete: str) -> list[str]:
    """Return the colours of the blank that was named before."""
    return _next_of(_listed(ctx, _COLOURS), incomplete)


def _begun(names: Iterable[str], incomplete: str) -> list[str]:
    return [name for name in names if name.startswith(incomplete)]


def _next_of(names: Iterable[str], incomplete: str) -> list[str]:
    before, comma, last = incomplete.rpartition(",")
    taken = before.split(",")
    return [f"{before}{comma}{name}" for name in _begun(names, last) if name not in taken]


def _root(ctx: Any) -> Path | None:
    from blankbook.commands.shared.errors import BlankbookError
    from blankbook.commands.shared.ledger_root import ledger_root

    try:
        return ledger_root(ctx.params.get("ledger"))
    except (BlankbookError, OSError):
        return None


def _blanks(root: Path) -> list[str]:
    try:
        return sorted(
            f"{supplier.name}/{style.name}"
            for supplier in os.scandir(root / "blanks")
            if supplier.is_dir()
            for style in os.scandir(supplier.path)
            if style.is_dir()
        )
    except OSError:
        return []


def _listed(ctx: Any, shape: re.Pattern[str]) -> list[str]:
    root = _root(ctx)
    try:
        blank = next(word for word in _typed() if _BLANK.fullmatch(word))
        text = ((root or Path()) / "blanks" / blank / "style.yaml").read_text(encoding="utf-8")
    except (OSError, ValueError, StopIteration):
        return []
    found = shape.search(text)
    return [part.strip(" \"'") for part in found[1].split(",")] if found else []


def _typed() -> list[str]:
    """Return the words of the line, as the shells hand them over: half a line has no values yet."""
    line = os.environ.get("COMP_WORDS") or os.environ.get("_TYPER_COMPLETE_ARGS") or ""
    return line.split()
