"""Every number leads to the record behind it, and to the commit that the record comes from."""

from pathlib import Path

from blankbook.build.build_site import build_site
from building import ROUND
from made_repositories import Repository
from markup import PublishedMarkup
from support import LedgerMaker


def said(out: Path, page: str) -> dict[str, str]:
    """Return what a page says of its sources, by path."""
    markup = PublishedMarkup((out / page).read_text(encoding="utf-8"))
    told = [paragraph for paragraph in markup.all("p") if paragraph.get("class") == "source"]
    found = {}
    for paragraph in told:
        text = " ".join(paragraph.text.split())
        if text.startswith("Source: "):
            path, _, rest = text.removeprefix("Source: ").partition(", ")
            found[path] = rest
    return found


def test_every_page_leads_to_its_records(ledger_factory: LedgerMaker) -> None:
    """The copy in the site is the record, byte for byte."""
    root = ledger_factory()
    out = root / "catalogue"
    build_site(root, out)
    style, _, _ = ROUND.rpartition("/")
    page = f"{style}.html"
    assert set(said(out, page)) == {ROUND, f"{style}/style.yaml"}
    for path in said(out, page):
        assert (out / f"records/{path}.txt").read_bytes() == (root / path).read_bytes()


def test_the_commit_stands_beside_and_follows(ledger_factory: LedgerMaker) -> None:
    """A record that is not as it was committed says so; a new commit shows without a new word."""
    root = ledger_factory()
    out = root / "catalogue"
    page = f"{ROUND.rpartition('/')[0]}.html"
    made = Repository(root)
    made.write(".gitignore", "catalogue/\n.blankbook/\n")
    first = made.commit()
    build_site(root, out)
    assert said(out, page)[ROUND] == f"commit {first[:10]} of 2026-01-02"

    record = root / ROUND
    record.write_text(record.read_text(encoding="utf-8") + "note: looked at again\n")
    build_site(root, out)
    assert said(out, page)[ROUND] == f"commit {first[:10]} of 2026-01-02, changed since"

    second = made.commit()
    built = build_site(root, out)
    assert said(out, page)[ROUND] == f"commit {second[:10]} of 2026-01-03"
    assert built.rendered == 3  # the blank's, what changed lately, and the front page leading there
    assert build_site(root, out).rendered == 0


def test_outsiders_see_no_record_and_no_commit(ledger_factory: LedgerMaker) -> None:
    """A public site has neither."""
    root = ledger_factory()
    made = Repository(root)
    head = made.commit()
    build_site(root, root / "catalogue", public=True)
    assert not (root / "catalogue/records").exists()
    for place in (root / "catalogue").rglob("*.html"):
        assert head[:10] not in place.read_text(encoding="utf-8")
