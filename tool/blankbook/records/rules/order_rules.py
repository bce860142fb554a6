"""Rules of orders: known sizes, counts and totals that fit, one currency, days in their order."""

import datetime
from collections.abc import Iterator, Mapping

from blankbook.records.model import Counts, Order, Shop, Style, Supplier
from blankbook.records.model.order_record import by_size, lines_of
from blankbook.records.rules.date_rules import date_faults, is_plausible
from blankbook.records.supply_terms import price_on, supply_on
from blankbook.text.findings import Fault, ValuePath, visible


def of_itself(order: Order, today: datetime.date | None, *, whole: bool) -> Iterator[Fault]:
    """Yield what cannot be in an order, whatever its style; unless *whole*, parts are missing."""
    yield from _days(order, today)
    if whole:
        yield from _need(order)
        yield from _outcome(order)


def of_style(order: Order, style: Style) -> Iterator[Fault]:
    """Yield sizes that the style does not have, and colours that it does not list."""
    for at, counts in _counts_by_colour(order):
        for colour, sizes in counts.items():
            yield from _colour((*at, colour), colour, style)
            for size in sizes:
                yield from _size((*at, colour, size), size, style)
    for colour in order.total:
        yield from _colour(("total", colour), colour, style)
    for at, sized in _counts_by_size(order):
        for size in sized:
            yield from _size((*at, size), size, style)


def of_terms(order: Order, style: Style, supplier: Supplier, shop: Shop) -> Iterator[Fault]:
    """Yield another currency than that of the prices, and pieces that are no whole packs."""
    own = order.money.currency or shop.currency
    price = price_on(style, order.date)
    terms = supply_on(style, supplier, order.date)
    named = [
        ("money", order.money.currency, own),
        ("bought", order.bought.currency if order.bought else "", own),
    ]
    for key, written, wanted in named:
        if written and written != wanted:
            yield _other_currency((key, "currency"), written, wanted)
    for stated in (price.currency if price else "", terms.currency if terms else ""):
        if (stated or shop.currency) != own:
            at: ValuePath = ("money", "currency") if order.money.currency else ("style",)
            yield _other_currency(at, own, stated or shop.currency)
            break
    pack = terms.pack if terms else None
    if pack and order.bought:
        yield from _packs(order.bought.pieces, pack.pieces, mixed=pack.mixed)


def _other_currency(at: ValuePath, found: str, wanted: str) -> Fault:
    message = f"must be in {wanted}, as the prices are, found {visible(found)}"
    return Fault(at, "other-currency", message, "write every amount of an order in one currency")


def _packs(pieces: Counts, pack: int, *, mixed: bool) -> Iterator[Fault]:
    remedy = "correct the count, or the pack in the supply terms"
    if mixed:
        count = sum(number for _, number in lines_of(pieces))
        if count % pack:
            message = f"must be in packs of {pack}, found {count} in all"
            yield Fault(("bought", "pieces"), "packs-not-met", message, remedy, on_key=True)
        return
    for (colour, size), number in lines_of(pieces):
        if number % pack:
            message = f"must be in packs of {pack}, found {number}"
            yield Fault(("bought", "pieces", colour, size), "packs-not-met", message, remedy)


def _counts_by_colour(order: Order) -> Iterator[tuple[ValuePath, Counts]]:
    yield ("needed",), order.needed
    if order.bought:
        yield ("bought", "pieces"), order.bought.pieces


def _counts_by_size(order: Order) -> Iterator[tuple[ValuePath, Mapping[str, int]]]:
    yield ("mix",), order.mix
    if went := order.outcome:
        for key in ("spoiled", "short", "exchanged", "returned", "left_over"):
            yield ("outcome", key), getattr(went, key)


def _size(at: ValuePath, size: str, style: Style) -> Iterator[Fault]:
    if size not in style.sizes:
        remedy = "the style's sizes are " + ", ".join(style.sizes)
        yield Fault(at, "unknown-size", f"unknown size {visible(size)}", remedy, on_key=True)


def _colour(at: ValuePath, colour: str, style: Style) -> Iterator[Fault]:
    if style.colours and colour not in style.colours:
        message = f"the style has no colour {visible(colour)}"
        remedy = "add it to colours in style.yaml, or correct it"
        yield Fault(at, "unlisted-colour", message, remedy, "note", on_key=True)


def _days(order: Order, today: datetime.date | None) -> Iterator[Fault]:
    yield from date_faults(("date",), order.date, today)
    days: list[tuple[ValuePath, datetime.date | None, str]] = [
        (("needed_by",), order.needed_by, "needed"),
        (("bought", "date"), order.bought.date if order.bought else None, "bought"),
        (("outcome", "date"), order.outcome.date if order.outcome else None, "counted"),
    ]
    for at, day, what in days:
        if day is None:
            continue
        yield from date_faults(at, day, None if what == "needed" else today)
        before = order.bought.date if what == "counted" and order.bought else order.date
        if day < before and is_plausible(day):
            done = "it was bought" if what == "counted" and order.bought else "the order's day"
            message = f"{what} on {day}, before {done}, {before}"
            yield Fault(at, "dates-backwards", message, "correct one of the two")


def _need(order: Order) -> Iterator[Fault]:
    if not order.needed and not order.total:
        message = "must say what is needed, found neither needed nor total"
        remedy = "write needed: {black: {M: 12, L: 9}}, or total: {black: 60}"
        yield Fault(("style",), "nothing-needed", message, remedy)
    if order.needed:
        for key, value in (("mix", order.mix), ("give_or_take", order.give_or_take)):
            if value:
                message = f"{key} is for a total without sizes, and needed names the sizes"
                remedy = f"leave {key} out, or write total alone"
                yield Fault((key,), "both-ways", message, remedy, on_key=True)
    for colour, total in order.total.items() if order.needed else ():
        parts = sum(order.needed.get(colour, {}).values())
        if total != parts:
            message = f"must be the sum of its sizes, {parts}, found {total}"
            yield Fault(("total", colour), "total-against-parts", message, "correct one of the two")
    if order.total and order.give_or_take > sum(order.total.values()):
        message = f"must be less than the total, found {order.give_or_take}"
        yield Fault(("give_or_take",), "out-of-range", message, "write what the total may be off")


def _outcome(order: Order) -> Iterator[Fault]:
    went, bought = order.outcome, order.bought
    if went is None:
        return
    if bought is None:
        remedy = "write what was bought: bought: {date: …, pieces: …, goods: …}"
        yield Fault(("outcome",), "missing-key", "bought is missing", remedy, on_key=True)
        return
    came = by_size(bought.pieces)
    yield from _more_than(("outcome", "spoiled"), went.spoiled, came, "bought")
    for size in {**went.exchanged, **went.returned}:
        back = went.exchanged.get(size, 0) + went.returned.get(size, 0)
        good = came.get(size, 0) - went.spoiled.get(size, 0)
        if back > max(good, 0):
            key = "exchanged" if size in went.exchanged else "returned"
            message = f"{back} of {visible(size)} came back, and {max(good, 0)} were good"
            yield Fault(
                ("outcome", key, size), "more-than-there-were", message, "correct the counts"
            )
    if order.needed:
        needed = by_size(order.needed)
        yield from _more_than(("outcome", "short"), went.short, needed, "needed")


def _more_than(
    at: ValuePath, counts: Mapping[str, int], most: Mapping[str, int], what: str
) -> Iterator[Fault]:
    for size, number in counts.items():
        if number > most.get(size, 0):
            message = f"must be at most the {most.get(size, 0)} {what}, found {number}"
            yield Fault((*at, size), "more-than-there-were", message, "correct the counts")
