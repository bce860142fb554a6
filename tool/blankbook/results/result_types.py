"""What every check takes and gives: readings and policy in, answers out.

A check is a module with one `Check`, and one line in `blankbook.results.checks.all_checks.CHECKS`.
The terminal, the site and the JSON show the `Result` values it returns without knowing the check.
The types of `blankbook.results.spread_types` are imported from here too.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from blankbook.records.model import Blank, Chart, Decision, Round, Shop
from blankbook.results.quantities import Quantity
from blankbook.results.spread_types import (
    NOTHING_LEARNED,
    Learned,
    Spread,
    UncertaintyBudget,
    UncertaintyPart,
)
from blankbook.results.standing.newest_decision import newest_decision
from blankbook.results.standing.standing_types import Standing
from blankbook.words.answers import Advice, Answer

if TYPE_CHECKING:
    from blankbook.results.causes.posterior import Posterior

__all__ = [
    "NOTHING_LEARNED",
    "Case",
    "Check",
    "Explanation",
    "Judged",
    "Learned",
    "Lot",
    "Number",
    "Purchase",
    "Result",
    "Spread",
    "StandIn",
    "UncertaintyBudget",
    "UncertaintyPart",
    "Verdict",
]


@dataclass(frozen=True, slots=True)
class Number:
    """A number with its unit and, where it has them, its limits at the shop's risk.

    One-sided limits of the number itself, unless its name says what lies between them.
    """

    name: Quantity
    value: float
    unit: str
    """``mm``, ``%``, ``g/m2``, ``pieces``, ``count``, ``share``, ``chance`` (0 to 1) or
    ``grade`` (5 is best)."""
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True, slots=True)
class Result:
    """One answer to one question, with the reason and the numbers behind it."""

    check: str
    answer: Answer
    reason: str
    """One sentence as a shop would say it, lengths in the shop's unit."""
    word: str = ""
    """The finer word where the check has one: true, short, long, collapsed, reversed …"""
    size: str = ""
    next_size: str = ""
    """The larger label, where two neighbours are compared."""
    point: str = ""
    piece: str = ""
    lot: str = ""
    part: str = ""
    """What was graded: seams, cracking; a key of `blankbook.words.grade_scales`."""
    method: str = ""
    """How it was decorated; a key of `blankbook.words.decoration_methods.METHODS`."""
    material: str = ""
    """What it was decorated with, in the shop's words."""
    cycles: int | None = None
    round: str = ""
    """The round that the evidence comes from."""
    delivery: str = ""
    """The delivery that is judged."""
    numbers: tuple[Number, ...] = ()
    piece_values: tuple[float, ...] = ()
    """What each piece adds to the first number, which is their mean; where a chart shows them."""
    more_pieces: int | None = None
    """How many more pieces (per size) would settle it; None where it is settled, or none would."""
    deciding: bool = True
    """Whether it counts in the verdict, where its check is required."""
    alarms: tuple[str, ...] = ()
    """The lots that lie beyond the limits of what lots usually do."""

    def number(self, name: Quantity) -> Number | None:
        """Return the number called *name*, if the result carries it."""
        return next((number for number in self.numbers if number.name == name), None)


@dataclass(frozen=True, slots=True)
class StandIn:
    """A blank that could stand in for another."""

    key: str
    name: str
    distance: float
    """In tolerances, over what both were measured at; rounded to a tenth."""
    shared: int
    """How many sizes at how many points of measure that rests on."""
    instead: Mapping[str, tuple[str, float]]
    """By size: the size to order instead, and how far it is from it, in tolerances."""
    differs: tuple[str, ...]
    """What else is different, in words."""
    decision: str
    """What a person decided on it, "" where nobody has."""


@dataclass(frozen=True, slots=True)
class Case:
    """What a check may look at: one blank, the round that is judged, and the policy."""

    shop: Shop
    blank: Blank
    round: Round | None
    """The newest round with readings; None where nothing was measured."""
    chart: Chart | None
    """The chart that was in force when the judged round was bought."""
    spreads: Mapping[str, Spread]
    """By point of measure, for this blank."""
    posterior: "Posterior"
    """What all readings say together."""
    learned: Learned = NOTHING_LEARNED
    """What the whole ledger teaches about it."""
    whole: Blank | None = None
    """The blank with all that was measured, where ``blank`` leaves out what runs along other lines;
    see `blankbook.results.comparable_lines`."""


@dataclass(frozen=True, slots=True)
class Check:
    """A question asked of every blank."""

    key: str
    title: str
    question: str
    rule: str
    """How the answer is found, in the shop's words."""
    source: str
    judge: Callable[[Case], list[Result]] = field(compare=False)
    formula: str
    """In plain signs, readable aloud; a line for each. `blankbook.results.worked` works it out."""


@dataclass(frozen=True, slots=True)
class Explanation:
    """A possible cause of what failed."""

    key: str
    says: str
    odds: float
    """Posterior probability among the explanations weighed, 0 to 1."""
    because: str


@dataclass(frozen=True, slots=True)
class Purchase:
    """The cheapest purchase that would tell the two likeliest causes apart."""

    sizes: tuple[str, ...]
    each: int
    another_lot: bool
    """Whether the pieces must come from another lot."""
    chance: float
    """The chance that it leaves the right cause with odds of nine to one or better."""
    between: tuple[str, str]
    """What the two causes say."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """What the evidence advises."""

    advice: Advice
    headline: str
    """The one sentence that matters."""
    reasons: tuple[str, ...]
    next_step: str
    """The next thing to do."""
    orderable: tuple[str, ...] = ()
    """The sizes that may be ordered on this evidence, smallest first."""
    together: float | None = None
    """The chance that all required sizes and steps are sound at once; None where none is asked."""
    against: bool = False
    """Whether something speaks against it, where it is neither approved nor settled."""


@dataclass(frozen=True, slots=True)
class Lot:
    """One round at one point: its distance from the chart in force at the time, millimetres."""

    round: Round
    off: float
    pieces: int
    values: tuple[tuple[str, float], ...] = ()
    """Each piece's size, and its distance from the chart."""
    by_size: Mapping[str, float] = field(default_factory=dict)
    """The mean distance of each size, smallest first."""
    allowed: float = 0.0
    """The tolerance of that chart, millimetres."""
    colours: int = 1
    """How many colours were measured."""

    def count(self, size: str) -> int:
        """Return how many pieces of a size there are."""
        return sum(own == size for own, _ in self.values)

    def error(self, spread: Spread) -> float:
        """Return the standard error of the mean, from the pieces within the lot."""
        return float(spread.deviation / self.pieces**0.5)


@dataclass(frozen=True, slots=True)
class Judged:
    """Everything that follows for one blank: terminal, site and JSON show the same."""

    blank: Blank
    case: Case
    results: tuple[Result, ...]
    explanations: tuple[Explanation, ...]
    verdict: Verdict
    standing: Standing
    """What holds today; lists, page tops and orders show this and nothing else."""
    purchase: Purchase | None = None
    budgets: tuple[UncertaintyBudget, ...] = ()
    """One for each deciding point that was measured."""
    lots: Mapping[str, Sequence[Lot]] = field(default_factory=dict)
    """At each deciding point: rounds and deliveries that a chart speaks of, the oldest first."""

    @property
    def decision(self) -> Decision | None:
        """The newest decision of a person, if there is one."""
        decided = newest_decision(self.blank)
        return decided.made if decided else None

    def of(self, check: str) -> tuple[Result, ...]:
        """Return the results of one check, in order."""
        return tuple(result for result in self.results if result.check == check)
