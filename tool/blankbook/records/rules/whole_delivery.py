"""One delivery checked against all its rules: its own, and those that it shares with a round."""

import datetime
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from blankbook.records.load_file import LoadedFile
from blankbook.records.model import Delivery, Shop, Style
from blankbook.records.rule_context import RuleContext
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
class NeighbourDays:
    """The days of the rounds and deliveries in a blank's folder, by key; faulty files count too."""

    rounds: delivery_rules.DayByKey
    deliveries: delivery_rules.DayByKey

    @classmethod
    def of(cls, loaded_files: Iterable[LoadedFile]) -> "NeighbourDays":
        """Return the days by the names of one blank's files."""
        every = [loaded.file for loaded in loaded_files]
        rounds = {file.stem: file.stem[:_DAY] for file in every if file.kind == "round"}
        came = {file.stem: file.stem[:_DAY] for file in every if file.kind == "delivery"}
        return cls(rounds, came)


def delivery_findings(
    context: RuleContext, loaded: LoadedFile, neighbours: NeighbourDays, style: Style | None
) -> list[Finding]:
    """Return what is wrong with a delivery, or with the sound parts of a faulty one."""
    if loaded.parsed and isinstance(delivery := loaded.record, Delivery):
        faults = [*_faults(delivery, loaded, neighbours, style, context.shop, context.today)]
        faults += photo_rules.of_record(context.root, delivery, context.pictures)
        return context.located(loaded.parsed, faults)
    if loaded.parsed and loaded.sound and isinstance(delivery := loaded.sound.record, Delivery):
        faults = [*_faults_of_sound_parts(delivery, loaded, neighbours, style, context.today)]
        faults += photo_rules.of_record(context.root, delivery, context.pictures)
        return context.located(loaded.parsed, loaded.sound.located(faults))
    return []


def _faults(
    delivery: Delivery,
    loaded: LoadedFile,
    neighbours: NeighbourDays,
    style: Style | None,
    shop: Shop | None,
    today: datetime.date | None,
) -> Iterator[Fault]:
    """Yield all that is wrong with a delivery that could be read."""
    yield from _of_itself(delivery, loaded, neighbours, today)
    if style is None:
        return
    yield from delivery_rules.of_delivery(delivery, style)
    if measured := delivery.as_round:
        yield from piece_rules.of_pieces(measured, style)
        yield from chart_rules.of_round(measured, style)
        if shop:
            yield from reading_rules.of_round(measured, style, shop)


def _faults_of_sound_parts(
    delivery: Delivery,
    loaded: LoadedFile,
    neighbours: NeighbourDays,
    style: Style | None,
    today: datetime.date | None,
) -> Iterator[Fault]:
    """Yield what is wrong in the sound parts, by rules that do not need the missing parts."""
    yield from _of_itself(delivery, loaded, neighbours, today)
    if style is None:
        return
    if delivery.delivered:
        yield from delivery_rules.of_sizes(delivery, style)
    if measured := delivery.as_round:
        yield from piece_rules.of_pieces(measured, style)


def _of_itself(
    delivery: Delivery, loaded: LoadedFile, neighbours: NeighbourDays, today: datetime.date | None
) -> Iterator[Fault]:
    """Yield what is wrong by the rules that need neither style nor shop."""
    yield from name_rules.of_style(delivery, loaded.file)
    yield from name_rules.of_round(delivery)
    yield from date_rules.of_delivery(delivery, today)
    yield from delivery_rules.of_tape(delivery)
    yield from delivery_rules.of_neighbours(delivery, neighbours.rounds, neighbours.deliveries)
