"""The deliveries of one supplier over all its blanks, and how its next one is inspected."""

from collections.abc import Sequence
from dataclasses import dataclass

from blankbook.pages.blank.delivery_tables import plan_sign
from blankbook.pages.page_types import AnswerCount, AnswerSign
from blankbook.pages.shop.blank_row import BlankRow
from blankbook.records.model import Shop
from blankbook.results.deliveries.plans_by_size import plans_by_size
from blankbook.results.deliveries.severities import NONE_YET
from blankbook.results.methods.sampling_tables import Severity
from blankbook.words.answers import Answer


@dataclass(frozen=True, slots=True)
class SuppliedRow:
    """One delivery, with the blank that it brought."""

    blank: str
    path: str
    day: str
    lot: str
    pieces: int
    inspected: int
    bad: int
    again: bool
    severity: str
    answer: AnswerSign
    then: str
    decided: str
    against: bool


@dataclass(frozen=True, slots=True)
class PlanRow:
    """How many pieces to look at, where so many come."""

    sizes: str
    pieces: str
    accept: int
    reject: int


@dataclass(frozen=True, slots=True)
class SupplierDeliveries:
    """What a supplier has delivered, and how its next delivery is inspected."""

    rows: tuple[SuppliedRow, ...]
    """The newest first."""
    counts: tuple[AnswerCount, ...]
    then: str
    why: str
    stopped: bool
    level: str
    aql: str
    plans: tuple[PlanRow, ...]


def supplier_deliveries(rows: Sequence[BlankRow], shop: Shop) -> SupplierDeliveries:
    """Return the deliveries of a supplier from the rows of its blanks."""
    came = _supplied(rows)
    then, why = next(((row.then, row.why) for row in rows), (str(Severity.NORMAL), NONE_YET))
    return SupplierDeliveries(
        rows=came,
        counts=tuple(
            AnswerCount(sign, sum(delivery.answer == sign for delivery in came))
            for sign in map(plan_sign, (Answer.MEETS, Answer.FAILS, Answer.NOT_SHOWN))
        ),
        then=then,
        why=why,
        stopped=then == Severity.STOPPED,
        level=shop.inspection.level,
        aql=f"{shop.inspection.aql:g}",
        plans=tuple(
            PlanRow(
                sizes=f"{plan.least} to {plan.most}",
                pieces=f"{plan.pieces}, or all" if plan.least < plan.pieces else str(plan.pieces),
                accept=plan.accept,
                reject=plan.reject,
            )
            for plan in plans_by_size(shop.inspection, Severity(then))
        ),
    )


def _supplied(rows: Sequence[BlankRow]) -> tuple[SuppliedRow, ...]:
    """Return every delivery, the newest first; of one day, the blank's that comes last."""
    came = [(delivery, row.listed) for row in rows for delivery in row.deliveries]
    came.sort(key=lambda pair: (pair[0].day, pair[1].path, pair[0].key), reverse=True)
    return tuple(
        SuppliedRow(
            blank=blank.name,
            path=blank.path,
            day=delivery.day,
            lot=delivery.lot,
            pieces=delivery.pieces,
            inspected=delivery.inspected,
            bad=delivery.bad,
            again=delivery.again,
            severity=delivery.severity,
            answer=delivery.answer,
            then=delivery.then,
            decided=delivery.decided,
            against=delivery.against,
        )
        for delivery, blank in came
    )


def deliveries_summary(rows: Sequence[BlankRow]) -> str:
    """Return how a supplier's deliveries fared, for the list of suppliers; empty without any."""
    came = [delivery for row in rows for delivery in row.deliveries]
    if not came:
        return ""
    met = sum(delivery.answer == plan_sign(Answer.MEETS) for delivery in came)
    return f"{met} of {len(came)} accepted; next {rows[0].then}"
