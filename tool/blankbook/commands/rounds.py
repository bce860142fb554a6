"""Which round's file is meant, and what stands at its head before anything is measured."""

import datetime
import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from blankbook.commands.changing import ask
from blankbook.commands.errors import BlankbookError, WrongUse, shown
from blankbook.commands.finding import CHECK, missing, relative

if TYPE_CHECKING:
    from blankbook.records.model import Blank, Shop, Tape


@dataclass(frozen=True, slots=True)
class Found:
    """A round's file, with what is known of its blank."""

    path: str
    """Relative to the ledger."""
    source: bytes
    blank: "Blank"
    shop: "Shop"


def find_round(root: Path, named: str) -> Found:
    """Return the round that *named* means: a file, or a blank's planned or else newest round.

    Raises: WrongUse, BlankbookError, OSError.
    """
    from blankbook.records.load import load_ledger

    path = _as_path(root, named) if named.endswith((".yaml", ".yml")) else ""
    key = "/".join(path.split("/")[1:3]) if path else named
    loaded = load_ledger(root, only={key}, pictures=False)
    if loaded.ledger is None:
        raise BlankbookError("shop.yaml has faults", CHECK)
    blank = loaded.ledger.blanks.get(key)
    if blank is None:
        raise missing(loaded, key)
    path = path or _of_blank(blank)
    return Found(path, (root / path).read_bytes(), blank, loaded.ledger.shop)


def _as_path(root: Path, named: str) -> str:
    for start in (Path.cwd(), root):
        place = Path(os.path.abspath(start / named))  # noqa: PTH100 - a link keeps its own name
        path = relative(root, place)
        if place.is_file() and path.startswith("blanks/") and path.count("/") == 3:
            return path
    raise WrongUse(f"no round at {shown(named)}", "name blanks/SUPPLIER/STYLE/ROUND.yaml")


def _of_blank(blank: "Blank") -> str:
    """Return the path of the round that is next: one that is planned, else the newest."""
    if blank.planned:
        return blank.planned[0].source.path
    if blank.rounds:
        return blank.rounds[-1].source.path
    remedy = f"blankbook plan {blank.style.key}"
    raise WrongUse(f"{blank.style.key} has no round to fill", remedy)


def tape_of(tree: Mapping[str, object], shop: "Shop", given: str | None) -> "Tape":
    """Return the tape that a round is read with: what was given, or the file's, or the shop's.

    Raises: WrongUse.
    """
    from blankbook.records.lengths import LengthError, read_length
    from blankbook.records.model import Tape

    held = tree.get("tape")
    unit, step = shop.tape.unit, shop.tape.reads_to.written
    if isinstance(held, dict):
        unit, step = str(held["unit"]), str(held["reads_to"])
    if given:
        step, _, unit = given.strip().rpartition(" ")
    remedy = 'write --tape "1/8 in" or --tape "0.1 cm"'
    if unit not in {"in", "cm", "mm"}:
        raise WrongUse(f"--tape must end with in, cm or mm, found {shown(given)}", remedy)
    try:
        return Tape(unit, read_length(step, unit))
    except LengthError as error:
        raise WrongUse(f"--tape {error}", remedy) from None


def head(
    source: bytes, tree: Mapping[str, object], given: Mapping[str, str | None], tape: "Tape"
) -> bytes:
    """Return the file with the day, the hand, the lot and the tape that a measured round has.

    What is there stays; what is missing is taken from what was given, or asked for.
    Raises: WrongUse, CannotEdit.
    """
    from blankbook.text.writing.edits import set_value

    today = datetime.datetime.now().astimezone().date().isoformat()
    behind = "planned" if "planned" in tree else "style"
    for key, words, default in (
        ("date", "the day of measuring", today),
        ("by", "who measures", None),
        ("lot", "the lot, as the invoice or the carton says", None),
    ):
        wanted = given.get(key)
        if wanted and tree.get(key) != wanted:
            source = set_value(source, (key,), wanted, after=behind)
        elif key not in tree:
            answer = ask(words, f"--{key}", default)
            source = set_value(source, (key,), answer, after=behind)
        behind = key
    if "tape" not in tree:
        source = set_value(source, ("tape", "unit"), tape.unit, after=behind)
        source = set_value(source, ("tape", "reads_to"), tape.reads_to.written)
    return source
