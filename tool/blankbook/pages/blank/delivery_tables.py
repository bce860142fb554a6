"""Deliveries as a blank's page shows them: the plan, what was found, and what was approved."""

from collections.abc import Mapping
from dataclasses import replace

from blankbook.pages.blank.delivery_types import (
    BlankDeliveries,
    ComparedPoint,
    ComparedRow,
    DecisionOnDelivery,
    DeliveredStepRow,
    DeliveryArticle,
    DeliveryLine,
    EarlierDeliveries,
    FaultRow,
    NextDelivery,
)
from blankbook.pages.blank.page_photos import Picture, photos_of
from blankbook.pages.blank.round_tables import readings_table
from blankbook.pages.over_time.earlier_parts import LISTED, earlier_places
from blankbook.pages.page_types import AnswerSign, FactLine, facts_of
from blankbook.pages.record_sources import RecordSource
from blankbook.pages.site_paths import from_blank_page, table_path
from blankbook.pages.table.phone_page import waits
from blankbook.pages.value_words import (
    DASH,
    change_text,
    delivery_name,
    length_text,
    point_name,
    share_text,
    sign_of,
    unit_words,
)
from blankbook.results.checks.delivery import (
    DeliveryResult,
    delivery_results,
    is_against_plan,
    is_expected,
    next_plan,
    operating_characteristic,
    series_for,
)
from blankbook.results.deliveries.against_approved import DeliveredStep, PointComparison
from blankbook.results.deliveries.delivery_words import say_outcome, say_plan, say_shortages
from blankbook.results.deliveries.inspection import PieceOutside
from blankbook.results.methods.equivalence import MoveAnswer
from blankbook.results.methods.sampling_plans import bad_accepted_at
from blankbook.results.methods.sampling_tables import Severity
from blankbook.results.number_words import say_length, say_length_change, say_share
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Judged, Number
from blankbook.words.answers import Answer
from blankbook.words.delivery_terms import FAULTS

_SHAPES = {
    MoveAnswer.UNCHANGED: Answer.MEETS,
    MoveAnswer.MOVED: Answer.FAILS,
    MoveAnswer.NOT_SHOWN: Answer.NOT_SHOWN,
}


def blank_deliveries(judged: Judged, unit: str, pictures: Mapping[str, Picture]) -> BlankDeliveries:
    """Return how the next delivery is inspected, the newest one, and a line for each before it."""
    *before, newest = delivery_results(judged.case) or (None,)
    places = earlier_places(judged.blank)
    return BlankDeliveries(
        unit=unit_words(unit),
        next=_next(judged) if is_expected(judged) else None,
        rows=(_delivery(newest, unit, pictures),) if newest else (),
        before=tuple(_line(result, places) for result in list(reversed(before))[:LISTED] if result),
        earlier=len(before),
    )


def earlier_deliveries(
    judged: Judged, unit: str, pictures: Mapping[str, Picture]
) -> EarlierDeliveries:
    """Return every delivery but the newest, the newest of them first."""
    before = reversed(delivery_results(judged.case)[:-1])
    rows = tuple(_delivery(result, unit, pictures) for result in before)
    return EarlierDeliveries(unit=unit_words(unit), rows=rows)


def _line(result: DeliveryResult, places: Mapping[str, str]) -> DeliveryLine:
    return DeliveryLine(
        page=from_blank_page(places[result.delivery.source.path]),
        key=result.delivery.key,
        name=delivery_name(result.delivery.key),
        lot=result.delivery.lot,
        pieces=result.delivery.size,
        answer=plan_sign(result.answer),
        outcome=say_outcome(result.inspection),
        against=bool(result.delivery.decision) and is_against_plan(result),
    )


def plan_sign(answer: Answer) -> AnswerSign:
    """Return what a plan says, in its own words."""
    words = {Answer.MEETS: "accepted", Answer.FAILS: "rejected"}
    return replace(sign_of(answer), word=words.get(answer, str(answer)))


def _next(judged: Judged) -> NextDelivery:
    size, severity, plan = next_plan(judged.case)
    shields = operating_characteristic(plan)
    return NextDelivery(
        says=say_plan(size, severity, plan),
        why=series_for(judged.case).why,
        stopped=severity == Severity.STOPPED,
        like="the last one" if judged.blank.deliveries else "a case",
        pieces=size,
        producers_risk_count=bad_accepted_at(plan, size, 0.95),
        # One more than the largest count that is still accepted 10 times in 100.
        consumers_risk_count=bad_accepted_at(plan, size, 0.10) + 1,
        producers_risk_quality=say_share(shields.producers_risk_quality),
        consumers_risk_quality=say_share(shields.consumers_risk_quality),
        shares=tuple(f"{100 * each:g} %" for each, _ in shields.chances),
        chances=tuple(
            share_text(Number(Quantity.ACCEPTED, each, "share")) for _, each in shields.chances
        ),
    )


