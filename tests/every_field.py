"""A ledger in which every field that the schemas know is filled in, and what of it is a secret."""

import datetime
import re
import struct
import zlib
from collections.abc import Iterator, Mapping
from typing import Any

from blankbook.text.ledger_files import FILE_PATTERNS
from blankbook.words.points import POINTS

Way = tuple[str, ...]

PUBLIC = {
    "shop.shop",
    "shop.units",
    "shop.ease",
    "style.called",
    "style.fabric.fibre",
    "style.fabric.knit",
    "style.fabric.mass",
    "style.sizes.[]",
    "round.date",
    "round.pieces.[].size",
    "round.decision.sizes.[]",
    "round.pieces.[].washed.[].cycles",
    "delivery.pieces.[].size",
    "delivery.faults.[].size",
}
"""What a chart for clients may show as it was typed: each of the others is a secret. Lengths are
shown as means, and words from a closed list only where the chart names them."""

SUPPLIER, STYLE, SIZE, DAY = "zqsupplier", "zqstyle", "M", "2024-05-06"
ROUND, DELIVERY = f"{DAY}-zqround", "2024-07-08-zqcame-delivery"
ORDER = "2024-05-20-zqorder-order"
BLANK = f"blanks/{SUPPLIER}/{STYLE}"

TIED: dict[str, Any] = {
    "shop.tape": {"unit": "in", "reads_to": "1/8"},
    "shop.units": "in",
    "shop.risk": 0.05,
    "shop.site": "https://zqsite.example/zqat",
    "shop.currency": "QZA",
    "supplier.supplier": SUPPLIER,
    "supplier.website": "https://zqwebsite.example/zqpath",
    "supplier.since": "2011-02-13",
    "study.date": "2012-03-14",
    "study.pieces": [
        {"piece": f"zqstudied{n}", "read": {"zqreader": [18, 18], "zqother": [18, 18.125]}}
        for n in range(3)
    ],
    "style.style": f"{SUPPLIER}/{STYLE}",
    "style.fabric.mass": "6 oz/yd2",
    "style.sizes": [SIZE, "L"],
    "style.charts.[].since": "2013-04-15",
    "style.charts.[].tolerance": {"half_chest": "1/2"},
    "style.charts.[].sizes": {SIZE: {"half_chest": 20}, "L": {"half_chest": 22}},
    "style.prices.[].since": "2014-05-16",
    "style.prices.[].currency": "QZA",
    "style.prices.[].sizes": {SIZE: 7654.32},
    "style.prices.[].extra": None,
    "style.prices.[].breaks": None,
    "style.prices.[].together": None,
    "style.supply": [{"since": "2014-05-17", "currency": "QZA", "freight": 7321.21}],
    "supplier.supply": [
        {
            "since": "2011-02-14",
            "currency": "QZA",
            "minimum": {"pieces": 5023, "of": "colour", "money": 6123.21},
            "freight": 7123.21,
            "free_from": 8123.21,
            "lead_time_days": 517,
        }
    ],
    "round.style": f"{SUPPLIER}/{STYLE}",
    "round.date": DAY,
    "round.planned": "2024-04-19",
    "round.lot": "zqlot",
    "round.bought.date": "2024-05-01",
    "round.bought.currency": "QZC",
    "round.pieces.[].piece": "zqpiece",
    "round.pieces.[].size": SIZE,
    "round.pieces.[].colour": "zqcolour",
    "round.pieces.[].received": {"half_chest": 20, "seam_shift": 0},
    **{f"round.pieces.[].washed.[].{point}": None for point in POINTS},
    "round.pieces.[].washed.[].half_chest": 19.5,
    "round.decorated.[].piece": "zqpiece",
    "round.decorated.[].press": {"temperature": "163.7 C", "seconds": 517, "pressure": "medium"},
    "round.decorated.[].dryer": {"temperature": "157.3 C", "seconds": 2917},
    "round.swatches.[].piece": "zqpiece",
    "round.swatches.[].area": "101.37 cm2",
    "round.swatches.[].mass": "2.0391 g",
    "round.decision.decision": "approved with conditions",
    "round.decision.date": "2024-06-07",
    "round.decision.sizes": [SIZE],
    "round.photos.[].file": "zqphoto.png",
    "style.colours.[]": "zqcolour",
    "order.style": f"{SUPPLIER}/{STYLE}",
    "order.date": "2024-05-20",
    "order.needed": {"zqcolour": {SIZE: 6029}},
    "order.total": {"zqcolour": 6029},
    "order.give_or_take": None,
    "order.mix": None,
    "order.needed_by": "2024-06-20",
    "order.money.currency": "QZA",
    "order.bought.date": "2024-05-21",
    "order.bought.currency": "QZA",
    "order.bought.pieces": {"zqcolour": {SIZE: 6047}},
    "order.outcome.date": "2024-06-21",
    "order.outcome.spoiled": {SIZE: 519},
    "order.outcome.short": {SIZE: 521},
    "order.outcome.exchanged": {SIZE: 523},
    "order.outcome.returned": {SIZE: 541},
    "order.outcome.left_over": {SIZE: 547},
    "delivery.style": f"{SUPPLIER}/{STYLE}",
    "delivery.date": "2024-07-08",
    "delivery.again": None,
    "delivery.delivered": {SIZE: 100007},
    "delivery.invoiced": {SIZE: 100009},
    "delivery.inspected": 50021,
    "delivery.approved": ROUND,
    "delivery.pieces.[].piece": "zqcame",
    "delivery.pieces.[].size": SIZE,
    "delivery.pieces.[].colour": "zqcolour",
    "delivery.pieces.[].received": {"half_chest": 20},
    "delivery.faults.[].size": SIZE,
    "delivery.faults.[].colour": "zqcolour",
    "delivery.faults.[].piece": "zqcame",
    "delivery.faults.[].count": 1,
    "delivery.decision.decision": "accepted",
    "delivery.decision.date": "2024-07-09",
    "style.changed.[].since": "2024-01-03",
    "delivery.photos.[].file": "zqphoto.png",
}
"""Values that must agree with others, or be of a kind; most are secrets like the rest."""


