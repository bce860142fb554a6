"""Was what came as good as what was agreed? Each delivery by its sampling plan."""

from collections.abc import Sequence
from dataclasses import dataclass

from blankbook.records.model import Delivery
from blankbook.results.comparable_lines import line_mismatch
from blankbook.results.deliveries.against_approved import (
    DeliveredStep,
    PointComparison,
    delivered_steps,
    point_comparisons,
)
from blankbook.results.deliveries.delivery_words import say_outcome, say_shortages
from blankbook.results.deliveries.inspection import (
    BadPieces,
    InspectionResult,
    bad_pieces,
    inspection_result,
)
from blankbook.results.deliveries.reference_round import approved_round
from blankbook.results.deliveries.severities import (
    InspectionSeries,
    delivery_facts,
    delivery_key,
    inspection_series,
    series_from_data,
)
from blankbook.results.methods.equivalence import MoveAnswer
from blankbook.results.methods.proportions import upper_bad_in_lot
from blankbook.results.methods.sampling_plans import (
    Outcome,
    Plan,
    acceptance_chance,
    share_accepted_at,
    single_plan,
)
from blankbook.results.methods.sampling_tables import Severity
from blankbook.results.number_words import say_counted, say_length_change, say_list, say_sentences
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Check, Judged, Number, Result
from blankbook.words.answers import Answer
from blankbook.words.check_titles import CHECK_TITLES
from blankbook.words.points import POINTS

KEY = "delivery"
CASE_PACK = 72
"""Pieces of an order nobody has made yet: a case of adult shirts (common practice, no source)."""
SHARES_BAD = (0.01, 0.025, 0.04, 0.065, 0.10, 0.15, 0.25)
"""The shares bad that a plan is shown at."""


@dataclass(frozen=True, slots=True)
class DeliveryResult:
    """A delivery with its inspection and its comparison with the approved round."""

    delivery: Delivery
    bad: BadPieces
    inspection: InspectionResult
    then: str
    """What it means for how strictly the next one is inspected, in words."""
    approved: str
    """The key of the round it is compared with; empty where there is none."""
    comparisons: tuple[PointComparison, ...]
    steps: tuple[DeliveredStep, ...]
    most_faulty: int
    """How many of all its pieces may have a fault, by those looked at: the limit at the risk."""
    most_outside: int | None
    """How many may lie outside a tolerance, by those measured; None where none was."""

    @property
    def answer(self) -> Answer:
        """What the plan says."""
        if self.inspection.outcome is None:
            return Answer.NOT_SHOWN if self.inspection.inspected else Answer.NOT_TESTED
        return Answer.FAILS if self.inspection.outcome == Outcome.REJECTED else Answer.MEETS


@dataclass(frozen=True, slots=True)
class OperatingCharacteristic:
    """What a plan lets through."""

    producers_risk_quality: float
    """The share bad that is accepted 95 times in 100."""
    consumers_risk_quality: float
    """The share bad that is accepted 10 times in 100."""
    chances: tuple[tuple[float, float], ...]
    """A share bad, and the chance that such a delivery is accepted."""


def series_for(case: Case) -> InspectionSeries:
    """Return how the supplier's deliveries are inspected, by the whole ledger if it was read."""
    if case.learned.inspection:
        return series_from_data(case.learned.inspection)
    return inspection_series(delivery_facts(case.blank, case.shop), case.shop)


def delivery_results(case: Case) -> tuple[DeliveryResult, ...]:
    """Return every delivery of the blank, the oldest first."""
    follows = series_for(case)
    return tuple(_delivery_result(case, delivery, follows) for delivery in case.blank.deliveries)


def _delivery_result(case: Case, delivery: Delivery, follows: InspectionSeries) -> DeliveryResult:
    key = delivery_key(case.blank, delivery.key)
    severity = follows.steps.get(key, Severity.NORMAL)
    bad = bad_pieces(case.blank, delivery, case.shop)
    inspection = inspection_result(
        delivery.size, delivery.inspected, bad.count, severity, case.shop.inspection
    )
    before = approved_round(case.blank, delivery)
    return DeliveryResult(
        delivery,
        bad,
        inspection,
        follows.whys.get(key, ""),
        before.key if before else "",
        tuple(point_comparisons(case, delivery)),
        tuple(delivered_steps(case, delivery)),
        upper_bad_in_lot(bad.count - bad.by_tape, delivery.inspected, delivery.size, case.shop.risk)
        if delivery.inspected
        else delivery.size,
        upper_bad_in_lot(_outside(bad), bad.taped, delivery.size, case.shop.risk)
        if bad.taped
        else None,
    )


def _outside(bad: BadPieces) -> int:
    """Return how many pieces the tape found outside, those with a written fault among them."""
    return len({at.piece for at in bad.outside})


def operating_characteristic(plan: Plan) -> OperatingCharacteristic:
    """Return what a plan lets through.

    The pieces are taken as a draw from all that the supplier makes, so the chances are binomial.
    """
    chances = tuple((share, acceptance_chance(plan, share)) for share in SHARES_BAD)
    return OperatingCharacteristic(
        share_accepted_at(plan, 0.95), share_accepted_at(plan, 0.10), chances
    )


def next_plan(case: Case) -> tuple[int, Severity, Plan]:
    """Return a likely size of the next delivery, how strictly it is inspected, and its plan.

    The size is that of the newest delivery, or a case where none came yet. While acceptance is
    stopped the plan is that of tightened inspection, which a delivery after a repair must pass.
    """
    came = case.blank.deliveries
    size = came[-1].size if came else CASE_PACK
    then = series_for(case).then
    strict = Severity.TIGHTENED if then == Severity.STOPPED else then
    rules = case.shop.inspection
    return size, then, single_plan(size, rules.level, rules.aql, strict)


