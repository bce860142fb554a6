"""One delivery held against its rules: those of its own, and those that a round has too."""

import datetime
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from blankbook.records.model import Delivery, Shop, Style
from blankbook.records.read_record import Entry
from blankbook.records.rule_context import Known
from blankbook.records.rules import (
    chart_rules,
    date_rules,
    delivery_rules,
    name_rules,
    photo_rules,
    piece_rules,
    reading_rules,
)
from blankbook.text.findings import Fault, Finding

_DAY = len("2026-05-02")


@dataclass(frozen=True, slots=True)
class Neighbours:
    """The days of the other files in a blank's folder, those with faults too, by key."""

    rounds: delivery_rules.Days
    deliveries: delivery_rules.Days

    @classmethod
    def of(cls, entries: Iterable[Entry]) -> "Neighbours":
        """Return the neighbours among the files of one blank."""
        every = [entry.file for entry in entries]
        rounds = {file.stem: file.stem[:_DAY] for file in every if file.kind == "round"}
        came = {file.stem: file.stem[:_DAY] for file in every if file.kind == "delivery"}
        return cls(rounds, came)


def delivery_findings(
    known: Known, entry: Entry, neighbours: Neighbours, style: Style | None
) -> list[Finding]:
    """Return what is wrong with a delivery, or with the sound parts of one."""
    if entry.read and isinstance(delivery := entry.record, Delivery):
        faults = [*_faults(delivery, entry, neighbours, style, known.shop, known.today)]
        faults += photo_rules.of_record(known.root, delivery, known.pictures)
        return known.placed(entry.read, faults)
    if entry.read and entry.rest and isinstance(delivery := entry.rest.record, Delivery):
        faults = [*_faults_of_rest(delivery, entry, neighbours, style, known.today)]
        faults += photo_rules.of_record(known.root, delivery, known.pictures)
        return known.placed(entry.read, entry.rest.placed(faults))
    return []


def _faults(
    delivery: Delivery,
    entry: Entry,
    neighbours: Neighbours,
    style: Style | None,
    shop: Shop | None,
    today: datetime.date | None,
) -> Iterator[Fault]:
    """Yield all that is wrong with a delivery that could be read."""
    yield from _of_itself(delivery, entry, neighbours, today)
    if style is None:
        return
    yield from delivery_rules.of_delivery(delivery, style)
    if measured := delivery.measured:
        yield from piece_rules.of_each(measured, style)
        yield from chart_rules.of_round(measured, style)
        if shop:
            yield from reading_rules.of_round(measured, style, shop)


def _faults_of_rest(
    delivery: Delivery,
    entry: Entry,
    neighbours: Neighbours,
    style: Style | None,
    today: datetime.date | None,
) -> Iterator[Fault]:
    """Yield what is wrong in the sound parts, and cannot come from the other faults."""
    yield from _of_itself(delivery, entry, neighbours, today)
    if style is None:
        return
    if delivery.delivered:
        yield from delivery_rules.of_sizes(delivery, style)
    if measured := delivery.measured:
        yield from piece_rules.of_each(measured, style)


def _of_itself(
    delivery: Delivery, entry: Entry, neighbours: Neighbours, today: datetime.date | None
) -> Iterator[Fault]:
    yield from name_rules.of_style(delivery, entry.file)
    yield from name_rules.of_round(delivery)
    yield from date_rules.of_delivery(delivery, today)
    yield from delivery_rules.of_tape(delivery)
    yield from delivery_rules.of_neighbours(delivery, neighbours.rounds, neighbours.deliveries)
