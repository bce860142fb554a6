"""One rule of a standing, and what it finds."""

import datetime
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from blankbook.results.standing.standing_facts import StandingFacts
from blankbook.words.answers import MayOrder


@dataclass(frozen=True, slots=True)
class RuleFinding:
    """Something that a rule found on a blank."""

    day: datetime.date | None
    """None where nothing was ever measured or decided."""
    source: str
    """The record that it stands in, by its path in the ledger."""
    clause: str
    """The beginning of a sentence, or what comes behind "Approved in S to XL;"."""
    opens: frozenset[str] = frozenset()
    """Sizes that may not be ordered because of it."""
    conditions: tuple[str, ...] = ()
    minor: bool = False
    """Whether it is over: it is no headline where anything else is."""
    known: bool = False
    """Whether it is the base: what was decided, or what the evidence says without a decision."""
    of_results: bool = False
    """Whether the results say it too, with their numbers: then those are the reasons."""
    typed: bool = False
    """Whether a person wrote the clause, however long."""


@dataclass(frozen=True, slots=True)
class Rule:
    """What holds in one case: the table of the handbook prints these words."""

    name: str
    when: str
    ceiling: MayOrder
    """A blank where it finds something may be ordered no more freely than this."""
    opens: str
    """Which sizes are open again, in words; empty for none."""
    sentence: str
    """An example of what it says."""
    find: Callable[[StandingFacts], Iterable[RuleFinding]] = field(compare=False)