def is_expected(judged: Judged) -> bool:
    """Say whether another delivery may come: one came before, or the blank may be ordered."""
    return bool(judged.blank.deliveries) or judged.standing.may_be_ordered


def judge(case: Case) -> list[Result]:
    """Return one answer for each delivery, the newest first."""
    found = delivery_results(case)
    if not found:
        reason = "no delivery was inspected yet"
        return [Result(KEY, Answer.NOT_TESTED, reason, deciding=False)]
    return [_judge(case, result, newest=result is found[-1]) for result in reversed(found)]


def _judge(case: Case, result: DeliveryResult, *, newest: bool) -> Result:
    delivery, inspection = result.delivery, result.inspection
    return Result(
        KEY,
        result.answer,
        _reason(case, result),
        word=str(inspection.outcome or ""),
        lot=delivery.lot,
        delivery=delivery.key,
        numbers=(
            Number(Quantity.DELIVERED, delivery.size, "pieces"),
            Number(Quantity.TO_LOOK_AT, inspection.asked.sample_size, "pieces"),
            Number(Quantity.INSPECTED, inspection.inspected, "pieces"),
            Number(Quantity.BAD, inspection.bad, "pieces"),
            Number(Quantity.ACCEPTANCE_NUMBER, inspection.applied.accept, "pieces"),
            Number(Quantity.REJECTION_NUMBER, inspection.applied.reject, "pieces"),
            Number(Quantity.STILL_TO_LOOK_AT, inspection.more, "pieces"),
            Number(Quantity.FAULTY_IN_ALL, result.most_faulty, "pieces"),
            *(
                [Number(Quantity.OUTSIDE_IN_ALL, result.most_outside, "pieces")]
                if result.most_outside is not None
                else []
            ),
        ),
        deciding=newest,  # an older delivery does not bear on the next order
    )


def _reason(case: Case, result: DeliveryResult) -> str:
    delivery, inspection = result.delivery, result.inspection
    again = ", handed in again" if delivery.again else ""
    head = f"{delivery.date}, {say_counted(delivery.size, 'piece')}{again}"
    if inspection.severity != Severity.STOPPED:
        head = f"{head}, {inspection.severity} inspection"
    parts = [f"{head}: {say_outcome(inspection)}", *_remarks(case, result)]
    return say_sentences(*parts)


def _remarks(case: Case, result: DeliveryResult) -> list[str]:
    """Return what else the shop should know of a delivery before it keeps it."""
    delivery, taped, parts = result.delivery, result.bad.taped, list[str]()
    if result.most_outside is not None and taped < delivery.inspected:
        most = f"up to {result.most_outside} of {delivery.size} may be outside"
        parts.append(f"only {say_counted(taped, 'piece')} measured: {most}")
    uncharted = [
        found for p in case.shop.deciding_points if (found := line_mismatch(case, delivery, p))
    ]
    parts += [f"{found.says}, so the tape found none bad there" for found in uncharted]
    if result.bad.uncharted and not uncharted:
        parts.append("no chart speaks of the measured pieces, so the tape found none bad")
    if result.bad.as_approved:
        parts.append("without a chart, each piece was checked against the approved round")
    if result.bad.lesser:
        names = list(dict.fromkeys(f"{e.piece} {POINTS[e.point].name}" for e in result.bad.lesser))
        parts.append(f"outside at a point that does not decide, so not counted: {say_list(names)}")
    parts += _say_moved(case, result.comparisons)
    if short := say_shortages(delivery):
        parts.append(short)
    if delivery.decision:
        made = delivery.decision
        parts.append(
            f"{made.decision} by {made.by}{', against the plan' * is_against_plan(result)}"
        )
    return parts


def _say_moved(case: Case, rows: Sequence[PointComparison]) -> list[str]:
    """Return the points that moved, all sizes in one line where they moved together."""
    moved = [row for row in rows if row.moved.answer == MoveAnswer.MOVED]
    whole = {row.point for row in moved if not row.size}
    shown = [row for row in moved if not row.size or row.point not in whole]
    return [
        f"against the approved round, {row.size + ' ' if row.size else ''}{POINTS[row.point].name} "
        f"has moved by {say_length_change(row.moved.difference, case.shop.unit)}"
        for row in shown
    ]


def is_against_plan(result: DeliveryResult) -> bool:
    """Say whether a person decided against the plan."""
    made = result.delivery.decision
    if made is None:
        return False
    return (made.decision == "accepted") != (result.answer == Answer.MEETS)


CHECK = Check(
    KEY,
    CHECK_TITLES[KEY],
    "Is what came as good as what was agreed?",
    "A single sampling plan says, by the size of the delivery, how many pieces to look at and how "
    "many bad ones it may hold. A piece is bad by a written fault, or where a deciding point lies "
    "outside the tolerance of the chart of that day; the reading is taken as it is, because the "
    "plan's risks are those of a plain count. With too few pieces looked at, a delivery can be "
    "rejected and not accepted. Two rejected of five in a row from one supplier make its "
    "inspection tightened, five accepted in a row make it normal again, and a fifth rejected while "
    "it is tightened stops acceptance. The measured pieces are compared with the approved round by "
    "two one-sided tests within half the tolerance.",
    "MIL-STD-105E, single sampling, tables I and II, 4.7 and 4.8; two one-sided tests, Schuirmann "
    "1987",
    judge,
    "sample size and numbers = table I by size of delivery and level, table II by AQL\n"
    "chance accepted = Σ C(n; k) × p^k × (1 − p)^(n − k), for k below the rejection number",
)
