"""What changed lately, on a page and in a feed: RFC 4287 (Atom), section by section."""

import re
import uuid
from dataclasses import replace
from pathlib import Path
from posixpath import dirname, join, normpath
from urllib.parse import urldefrag, urljoin, urlsplit
from xml.etree import ElementTree

import pytest

from blankbook.build.build_site import build_site
from blankbook.build.link_check import page_ids
from blankbook.pages.shop.atom_feed import feed_text
from blankbook.pages.shop.commit_entries import CommitEntry
from building import ROUND, edit_file, site_files
from made_repositories import Repository
from markup import PublishedMarkup
from support import LedgerMaker

ATOM = "{http://www.w3.org/2005/Atom}"
XHTML = "{http://www.w3.org/1999/xhtml}"
SUPPLIER = "suppliers/tarn-thrush.yaml"
STYLE = f"{ROUND.rpartition('/')[0]}/style.yaml"
ODD = "R&D <b>\"' ]]> &amp; tee"
"""A name that would break a feed that does not escape."""


@pytest.fixture
def made(ledger_factory: LedgerMaker) -> Repository:
    """A small ledger with four commits that change it, and one that changes how it is written."""
    repository = Repository(ledger_factory())
    repository.write(".gitignore", "catalogue/\n.blankbook/\n")
    repository.commit("a secret subject")
    edit_file(repository.root, ROUND, "20 1/8", "20 1/4")
    repository.commit("put right\n\nReason: read again, <i>twice</i> & more")
    text = (repository.root / STYLE).read_text(encoding="utf-8")
    repository.write(
        STYLE, re.sub("(?m)^name: .*$", f"name: '{ODD.replace(chr(39), chr(39) * 2)}'", text)
    )
    repository.commit()
    repository.write(ROUND, (repository.root / ROUND).read_text(encoding="utf-8") + "# a comment\n")
    repository.commit()
    edit_file(repository.root, SUPPLIER, "name:", "contact: canary@example.org\nname:")
    repository.commit()
    return repository


def built(root: Path) -> Path:
    build_site(root, root / "catalogue")
    return root / "catalogue"


def feed(out: Path) -> ElementTree.Element:
    """Return the feed, read as XML (RFC 4287, 2: it must be well-formed)."""
    return ElementTree.fromstring((out / "changes.atom").read_bytes())


def normal(identity: str) -> bool:
    """Say whether an id is a UUID as its URN writes it."""
    try:
        return uuid.UUID(identity).urn == identity
    except ValueError:
        return False


