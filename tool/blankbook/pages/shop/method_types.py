"""The method page as its template shows it."""

from collections.abc import Mapping
from dataclasses import dataclass

from blankbook.pages.blank.planning_table import PlanningTable
from blankbook.pages.page_types import AnswerSign, ChartImage
from blankbook.pages.shop.order_method import OrderMethod


@dataclass(frozen=True, slots=True)
class ContentsLine:
    """A line of the list of contents."""

    id: str
    title: str


@dataclass(frozen=True, slots=True)
class SignMeaning:
    """An answer or an advice, and what it means."""

    sign: AnswerSign
    meaning: str


@dataclass(frozen=True, slots=True)
class StandingRule:
    """One row of the table that a standing follows from."""

    name: str
    when: str
    ceiling: AnswerSign
    opens: str
    sentence: str


@dataclass(frozen=True, slots=True)
class WorkedStep:
    """One line of a worked example: what it works out, from what, and what comes of it."""

    what: str
    put_in: str
    comes: str
    answer: AnswerSign | None
    """The answer that follows; the line then says no more than why."""


@dataclass(frozen=True, slots=True)
class ExampleRow:
    """The example's readings of one piece at one stage."""

    piece: str
    lot: str
    stage: str
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WorkedExamples:
    """The worked examples of the rules that are no check."""

    readings: tuple[ExampleRow, ...]
    small: str
    """The readings of the small lot, in words."""
    verdict: tuple[WorkedStep, ...]
    verdict_small: tuple[WorkedStep, ...]
    reading: tuple[WorkedStep, ...]
    causes: tuple[WorkedStep, ...]
    tags: tuple[WorkedStep, ...]
    purchase: tuple[WorkedStep, ...]
    planned: tuple[WorkedStep, ...]
    zero: tuple[WorkedStep, ...]


@dataclass(frozen=True, slots=True)
class CheckRule:
    """One check with its rule, its formula, and the formula worked out."""

    key: str
    title: str
    question: str
    rule: str
    source: str
    required: bool
    formula: tuple[str, ...]
    worked: tuple[WorkedStep, ...]


@dataclass(frozen=True, slots=True)
class CauseBelief:
    """A cause, and how far it is believed before the evidence."""

    title: str
    weight: str
    stays: str


@dataclass(frozen=True, slots=True)
class TrialRow:
    """One promise, and how it was kept over simulated rounds."""

    what: str
    promise: str
    seen: str
    cases: int
    held: str


@dataclass(frozen=True, slots=True)
class TrialGroup:
    """The promises of one kind."""

    title: str
    rows: tuple[TrialRow, ...]


@dataclass(frozen=True, slots=True)
class OperatingRow:
    """How often a style is approved of which one size is off by so many tolerances."""

    off: str
    approved: tuple[str, ...]
    """By what was bought, times in 100."""


@dataclass(frozen=True, slots=True)
class OperatingTable:
    """The operating characteristic of the whole rule."""

    bought: tuple[str, ...]
    rows: tuple[OperatingRow, ...]
    cases: int
    """Styles behind each cell."""


@dataclass(frozen=True, slots=True)
class TrialsTable:
    """The simulation, as it was last run and written."""

    rounds: int
    each: int
    """Of each other kind than what is believed."""
    seed: int
    date: str
    operating: OperatingTable
    drawn: ChartImage
    """The same as a picture."""
    groups: tuple[TrialGroup, ...]


@dataclass(frozen=True, slots=True)
class PointRules:
    """What the shop asks and assumes at one point."""

    name: str
    deciding: bool
    tolerance: str
    step: str
    step_tolerance: str
    spread: str
    worth: str


@dataclass(frozen=True, slots=True)
class MethodContext:
    """All that the method page shows."""

    up: str
    contents: tuple[ContentsLine, ...]
    unit: str
    unit_words: str
    answers: tuple[SignMeaning, ...]
    advice: tuple[SignMeaning, ...]
    kinds: tuple[SignMeaning, ...]
    """What a standing may be."""
    rules: tuple[StandingRule, ...]
    checks: tuple[CheckRule, ...]
    examples: WorkedExamples
    risk: str
    twice: str
    sure: str
    points: tuple[PointRules, ...]
    wash: Mapping[str, str]
    """The limit of each direction, in percent."""
    mass: str
    mix_up: str
    skew: str
    least: tuple[str, ...]
    causes: tuple[CauseBelief, ...]
    tube: str
    planning: PlanningTable
    zero: tuple[str, ...]
    trials: TrialsTable
    orders: OrderMethod
