"""Short ways to build and read a site: ``from building import site_files``."""

import shutil
from pathlib import Path

from blankbook.build.build_site import build_site

ROUND = "blanks/tarn-thrush/h6/2024-02-12-first.yaml"
STYLE = "blanks/tarn-thrush/h6/style.yaml"
PAGE = "blanks/tarn-thrush/h6.html"
SECOND_SUPPLIER = {
    "suppliers/marshwort.yaml": "supplier: marshwort\nname: Marshwort Basics\n",
    "blanks/marshwort/s1/style.yaml": (
        "style: marshwort/s1\nname: S1 plain tee\nsizes: [S, M]\ncolours: [black]\n"
    ),
}
"""A second supplier, for `ledger_factory`, with a blank that nobody measured."""


def site_files(site: Path) -> dict[str, bytes]:
    """Return every file of a site."""
    return {
        path.relative_to(site).as_posix(): path.read_bytes()
        for path in sorted(site.rglob("*"))
        if path.is_file()
    }


def build_without_cache(ledger: Path, place: Path) -> dict[str, bytes]:
    """Return what a build without any cache makes of the ledger as it is now."""
    leave = shutil.ignore_patterns("catalogue*", ".blankbook")
    copy = Path(shutil.copytree(ledger, place / "copy", ignore=leave))
    build_site(copy, place / "site", fresh=True)
    found = site_files(place / "site")
    shutil.rmtree(place)
    return found


def edit_file(ledger: Path, path: str, old: str, new: str) -> None:
    """Change one place of a file."""
    place = ledger / path
    text = place.read_text()
    assert old in text
    place.write_text(text.replace(old, new, 1))
