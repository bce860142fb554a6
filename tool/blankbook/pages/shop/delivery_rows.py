"""The deliveries of one blank, as its supplier's page lists them."""

from dataclasses import dataclass

from blankbook.pages.blank.delivery_tables import plan_sign
from blankbook.pages.page_types import AnswerSign
from blankbook.results.checks.delivery import delivery_results, is_against_plan
from blankbook.results.result_types import Judged


@dataclass(frozen=True, slots=True)
class DeliveryRow:
    """One delivery as its supplier's page lists it."""

    key: str
    day: str
    lot: str
    pieces: int
    inspected: int
    bad: int
    again: bool
    """Whether it was handed in again."""
    severity: str
    answer: AnswerSign
    then: str
    decided: str
    against: bool


def delivery_rows(judged: Judged) -> tuple[DeliveryRow, ...]:
    """Return one row for each delivery of a blank, the oldest first."""
    return tuple(
        DeliveryRow(
            key=result.delivery.key,
            day=result.delivery.date.isoformat(),
            lot=result.delivery.lot,
            pieces=result.delivery.size,
            inspected=result.inspection.inspected,
            bad=result.inspection.bad,
            again=bool(result.delivery.again),
            severity=str(result.inspection.severity),
            answer=plan_sign(result.answer),
            then=result.then,
            decided=result.delivery.decision.decision if result.delivery.decision else "",
            against=is_against_plan(result),
        )
        for result in delivery_results(judged.case)
    )
