"""How many pieces of a delivery were looked at, and what is wrong with some: in its file."""

import difflib
from collections.abc import Iterable
from typing import TYPE_CHECKING

from blankbook.commands.shared.errors import WrongUse, shown
from blankbook.commands.shared.write_changes import edited

if TYPE_CHECKING:
    from blankbook.entry.round.filled_round import FilledRound

Found = dict[str, str]
"""An entry of ``faults``: its size, fault, and what else is known."""


def whose(sheet: "FilledRound", name: str) -> Found:
    """Return the size of a faulty piece, its colour and its name, by ``SIZE[-COLOUR]`` or a piece.

    Raises: WrongUse.
    """
    style = sheet.style
    if name in sheet.pieces:
        own = sheet.pieces[name]
        return {"size": own["size"], "colour": own["colour"], "piece": name}
    known = {size: {"size": size} for size in style.sizes}
    for size in style.sizes:
        known |= {f"{size}-{hue}": {"size": size, "colour": hue} for hue in style.colours}
    if name in known:
        return known[name]
    near = difflib.get_close_matches(name, [*sheet.pieces, *known], n=1)
    sizes = ", ".join(style.sizes)
    remedy = f"did you mean {near[0]}?" if near else f"the style's sizes are {sizes}"
    raise WrongUse(f"no size or piece called {shown(name) or 'nothing'}", shown(remedy))


def fault_of(sheet: "FilledRound", given: str) -> Found:
    """Return a fault that was given as ``NAME=FAULT`` or ``NAME=FAULT, NOTE``. Raises: WrongUse."""
    from blankbook.words.delivery_terms import FAULTS

    name, equals, rest = given.partition("=")
    word, _, note = rest.partition(",")
    if not equals:
        message = f"--fault must be SIZE=FAULT, found {shown(given) or 'nothing'}"
        raise WrongUse(message, "write --fault M-white=seam")
    if word.strip() not in FAULTS:
        message = f"--fault names no fault: {shown(word.strip()) or 'nothing'}"
        raise WrongUse(message, f"there are {', '.join(FAULTS)}")
    own = whose(sheet, name.strip())
    return _entry(own, word.strip(), note.strip())


def _entry(own: Found, word: str, note: str) -> Found:
    """Return an entry of ``faults``, in the order in which a person would write it."""
    return {**own, "fault": word, **({"note": note} if note else {})}


def with_fault(source: bytes, own: Found, word: str, note: str) -> bytes:
    """Return a delivery with one more faulty piece. Raises: CannotEditError."""
    from blankbook.text.writing.edits import add_item
    from blankbook.text.writing.yaml_scalars import yaml_mapping

    return add_item(source, ("faults",), yaml_mapping(dict(_entry(own, word, note))))


def with_looked(source: bytes, count: int) -> bytes:
    """Return a delivery of which so many pieces were looked at. Raises: CannotEditError."""
    from blankbook.text.writing.edits import set_value

    return set_value(source, ("inspected",), str(count))


def look_by_flags(sheet: "FilledRound", looked: int | None, faults: Iterable[str]) -> None:
    """Put into a delivery what flags say was found. Raises: WrongUse, BlankbookError."""
    from blankbook.text.writing.edits import CannotEditError

    try:
        source = sheet.source if looked is None else with_looked(sheet.source, looked)
        for given in faults:
            found = fault_of(sheet, given)
            own = {key: text for key, text in found.items() if key not in {"fault", "note"}}
            source = with_fault(source, own, found["fault"], found.get("note", ""))
    except CannotEditError as error:
        raise edited(error, "the delivery") from None
    sheet.use_bytes(source)
