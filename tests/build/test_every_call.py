"""At every single call that changes something: the old site or the new one, whole."""

import subprocess
import sys
from pathlib import Path

import pytest

from blankbook.build.build_site import build_site
from shares import first_of, is_night
from support import LedgerMaker

pytestmark = [
    pytest.mark.fault,
    pytest.mark.skipif(sys.platform == "win32", reason="it forks"),
]
SCRIPT = Path(__file__).with_name("every_call.py")
SHARE = 10
ROUND = "blanks/tarn-thrush/h6/2024-02-12-first.yaml"


@pytest.mark.seldom(3)
@pytest.mark.parametrize("how", ["full", "kill", "stop"])
def test_a_build_broken_at_every_call(how: str, ledger_factory: LedgerMaker) -> None:
    """A full disk, a kill and an interrupt at each call that changes the disk, one by one.

    Each time the site is the old one or the new one, and the next build is right and tidies up.
    By day it is every tenth call, from one that the commit chooses.
    """
    calls = ("0", "1") if is_night() else (str(first_of(SHARE)), str(SHARE))
    root = ledger_factory()
    build_site(root, root / "catalogue")
    place = root / ROUND
    place.write_text(place.read_text().replace("20 1/8", "20 1/4"))
    done = subprocess.run(
        [sys.executable, str(SCRIPT), str(root), how, *calls],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    *wrong, count = done.stdout.splitlines()
    assert wrong == []
    assert int(count.removesuffix(" calls")) > 40
