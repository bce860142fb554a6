"""Deliveries as templates show them: what came, what was found, and the plan of the next."""

from dataclasses import dataclass

from blankbook.pages.blank.round_types import PagePhoto, ReadingsTable
from blankbook.pages.page_types import AnswerSign, FactLine
from blankbook.pages.record_sources import RecordSource


@dataclass(frozen=True, slots=True)
class NextDelivery:
    """How the next delivery is inspected, and what that lets through."""

    says: str
    why: str
    stopped: bool
    like: str
    """Which delivery it is taken to be as large as."""
    pieces: int
    producers_risk_count: int
    """Bad pieces with which it is accepted 95 times in 100."""
    consumers_risk_count: int
    """Bad pieces with which it is accepted fewer than 10 times in 100."""
    producers_risk_quality: str
    consumers_risk_quality: str
    """The shares that the supplier may make bad for the same."""
    shares: tuple[str, ...]
    chances: tuple[str, ...]
    """For each share, how often it is accepted."""


@dataclass(frozen=True, slots=True)
class DecisionOnDelivery:
    """What a person decided on a delivery."""

    word: str
    date: str
    by: str
    reason: str
    against: bool
    """Whether it goes against the plan."""


@dataclass(frozen=True, slots=True)
class FaultRow:
    """What was bad, and in how many pieces."""

    piece: str
    size: str
    colour: str
    what: str
    note: str
    count: str


@dataclass(frozen=True, slots=True)
class ComparedRow:
    """One size against the approved round."""

    size: str
    answer: AnswerSign
    pieces: str
    """How many then, and now."""
    moved: str
    limits: str
    margin: str


@dataclass(frozen=True, slots=True)
class ComparedPoint:
    """One point of measure against the approved round."""

    point: str
    rows: tuple[ComparedRow, ...]


@dataclass(frozen=True, slots=True)
class DeliveredStepRow:
    """One grade step within a delivery."""

    point: str
    sizes: str
    asked: str
    found: str
    limits: str
    word: str


@dataclass(frozen=True, slots=True)
class DeliveryArticle:
    """All that is shown of one delivery."""

    key: str
    name: str
    source: RecordSource
    lot: str
    pieces: int
    answer: AnswerSign
    outcome: str
    most_faulty: int
    """The most pieces of the whole delivery that may have a fault, by those looked at."""
    most_outside: int | None
    """The most that may lie outside the tolerance, by those measured; None without any."""
    whole: bool
    """Whether every piece was looked at."""
    severity: str
    then: str
    table: str
    """The page that it is looked over with; empty where somebody has looked."""
    facts: tuple[FactLine, ...]
    decision: DecisionOnDelivery | None
    faults: tuple[FaultRow, ...]
    note: str
    photos: tuple[PagePhoto, ...]
    approved: str
    """The key of the round it is compared with."""
    compared: tuple[ComparedPoint, ...]
    steps: tuple[DeliveredStepRow, ...]
    readings: ReadingsTable | None


@dataclass(frozen=True, slots=True)
class DeliveryLine:
    """One delivery in short, with the page that has all of it."""

    page: str
    key: str
    name: str
    lot: str
    pieces: int
    answer: AnswerSign
    outcome: str
    against: bool


@dataclass(frozen=True, slots=True)
class BlankDeliveries:
    """The deliveries of a blank: the next, the newest, and those before."""

    unit: str
    next: NextDelivery | None
    """None where none is to be expected."""
    rows: tuple[DeliveryArticle, ...]
    """The newest alone, if there is one."""
    before: tuple[DeliveryLine, ...]
    earlier: int
    """How many there are before the newest, listed or not."""


@dataclass(frozen=True, slots=True)
class EarlierDeliveries:
    """The deliveries before the newest."""

    unit: str
    rows: tuple[DeliveryArticle, ...]
