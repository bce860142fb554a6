"""The build: the same bytes every time, and only what changed is made again."""

import json
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from blankbook.pages.build import Built, LedgerHasFaults, build_site
from support import LedgerMaker

ROUND = "blanks/tarn-thrush/h6/2024-02-12-first.yaml"
STYLE = "blanks/tarn-thrush/h6/style.yaml"
SECOND = {
    "suppliers/marshwort.yaml": "supplier: marshwort\nname: Marshwort Basics\n",
    "blanks/marshwort/s1/style.yaml": (
        "style: marshwort/s1\nname: S1 plain tee\nsizes: [S, M]\ncolours: [black]\n"
    ),
}


@pytest.fixture
def ledger(ledger_factory: LedgerMaker) -> Path:
    """Return a ledger of two suppliers, one measured blank and one that nobody measured."""
    return ledger_factory(SECOND)


def contents(site: Path) -> dict[str, bytes]:
    """Return every file of a site."""
    return {
        path.relative_to(site).as_posix(): path.read_bytes()
        for path in sorted(site.rglob("*"))
        if path.is_file()
    }


def fresh(ledger: Path, place: Path) -> dict[str, bytes]:
    """Return what a build from nothing makes of the ledger as it is now."""
    copy = Path(shutil.copytree(ledger, place / "copy", ignore=_leave_behind))
    build_site(copy, place / "fresh", fresh=True)
    found = contents(place / "fresh")
    shutil.rmtree(place)
    return found


_leave_behind = shutil.ignore_patterns("catalogue", ".blankbook")


def edit(ledger: Path, path: str, old: str, new: str) -> None:
    """Change one place of a file."""
    place = ledger / path
    text = place.read_text()
    assert old in text
    place.write_text(text.replace(old, new, 1))


def remove_round(ledger: Path) -> None:
    (ledger / ROUND).unlink()


def remove_blank(ledger: Path) -> None:
    shutil.rmtree(ledger / "blanks/tarn-thrush/h6")


def add_round(ledger: Path) -> None:
    text = (ledger / ROUND).read_text().replace("2024-02-12", "2024-09-02").replace("-A", "-B")
    (ledger / "blanks/tarn-thrush/h6/2024-09-02-again.yaml").write_text(text)


EDITS: dict[str, Callable[[Path], None]] = {
    "a reading": lambda root: edit(root, ROUND, "20 1/8", "20 1/4"),
    "a note": lambda root: edit(root, STYLE, "name: H6", "note: a new note\nname: H6"),
    "the shop's tolerance": lambda root: edit(
        root, "shop.yaml", "units: in", "units: in\ntolerance: {half_chest: 3/8}"
    ),
    "the shop's unit": lambda root: edit(root, "shop.yaml", "units: in", "units: cm"),
    "a supplier's name": lambda root: edit(
        root, "suppliers/tarn-thrush.yaml", "Tarn & Thrush", "Thrush & Tarn"
    ),
    "a round more": add_round,
    "a round less": remove_round,
    "a blank less": remove_blank,
    "nothing but the time": lambda root: os.utime(root / ROUND),
}


@pytest.mark.parametrize("change", EDITS)
def test_a_build_after_a_change_is_the_same_as_from_nothing(
    change: str, ledger: Path, tmp_path: Path
) -> None:
    """Whatever was kept from the old site, the new one holds the bytes of a fresh build."""
    build_site(ledger, ledger / "catalogue")
    EDITS[change](ledger)
    build_site(ledger, ledger / "catalogue")
    assert contents(ledger / "catalogue") == fresh(ledger, tmp_path / "again")


def test_one_process_and_two_make_the_same(demo_copy: Path, tmp_path: Path) -> None:
    build_site(demo_copy, tmp_path / "one", jobs=1, fresh=True)
    build_site(demo_copy, tmp_path / "two", jobs=2, fresh=True)
    assert contents(tmp_path / "one") == contents(tmp_path / "two")


def test_nothing_changed_makes_nothing(ledger: Path) -> None:
    build_site(ledger, ledger / "catalogue")
    built = build_site(ledger, ledger / "catalogue")
    assert (built.rendered, built.drawn) == (0, 0)


def test_a_reading_touches_its_own_blank_and_the_lists(ledger: Path) -> None:
    edit(ledger, "suppliers/marshwort.yaml", "Marshwort", "Marsh Wort")
    first = build_site(ledger, ledger / "catalogue")
    edit(ledger, ROUND, "20 1/8", "20 1/4")
    built = build_site(ledger, ledger / "catalogue")
    assert 0 < built.drawn < first.drawn
    assert built.rendered <= 3  # the blank, the catalogue, its supplier


def test_a_note_draws_nothing(ledger: Path) -> None:
    build_site(ledger, ledger / "catalogue")
    EDITS["a note"](ledger)
    built = build_site(ledger, ledger / "catalogue")
    assert (built.rendered, built.drawn) == (1, 0)


def test_a_removed_blank_leaves_nothing_behind(ledger: Path) -> None:
    build_site(ledger, ledger / "catalogue")
    remove_blank(ledger)
    build_site(ledger, ledger / "catalogue")
    assert not any("h6" in path for path in contents(ledger / "catalogue"))


@pytest.mark.parametrize("tamper", ["edit", "delete", "same size"])
def test_a_page_changed_by_hand_comes_back(tamper: str, ledger: Path) -> None:
    build_site(ledger, ledger / "catalogue")
    right = contents(ledger / "catalogue")
    page = ledger / "catalogue/blanks/tarn-thrush/h6.html"
    if tamper == "delete":
        page.unlink()
    else:
        text = page.read_bytes()
        page.write_bytes(text[:-1] + b"!" if tamper == "same size" else text + b"!")
    edit(ledger, "suppliers/marshwort.yaml", "Marshwort", "Marsh Wort")
    build_site(ledger, ledger / "catalogue")
    EDITS["nothing but the time"](ledger)
    path = "blanks/tarn-thrush/h6.html"
    assert contents(ledger / "catalogue")[path] == right[path]


