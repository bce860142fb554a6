"""The ledgers that are attacked: every field of every kind of file, and a part of the demo."""

import contextlib
import io
import shutil
from pathlib import Path
from typing import Any

import yaml

from blankbook.commands.main import run
from blankbook.text.ledger_files import list_files
from blankbook.text.schemas import schema
from every_field import BLANK, DELIVERY, ORDER, ROUND, SUPPLIER, filled, picture
from support import ROOT, Ended

PLACES = {
    "shop": "shop.yaml",
    "supplier": f"suppliers/{SUPPLIER}.yaml",
    "study": "measuring/2012-03-zqstudy.yaml",
    "style": f"{BLANK}/style.yaml",
    "round": f"{BLANK}/{ROUND}.yaml",
    "delivery": f"{BLANK}/{DELIVERY}.yaml",
    "order": f"{BLANK}/{ORDER}.yaml",
}
DEMO_BLANKS = ("tarn-thrush/h6", "hobnettle/q5", "dabchick/d62")


def whole_data(said: dict[str, Any]) -> dict[str, Any]:
    """Return, by path, a record of each kind in which every field is filled in.

    *said* then holds what each field says, by its way.
    """
    return {place: filled(schema(kind), (kind,), said) for kind, place in PLACES.items()}


def write_whole(root: Path, data: dict[str, Any]) -> Path:
    """Write the records to *root*."""
    for path, record in data.items():
        (root / path).parent.mkdir(parents=True, exist_ok=True)
        (root / path).write_text(yaml.safe_dump(record, allow_unicode=True), encoding="utf-8")
    (root / BLANK / "zqphoto.png").write_bytes(picture())
    return root


def write_demo(root: Path) -> Path:
    """Write three blanks of the demo shop with all that they need to *root*."""
    for file in list_files(ROOT / "ledger"):
        if not file.blank or file.blank in DEMO_BLANKS:
            (root / file.path).parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(ROOT / "ledger" / file.path, root / file.path)
    for blank in DEMO_BLANKS:
        for photo in (ROOT / "ledger/blanks" / blank).rglob("*.*"):
            place = root / photo.relative_to(ROOT / "ledger")
            if photo.suffix != ".yaml" and photo.is_file():
                place.parent.mkdir(parents=True, exist_ok=True)
                shutil.copyfile(photo, place)
    return root


def command(*arguments: str | Path) -> Ended:
    """Run one command line in this process."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = run([str(argument) for argument in arguments])
    return Ended(code, out.getvalue(), err.getvalue())
