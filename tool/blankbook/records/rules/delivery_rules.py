"""Rules of deliveries: known sizes, counts that fit, and named rounds and deliveries that exist."""

import difflib
from collections import Counter
from collections.abc import Iterator, Mapping

from blankbook.records.model import Delivery, Piece, Style
from blankbook.records.rules.date_rules import is_plausible
from blankbook.text.findings import Fault, ValuePath, visible

DayByKey = Mapping[str, str]
"""By key of a round or a delivery: its day, as its file is called."""


def of_delivery(delivery: Delivery, style: Style) -> Iterator[Fault]:
    """Yield what does not fit within a delivery."""
    yield from of_sizes(delivery, style)
    yield from _flaws(delivery, style)
    yield from _counts(delivery)
    yield from _of_each_size(delivery, style)


def of_tape(delivery: Delivery) -> Iterator[Fault]:
    """Yield measured pieces without the tape that they were measured with."""
    if delivery.pieces and delivery.tape is None:
        remedy = "write what they were measured with, such as tape: {unit: in, reads_to: 1/8}"
        yield Fault(("pieces",), "missing-key", "tape is missing", remedy, on_key=True)


def of_sizes(delivery: Delivery, style: Style) -> Iterator[Fault]:
    """Yield counts of a size that the style does not have, and a delivery of nothing."""
    for name, counts in (("delivered", delivery.delivered), ("invoiced", delivery.invoiced or {})):
        for size in counts:
            if size not in style.sizes:
                message = f"unknown size {visible(size)}"
                remedy = "the style's sizes are " + ", ".join(style.sizes)
                yield Fault((name, size), "unknown-size", message, remedy, on_key=True)
    if not delivery.size:
        message = "must hold at least one piece, found none"
        yield Fault(("delivered",), "nothing-delivered", message, "write what was counted")


def _flaws(delivery: Delivery, style: Style) -> Iterator[Fault]:
    """Yield bad pieces of unknown sizes, colours or names, and pieces that are counted twice."""
    named = {piece.key: piece for piece in delivery.pieces}
    seen: dict[str, int] = {}
    for index, flaw in enumerate(delivery.flaws):
        at: ValuePath = ("faults", index)
        if flaw.size not in style.sizes:
            message = f"unknown size {visible(flaw.size)}"
            remedy = "the style's sizes are " + ", ".join(style.sizes)
            yield Fault((*at, "size"), "unknown-size", message, remedy)
        if flaw.colour and style.colours and flaw.colour not in style.colours:
            message = f"the style has no colour {visible(flaw.colour)}"
            remedy = "add it to colours in style.yaml, or correct it"
            yield Fault((*at, "colour"), "unlisted-colour", message, remedy, "note")
        if not flaw.piece:
            continue
        if flaw.piece not in named:
            message = f"no piece is called {visible(flaw.piece)}"
            near = difflib.get_close_matches(flaw.piece, sorted(named), n=1)
            remedy = (
                f"did you mean {near[0]}?" if near else "leave piece out where none is measured"
            )
            yield Fault((*at, "piece"), "unknown-piece", message, remedy)
        elif named[flaw.piece].size != flaw.size:
            size = visible(named[flaw.piece].size)
            message = f"piece {flaw.piece} is of size {size}, found {visible(flaw.size)}"
            yield Fault((*at, "size"), "size-against-piece", message, "correct one of the two")
        first = seen.setdefault(flaw.piece, index)
        if first != index or flaw.count > 1:
            message = f"piece {visible(flaw.piece)} must be counted once, found it more often"
            remedy = "write one line for it, without count"
            yield Fault((*at, "piece"), "piece-twice", message, remedy)


def _counts(delivery: Delivery) -> Iterator[Fault]:
    """Yield counts that are impossible for the delivery as a whole."""
    if delivery.size and delivery.inspected > delivery.size:
        message = f"must be at most the {delivery.size} delivered, found {delivery.inspected}"
        remedy = "write how many different pieces were looked at"
        yield Fault(("inspected",), "more-inspected-than-delivered", message, remedy)
    elif (looked := _pieces_looked_at(delivery)) > delivery.inspected:
        what = "measured or bad" if delivery.flaws else "measured"
        pieces = "1 piece is" if looked == 1 else f"{looked} pieces are"
        message = f"{pieces} {what}, and {delivery.inspected} were inspected"
        remedy = "count every piece that was looked at"
        yield Fault(("inspected",), "more-bad-than-inspected", message, remedy)


def _pieces_looked_at(delivery: Delivery) -> int:
    seen = sum(_was_seen(delivery, piece) for piece in delivery.pieces)
    return seen + sum(flaw.count for flaw in delivery.flaws if not flaw.piece)


def _was_seen(delivery: Delivery, piece: Piece) -> bool:
    """Say whether a piece was measured or is bad; else it is only to be measured."""
    return bool(piece.received) or any(flaw.piece == piece.key for flaw in delivery.flaws)


def _of_each_size(delivery: Delivery, style: Style) -> Iterator[Fault]:
    """Yield sizes of which more pieces were looked at than were delivered."""
    looked: Counter[str] = Counter()
    written = [
        (piece.size, ("pieces", at), int(_was_seen(delivery, piece)))
        for at, piece in enumerate(delivery.pieces)
    ]
    written += [
        (flaw.size, ("faults", at), flaw.count)
        for at, flaw in enumerate(delivery.flaws)
        if not flaw.piece
    ]
    for size, at, count in written:
        if size in style.sizes:
            looked[size] += count
            yield from _too_many(delivery, looked, size, (*at, "size"), count)


def _too_many(
    delivery: Delivery, looked: Mapping[str, int], size: str, at: ValuePath, added: int
) -> Iterator[Fault]:
    """Yield the first entry with which more pieces of a size are written than were delivered."""
    came = delivery.delivered.get(size, 0)
    if looked[size] - added <= came < looked[size]:
        remedy = "correct the size, or what was delivered"
        message = f"must be a size that was delivered, found {visible(size)}"
        if came:
            message = f"{looked[size]} pieces of {visible(size)} are written, and {came} came"
        yield Fault(at, "size-not-delivered", message, remedy)


def of_neighbours(delivery: Delivery, rounds: DayByKey, deliveries: DayByKey) -> Iterator[Fault]:
    """Yield a named round or delivery that does not exist, or is not older than this delivery."""
    yield from _unknown_neighbour(delivery, "approved", delivery.approved, "round", rounds)
    yield from _unknown_neighbour(delivery, "again", delivery.again, "delivery", deliveries)


def _unknown_neighbour(
    delivery: Delivery, name: str, key: str, what: str, days: DayByKey
) -> Iterator[Fault]:
    if not key:
        return
    if key not in days:
        message = f"no {what} of this style is called {visible(key)}"
        near = difflib.get_close_matches(key, sorted(days.keys() - {delivery.key}), n=1)
        remedy = f"did you mean {near[0]}?" if near else "write its file's name without .yaml"
        yield Fault((name,), f"unknown-{what}", message, remedy)
    elif key == delivery.key or (
        is_plausible(delivery.date) and days[key] > delivery.date.isoformat()
    ):
        message = f"must be older than this delivery, found {visible(key)}"
        yield Fault((name,), "dates-backwards", message, f"write an older {what}")
