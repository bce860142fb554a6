"""Single sampling plans: how many pieces to look at, and how many may be bad.

Source: MIL-STD-105E, single sampling, tables I, II-A, II-B and II-C. The scheme is meant for a
series of deliveries from one supplier; for a single one, judge the plan by its operating
characteristic: the chance that a delivery of a given quality is accepted.
"""

from dataclasses import dataclass
from enum import StrEnum

from blankbook.results.methods.proportions import chance_at_most, chance_at_most_in_lot
from blankbook.results.methods.sampling_tables import (
    CODE_LETTERS,
    DIAGONALS,
    EXCEPTIONS,
    LAST_SHORT_DIAGONAL,
    SAMPLE_SIZES,
    TABLE_AQLS,
    TABLE_LEVELS,
    UPWARD_DIAGONAL,
    AcceptReject,
    Severity,
)


@dataclass(frozen=True, slots=True)
class Plan:
    """A single sampling plan for one delivery."""

    letter: str
    """The code letter whose row holds the plan: the lot's own, or where an arrow leads."""
    sample_size: int
    """How many pieces to look at; never more than there are."""
    accept: int
    """Acceptance number: up to so many bad pieces, the delivery is accepted."""
    reject: int
    """Rejection number: from so many bad pieces on, it is rejected."""
    whole_lot: bool
    """Whether the sample is the whole delivery."""


class Outcome(StrEnum):
    """How the inspection of a delivery ended."""

    ACCEPTED = "accepted"
    BETWEEN = "accepted, between the two numbers"
    """On reduced inspection: this delivery is accepted, and the next is inspected normally."""
    REJECTED = "rejected"


def code_letter(lot_size: int, level: str) -> str:
    """Return the code letter of a lot.

    Source: MIL-STD-105E, table I.
    Raises: ValueError for a lot without pieces, or a level that the table does not have.
    """
    if lot_size < 1:
        raise ValueError(f"must be a lot of at least one piece, found {lot_size}")
    if level not in TABLE_LEVELS:
        raise ValueError(f"must be an inspection level ({', '.join(TABLE_LEVELS)}), found {level}")
    row = next(row for largest, row in CODE_LETTERS if largest is None or lot_size <= largest)
    return row[TABLE_LEVELS.index(level)]


def single_plan(lot_size: int, level: str, aql: float, severity: Severity) -> Plan:
    """Return the single sampling plan for a lot, with arrows followed to their letter's sample.

    Where the sample would take the whole lot, or more, every piece is inspected.

    Source: MIL-STD-105E, tables I and II.
    Raises: ValueError for a lot, level, AQL or severity that the tables do not have.
    """
    letter, accept, reject = plan_cell(code_letter(lot_size, level), aql, severity)
    size = SAMPLE_SIZES[severity][letter]
    return Plan(letter, min(size, lot_size), accept, reject, size >= lot_size)


def plan_cell(letter: str, aql: float, severity: Severity) -> tuple[str, int, int]:
    """Return the letter that a cell of the master table leads to, with its two numbers.

    An arrow leads along the column to the first cell with numbers; one that points off the foot of
    the table turns upward.
    """
    if severity not in SAMPLE_SIZES:
        raise ValueError(f"must be a severity that has a table, found {severity.value}")
    if aql not in TABLE_AQLS:
        raise ValueError(f"must be one of the AQLs of the standard, found {aql}")
    letters = list(SAMPLE_SIZES[severity])
    start, column = letters.index(letter), TABLE_AQLS.index(aql)
    down, up = letters[start:], letters[start::-1]
    roads = (up, down) if _points_up(severity, letter, start + column) else (down, up)
    for road in roads:
        for there in road:
            numbers = _numbers(severity, there, letters.index(there) + column)
            if numbers:
                return there, *numbers
    raise ValueError(f"no plan for letter {letter} at AQL {aql}")


def _numbers(severity: Severity, letter: str, diagonal: int) -> AcceptReject | None:
    """Return the numbers of one cell; None where it holds an arrow."""
    row = EXCEPTIONS.get((severity, letter), {})
    if diagonal in row:
        return row[diagonal]
    return None if _is_past(letter, diagonal) else DIAGONALS[severity].get(diagonal)


def _points_up(severity: Severity, letter: str, diagonal: int) -> bool:
    return diagonal == UPWARD_DIAGONAL[severity] or _is_past(letter, diagonal)


def _is_past(letter: str, diagonal: int) -> bool:
    """Say whether a cell lies right of the last numbers of its row."""
    return diagonal > (LAST_SHORT_DIAGONAL if letter > "E" else max(DIAGONALS[Severity.NORMAL]))


def plan_outcome(plan: Plan, bad: int) -> Outcome:
    """Return the outcome for *bad* pieces found in the plan's sample.

    Only reduced plans have a gap between the two numbers.
    """
    if bad <= plan.accept:
        return Outcome.ACCEPTED
    return Outcome.REJECTED if bad >= plan.reject else Outcome.BETWEEN


def acceptance_chance(plan: Plan, share: float) -> float:
    """Return the chance that a delivery is accepted where *share* of the making is bad.

    Binomial: the delivery is itself a draw from what the supplier makes, so this holds too where
    the sample is the whole delivery. Between the two numbers of a reduced plan it is accepted.
    """
    return chance_at_most(plan.reject - 1, plan.sample_size, share)


def acceptance_chance_in_lot(plan: Plan, bad: int, lot: int) -> float:
    """Return the chance that a lot with *bad* bad pieces is accepted; hypergeometric."""
    return chance_at_most_in_lot(plan.reject - 1, plan.sample_size, bad, lot)


def share_accepted_at(plan: Plan, chance: float) -> float:
    """Return the share bad at which a delivery is accepted with the wanted *chance*.

    At 0.95 it is the producer's risk quality, at 0.10 the consumer's. It is 1.0 where the plan can
    reject nothing, for faults are counted and a piece can have several.

    Source: the binomial tail solved for its share, a quantile of the beta distribution.
    """
    from scipy import special

    good = plan.sample_size - (plan.reject - 1)
    return float(special.betaincinv(plan.reject, good, 1 - chance)) if good > 0 else 1.0


def bad_accepted_at(plan: Plan, lot: int, chance: float) -> int:
    """Return the largest count bad in a lot that is accepted with at least the wanted *chance*."""
    low, high = 0, lot
    while low < high:
        middle = (low + high + 1) // 2
        if acceptance_chance_in_lot(plan, middle, lot) >= chance:
            low = middle
        else:
            high = middle - 1
    return low