@pytest.mark.parametrize(
    "damage", [b"", b"{", b"[]", b'{"version": 0}', b'{"version": 1}', b"\xff\xfe", b"null"]
)
@pytest.mark.parametrize("name", ["index.json", "blanks.json"])
def test_a_damaged_cache_is_no_cache(name: str, damage: bytes, ledger: Path) -> None:
    build_site(ledger, ledger / "catalogue")
    right = contents(ledger / "catalogue")
    (ledger / ".blankbook" / name).write_bytes(damage)
    EDITS["nothing but the time"](ledger)
    build_site(ledger, ledger / "catalogue")
    assert contents(ledger / "catalogue") == right


def test_a_fault_of_the_ledger_leaves_the_site(ledger: Path) -> None:
    build_site(ledger, ledger / "catalogue")
    right = contents(ledger / "catalogue")
    edit(ledger, ROUND, "size: M", "size: XM")
    with pytest.raises(LedgerHasFaults) as stopped:
        build_site(ledger, ledger / "catalogue")
    assert [one.rule for one in stopped.value.findings] == ["unknown-size"]
    assert contents(ledger / "catalogue") == right


HOSTILE = [
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    "</main></body>",
    "---\ntemplate: x.html\n---",
    "{{ config }} {% include 'x' %}",
    "[x](javascript:alert(1)) *x*{: onclick=alert(1) }",
    '"><b>',
    "&lt;&amp;",
]


@pytest.mark.parametrize("words", HOSTILE)
def test_what_a_person_typed_is_only_text(words: str, ledger: Path) -> None:
    quoted = json.dumps(words)
    edit(ledger, STYLE, "name: H6 heavy tee", f"name: {quoted}\nnote: {quoted}")
    edit(ledger, "suppliers/tarn-thrush.yaml", "name: Tarn & Thrush Blanks", f"name: {quoted}")
    edit(ledger, ROUND, "by: rv", f"by: {quoted}\nnote: {quoted}")
    build_site(ledger, ledger / "catalogue")
    from html.parser import HTMLParser

    class Seen(HTMLParser):
        """Collects tags, attributes and text."""

        def __init__(self) -> None:
            super().__init__()
            self.tags: list[str] = []
            self.names: list[str] = []
            self.text = ""

        def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
            self.tags.append(tag)
            self.names += [name for name, _ in attrs]

        def handle_data(self, data: str) -> None:
            self.text += data

    for page in ("index", "blanks/tarn-thrush/h6", "suppliers/tarn-thrush", "suppliers"):
        seen = Seen()
        seen.feed((ledger / f"catalogue/{page}.html").read_text())
        assert not {"script", "iframe", "base"} & set(seen.tags)
        assert not [name for name in seen.names if name.startswith("on")]
        assert seen.tags.count("main") == 1
        said = re.sub(r"\s+", " ", seen.text)
        assert re.sub(r"\s+", " ", words) in said


STRANGE = {
    "hash seed": {"PYTHONHASHSEED": "2"},
    "time zone": {"TZ": "Pacific/Kiritimati"},
    "backend": {"MPLBACKEND": "TkAgg"},
    "warnings": {"PYTHONWARNINGS": "error"},
    "locale": {"LC_ALL": "C", "PYTHONUTF8": "0"},
    "narrow": {"COLUMNS": "1"},
    "epoch": {"SOURCE_DATE_EPOCH": "0"},
}


@pytest.mark.parametrize("setting", STRANGE)
def test_a_strange_machine_makes_the_same_bytes(setting: str, ledger: Path, tmp_path: Path) -> None:
    build_site(ledger, tmp_path / "here", fresh=True)
    home = tmp_path / "home/.config/matplotlib"
    home.mkdir(parents=True)
    (home / "matplotlibrc").write_text("font.size: 30\nsvg.fonttype: path\nlines.linewidth: 9\n")
    env = {"PATH": os.environ["PATH"], "HOME": str(tmp_path / "home"), **STRANGE[setting]}
    command = [sys.executable, "-m", "blankbook", "build", "--ledger", str(ledger)]
    done = subprocess.run(
        [*command, "--out", str(tmp_path / "there"), "--fresh"],
        env=env,
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert contents(tmp_path / "there") == contents(tmp_path / "here")


def test_a_quiet_build_loads_nothing_heavy(ledger: Path) -> None:
    build_site(ledger, ledger / "catalogue")
    script = (
        "import sys\nfrom pathlib import Path\nfrom blankbook.pages.build import build_site\n"
        f"root = Path({str(ledger)!r})\nbuilt = build_site(root, root / 'catalogue')\n"
        "print(built.rendered, built.drawn, [name for name in ('yaml', 'ruamel.yaml', "
        "'jsonschema', 'numpy', 'scipy', 'matplotlib', 'mkdocs', 'jinja2') if name in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "0 0 []"


def test_an_empty_ledger_makes_a_site_that_says_what_to_do(ledger_factory: LedgerMaker) -> None:
    shop = "shop: New shop\nunits: cm\ncurrency: EUR\ntape: {unit: cm, reads_to: 0.5}\n"
    root = ledger_factory({"shop.yaml": shop}, base=False)
    built: Built = build_site(root, root / "catalogue")
    assert built.pages >= 5
    assert "No blanks yet" in (root / "catalogue/index.html").read_text()
