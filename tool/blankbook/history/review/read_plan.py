"""Which blanks a review has to read, and what every blank contributes at each version."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from blankbook.history.review.read_blanks import BlankRequest, ReadBlank
from blankbook.text.ledger_files import LedgerFile


@dataclass(frozen=True)
class ReadPlan:
    """What differs between two versions, and what is known of the rest.

    Where the rules are the same, a changed blank is judged at both versions by what the other
    blanks contribute at the newer one: what differs is then the blank's own doing, and the older
    version of all others need not be read.
    """

    changed_files: Mapping[str, LedgerFile]
    """The records that are not byte for byte the same, by path, sorted."""
    blanks_held: tuple[Collection[str], Collection[str]]
    """The blanks of each version, the older first."""
    newer_contributions: Mapping[str, Any] | None
    """What each blank of the newer version contributes, where that is known."""
    rules_differ: bool
    """Whether what every blank is judged by differs: the shop's rules, its studies of measuring."""
    most_judged: int | None = None
    """With more changed blanks than this, or with other rules, no blank is judged."""

    @cached_property
    def judges_any(self) -> bool:
        """Whether any blank is judged."""
        if self.most_judged is None:
            return True
        return len(self.changed_blanks) <= self.most_judged and not self.rules_differ

    @property
    def judges_all(self) -> bool:
        """Whether all blanks are judged: there are other rules for them."""
        return self.judges_any and self.rules_differ

    @property
    def knows_older_contributions(self) -> bool:
        """Whether `contributions` knows them of all blanks of the older version."""
        return self.judges_any or (self.newer_contributions is not None and not self.rules_differ)

    @cached_property
    def blanks(self) -> set[str]:
        """All blanks of both versions."""
        return {*self.blanks_held[0], *self.blanks_held[1]}

    @cached_property
    def of_changed_suppliers(self) -> set[str]:
        """The blanks of suppliers whose file differs: without that file, each has a fault."""
        return {
            key
            for key in self.blanks
            if f"suppliers/{key.split('/')[0]}.yaml" in self.changed_files
        }

    @cached_property
    def changed_blanks(self) -> dict[str, list[str]]:
        """The changed records of each blank that may differ."""
        found: dict[str, list[str]] = {key: [] for key in self.of_changed_suppliers}
        for path, file in self.changed_files.items():
            if file.blank:
                found.setdefault(file.blank, []).append(path)
        return found

    def _needs_every_blank(self, side: int) -> bool:
        """Say whether all blanks of a version must be read, for what they contribute."""
        if not self.judges_any:
            return False
        return self.rules_differ or (side == 1 and self.newer_contributions is None)

    @cached_property
    def requests(self) -> list[BlankRequest]:
        """The blanks that must be read: those that differ, and those of which nothing is known."""
        changed = self.changed_blanks
        every = [self._needs_every_blank(side) for side in (0, 1)]
        found = []
        for key in sorted(self.blanks):
            older, newer = (
                key in self.blanks_held[side] and (every[side] or key in changed) for side in (0, 1)
            )
            if key in changed or older or newer:
                found.append(BlankRequest(key, tuple(changed.get(key, ())), (older, newer)))
        return found

    @property
    def may_be_judged(self) -> set[str]:
        """The blanks that may have to be judged."""
        return self.blanks if self.judges_all else set(self.changed_blanks)

    def blanks_read(self, side: int) -> set[str]:
        """Return the blanks whose records of one version are read."""
        return self.may_be_judged | {
            request.key for request in self.requests if request.changed_paths or request.sides[side]
        }

    def contributions(
        self, reads: Sequence[ReadBlank], judged: Sequence[str]
    ) -> tuple[dict[str, Any], dict[str, Any]]:
        """Return what each blank without a fault contributes at each version.

        The blanks of *judged* contribute what they have at each version, all others as said above.
        """
        old, new = (self._as_read(side, reads, judged) for side in (0, 1))
        if not self._needs_every_blank(1):
            new = _without(self.newer_contributions or {}, judged) | new
        if not self.rules_differ:
            old = _without(new, judged) | old
        return old, new

    def _as_read(
        self, side: int, reads: Sequence[ReadBlank], judged: Sequence[str]
    ) -> dict[str, Any]:
        """Return what was read of one version: of every blank, or of those that are judged."""
        given = {read.key: read.contributions[side] for read in reads}
        keys = sorted(self.blanks_held[side]) if self._needs_every_blank(side) else judged
        return {key: given[key] for key in keys if given.get(key) is not None}


def _without(contributions: Mapping[str, Any], keys: Sequence[str]) -> dict[str, Any]:
    left_out = set(keys)
    return {key: given for key, given in contributions.items() if key not in left_out}
