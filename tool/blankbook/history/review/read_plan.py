"""Which blanks a review has to read, and what all of them teach at each version."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from blankbook.history.review.read_blanks import Asked, Read
from blankbook.text.ledger_files import LedgerFile


@dataclass(frozen=True)
class Teaching:
    """What differs between two versions, and what is known of the rest.

    Where the rules are the same, the older version is held against what the newer one teaches.
    """

    touched: Mapping[str, LedgerFile]
    """The records that are not byte for byte the same, by path, sorted."""
    held: tuple[Collection[str], Collection[str]]
    """The blanks of each version, the older first."""
    others: Mapping[str, Any] | None
    """What each blank of the newer version teaches, where that is known."""
    rules_differ: bool
    """Whether what every blank is judged by differs: the shop's rules, its measuring."""
    most: int | None = None
    """So many touched blanks are judged at most; with more, or with other rules, none is."""

    @cached_property
    def judges(self) -> bool:
        """Whether any blank is judged."""
        return self.most is None or (len(self.own) <= self.most and not self.rules_differ)

    @property
    def judges_all(self) -> bool:
        """Whether all blanks are judged: there are other rules for them."""
        return self.judges and self.rules_differ

    @property
    def is_known_before(self) -> bool:
        """Whether it is worked out what all blanks teach at the older version."""
        return self.judges or (self.others is not None and not self.rules_differ)

    @cached_property
    def blanks(self) -> set[str]:
        """All blanks of both versions."""
        return {*self.held[0], *self.held[1]}

    @cached_property
    def supplied(self) -> set[str]:
        """The blanks of suppliers whose file differs: without one they have a fault."""
        found = self.blanks
        return {key for key in found if f"suppliers/{key.split('/')[0]}.yaml" in self.touched}

    @cached_property
    def own(self) -> dict[str, list[str]]:
        """By blank that may differ: its records that are touched."""
        found: dict[str, list[str]] = {key: [] for key in self.supplied}
        for path, file in self.touched.items():
            if file.blank:
                found.setdefault(file.blank, []).append(path)
        return found

    def _is_whole(self, side: int) -> bool:
        """Say whether it must be known of all blanks of a version what they teach."""
        return self.judges and (self.rules_differ or (side == 1 and self.others is None))

    @cached_property
    def asked(self) -> list[Asked]:
        """The blanks that must be read: those that differ, and those of which nothing is known."""
        own = self.own
        whole = [self._is_whole(side) for side in (0, 1)]
        found = []
        for key in sorted(self.blanks):
            wanted = [key in self.held[side] and (whole[side] or key in own) for side in (0, 1)]
            if key in own or any(wanted):
                found.append(Asked(key, tuple(own.get(key, ())), (wanted[0], wanted[1])))
        return found

    @property
    def kept_whole(self) -> set[str]:
        """The blanks that may have to be judged."""
        return self.blanks if self.judges_all else set(self.own)

    def read_at(self, side: int) -> set[str]:
        """Return the blanks whose records of one version are asked for."""
        asked = {one.key for one in self.asked if one.touched or one.sides[side]}
        return asked | self.kept_whole

    def taught(
        self, reads: Sequence[Read], keys: Sequence[str]
    ) -> tuple[dict[str, Any], dict[str, Any]]:
        """Return what each blank teaches at each version, where it has no fault.

        *keys* are judged at both.
        """
        read = {one.key: one for one in reads}
        given: list[dict[str, Any]] = [{}, {}]
        for side in (0, 1):
            for key in sorted(self.held[side]) if self._is_whole(side) else keys:
                if key in read and (value := read[key].taught[side]) is not None:
                    given[side][key] = value
        old, new = given
        if not self._is_whole(1):
            new = _without(self.others or {}, keys) | new
        if not self.rules_differ:
            old = _without(new, keys) | old
        return old, new


def _without(taught: Mapping[str, Any], keys: Sequence[str]) -> dict[str, Any]:
    apart = set(keys)
    return {key: one for key, one in taught.items() if key not in apart}
