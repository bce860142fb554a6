"""Deliveries that cannot be as they are written, and rules of inspection that are none."""

from battery.bad_input import FOLDER, ROUND, SHOP, BadInput, Files, appended_to
from support import SMALL_LEDGER

PLACE = f"{FOLDER}/2024-03-20-first-delivery.yaml"
DELIVERY = """\
style: tarn-thrush/h6
date: 2024-03-20
by: rv
lot: TT-2403-A
delivered: {S: 10, M: 30, L: 20}
inspected: 13
approved: 2024-02-12-first
tape: {unit: in, reads_to: 1/8}
pieces:
  - {piece: M-1, size: M, colour: black, received: {half_chest: 20, body_length: 29}}
  - {piece: L-1, size: L, colour: black, received: {half_chest: 22, body_length: 30}}
faults:
  - {size: M, fault: hole, count: 2}
  - {size: L, fault: stain, piece: L-1}
decision: {decision: rejected, date: 2024-03-20, by: rv}
"""


def with_delivery(old: str = "", new: str = "") -> Files:
    """Return a sound delivery with one text put for another."""
    assert old in DELIVERY
    return {PLACE: DELIVERY.replace(old, new, 1)}


def delivery_row(key: str, old: str, new: str, rule: str, place: str, others: int = 0) -> BadInput:
    """Return the row of a delivery with one mistake."""
    return BadInput(key, with_delivery(old, new), rule, f"{PLACE}:{place}", others=others)


DELIVERIES: list[BadInput] = [
    BadInput("B82 delivery", with_delivery(), ""),
    BadInput(
        "B82 delivery comes back",
        {
            **with_delivery(),
            PLACE.replace("03-20-first", "04-02-again"): DELIVERY.replace("03-20", "04-02").replace(
                "approved: 2024-02-12-first", "again: 2024-03-20-first-delivery"
            ),
        },
        "",
    ),
    delivery_row("B49 delivery", "date: 2024-03-20", "date: 2024-02-30", "no-such-date", "2:7"),
    delivery_row(
        "B51 delivery", "date: 2024-03-20, by", "date: 2024-03-19, by", "dates-backwards", "15:38"
    ),
    delivery_row("B52 delivery", "half_chest: 20,", "half_chest: 20 1/3,", "not-a-length", "10:65"),
    delivery_row("B63 delivery", "half_chest: 20,", "half_chest: 200,", "out-of-range", "10:65"),
    delivery_row("B54 delivery", "S: 10", "S: ten", "wrong-kind", "5:16"),
    delivery_row("B54 minus", "S: 10", "S: -1", "out-of-range", "5:16"),
    delivery_row("B66 delivery", "inspected: 13", "inspected: 13.0", "wrong-kind", "6:12"),
    delivery_row("B67 delivered", "S: 10", "XS: 10", "unknown-size", "5:13"),
    delivery_row("B67 fault", "size: M, fault", "size: XM, fault", "unknown-size", "13:12"),
    delivery_row("B67 fault word", "fault: hole", "fault: holes", "unknown-word", "13:22"),
    delivery_row(
        "B67 decided", "decision: rejected", "decision: approved", "unknown-word", "15:22"
    ),
    delivery_row(
        "B69 delivery", "piece: L-1, size", "piece: M-1, size", "piece-twice", "11:13", others=1
    ),
    delivery_row(
        "B69 counted twice", "piece: L-1}", "piece: L-1, count: 2}", "piece-twice", "14:36"
    ),
    delivery_row("B69 named", "piece: L-1}", "piece: L-2}", "unknown-piece", "14:36"),
    delivery_row(
        "B69 another size", "size: L, fault", "size: S, fault", "size-against-piece", "14:12"
    ),
    delivery_row(
        "B71 nothing came", "{S: 10, M: 30, L: 20}", "{M: 0}", "nothing-delivered", "5:12", others=2
    ),
    delivery_row(
        "B71 inspected", "inspected: 13", "inspected: 61", "more-inspected-than-delivered", "6:12"
    ),
    delivery_row(
        "B71 looked at", "inspected: 13", "inspected: 3", "more-bad-than-inspected", "6:12"
    ),
    delivery_row("B71 size", "M: 30", "M: 2", "size-not-delivered", "13:12"),
    delivery_row("B71 no such size", "L: 20", "L: 0", "size-not-delivered", "11:24"),
    delivery_row("B73 delivery", "tape: {unit: in, reads_to: 1/8}\n", "", "missing-key", "8:1"),
    delivery_row(
        "B75 round",
        "approved: 2024-02-12-first",
        "approved: 2024-02-13-first",
        "unknown-round",
        "7:11",
    ),
    delivery_row(
        "B75 delivery",
        "approved: 2024-02-12-first",
        "again: 2024-03-01-first-delivery",
        "unknown-delivery",
        "7:8",
    ),
    delivery_row(
        "B76 itself",
        "approved: 2024-02-12-first",
        "again: 2024-03-20-first-delivery",
        "dates-backwards",
        "7:8",
    ),
    BadInput(
        "B78 compared with a later round",
        {
            ROUND.replace("2024-02-12", "2024-05-01"): SMALL_LEDGER[ROUND].replace(
                "2024-02-12", "2024-05-01"
            ),
            **with_delivery("2024-02-12-first", "2024-05-01-first"),
        },
        "dates-backwards",
        f"{PLACE}:7:11",
    ),
    BadInput(
        "B77 delivery",
        {PLACE.replace("2024-03-20", "2024-03-21"): DELIVERY},
        "name-against-content",
        f"{PLACE.replace('2024-03-20', '2024-03-21')}:2:7",
    ),
    BadInput(
        "B80 delivery",
        {PLACE: DELIVERY + "photos: [{file: a.jpg, shows: a}]\n"},
        "wrong-photo",
        f"{PLACE}:16:17",
    ),
    BadInput(
        "B67 level", appended_to(SHOP, "inspection: {level: IV}\n"), "unknown-word", f"{SHOP}:7:21"
    ),
    BadInput(
        "B71 AQL", appended_to(SHOP, "inspection: {aql: 3}\n"), "unknown-number", f"{SHOP}:7:19"
    ),
    BadInput(
        "B54 AQL", appended_to(SHOP, "inspection: {aql: low}\n"), "wrong-kind", f"{SHOP}:7:19"
    ),
    BadInput(
        "B65 reduced",
        appended_to(SHOP, "inspection: {reduced: yes}\n"),
        "unknown-word",
        f"{SHOP}:7:23",
    ),
]
"""A mistake each, in a delivery of the small ledger."""
