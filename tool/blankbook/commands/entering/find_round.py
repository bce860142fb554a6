"""Which round's file is meant, and what stands at its head before anything is measured."""

import datetime
import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from blankbook.commands.shared.errors import BlankbookError, WrongUse, shown
from blankbook.commands.shared.find_blank import CHECK, missing, relative
from blankbook.commands.shared.prompts import ask_for
from blankbook.commands.shared.write_changes import can_ask
from blankbook.words.garment_terms import LOT_NOT_KNOWN

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

    @property
    def kind(self) -> str:
        """The kind of its file: a ``round`` or a ``delivery``."""
        return "delivery" if self.path.endswith("-delivery.yaml") else "round"


def find_round(root: Path, named: str, *, to_decide: bool = False) -> Found:
    """Return the round that *named* means: a file, or a blank's planned or else newest round.

    *to_decide* is for a decision alone, which is made on what was measured: never a plan.

    Raises: WrongUse, BlankbookError, OSError.
    """
    from blankbook.records.load_ledger import load_ledger

    path = _as_path(root, named) if named.endswith((".yaml", ".yml")) else ""
    key = "/".join(path.split("/")[1:3]) if path else named
    loaded = load_ledger(root, only={key}, pictures=False)
    if loaded.ledger is None:
        raise BlankbookError("shop.yaml has faults", CHECK)
    blank = loaded.ledger.blanks.get(key)
    if blank is None:
        raise missing(loaded, key)
    path = path or _of_blank(blank, to_decide=to_decide)
    return Found(path, (root / path).read_bytes(), blank, loaded.ledger.shop)


def _as_path(root: Path, named: str) -> str:
    from blankbook.text.ledger_files import ledger_file_at

    for start in (Path.cwd(), root):
        place = Path(os.path.abspath(start / named))  # noqa: PTH100 - a link keeps its own name
        path = relative(root, place)
        file = ledger_file_at(path) if place.is_file() else None
        if file and file.kind in {"round", "delivery"}:
            return path
        if file:
            raise WrongUse(
                f"{shown(path)} is a {file.kind}, and neither a round nor a delivery",
                f"name {file.blank or 'SUPPLIER/STYLE'}, or one of its rounds",
            )
    raise WrongUse(f"no round at {shown(named)}", "name blanks/SUPPLIER/STYLE/ROUND.yaml")


def _of_blank(blank: "Blank", *, to_decide: bool) -> str:
    """Return the path of the round that is next: one that is planned, else the newest."""
    if blank.planned and not (to_decide and blank.rounds):
        return blank.planned[0].source.path
    if blank.rounds:
        return blank.rounds[-1].source.path
    remedy = f"blankbook plan {blank.style.key}"
    raise WrongUse(f"{blank.style.key} has no round to fill", remedy)


def tape_of(tree: Mapping[str, object], shop: "Shop", given: str | None) -> "Tape":
    """Return the tape that a round is read with: what was given, or the file's, or the shop's.

    Raises: WrongUse.
    """
    from blankbook.records.lengths import LengthError, read_length, with_decimal_point
    from blankbook.records.model import Tape

    held = tree.get("tape")
    unit, step = shop.tape.unit, shop.tape.reads_to.written
    if isinstance(held, dict):
        unit, step = str(held["unit"]), str(held["reads_to"])
    if given:
        step, _, unit = with_decimal_point(given.strip()).rpartition(" ")
    remedy = 'write --tape "1/8 in" or --tape "0.1 cm"'
    if unit not in {"in", "cm", "mm"}:
        raise WrongUse(f"--tape must end with in, cm or mm, found {shown(given)}", remedy)
    try:
        found = Tape(unit, read_length(step, unit))
    except LengthError as error:
        raise WrongUse(f"--tape {shown(error)}", remedy) from None
    if given and isinstance(held, dict) and "date" in tree and not _is(found, held):
        said = f"{held['reads_to']} {held['unit']}"
        message = f"the round is read with a tape of {shown(said)}, found --tape {shown(given)}"
        raise WrongUse(message, "leave --tape out; a length may have its unit behind it: 56.2 cm")
    return found


def _is(tape: "Tape", held: Mapping[str, object]) -> bool:
    """Say whether a file's tape is this one."""
    return (str(held["unit"]), str(held["reads_to"])) == (tape.unit, tape.reads_to.written)


HEAD = {
    "date": "the day of measuring",
    "by": "who measures",
    "lot": "the lot, as the invoice or the carton says",
}
"""What stands above the pieces of a measured round, with what a person is asked for it."""
NO_LOT = {"", "?", "-", "n/a", "none", "unknown"}
"""What a person types for a lot that nobody knows."""


def answers(tree: Mapping[str, object], given: Mapping[str, str | None]) -> dict[str, str]:
    """Return what the head of a round lacks, as it was given or else asked for.

    What a measured round says stays; a plan says only what was thought before anything came, so it
    is offered at a terminal.
    Raises: WrongUse where something else stands there, or nobody can be asked.
    """
    found = {}
    for key, words in HEAD.items():
        wanted, held = given.get(key), tree.get(key)
        if "date" in tree and held is not None:
            if wanted and wanted != held:
                message = f"{words} is {shown(held)} in the round, found --{key} {shown(wanted)}"
                raise WrongUse(message, f"leave --{key} out, or change it in the file")
        elif wanted or held is None or can_ask():
            found[key] = wanted or _asked(key, words, held)
    if found.get("lot", "x").strip().casefold() in NO_LOT:
        found["lot"] = LOT_NOT_KNOWN
    return found


def _asked(key: str, words: str, held: object) -> str:
    """Return what a person answers for one line of the head, once the schema takes it.

    Raises: WrongUse where nobody can be asked.
    """
    usual = str(held) if held is not None else {"date": _today(), "lot": LOT_NOT_KNOWN}.get(key)
    if not can_ask() and key != "date":
        usual = None  # only the day goes without saying
    return ask_for(words, f"--{key}", "round", (key,), usual)


def head_words(said: Mapping[str, object], tape: "Tape") -> str:
    """Return what stands above the pieces, for a person to see before it is used again."""
    lot = shown(said.get("lot") or LOT_NOT_KNOWN)
    by = f"by {shown(said['by'])}, " if said.get("by") else ""
    read = f"read to {tape.reads_to.written} {tape.unit}"
    return f"measured {shown(said.get('date', 'today'))}, {by}lot {lot}, {read}"


def _today() -> str:
    return datetime.datetime.now().astimezone().date().isoformat()


def head(
    source: bytes, tree: Mapping[str, object], answered: Mapping[str, str], tape: "Tape"
) -> bytes:
    """Return the file with the day, the hand, the lot and the tape that a measured round has.

    Raises: WrongUse where something of it cannot stand in a file; CannotEditError.
    """
    from blankbook.text.writing.edits import CannotEditError, set_value

    behind = "planned" if "planned" in tree else "style"
    for key in HEAD:
        if key in answered and tree.get(key) != answered[key]:
            try:
                source = set_value(source, (key,), answered[key], after=behind)
            except CannotEditError as error:
                raise WrongUse(f"{key}: {shown(error)}", "write it in other letters") from None
        behind = key
    held = tree.get("tape")
    if not isinstance(held, dict) or not _is(tape, held):
        source = set_value(source, ("tape", "unit"), tape.unit, after=behind)
        source = set_value(source, ("tape", "reads_to"), tape.reads_to.written)
    return source
