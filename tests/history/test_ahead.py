"""What a build keeps for reviews is what they would work out themselves."""

import shutil
from pathlib import Path
from typing import Any

import pytest

from blankbook.build.build_site import STATE, build_site
from blankbook.history.review import review_cache as keeping
from blankbook.history.review.blank_paths import names_of
from blankbook.history.versions.snapshots import committed
from history_made import Repository, records_opened
from support import SMALL_LEDGER, LedgerMaker, Program

ROUND = next(path for path in SMALL_LEDGER if "/2" in path and path.startswith("blanks/"))


@pytest.fixture
def shop(ledger_factory: LedgerMaker) -> Repository:
    """A small ledger of two blanks, committed twice: a reading was put right."""
    made = Repository(ledger_factory(SMALL_LEDGER))
    blank = (made.root / ROUND).parent
    shutil.copytree(blank, blank.parent / "other")
    for place in (blank.parent / "other").iterdir():
        key = f"{blank.parent.name}/{blank.name}"
        text = place.read_text(encoding="utf-8")
        assert key in text
        place.write_text(text.replace(key, f"{blank.parent.name}/other"), encoding="utf-8")
    made.write(".gitignore", "catalogue/\n.blankbook/\n")
    made.commit()
    made.git("tag", "old")
    text = (made.root / ROUND).read_text(encoding="utf-8")
    made.write(ROUND, text.replace("half_chest: 2", "half_chest: 3", 1))
    assert (made.root / ROUND).read_text(encoding="utf-8") != text
    made.commit()
    return made


def built(shop: Repository, **how: Any) -> dict[str, Any]:
    """Build the site, and return what is known of what blanks teach."""
    build_site(shop.root, shop.root / "catalogue", **how)
    return keeping.load(shop.root / STATE).known["given"]


def test_a_build_keeps_what_a_review_would_work_out(shop: Repository, program: Program) -> None:
    """The same data, by the same names; and a review says the same with it."""
    plain = program("changes", "old", "HEAD", "--ledger", shop.root).out
    (shop.root / STATE).mkdir()
    program("changes", "old", "HEAD", "--ledger", shop.root)
    worked_out = keeping.load(shop.root / STATE)
    shutil.rmtree(shop.root / STATE)
    given = built(shop)
    names = names_of(committed(shop.root, "HEAD"), worked_out.code, committed=True)
    assert given == {name: worked_out.known["given"][name] for key, name in names.items() if key}
    assert len(given) == 2
    assert program("changes", "old", "HEAD", "--ledger", shop.root).out == plain


def test_the_first_review_after_a_build_reads_what_differs(
    shop: Repository, monkeypatch: pytest.MonkeyPatch, command: Program
) -> None:
    """Of the blank that is the same in both versions no record is opened."""
    built(shop)
    opened = records_opened(monkeypatch)
    assert command("changes", "old", "HEAD", "--ledger", shop.root).code == 0
    blanks = {str(Path(path).parent) for path in opened if path.startswith("blanks/")}
    assert blanks == {str(Path(ROUND).parent)}


def test_what_is_not_committed_is_not_kept(shop: Repository) -> None:
    """Nor by a site for outsiders, which knows nothing of git; nor beside what a clone brought."""
    assert built(shop, public=True) == {}
    with (shop.root / ROUND).open("a", encoding="utf-8") as stream:
        stream.write("# looked at again\n")
    assert built(shop) == {}
    shop.git("checkout", "--quiet", "--", ".")
    (shop.root / STATE / keeping.NAME).write_text("somebody's word")
    shop.git("add", "--force", f"{STATE}/{keeping.NAME}")
    assert built(shop, fresh=True) == {}
    shop.git("rm", "--quiet", "--cached", f"{STATE}/{keeping.NAME}")
    assert len(built(shop, fresh=True)) == 2
