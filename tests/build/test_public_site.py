"""A site for outsiders has what they may see, and not a word of what they may not."""

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
import yaml

from blankbook.build.build_site import build_site
from blankbook.text.schemas import KINDS, schema
from building import site_files
from every_field import (
    BLANK,
    PUBLIC,
    Way,
    filled,
    picture,
    place_of,
    secrets_of,
)  # fmt: skip
from support import LedgerMaker, Program


@pytest.fixture
def said() -> dict[str, Any]:
    """Return an empty list of what was said where."""
    return {}


@pytest.fixture
def secretive(ledger_factory: LedgerMaker, said: dict[str, Any]) -> Path:
    """Return a ledger in which every field of every kind is filled in."""
    files: dict[str, str | bytes] = {
        place_of(kind): yaml.safe_dump(filled(schema(kind), (kind,), said), allow_unicode=True)
        for kind in KINDS
    }
    return ledger_factory({**files, f"{BLANK}/zqphoto.png": picture()}, base=False)


def test_no_field_gets_out(secretive: Path, said: dict[str, Any], tmp_path: Path) -> None:
    """Every field that the schemas know says something of its own, and none of it is in a byte."""
    build_site(secretive, tmp_path / "out", public=True)
    site = site_files(tmp_path / "out")
    secrets = secrets_of(said)
    everything = b"\n".join([*(path.encode() for path in site), *site.values()])

    assert any(path.startswith("sizes/") for path in site)
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
    drawings |= {f"charts/sizes/{chart}.svg" for chart in charts}

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


@pytest.mark.seldom(3)
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
        "charts/sizes/standard-tee.svg",
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
