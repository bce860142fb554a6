"""Blanks judged with what the whole ledger teaches: how `vet` and `check` come by their answers."""

from collections.abc import Callable, Collection
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from blankbook.records.load_ledger import LoadedLedger
    from blankbook.results.result_types import Judged

Shown = TypeVar("Shown")
FORK_ABOVE = 20
"""From this many blanks on, a second process pays."""


def judge_ledger(
    root: Path, show: "Callable[[Judged], Shown]", only: Collection[str] | None = None
) -> "tuple[LoadedLedger, list[Shown]]":
    """Return the ledger at *root*, and what *show* makes of each blank, sorted by key.

    With *only*, of those. The whole ledger is read either way, because each blank is judged by
    what all of them teach.
    """
    from blankbook.records.load_ledger import load_ledger
    from blankbook.results.learning.ledger_learning import blank_contribution

    keep = None if only is None else lambda blank: blank.style.key in only
    loaded = load_ledger(root, keep=keep, gather=blank_contribution, pictures=False)
    return loaded, judge_loaded(loaded, show)


def judge_loaded(loaded: "LoadedLedger", show: "Callable[[Judged], Shown]") -> "list[Shown]":
    """Return what *show* makes of each blank that was loaded; every core judges its share.

    Their contributions must have been gathered. Only what *show* returns comes back from another
    process, so it had better be small.
    """
    if loaded.ledger is None or not loaded.ledger.blanks:
        return []
    from blankbook.records.processes import map_in_processes
    from blankbook.results.judge_blank import judge
    from blankbook.results.learning.ledger_learning import learn, learned_from_data

    ledger = loaded.ledger
    taught = learn(loaded.gathered, ledger.shop, ledger.studies)

    def work(key: str) -> Shown:
        return show(judge(ledger.blanks[key], ledger.shop, learned_from_data(taught[key])))

    keys = sorted(ledger.blanks)
    return map_in_processes(keys, work, None, worth=len(keys) > FORK_ABOVE)
