"""Only what changed is made again, and what was kept is never trusted further than it is known."""

import json
import os
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from blankbook.build import chart_worker, code_fingerprint
from blankbook.build.build_site import BuildResult, LedgerFaultsError, build_site
from blankbook.build.read_changed import Learning
from blankbook.pages import all_pages
from building import PAGE, ROUND, SECOND_SUPPLIER, STYLE, edit_file, site_files
from support import LedgerMaker


@pytest.fixture
def ledger(ledger_factory: LedgerMaker) -> Path:
    """Return a ledger of two suppliers that was built once."""
    root = ledger_factory(SECOND_SUPPLIER)
    build_site(root, root / "catalogue")
    return root


def again(ledger: Path, **named: Any) -> BuildResult:
    return build_site(ledger, ledger / "catalogue", **named)


def made(ledger: Path) -> tuple[int, int]:
    built = again(ledger)
    return built.rendered, built.drawn


def changed_since(before: Mapping[str, bytes], ledger: Path) -> set[str]:
    now = site_files(ledger / "catalogue")
    return {path for path in before.keys() | now.keys() if before.get(path) != now.get(path)}


def test_nothing_changed_makes_nothing(ledger: Path) -> None:
    """A second build leaves every file as it is, down to its inode."""
    before = {p: p.stat().st_ino for p in (ledger / "catalogue").rglob("*")}

    assert made(ledger) == (0, 0)
    assert {p: p.stat().st_ino for p in (ledger / "catalogue").rglob("*")} == before


def test_touched_file_makes_nothing(ledger: Path) -> None:
    """A file with a new time and its old content has not changed."""
    os.utime(ledger / ROUND)

    assert made(ledger) == (0, 0)


def test_quiet_build_loads_nothing_heavy(ledger: Path) -> None:
    """With nothing to do, none of the libraries that the work needs is loaded."""
    os.utime(ledger / ROUND)
    script = (
        "import sys\nfrom pathlib import Path\nfrom blankbook.commands.main import run\n"
        f"code = run(['build', '--ledger', {str(ledger)!r}])\n"
        "print(code, sorted({name.partition('.')[0] for name in sys.modules}))"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True
    )
    code, _, names = done.stdout.splitlines()[-1].partition(" ")
    heavy = {"yaml", "ruamel", "jsonschema", "numpy", "scipy", "matplotlib", "mkdocs", "jinja2"}

    assert (code, heavy & set(json.loads(names.replace("'", '"')))) == ("0", set())
    assert "(0 made anew)" in done.stdout


def test_reading_touches_its_blank_the_catalogue_and_its_supplier(ledger: Path) -> None:
    """A reading shows on three pages and on the charts of one blank, and nowhere else."""
    before = site_files(ledger / "catalogue")
    edit_file(ledger, ROUND, "20 1/8", "20 1/4")
    rendered, drawn = made(ledger)
    changed = changed_since(before, ledger)

    assert {PAGE} <= {p for p in changed if p.endswith(".html")} <= {
        PAGE, "index.html", "suppliers/tarn-thrush.html",
    }  # fmt: skip
    assert all(p.startswith("charts/tarn-thrush/h6.") for p in changed if p.endswith(".svg"))
    assert rendered <= 3
    assert drawn == sum(p.endswith(".svg") for p in changed) > 0