def place_of(kind: str) -> str:
    """Return a place for a file of one kind: its name begins with its date, if it has one."""
    dated = f"{TIED[f'{kind}.date']}-zq{kind}" if f"{kind}.date" in TIED else SUPPLIER
    place = FILE_PATTERNS[kind].replace("blanks/*/*", BLANK)
    return place.replace("[0-9]*", dated).replace("*", dated)


def filled(part: Mapping[str, Any], way: Way, said: dict[str, Any]) -> Any:
    """Return a value with every field that the schema knows, and note what each leaf says."""
    path = ".".join(way)
    if path in TIED:
        said.update(leaves(TIED[path], way))
        return TIED[path]
    if part.get("type") == "object" and "properties" in part:
        return _whole(part, way, said)
    if part.get("type") == "array":
        return [filled(part["items"], (*way, "[]"), said)]
    value = _secret(part, len(said))
    said[path] = value
    return value


def _whole(part: Mapping[str, Any], way: Way, said: dict[str, Any]) -> dict[str, Any]:
    made = {key: filled(schema, (*way, key), said) for key, schema in part["properties"].items()}
    return {key: value for key, value in made.items() if value is not None}


def leaves(value: Any, way: Way) -> Iterator[tuple[str, Any]]:
    """Yield every value of a tied part, by its way; keys that a shop chose count as values."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from leaves(inner, (*way, key))
            yield ".".join((*way, key, "(key)")), key
    elif isinstance(value, list):
        for number, item in enumerate(value):
            yield from leaves(item, (*way, f"[{number}]" if number else "[]"))
    else:
        yield ".".join(way), value


def _secret(part: Mapping[str, Any], number: int) -> Any:
    """Return a text or number that stands nowhere else; an example where the field has no room."""
    if "oneOf" in part or isinstance(part["type"], list):  # a closed word, or a length
        return part["examples"][0]
    if part["type"] == "string" and part.get("format") != "date":
        return f"zq{number}secret"
    if part["type"] in {"number", "integer"} and part["maximum"] >= 1000 > part["minimum"]:
        most = int(min(part["maximum"], 9000)) - 3 * number % 400
        return most + 0.37 - 1 if part["type"] == "number" else most
    return part["examples"][0]


def picture() -> bytes:
    """Return the smallest picture: one grey point."""

    def chunk(kind: bytes, body: bytes) -> bytes:
        return (
            struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
        )

    head = struct.pack(">IIBBBBB", 1, 1, 8, 0, 0, 0, 0)
    body = zlib.compress(b"\0\x80")
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", body) + chunk(b"IEND", b"")


def is_secret(value: Any) -> bool:
    """Say whether a value could not be on a page but by being copied there."""
    text = str(value)
    marked = "zq" in text or "QZ" in text or is_day(text)
    amount = re.fullmatch(r"[0-9]+\.[0-9]+ .+", text) is not None
    return marked or amount or (isinstance(value, int | float) and value >= 500)


def is_day(text: str) -> bool:
    """Say whether a text is a date."""
    try:
        datetime.date.fromisoformat(text)
    except ValueError:
        return False
    return True


def secrets_of(said: Mapping[str, Any]) -> dict[str, str]:
    """Return what nobody outside may read, by its way."""
    return {
        path: f"{value:g}" if isinstance(value, float) else str(value)
        for path, value in said.items()
        if path not in PUBLIC and is_secret(value)
    }