def _delivery(
    result: DeliveryResult, unit: str, pictures: Mapping[str, Picture]
) -> DeliveryArticle:
    delivery, measured = result.delivery, result.delivery.measured
    return DeliveryArticle(
        key=delivery.key,
        name=delivery_name(delivery.key),
        source=RecordSource(delivery.source.path),
        lot=delivery.lot,
        pieces=delivery.size,
        answer=plan_sign(result.answer),
        outcome=say_outcome(result.inspection),
        most_faulty=result.most_faulty,
        most_outside=result.most_outside,
        whole=result.inspection.inspected >= delivery.size,
        severity=str(result.inspection.severity),
        then=result.then,
        table=table_path(delivery.style, delivery.key) if waits(delivery) else "",
        facts=_facts(result),
        decision=_decision(result),
        faults=_faults(result, unit),
        note=delivery.note,
        photos=photos_of(delivery, pictures),
        approved=result.approved,
        compared=_by_point(result, unit),
        steps=tuple(_step(step, unit) for step in result.steps),
        readings=readings_table(measured) if measured else None,
    )


def _facts(result: DeliveryResult) -> tuple[FactLine, ...]:
    delivery = result.delivery
    came = ", ".join(f"{count} {size}" for size, count in delivery.delivered.items())
    short = say_shortages(delivery)
    facts = [
        ("order", delivery.order),
        ("delivered", f"{came}; {short}" if short else came),
        ("inspected", f"{delivery.date.isoformat()} by {delivery.by}"),
        ("handed in again", delivery_name(delivery.again) if delivery.again else ""),
        ("changed by the supplier", delivery.changed),
        ("put right by the supplier", delivery.corrected),
    ]
    return facts_of(facts)


def _decision(result: DeliveryResult) -> DecisionOnDelivery | None:
    made = result.delivery.decision
    if made is None:
        return None
    return DecisionOnDelivery(
        word=made.decision,
        date=made.date.isoformat(),
        by=made.by,
        reason=made.reason,
        against=is_against_plan(result),
    )


def _faults(result: DeliveryResult, unit: str) -> tuple[FaultRow, ...]:
    """Return what was bad: first by eye, then by the tape, then what does not decide.

    A piece that is bad twice is counted once, so later faults of it say "counted above".
    """
    rows = [
        FaultRow(
            piece=flaw.piece or DASH,
            size=flaw.size,
            colour=flaw.colour or DASH,
            what=FAULTS[flaw.fault],
            note=flaw.note,
            count=str(flaw.count),
        )
        for flaw in result.delivery.flaws
    ]
    named = {flaw.piece for flaw in result.delivery.flaws}
    for outside in result.bad.outside:
        first = outside.piece not in named
        rows.append(_outside(result, outside, unit, "1" if first else "counted above"))
        named.add(outside.piece)
    rows += [_outside(result, each, unit, "does not decide") for each in result.bad.lesser]
    return tuple(rows)


def _outside(result: DeliveryResult, found: PieceOutside, unit: str, count: str) -> FaultRow:
    colours = {piece.key: piece.colour for piece in result.delivery.pieces}
    asked = "the approved round" if result.bad.as_approved else "the chart"
    return FaultRow(
        piece=found.piece,
        size=found.size,
        colour=colours[found.piece],
        what=f"{point_name(found.point)} {say_length_change(found.off, unit)} against {asked}",
        note=f"the tolerance is ± {say_length(found.allowed, unit)}",
        count=count,
    )


def _by_point(result: DeliveryResult, unit: str) -> tuple[ComparedPoint, ...]:
    points = dict.fromkeys(row.point for row in result.comparisons)
    return tuple(
        ComparedPoint(
            point=point_name(point),
            rows=tuple(_compared(row, unit) for row in result.comparisons if row.point == point),
        )
        for point in points
    )


def _compared(row: PointComparison, unit: str) -> ComparedRow:
    moved = row.moved
    return ComparedRow(
        size=row.size or "all sizes",
        answer=replace(sign_of(_SHAPES[moved.answer]), word=str(moved.answer)),
        pieces=f"{row.before}, {row.now}",
        moved=change_text(moved.difference, unit),
        limits=f"{change_text(moved.low, unit)} to {change_text(moved.high, unit)}",
        margin=length_text(row.margin, unit),
    )


def _step(step: DeliveredStep, unit: str) -> DeliveredStepRow:
    return DeliveredStepRow(
        point=point_name(step.point),
        sizes=f"{step.small} to {step.large}",
        asked=DASH if step.asked is None else change_text(step.asked, unit),
        found=change_text(step.found.mean, unit),
        limits=f"{change_text(step.found.low, unit)} to {change_text(step.found.high, unit)}",
        word=step.word or "not settled",
    )