def test_a_reading_does_not_work_out_the_method_page(
    ledger: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What only the shop's rules decide stays as it is, and costs nothing."""
    before = site_files(ledger / "catalogue")
    monkeypatch.setattr(all_pages, "fixed_pages", lambda _: pytest.fail("worked out again"))
    edit_file(ledger, ROUND, "20 1/8", "20 1/4")
    made(ledger)
    assert not {"method.html", "guide.html", "glossary.html"} & changed_since(before, ledger)


@pytest.mark.parametrize("page", ["method.html", "charts/guide/half_chest.svg"])
def test_a_method_page_that_was_damaged_is_made_again(ledger: Path, page: str) -> None:
    before = site_files(ledger / "catalogue")
    (ledger / "catalogue" / page).write_text("not ours", encoding="utf-8")
    edit_file(ledger, ROUND, "20 1/8", "20 1/4")
    made(ledger)
    assert page not in changed_since(before, ledger)


def test_other_rules_make_another_method_page(ledger: Path) -> None:
    before = site_files(ledger / "catalogue")
    rules = ledger / "shop.yaml"
    rules.write_text(rules.read_text(encoding="utf-8") + "\nmass_tolerance: 4\n", encoding="utf-8")
    made(ledger)
    assert "method.html" in changed_since(before, ledger)


def test_note_draws_nothing(ledger: Path) -> None:
    """Words are on a page, not on a chart."""
    edit_file(ledger, STYLE, "name: H6", "note: a new note\nname: H6")

    assert made(ledger) == (1, 0)


def test_comment_makes_nothing(ledger: Path) -> None:
    """What no page shows is read again and makes nothing."""
    edit_file(ledger, "shop.yaml", "units: in", "units: in  # as we measure")

    assert made(ledger) == (0, 0)


def test_removed_blank_leaves_nothing_behind(ledger: Path) -> None:
    """Pages and charts of a blank that is gone are gone."""
    for path in (ledger / "blanks/tarn-thrush/h6").iterdir():
        path.unlink()
    (ledger / "blanks/tarn-thrush/h6").rmdir()
    again(ledger)

    assert not [path for path in site_files(ledger / "catalogue") if "h6" in path]


TAMPERED = [
    (what, how)
    for what in (PAGE, "charts/tarn-thrush/h6.sizes.svg", "suppliers.html", "assets/site.css")
    for how in ("edited", "same size", "gone", "link", "folder linked")
    if (what, how) != ("suppliers.html", "folder linked")
]


@pytest.mark.parametrize(("what", "how"), TAMPERED)
def test_what_was_changed_by_hand_comes_back(
    what: str, how: str, ledger: Path, tmp_path: Path
) -> None:
    """A file of the site that is not the one that was made is made again."""
    right = site_files(ledger / "catalogue")
    place = ledger / "catalogue" / what
    body = place.read_bytes()
    if how == "folder linked":
        place.parent.rename(tmp_path / "moved")
        place.parent.symlink_to(tmp_path / "moved")
    elif how == "link":
        place.rename(tmp_path / "moved")
        place.symlink_to(tmp_path / "moved")
    elif how == "gone":
        place.unlink()
    else:
        stamp = place.stat()
        place.write_bytes(body[:-1] + b"!" if how == "same size" else body + b"!")
        os.utime(place, ns=(stamp.st_atime_ns, stamp.st_mtime_ns))
    again(ledger)

    assert site_files(ledger / "catalogue") == right
    assert not [path for path in (ledger / "catalogue").rglob("*") if path.is_symlink()]


def test_foreign_file_in_the_site_is_gone(ledger: Path) -> None:
    """The site holds what the build made and nothing else."""
    right = site_files(ledger / "catalogue")
    (ledger / "catalogue/mine.txt").write_text("mine")
    again(ledger)

    assert site_files(ledger / "catalogue") == right


@pytest.mark.parametrize("damage", ["", "{", "[]", "null", "\x00", "swapped", "cut", "folder"])
@pytest.mark.parametrize("name", ["index.json", "blanks.json"])
def test_damaged_cache_is_no_cache(name: str, damage: str, ledger: Path) -> None:
    """Whatever stands in the cache, the site comes out right."""
    right = site_files(ledger / "catalogue")
    (place,) = ledger.glob(f".blankbook/*/{name}")
    text = place.read_text()
    if damage == "folder":
        place.unlink()
        place.mkdir()
    else:
        cut = {"swapped": text.replace("h6", "h7"), "cut": text[:-2]}
        place.write_text(cut.get(damage, damage))
    edit_file(ledger, "suppliers/marshwort.yaml", "Marshwort", "Marsh Wort")
    again(ledger)
    edit_file(ledger, "suppliers/marshwort.yaml", "Marsh Wort", "Marshwort")
    again(ledger)

    assert site_files(ledger / "catalogue") == right


def test_other_code_makes_everything_anew(ledger: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A page is keyed by the code and the libraries that made it."""
    monkeypatch.setattr(code_fingerprint, "code_fingerprint", lambda _stamps, _made: ("other", {}))
    built = again(ledger)

    assert (built.rendered, built.drawn) == (built.pages, built.charts)


def test_code_is_hashed_again_only_when_its_files_changed(monkeypatch: pytest.MonkeyPatch) -> None:
    """The hash of the code is kept with the stamps of its files, and follows them."""
    made, stamps = code_fingerprint.code_fingerprint({}, "")
    assert {"blankbook/build/build_site.py", "blankbook.theme/main.html", "mkdocs"} <= stamps.keys()
    assert not [name for name in stamps if name.startswith("blankbook/commands")]

    monkeypatch.setattr(code_fingerprint, "_hash", lambda _places: "made again")
    assert code_fingerprint.code_fingerprint(stamps, made)[0] == made
    stamps["blankbook/build/build_site.py"] = [0, 0, 0, 0]
    assert code_fingerprint.code_fingerprint(stamps, made)[0] == "made again"


def test_warning_is_told_every_time(ledger: Path) -> None:
    """What wants a look is said again by a build that did not read the file again."""
    far = "body_length: 28 7/8"
    edit_file(ledger, ROUND, far, "body_length: 38 7/8")
    first = again(ledger)
    second = again(ledger)
    edit_file(ledger, "suppliers/marshwort.yaml", "Marshwort", "Marsh Wort")
    third = again(ledger)

    assert [finding.level for finding in first.findings] == ["warning"]
    assert first.findings == second.findings == third.findings


def test_photo_that_went_missing_is_noticed(ledger: Path) -> None:
    """A record names files beside it; their loss is a change though no record changed."""
    photo = ledger / "blanks/tarn-thrush/h6/a.png"
    Image.new("RGB", (8, 8), "teal").save(photo)
    edit_file(ledger, ROUND, "pieces:", "photos:\n  - {file: a.png, shows: the tag}\npieces:")
    again(ledger)
    assert made(ledger) == (0, 0)

    photo.unlink()
    with pytest.raises(LedgerFaultsError) as stopped:
        again(ledger)
    assert [finding.rule for finding in stopped.value.findings] == ["wrong-photo"]


def test_stray_record_stops_a_build_in_which_nothing_else_changed(ledger: Path) -> None:
    """A file that looks like a record and is not taken for one is a fault, not nothing."""
    (ledger / "blanks/tarn-thrush/h6/2024-03-01-more.yml").write_text("")

    with pytest.raises(LedgerFaultsError):
        again(ledger)


def test_fault_of_the_ledger_leaves_the_site(ledger: Path) -> None:
    """Nothing is built of a ledger with an error, and it is told again until it is mended."""
    right = site_files(ledger / "catalogue")
    edit_file(ledger, ROUND, "size: M", "size: XM")
    for _ in range(2):
        with pytest.raises(LedgerFaultsError) as stopped:
            again(ledger)
        assert [finding.rule for finding in stopped.value.findings] == ["unknown-size"]
    assert site_files(ledger / "catalogue") == right

    edit_file(ledger, ROUND, "size: XM", "size: M")
    assert made(ledger) == (0, 0)


def test_two_sites_of_one_ledger_do_not_forget_each_other(ledger: Path, tmp_path: Path) -> None:
    """Building elsewhere costs the usual place nothing."""
    build_site(ledger, tmp_path / "elsewhere")

    assert made(ledger) == (0, 0)


def test_moved_ledger_keeps_what_it_knows(ledger: Path) -> None:
    """A ledger is a folder like any other."""
    moved = ledger.rename(ledger.parent / "moved")

    assert made(moved) == (0, 0)


def lesson(number: int) -> dict[str, Any]:
    """Return a lesson that differs with *number*, in the form that judging takes."""
    return {
        "spread": {},
        "between_lots": {},
        "hand": [1.0, number],
        "hand_learned": False,
        "people": None,
        "inspection": {},
        "nearest": [],
    }


class TestLearning:
    """Values that are learned from the whole ledger bear on every blank."""

    @staticmethod
    def lengths() -> Learning:
        """Return one that learns how many rounds there are, from each blank's own count."""
        return Learning(
            lambda blank, _shop: {
                "step": 3.0,
                "left": {},
                "lots": {},
                "hand": [0.0, len(blank.rounds)],
            },
            lambda given, _shop, _studies: dict.fromkeys(
                given, lesson(sum(lesson["hand"][1] for lesson in given.values()))
            ),
        )

    def test_same_lesson_reads_only_what_changed(
        self, ledger: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        """A changed blank that teaches the same leaves the others alone."""
        again(ledger, fresh=True, learning=self.lengths())
        read = self.watch(monkeypatch)
        edit_file(ledger, ROUND, "20 1/8", "20 1/4")
        again(ledger, learning=self.lengths())

        assert read == [{"tarn-thrush/h6"}]

    def test_other_lesson_reads_all(self, ledger: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        """A lesson that comes out otherwise makes every blank be judged anew."""
        again(ledger, fresh=True, learning=self.lengths())
        read = self.watch(monkeypatch)
        (ledger / ROUND).unlink()
        again(ledger, learning=self.lengths())

        assert read == [{"tarn-thrush/h6"}, {"marshwort/s1"}]

    @staticmethod
    def watch(monkeypatch: pytest.MonkeyPatch) -> list[set[str]]:
        """Return the list to which each reading adds the blanks that it was asked for."""
        from blankbook.records import load_ledger

        real, asked = load_ledger.load_ledger, []

        def watching(root: Path, *, only: set[str], workers: int | None) -> Any:
            asked.append(set(only))
            return real(root, only=only, workers=workers)

        monkeypatch.setattr(load_ledger, "load_ledger", watching)
        return asked


class TestDrawer:
    """Where little changed a child draws, loading what it needs while the rest is done."""

    @pytest.mark.parametrize("ending", [1, 0])
    def test_drawer_that_fails_is_stood_in_for(
        self, ending: int, ledger: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        """A child that is gone, early or late, or says nonsense, costs time and nothing else."""
        before = site_files(ledger / "catalogue")

        def failing(reading: int, _writing: int) -> dict[str, str]:
            if ending:
                os.close(reading)
                os._exit(ending)
            os.read(reading, 1)
            raise ValueError

        monkeypatch.setattr(chart_worker, "_serve", failing)
        edit_file(ledger, ROUND, "20 1/8", "20 1/4")
        built = again(ledger, jobs=2)
        assert built.drawn > 0
        edit_file(ledger, ROUND, "20 1/4", "20 1/8")
        again(ledger, jobs=1)

        assert site_files(ledger / "catalogue") == before

    def test_drawer_ends_with_a_build_that_stops(
        self, ledger: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        """No child is left over by a ledger with a fault."""
        children: list[int] = []
        fork = os.fork

        def counted() -> int:
            children.append(fork())
            return children[-1]

        monkeypatch.setattr(os, "fork", counted)
        edit_file(ledger, ROUND, "size: M", "size: XM")
        with pytest.raises(LedgerFaultsError):
            again(ledger, jobs=2)

        assert children
        for child in children:
            with pytest.raises(ChildProcessError):
                os.waitpid(child, os.WNOHANG)
