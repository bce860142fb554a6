"""A site for outsiders has what they may see, and not a word of what they may not."""

import datetime
import re
import struct
import zlib
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
import yaml

from blankbook.build.build_site import build_site
from blankbook.text.schemas import KINDS, schema
from blankbook.words.points import POINTS
from building import site_files
from support import LedgerMaker, Program

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
    "delivery.decision.date": "2024-07-09",
    "delivery.photos.[].file": "zqphoto.png",
}
"""Values that must agree with others, or be of a kind; most are secrets like the rest."""


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


@pytest.fixture
def said() -> dict[str, Any]:
    """Return an empty list of what was said where."""
    return {}


@pytest.fixture
def secretive(ledger_factory: LedgerMaker, said: dict[str, Any]) -> Path:
    """Return a ledger in which every field of every kind is filled in."""
    places = {
        "shop": "shop.yaml",
        "supplier": f"suppliers/{SUPPLIER}.yaml",
        "study": "measuring/2012-03-zqstudy.yaml",
        "style": f"{BLANK}/style.yaml",
        "round": f"{BLANK}/{ROUND}.yaml",
        "delivery": f"{BLANK}/{DELIVERY}.yaml",
        "order": f"{BLANK}/{ORDER}.yaml",
    }
    assert places.keys() == set(KINDS)
    files: dict[str, str | bytes] = {
        place: yaml.safe_dump(filled(schema(kind), (kind,), said), allow_unicode=True)
        for kind, place in places.items()
    }
    return ledger_factory({**files, f"{BLANK}/zqphoto.png": picture()}, base=False)


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


def test_no_field_gets_out(secretive: Path, said: dict[str, Any], tmp_path: Path) -> None:
    """Every field that the schemas know says something of its own, and none of it is in a byte."""
    build_site(secretive, tmp_path / "out", public=True)
    site = site_files(tmp_path / "out")
    secrets = secrets_of(said)
    everything = b"\n".join([*(path.encode() for path in site), *site.values()])

    assert len(secrets) > 90
    assert [path for path, text in secrets.items() if text.encode() in everything] == []
    assert b"zq" not in everything.replace(said["style.called"].encode(), b"").replace(
        said["shop.shop"].encode(), b""
    ).replace(said["style.fabric.fibre"].encode(), b"").replace(
        said["style.fabric.knit"].encode(), b""
    )


def test_the_secrets_are_there_to_be_found(
    secretive: Path, said: dict[str, Any], tmp_path: Path
) -> None:
    """The shop's own site does show them: looking for them can fail."""
    build_site(secretive, tmp_path / "own")
    everything = b"\n".join(site_files(tmp_path / "own").values())
    shown = [path for path, text in secrets_of(said).items() if text.encode() in everything]

    assert len(shown) > 60


def test_every_text_of_the_schemas_is_a_secret_or_public(
    secretive: Path, said: dict[str, Any]
) -> None:
    """A field that joins a schema is looked for by itself, or must be declared public here."""
    found = {path for kind in KINDS for path in texts(schema(kind), (kind,))}
    silent = {"delivery.again"}  # names another delivery of this very blank, by its date
    held = set(secrets_of(said)) | PUBLIC | silent
    keyed = {path for path in said if path.endswith("(key)")}

    assert found - held == set(), found - held
    assert keyed
    assert {*said} >= PUBLIC


def texts(part: Mapping[str, Any], way: Way) -> Iterator[str]:
    """Yield the way to every field that takes any text or any day."""
    if "oneOf" in part:
        return
    if part.get("type") == "object":
        for key, schema in part.get("properties", {}).items():
            yield from texts(schema, (*way, key))
    elif part.get("type") == "array":
        yield from texts(part["items"], (*way, "[]"))
    elif part.get("type") == "string":
        yield ".".join(way)


def test_without_a_name_of_its_own_it_is_called_after_its_cloth(
    secretive: Path, said: dict[str, Any], tmp_path: Path
) -> None:
    """Neither the supplier's name for it nor its key stands in for what clients would see."""
    place = secretive / BLANK / "style.yaml"
    style = yaml.safe_load(place.read_text())
    del style["called"]
    style["fabric"] = {"fibre": "100 % cotton", "knit": "jersey", "mass": "6.1 oz/yd2"}
    place.write_text(yaml.safe_dump(style))
    build_site(secretive, tmp_path / "out", public=True)
    site = site_files(tmp_path / "out")
    everything = b"\n".join([*(path.encode() for path in site), *site.values()])

    assert "sizes/tee-100-cotton-jersey-207-g-m2.html" in site
    assert b"<h1>Tee, 100" in site["sizes/tee-100-cotton-jersey-207-g-m2.html"]
    assert b"zq" not in everything.replace(said["shop.shop"].encode(), b"")