def valid(root: ElementTree.Element) -> list[str]:
    """Return which of the rules of RFC 4287 a feed breaks, by section."""
    wrong = []
    entries = root.findall(f"{ATOM}entry")

    def rule(holds: bool, section: str) -> None:
        if not holds:
            wrong.append(section)

    rule(root.tag == f"{ATOM}feed", "4.1.1 the document is a feed")
    rule(bool(root.findall(f"{ATOM}author/{ATOM}name")), "4.1.1 an author, where entries have none")
    own_ids = [element.text or "" for element in root.iter(f"{ATOM}id")]
    rule(len(own_ids) == len(set(own_ids)), "4.1.1 no two entries are one, all being newest")
    for container in (root, *entries):
        for name in ("id", "title", "updated"):
            rule(len(container.findall(f"{ATOM}{name}")) == 1, f"4.1.1, 4.1.2 exactly one {name}")
        alternates = [
            (link.get("type"), link.get("hreflang"))
            for link in container.findall(f"{ATOM}link")
            if link.get("rel", "alternate") == "alternate"
        ]
        rule(len(alternates) == len(set(alternates)), "4.1.1, 4.1.2 one alternate of a type")
        said = (container.findtext(f"{ATOM}updated") or "").strip()
        rule(bool(re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?(Z|[+-]\d\d:\d\d)", said)),
             "3.3 a date as RFC 3339 has it, with an upper-case T and Z")  # fmt: skip
        identity = (container.findtext(f"{ATOM}id") or "").strip()
        rule(bool(urlsplit(identity).scheme), "4.2.6 an id is a whole IRI")
        rule(normal(identity), "4.2.6.1 and written in its one normal form")
    rule(
        any(link.get("rel") == "self" for link in root.findall(f"{ATOM}link")), "4.1.1 a self link"
    )
    for link in root.iter(f"{ATOM}link"):
        rule(bool(link.get("href")), "4.2.7.1 a link leads somewhere")
        rule("/" in link.get("type", "text/html"), "4.2.7.3 its type is a media type")
    for title in root.iter(f"{ATOM}title"):
        rule(
            title.get("type", "text") == "text" and len(title) == 0,
            "3.1.1.1 a text has no children",
        )
    for entry in entries:
        content = entry.findall(f"{ATOM}content")
        alternate = [x for x in entry.findall(f"{ATOM}link") if x.get("rel") == "alternate"]
        rule(len(content) <= 1, "4.1.2 at most one content")
        rule(bool(content or alternate), "4.1.2 an alternate link, where there is no content")
        for body in content:
            rule(body.get("type") == "xhtml", "4.1.3.1 the type of the content")
            rule([x.tag for x in body] == [f"{XHTML}div"], "4.1.3.3 a single div of XHTML")
            rule(not (body.text or "").strip(), "3.1.1.3 and nothing beside it")
    for person in root.iter(f"{ATOM}author"):
        rule(len(person.findall(f"{ATOM}name")) == 1, "3.2.1 exactly one name")
        rule(not person.findall(f"{ATOM}email"), "ours: nobody's address")
    return wrong


def test_the_feed_is_valid(made: Repository) -> None:
    """Every rule of RFC 4287 that can be held against one feed."""
    root = feed(built(made.root))
    assert valid(root) == []
    assert len(root.findall(f"{ATOM}entry")) == 4


def test_the_rules_can_fail(made: Repository) -> None:
    """A feed without an id, with a day for a time, with markup for a text: each is seen."""
    text = (built(made.root) / "changes.atom").read_text(encoding="utf-8")
    for old, new, section in (
        (r"<id>.*?</id>", "", "exactly one id"),
        (r"T\d\d:\d\d:\d\dZ</updated>", "T00:00:00</updated>", "3.3"),
        (r"<title>", "<title><b/>", "3.1.1.1"),
        (r"urn:uuid:\w", "urn:uuid:Z", "4.2.6.1"),
        (r"<name>.*?</name>", "", "4.1.1 an author"),
        (r'rel="self"', 'rel="alternate"', "4.1.1 a self link"),
    ):
        broken = re.sub(old, new, text, count=1)
        found = valid(ElementTree.fromstring(broken))
        assert any(section in fault for fault in found), section


def test_ids_and_times_come_from_commits(made: Repository, tmp_path: Path) -> None:
    """The same in another clone at another time; a new commit adds one and changes none."""
    before = feed(built(made.root))
    made.git("clone", "--quiet", str(made.root), str(tmp_path / "clone"))
    clone = built(tmp_path / "clone")
    assert (clone / "changes.atom").read_bytes() == (
        made.root / "catalogue/changes.atom"
    ).read_bytes()
    times = [entry.findtext(f"{ATOM}updated") for entry in before.findall(f"{ATOM}entry")]
    days = ("06", "04", "03", "02")
    assert times == [f"2026-01-{day}T12:00:00Z" for day in days]
    assert before.findtext(f"{ATOM}updated") == times[0]

    edit_file(made.root, "shop.yaml", "shop: ", "shop: New ")
    made.commit()
    after = feed(built(made.root))
    known = [element.text for element in before.iter(f"{ATOM}id")]
    now = [element.text for element in after.iter(f"{ATOM}id")]
    assert now[0] == known[0]
    assert now[2:] == known[1:]


@pytest.mark.parametrize("site", ["", "https://blanks.example", "https://blanks.example/at/"])
def test_every_link_of_the_feed_leads_somewhere(made: Repository, site: str) -> None:
    """From where it is published if that is said, and else from beside itself, as on a disk."""
    if site:
        with (made.root / "shop.yaml").open("a", encoding="utf-8") as file:
            file.write(f"site: {site}\n")
    out = built(made.root)
    home = f"{site.rstrip('/')}/" if site else f"{out.as_uri()}/"
    root = feed(out)
    links = [link.get("href", "") for link in root.iter(f"{ATOM}link")]
    links += [anchor.get("href", "") for anchor in root.iter(f"{XHTML}a")]
    assert len(links) > 8
    for link in links:
        assert bool(urlsplit(link).scheme) == bool(site)
        whole, anchor = urldefrag(urljoin(f"{home}changes.atom", link))
        assert whole.startswith(home)
        place = out / whole.removeprefix(home)
        assert place.is_file(), link
        assert not anchor or anchor in page_ids(place), link


def test_what_is_typed_is_never_markup(made: Repository) -> None:
    """Names and reasons come out as they went in; no element is there but ours."""
    out = built(made.root)
    root = feed(out)
    text = "".join(root.itertext())
    assert ODD in text
    assert "reason: read again, <i>twice</i> & more" in text
    assert {element.tag for element in root.iter() if element.tag.startswith(XHTML)} == {
        f"{XHTML}{name}" for name in ("div", "p", "a", "ul", "li")
    }
    page = PublishedMarkup((out / "changes.html").read_text(encoding="utf-8"))
    assert ODD in page.text
    assert "<i>twice</i> & more" in page.text


def test_what_no_xml_may_hold_is_replaced() -> None:
    """XML 1.0, 2.2: control characters, surrogates and two others are no characters."""
    entry = CommitEntry("k", "k", "p", "2026-01-02", -5, "a\0b\x0b\ud800\uffff", (), "")
    text = feed_text([entry, replace(entry, key="l", at=10**15)], "S\x1b", "", "")
    root = ElementTree.fromstring(text)
    assert valid(root) == []
    assert root.findtext(f"{ATOM}entry/{ATOM}title") == "a\ufffdb\ufffd\ufffd\ufffd"
    assert root.findtext(f"{ATOM}updated") == "9999-12-31T23:59:59Z"


def test_the_page_says_the_same(made: Repository) -> None:
    """The newest first, by day, each with its commit and its way to what it is about."""
    page = PublishedMarkup((built(made.root) / "changes.html").read_text(encoding="utf-8"))
    assert [heading.text.strip() for heading in page.all("h2")] == [
        f"2026-01-{day}" for day in ("06", "04", "03", "02")
    ]
    leads = [anchor.get("href") for anchor in page.all("a") if "h3" in anchor.inside]
    blank = "blanks/tarn-thrush/h6.html"
    assert leads == ["suppliers/tarn-thrush.html", blank, blank]
    assert "contact changed" in page.text
    assert "1 of the last commits changed how something is written" in page.text
    assert made.git("rev-parse", "HEAD").strip()[:10] in page.text


def test_two_pages_name_the_feed_to_reader_programs(made: Repository) -> None:
    """The front page and the page beside it; no other, and no page for clients leads there."""
    out = built(made.root)
    for place in sorted(out.rglob("*.html")):
        path = place.relative_to(out).as_posix()
        page = PublishedMarkup(place.read_text(encoding="utf-8"))
        named = [link.get("href") for link in page.all("link") if link.get("rel") == "alternate"]
        assert named == (["./changes.atom"] if path in {"index.html", "changes.html"} else []), path
        targets = {normpath(join(dirname(path), anchor.get("href"))) for anchor in page.all("a")}
        leads = bool(targets & {"changes.html", "changes.atom"})
        assert leads == (path in {"index.html", "changes.html"}), path


def test_nothing_private_is_published(made: Repository) -> None:
    """No author or subject of a commit, no contact; outsiders get neither page nor feed."""
    out = built(made.root)
    for name in ("changes.html", "changes.atom"):
        said = (out / name).read_text(encoding="utf-8")
        for secret in ("secret subject", "rv@", "canary@", "example.org"):
            assert secret not in said
    build_site(made.root, made.root / "public", public=True)
    outside = site_files(made.root / "public")
    assert not [path for path in outside if "changes" in path or path.endswith(".atom")]
    assert not [path for path, body in outside.items() if b"changes.html" in body]


def test_without_commits_there_is_neither(ledger_factory: LedgerMaker) -> None:
    """Nor a way there; and what was there goes with the history."""
    root = ledger_factory()
    out = built(root)
    assert not (out / "changes.html").exists()
    assert "changes" not in (out / "index.html").read_text(encoding="utf-8")
    Repository(root).commit()
    assert (built(root) / "changes.atom").exists()


@pytest.mark.seldom(3)
def test_one_more_commit_makes_the_same_site_as_a_build_from_nothing(
    made: Repository, tmp_path: Path
) -> None:
    """What was told is kept, an edit that is not committed tells nothing, and bytes agree."""
    out = built(made.root)
    told = (out / "changes.atom").read_bytes()
    edit_file(made.root, ROUND, "20 1/4", "20 3/8")
    assert (built(made.root) / "changes.atom").read_bytes() == told
    made.commit()
    edit_file(made.root, SUPPLIER, "canary", "other")
    build_site(made.root, tmp_path / "fresh", fresh=True)
    assert site_files(built(made.root)) == site_files(tmp_path / "fresh")
    assert (out / "changes.atom").read_bytes() != told


@pytest.mark.seldom(4)
def test_a_page_has_room_for_no_more_than_it_should(made: Repository) -> None:
    """However much the commits say, the page stays light, and what is left out is counted."""
    for number in range(18):
        made.day = 6
        text = (made.root / ROUND).read_text(encoding="utf-8")
        for part in range(9):
            day = f"2024-03-{number + 1:02d}"
            path = f"{ROUND.rpartition('/')[0]}/{day}-{'x' * 200}{part}.yaml"
            made.write(path, text.replace("date: 2024-02-12", f"date: {day}"))
        made.commit()
    out = built(made.root)
    assert (out / "changes.html").stat().st_size < 80_000
    assert valid(feed(out)) == []
    text = PublishedMarkup((out / "changes.html").read_text(encoding="utf-8")).text
    shown = len(feed(out).findall(f"{ATOM}entry"))
    left = re.search(r"(\d+) earlier commits? touched records as well", text)
    assert left
    assert shown + int(left[1]) + ("changed how" in text) == 23
