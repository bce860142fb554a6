"""One state of the ledger is one site, to the byte: however and wherever it is built."""

import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from blankbook.build.build_site import build_site
from building import ROUND, SECOND_SUPPLIER, STYLE, build_without_cache, edit_file, site_files
from support import LedgerMaker


def remove_round(ledger: Path) -> None:
    (ledger / ROUND).unlink()


def remove_blank(ledger: Path) -> None:
    shutil.rmtree(ledger / "blanks/tarn-thrush/h6")


def remove_supplier(ledger: Path) -> None:
    shutil.rmtree(ledger / "blanks/marshwort")
    (ledger / "suppliers/marshwort.yaml").unlink()


def add_round(ledger: Path) -> None:
    text = (ledger / ROUND).read_text().replace("2024-02-12", "2024-09-02").replace("-A", "-B")
    (ledger / "blanks/tarn-thrush/h6/2024-09-02-again.yaml").write_text(text)


def add_blank(ledger: Path) -> None:
    folder = ledger / "blanks/marshwort/s2"
    folder.mkdir()
    text = (ledger / "blanks/marshwort/s1/style.yaml").read_text()
    (folder / "style.yaml").write_text(text.replace("s1", "s2"))


def there_and_back(ledger: Path) -> None:
    edit_file(ledger, ROUND, "20 1/8", "20 1/4")
    build_site(ledger, ledger / "catalogue")
    edit_file(ledger, ROUND, "20 1/4", "20 1/8")


EDITS: dict[str, Callable[[Path], None]] = {
    "a reading": lambda root: edit_file(root, ROUND, "20 1/8", "20 1/4"),
    "a note": lambda root: edit_file(root, STYLE, "name: H6", "note: a new note\nname: H6"),
    "the shop's tolerance": lambda root: edit_file(
        root, "shop.yaml", "units: in", "units: in\ntolerance: {half_chest: 3/8}"
    ),
    "the shop's unit": lambda root: edit_file(root, "shop.yaml", "units: in", "units: cm"),
    "the shop's name": lambda root: edit_file(root, "shop.yaml", "shop: Bracken", "shop: Fern"),
    "a supplier's name": lambda root: edit_file(
        root, "suppliers/tarn-thrush.yaml", "Tarn & Thrush", "Thrush & Tarn"
    ),
    "a round more": add_round,
    "a round less": remove_round,
    "a blank more": add_blank,
    "a blank less": remove_blank,
    "a supplier less": remove_supplier,
    "there and back": there_and_back,
    "nothing but the time": lambda root: os.utime(root / ROUND),
}


@pytest.mark.parametrize("change", EDITS)
def test_build_after_a_change_is_the_same_as_from_nothing(
    change: str, ledger_factory: LedgerMaker, tmp_path: Path
) -> None:
    """Whatever was kept from the old site, the new one holds the bytes of a fresh build."""
    ledger = ledger_factory(SECOND_SUPPLIER)
    build_site(ledger, ledger / "catalogue")
    EDITS[change](ledger)
    build_site(ledger, ledger / "catalogue")

    assert site_files(ledger / "catalogue") == build_without_cache(ledger, tmp_path / "again")


def test_one_process_and_two_make_the_same(demo_copy: Path, tmp_path: Path) -> None:
    """What is drawn by a child is what would have been drawn here."""
    build_site(demo_copy, tmp_path / "one", jobs=1)
    build_site(demo_copy, tmp_path / "two", jobs=2)

    assert site_files(tmp_path / "one") == site_files(tmp_path / "two")


STRANGE = {
    "hash seed 0": {"PYTHONHASHSEED": "0"},
    "hash seed 2, time zone": {"PYTHONHASHSEED": "2", "TZ": "Pacific/Kiritimati"},
    "backend, narrow": {"MPLBACKEND": "TkAgg", "COLUMNS": "1"},
    "warnings": {"PYTHONWARNINGS": "error"},
    "locale": {"LC_ALL": "C", "PYTHONUTF8": "0"},
    "epoch": {"SOURCE_DATE_EPOCH": "0"},
    "no home": {"HOME": "/nonexistent"},
}
_CLOCK = "import time; real = time.time; time.time = lambda: real() - 1.5e9\n"
"""A machine that believes it is the 1970s."""
_MASKED = "import os; os.umask(0o077)\n"


@pytest.mark.seldom(7)
@pytest.mark.parametrize("setting", STRANGE)
def test_strange_machine_makes_the_same_bytes(
    setting: str, ledger_factory: LedgerMaker, tmp_path: Path
) -> None:
    """Neither the environment, nor the clock, the umask or a person's chart settings show."""
    ledger = ledger_factory(SECOND_SUPPLIER)
    build_site(ledger, tmp_path / "here")
    home = tmp_path / "home/.config/matplotlib"
    home.mkdir(parents=True)
    (home / "matplotlibrc").write_text("font.size: 30\nsvg.fonttype: path\nlines.linewidth: 9\n")
    arguments = ["build", "--ledger", str(ledger), "--out", str(tmp_path / "there")]
    script = f"from blankbook.commands.main import main\nraise SystemExit(main({arguments!r}))"
    done = subprocess.run(
        [sys.executable, "-c", _CLOCK + _MASKED + script],
        env={"PATH": os.environ["PATH"], "HOME": str(tmp_path / "home"), **STRANGE[setting]},
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
    )

    assert done.returncode == 0, done.stderr
    assert site_files(tmp_path / "there") == site_files(tmp_path / "here")