ADVICE = (b"approved", b"rejected", b"with conditions", b"advice", b"supplier", b"decision")


def test_only_what_outsiders_may_see(demo_copy: Path, tmp_path: Path) -> None:
    """The list, the charts with their data, how we measure, its drawings, and the dress."""
    build_site(demo_copy, tmp_path / "out", public=True)
    site = site_files(tmp_path / "out")
    charts = {path[6:-5] for path in site if path.startswith("sizes/")}
    rest = {path for path in site if not path.startswith(("sizes/", "data/sizes/"))}
    drawings = {path for path in rest if path.startswith("charts/guide/") and path[-4:] == ".svg"}

    assert {path for path in site if path.startswith("data/")} == {
        f"data/sizes/{chart}.csv" for chart in charts
    }
    assert rest - drawings == {
        ".blankbook-site",
        "index.html",
        "guide.html",
        "assets/site.css",
        "assets/icon.svg",
    }
    for path, body in site.items():
        if not path.endswith(".css"):
            assert [word for word in ADVICE if word in body.lower()] == [], path
        assert b"<script" not in body, path


def test_no_name_of_the_demo_gets_out(demo_copy: Path, tmp_path: Path) -> None:
    """No supplier, style, lot or person of the demo shop is on its public site."""
    from blankbook.records.load_ledger import load_ledger

    ledger = load_ledger(demo_copy).ledger
    assert ledger
    build_site(demo_copy, tmp_path / "out", public=True)
    site = site_files(tmp_path / "out")
    everything = "\n".join([*site, *(body.decode() for body in site.values())])
    words = [
        word for supplier in ledger.suppliers.values() for word in (supplier.key, supplier.name)
    ]
    words += [blank.style.name for blank in ledger.blanks.values()]
    words += [p.lot for blank in ledger.blanks.values() for r in blank.rounds for p in r.pieces]

    assert [word for word in words if word and word in everything] == []


def test_a_public_site_takes_the_place_of_the_shop_s_own(demo_copy: Path, tmp_path: Path) -> None:
    """Built over each other, neither leaves a file behind, whichever was there before."""
    out = tmp_path / "out"
    build_site(demo_copy, tmp_path / "own")
    build_site(demo_copy, tmp_path / "public", public=True)
    own, public = site_files(tmp_path / "own"), site_files(tmp_path / "public")

    for outside in (False, True, False, True, True):
        build_site(demo_copy, out, public=outside)
        assert site_files(out) == (public if outside else own)


def test_a_blank_that_is_decided_against_leaves_the_site(demo_copy: Path, tmp_path: Path) -> None:
    """The newest decision counts: a hold takes the chart away, and its data with it."""
    place = demo_copy / "blanks/tarn-thrush/h6/2026-04-20-new-lot.yaml"
    build_site(demo_copy, tmp_path / "out", public=True)
    before = site_files(tmp_path / "out")
    place.write_text(place.read_text().replace("decision: approved", "decision: hold"))
    build_site(demo_copy, tmp_path / "out", public=True)
    after = site_files(tmp_path / "out")

    assert before.keys() - after.keys() == {
        "sizes/standard-tee.html",
        "data/sizes/standard-tee.csv",
    }
    assert b"Standard tee" not in b"".join(after.values())


def test_public_wants_a_place_of_its_own(ledger_factory: LedgerMaker, command: Program) -> None:
    """Without --out it would take the place of the shop's own site."""
    root = ledger_factory()
    ended = command("build", "--ledger", root, "--public")

    assert ended.code == 2
    assert "help: add --out DIR" in ended.err
    assert not (root / "catalogue").exists()


def test_handbook_is_for_the_shop_alone(ledger_factory: LedgerMaker, tmp_path: Path) -> None:
    """Outsiders get no page of it, and nothing that leads there; the shop's own site has it."""
    ledger = ledger_factory()
    build_site(ledger, tmp_path / "own")
    build_site(ledger, tmp_path / "public", public=True)
    own, public = site_files(tmp_path / "own"), site_files(tmp_path / "public")

    assert "handbook/index.html" in own
    assert b'href="./handbook/index.html"' in own["index.html"]
    assert [path for path in public if "handbook" in path or b"handbook" in public[path]] == []
