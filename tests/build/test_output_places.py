"""Where a site may go, and what it looks like there."""

import json
import os
from collections.abc import Callable
from pathlib import Path

import pytest

from blankbook.build.build_site import build_site
from blankbook.build.trust.output_place import RefusedPlaceError, check_place
from building import ROUND, edit_file, site_files
from support import LedgerMaker, Program


def _link(root: Path) -> Path:
    (root / "link").symlink_to(root / "suppliers")
    return root / "link"


def _file(root: Path) -> Path:
    (root / "file").write_text("mine")
    return root / "file"


def _foreign(root: Path) -> Path:
    (root / "foreign").mkdir()
    (root / "foreign/mine.txt").write_text("mine")
    return root / "foreign"


def _checkout(root: Path) -> Path:
    (root / "checkout/.git").mkdir(parents=True)
    return root / "checkout"


def _other_ledger(root: Path) -> Path:
    (root.parent / "other").mkdir()
    (root.parent / "other/shop.yaml").write_text("")
    return root.parent / "other/measuring"


BAD_PLACES: dict[str, Callable[[Path], Path]] = {
    "the ledger": lambda root: root,
    "above the ledger": lambda root: root.parent,
    "among the records": lambda root: root / "blanks/site",
    "the cache": lambda root: root / ".blankbook",
    "in the cache": lambda root: root / ".blankbook/site",
    "where studies will be": lambda root: root / "measuring",
    "among studies to come": lambda root: root / "Measuring/site",
    "the schemas": lambda root: root / "schemas",
    "among git's files": lambda root: root / ".git/x",
    "among git's files above": lambda root: root.parent / ".git/x",
    "among the host's files": lambda root: root / ".github/site",
    "another ledger's studies": _other_ledger,
    "the top": lambda _: Path("/"),
    "home": lambda _: Path.home(),
    "a link": _link,
    "a file": _file,
    "a foreign folder": _foreign,
    "a checkout": _checkout,
}


@pytest.mark.parametrize("place", BAD_PLACES)
def test_place_that_must_not_be_buried(
    place: str, ledger_factory: LedgerMaker, command: Program
) -> None:
    """A place with something else in it is refused before anything is touched."""
    root = ledger_factory()
    out = BAD_PLACES[place](root)
    before = site_files(root)
    with pytest.raises(RefusedPlaceError):
        check_place(out, root)
    ended = command("build", "--ledger", root, "--out", out)

    assert ended.code == 2
    assert "--out" in ended.err
    assert "help: " in ended.err
    assert site_files(root) == before


@pytest.mark.parametrize("name", ["a b", "50 %", "#1", "it's", '"q"', "größe", "[x]*", "-dash"])
def test_strange_names_are_names(name: str, ledger_factory: LedgerMaker, command: Program) -> None:
    """Ledger and site may be called anything, and the address opens."""
    from urllib.parse import unquote, urlsplit

    root = ledger_factory(name=name)
    out = root.parent / f"{name} site"
    ended = command("build", "--ledger", root, "--out", out, "--json")
    data = json.loads(ended.out)

    assert ended.code == 0
    assert Path(unquote(urlsplit(data["index"]).path)) == out / "index.html"
    assert (out / "index.html").is_file()


def test_umask_is_heeded(ledger_factory: LedgerMaker, tmp_path: Path) -> None:
    """The site is as open to others as a new folder is."""
    root = ledger_factory()
    old = os.umask(0o022)
    try:
        build_site(root, tmp_path / "site")
    finally:
        os.umask(old)
    modes = {path.stat().st_mode & 0o777 for path in (tmp_path / "site").rglob("*")}

    assert (tmp_path / "site").stat().st_mode & 0o777 == 0o755
    assert modes == {0o644, 0o755}


def test_kept_files_have_one_name(ledger_factory: LedgerMaker) -> None:
    """Files are linked from a site that is gone afterwards: none can be changed behind ours."""
    root = ledger_factory()
    build_site(root, root / "catalogue")
    edit_file(root, ROUND, "20 1/8", "20 1/4")
    build_site(root, root / "catalogue")
    files = [path for path in (root / "catalogue").rglob("*") if path.is_file()]

    assert {path.stat().st_nlink for path in files} == {1}


def test_disk_without_links_copies(
    ledger_factory: LedgerMaker, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where a file cannot have two names it is copied."""
    root = ledger_factory()
    build_site(root, root / "catalogue")
    before = site_files(root / "catalogue")

    def refusing(_old: str, _new: str) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", refusing)
    edit_file(root, ROUND, "20 1/8", "20 1/4")
    built = build_site(root, root / "catalogue")
    now = site_files(root / "catalogue")

    assert built.drawn < built.charts
    assert before.keys() == now.keys()


def pages_of(root: Path) -> int:
    """Return how many pages a ledger's site has on the disk."""
    return len(list((root / "catalogue").rglob("*.html")))


def test_build_says_what_it_did_and_how_to_open_it(
    ledger_factory: LedgerMaker, command: Program
) -> None:
    """The last lines are the path and the address of the first page."""
    root = ledger_factory()
    first = command("build", "--ledger", root)
    second = command("build", "--ledger", root)
    index = root / "catalogue/index.html"
    pages = pages_of(root)

    assert first.code == 0
    assert first.out.splitlines()[1:] == [f"open {index}", f"  or {index.as_uri()}"]
    assert first.out.startswith(f"{pages} pages ({pages} made anew), ")
    assert second.out.startswith(f"{pages} pages (0 made anew), ")


def test_json_says_the_same_as_data(ledger_factory: LedgerMaker, command: Program) -> None:
    """One document on standard output, whether or not there was something to build."""
    root = ledger_factory()
    done = json.loads(command("build", "--ledger", root, "--json").out)
    pages = pages_of(root)
    edit_file(root, ROUND, "size: M", "size: XM")
    ended = command("build", "--ledger", root, "--json")
    stopped = json.loads(ended.out)

    assert (done["schema"], done["built"]) == ("blankbook/build/1", True)
    assert done["pages"] == done["rendered"] == pages
    assert done["charts"] == done["drawn"] > 0
    assert (ended.code, stopped["built"], stopped["findings"]["error"]) == (1, False, 1)
    assert "unknown-size" in ended.err


def test_empty_ledger_makes_a_site_that_says_so(ledger_factory: LedgerMaker) -> None:
    """A shop that has begun with nothing but shop.yaml gets a site."""
    shop = "shop: New shop\nunits: cm\ncurrency: EUR\ntape: {unit: cm, reads_to: 0.5}\n"
    root = ledger_factory({"shop.yaml": shop}, base=False)
    built = build_site(root, root / "catalogue")

    assert built.pages == pages_of(root)
    assert "No blanks yet" in (root / "catalogue/index.html").read_text()
