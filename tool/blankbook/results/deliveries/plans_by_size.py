"""The sampling plans of a shop by the size of a delivery, to read off before counting."""

from dataclasses import dataclass
from itertools import groupby

from blankbook.records.model import Inspection
from blankbook.results.methods.sampling_plans import code_letter, plan_cell
from blankbook.results.methods.sampling_tables import CODE_LETTERS, SAMPLE_SIZES, Severity

LARGEST_DELIVERY = 10_000
"""Larger deliveries than a small shop's are left out."""


@dataclass(frozen=True, slots=True)
class PlanRange:
    """The sizes of delivery that share one plan."""

    least: int
    most: int
    pieces: int
    """How many to look at; all of them where fewer came."""
    accept: int
    reject: int


def plans_by_size(rules: Inspection, severity: Severity) -> list[PlanRange]:
    """Return the plans for deliveries of 2 to `MOST` pieces, sizes with the same plan together.

    While acceptance is stopped they are those of tightened inspection, which follows a repair.
    """
    strict = Severity.TIGHTENED if severity == Severity.STOPPED else severity
    found = []
    least = 2
    for most, _ in CODE_LETTERS:
        if most is None or most > LARGEST_DELIVERY:
            break
        there, accept, reject = plan_cell(code_letter(most, rules.level), rules.aql, strict)
        found.append(PlanRange(least, most, SAMPLE_SIZES[strict][there], accept, reject))
        least = most + 1
    return [
        PlanRange(group[0].least, group[-1].most, *plan)
        for plan, same in groupby(found, key=lambda row: (row.pieces, row.accept, row.reject))
        if (group := list(same))
    ]
