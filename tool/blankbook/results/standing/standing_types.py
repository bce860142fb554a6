"""What holds today for one blank: the record that every list, page top and count shows."""

import datetime
from dataclasses import dataclass

from blankbook.words.answers import MayOrder

MOST_REASONS = 3
"""So many reasons are shown; the rest are counted."""


@dataclass(frozen=True, slots=True)
class DatedReason:
    """One thing that a standing follows from."""

    day: datetime.date
    says: str
    source: str
    """The record that says so, by its path in the ledger."""


@dataclass(frozen=True, slots=True)
class LeftOutSize:
    """A size that may not be ordered although others may."""

    size: str
    why: str


@dataclass(frozen=True, slots=True)
class AlikeSizes:
    """Two sizes that cannot be told apart: only one of them may be offered."""

    offer: str
    leave: str
    point: str


@dataclass(frozen=True, slots=True)
class EvidenceLots:
    """What a standing rests on."""

    day: datetime.date
    """The day of the newest round with readings."""
    lot: str
    lots: int
    """How many lots were measured in all, deliveries among them."""


@dataclass(frozen=True, slots=True)
class Standing:
    """Whether a blank may be ordered today, in which sizes, and why."""

    kind: MayOrder
    rule: str
    """The name of the rule that the sentence comes from; see `standing_rules.RULES`."""
    sizes: tuple[str, ...]
    """Those that may be ordered, smallest first."""
    sentence: str
    """At most 15 words."""
    next_step: str
    """One action."""
    accepted: bool = False
    """Whether the newest decision of a person lets it through, whatever came since."""
    conditions: tuple[str, ...] = ()
    reasons: tuple[DatedReason, ...] = ()
    """The newest first."""
    against: tuple[DatedReason, ...] = ()
    """What of them speaks against the decision that governs."""
    left_out: tuple[LeftOutSize, ...] = ()
    """Where some sizes may be ordered: the others, and why not."""
    alike: tuple[AlikeSizes, ...] = ()
    washed: str = ""
    """What the buyer of a washed shirt gets, where that is another size."""
    evidence: EvidenceLots | None = None
    """None where nothing was measured."""

    @property
    def may_be_ordered(self) -> bool:
        """Whether any size may be ordered."""
        return self.kind in {MayOrder.YES, MayOrder.CONDITIONS}

    @property
    def shown_reasons(self) -> tuple[DatedReason, ...]:
        """The reasons to show; `more_reasons` says how many there are besides."""
        return self.reasons[:MOST_REASONS]

    @property
    def more_reasons(self) -> int:
        """How many reasons are not among those shown."""
        return max(len(self.reasons) - MOST_REASONS, 0)
