"""Blanks judged with what the whole ledger teaches: how `vet` and `check` come by their answers."""

from collections.abc import Collection
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from blankbook.records.load import Loaded
    from blankbook.results.frame import Judged


def judge_ledger(root: Path, only: Collection[str] | None = None) -> "tuple[Loaded, list[Judged]]":
    """Return the ledger at *root* and its blanks judged, sorted by key; with *only*, those.

    The whole ledger is read either way, because each blank is judged by what all of them teach.
    """
    from blankbook.records.load import load_ledger
    from blankbook.results.learned import contribute

    keep = None if only is None else lambda blank: blank.style.key in only
    loaded = load_ledger(root, keep=keep, gather=contribute)
    return loaded, judge_loaded(loaded)


def judge_loaded(loaded: "Loaded") -> "list[Judged]":
    """Return the blanks that were loaded, judged; their contributions must have been gathered."""
    if loaded.ledger is None or not loaded.ledger.blanks:
        return []
    from blankbook.results.judge import judge
    from blankbook.results.learned import learn, learned_of

    ledger = loaded.ledger
    taught = learn(loaded.gathered, ledger.shop, ledger.studies)
    return [
        judge(blank, ledger.shop, learned_of(taught[key]))
        for key, blank in sorted(ledger.blanks.items())
    ]
