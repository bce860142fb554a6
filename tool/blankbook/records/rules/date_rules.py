"""Rules of dates: none runs backwards, and none lies in the future or far off."""

import datetime
from collections.abc import Iterator

from blankbook.records.model import (
    Decision,
    Delivery,
    DeliveryDecision,
    PlannedRound,
    Round,
    Study,
    Style,
    Supplier,
)
from blankbook.text.findings import Fault, ValuePath

FIRST_DAY = datetime.date(1990, 1, 1)
LAST_DAY = datetime.date(2100, 12, 31)


def of_round(round_: Round, today: datetime.date | None) -> Iterator[Fault]:
    """Yield dates of a round that cannot be."""
    yield from date_faults(("date",), round_.date, today)
    if round_.bought:
        yield from date_faults(("bought", "date"), round_.bought, today)
        if round_.bought > round_.date and is_plausible(round_.bought):
            message = f"bought on {round_.bought}, after it was measured on {round_.date}"
            yield Fault(("bought", "date"), "dates-backwards", message, "correct one of the two")
    if round_.planned:
        yield from date_faults(("planned",), round_.planned, today)
        if round_.planned > round_.date and is_plausible(round_.planned):
            message = f"planned on {round_.planned}, after it was measured on {round_.date}"
            yield Fault(("planned",), "dates-backwards", message, "correct one of the two")
    yield from _decision(round_.decision, round_.date, "measured", today)


def of_planned(plan: PlannedRound) -> Iterator[Fault]:
    """Yield days of a plan that cannot be; a day in the future can."""
    yield from date_faults(("planned",), plan.planned, None)
    if plan.bought:
        yield from date_faults(("bought", "date"), plan.bought, None)


def of_delivery(delivery: Delivery, today: datetime.date | None) -> Iterator[Fault]:
    """Yield dates of a delivery that cannot be."""
    yield from date_faults(("date",), delivery.date, today)
    yield from _decision(delivery.decision, delivery.date, "inspected", today)


def _decision(
    made: Decision | DeliveryDecision | None,
    day: datetime.date,
    done: str,
    today: datetime.date | None,
) -> Iterator[Fault]:
    """Yield a decision that is dated before what it decides on was *done*."""
    if made is None:
        return
    at: ValuePath = ("decision", "date")
    yield from date_faults(at, made.date, today)
    if made.date < day and is_plausible(made.date):
        message = f"decided on {made.date}, before it was {done} on {day}"
        yield Fault(at, "dates-backwards", message, "correct one of the two")


def of_style(style: Style) -> Iterator[Fault]:
    """Yield dates of a style that cannot be."""
    for index, chart in enumerate(style.charts):
        yield from date_faults(("charts", index, "since"), chart.since, None)
    for change in style.changed:
        yield from date_faults(("changed",), change.since, None)
    for index, price in enumerate(style.prices):
        yield from date_faults(("prices", index, "since"), price.since, None)


def of_supplier(supplier: Supplier, today: datetime.date | None) -> Iterator[Fault]:
    """Yield dates of a supplier that cannot be."""
    if supplier.since:
        yield from date_faults(("since",), supplier.since, today)


def of_study(study: Study, today: datetime.date | None) -> Iterator[Fault]:
    """Yield dates of a study that cannot be."""
    yield from date_faults(("date",), study.date, today)


def is_plausible(day: datetime.date) -> bool:
    """Say whether a shop can have written *day*; outside, the year has a slip."""
    return FIRST_DAY <= day <= LAST_DAY


def date_faults(at: ValuePath, day: datetime.date, today: datetime.date | None) -> Iterator[Fault]:
    """Yield a date with a wrong year, or one in the future."""
    if not is_plausible(day):
        message = f"{at[-1]} must be between {FIRST_DAY.year} and {LAST_DAY.year}, found {day}"
        yield Fault(at, "date-out-of-range", message, "correct the year")
    elif today and day > today:
        yield Fault(at, "date-in-future", f"{day} has not come yet", "correct the year or the day")
