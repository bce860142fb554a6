"""What the page for the phone hands over: a round's file, for the round that is here."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import typer

from blankbook.commands.shared.errors import WrongUse, shown
from blankbook.commands.shared.write_changes import read_standard_input

if TYPE_CHECKING:
    from blankbook.entry.round.filled_round import FilledRound

MOST_BYTES = 1_000_000


@dataclass(frozen=True, slots=True)
class HandedRound:
    """The readings of a handed-over file, as they would be listed."""

    style: str
    head: dict[str, str]
    tape: str | None
    listed: tuple[tuple[str, str, str], ...]
    confirmed: dict[str, str]
    """By piece: why a reading of it is right."""
    planned: dict[str, tuple[str, str]]
    """By piece: the size and colour that the page had."""
    how: dict[str, str]
    """By point: how the page said that it is measured."""
    inspected: int = 0
    """Of a delivery: how many were looked at."""
    faults: tuple[dict[str, str], ...] = ()


def read_handed(place: str) -> HandedRound:
    """Return what a file, or ``-`` for standard input, hands over. Raises: WrongUse, OSError."""
    from blankbook.entry.round.filled_round import round_faults
    from blankbook.text.findings import UnreadableError
    from blankbook.text.writing.yaml_spans import RecordText

    if place == "-":
        body = read_standard_input(MOST_BYTES + 1)
    else:
        with Path(place).open("rb") as stream:
            body = stream.read(MOST_BYTES + 1)
    if len(body) > MOST_BYTES:
        raise WrongUse(f"--handed must be at most {MOST_BYTES} bytes", "hand over one round")
    again = "copy or download it from the page once more, whole"
    try:
        tree = RecordText(body).tree
        faults = round_faults(body, "delivery" if "delivered" in tree else "round")
    except UnreadableError as error:
        raise WrongUse(f"--handed is no round's file: {shown(error)}", again) from None
    if faults:
        raise WrongUse(f"--handed is no round's file: {shown(faults[0].message)}", again)
    held = tree.get("tape")
    return HandedRound(
        tree["style"],
        {key: str(tree[key]) for key in ("date", "by", "lot") if key in tree},
        f"{held['reads_to']} {held['unit']}" if held and "date" in tree else None,
        tuple(_listed(tree)),
        {one["piece"]: one["confirmed"] for one in tree["pieces"] if "confirmed" in one},
        {one["piece"]: (one["size"], one["colour"]) for one in tree["pieces"]},
        tree.get("how") or {},
        int(tree.get("inspected", 0)),
        tuple(tree.get("faults") or ()),
    )


def _listed(tree: dict[str, Any]) -> list[tuple[str, str, str]]:
    """Return each reading as received with its piece and point; repeats with a star."""
    found = []
    for piece in tree["pieces"]:
        for point, texts in (piece.get("received") or {}).items():
            for number, text in enumerate(texts if isinstance(texts, list) else [texts]):
                found.append((piece["piece"], point, f"*{text}" if number else text))
    return found


def check_handed(sheet: "FilledRound", handed: HandedRound) -> None:
    """Make sure that a handed-over round is this one, and that no reading here is replaced.

    Pieces that were planned later are named, and what was read is taken all the same.
    Raises: WrongUse.
    """
    anew = "build the site again, and read them with the new page"
    if handed.style != sheet.style.key:
        message = f"what was handed over is of {shown(handed.style)}, not of {sheet.style.key}"
        raise WrongUse(message, "name that blank")
    if not (handed.listed or handed.inspected):
        raise WrongUse("what was handed over has no reading", "copy it once more, whole")
    for piece in dict.fromkeys(piece for piece, _, _ in handed.listed):
        if piece not in sheet.pieces:
            message = f"the plan has changed since the page was made: no piece {shown(piece)}"
            raise WrongUse(message, f"--add {shown(piece)} adds it, or {anew}")
    looked, faults = int(sheet.tree.get("inspected", 0)), tuple(sheet.tree.get("faults") or ())
    if looked and (looked, faults) != (handed.inspected, handed.faults):
        message = f"{looked} pieces are looked at here already, and {handed.inspected} there"
        raise WrongUse(message, "take what is wrong out of either file")
    later = [piece for piece in sheet.pieces if piece not in handed.planned]
    if later:
        said = "the plan has changed since the page was made; planned later: "
        typer.echo(said + shown(", ".join(later)), err=True)
    for changed in _changes(sheet, handed):
        raise WrongUse(f"the plan has changed since the page was made: {changed}", anew)
    for piece, point in dict.fromkeys((piece, point) for piece, point, _ in handed.listed):
        texts = [t.removeprefix("*") for p, q, t in handed.listed if (p, q) == (piece, point)]
        here = sheet.texts((piece, point))
        if here and here != texts:
            message = f"{shown(piece)} {point} is {'; '.join(here)} here, {'; '.join(texts)} there"
            raise WrongUse(message, "take the wrong one out of either file")


def _changes(sheet: "FilledRound", handed: HandedRound) -> Iterator[str]:
    """Yield what of the plan is another now, where readings were handed over."""
    for piece in dict.fromkeys(piece for piece, _, _ in handed.listed):
        now = (sheet.pieces[piece]["size"], sheet.pieces[piece]["colour"])
        if now != handed.planned[piece]:
            was = " ".join(handed.planned[piece])
            yield f"{shown(piece)} is {shown(' '.join(now))} here, {shown(was)} there"
    for point in dict.fromkeys(point for _, point, _ in handed.listed):
        here, there = (how.get(point) for how in (sheet.how, handed.how))
        if here != there:
            ways = [shown(way) if way else "as the guide has it" for way in (here, there)]
            yield f"{point} is measured {ways[0]} here, {ways[1]} there"


def missing_from(sheet: "FilledRound", handed: HandedRound) -> list[tuple[str, str, str]]:
    """Return the handed-over readings that are not in the round yet."""
    return [row for row in handed.listed if not sheet.texts((row[0], row[1]))]


def look_over(sheet: "FilledRound", handed: HandedRound) -> None:
    """Put down what was looked at of a delivery, where the file here does not say so yet."""
    from blankbook.commands.receiving.found_faults import with_fault, with_looked

    if not handed.inspected or int(sheet.tree.get("inspected", 0)):
        return
    source = with_looked(sheet.source, handed.inspected)
    for fault in handed.faults:
        own = {key: text for key, text in fault.items() if key not in {"fault", "note"}}
        source = with_fault(source, own, fault["fault"], fault.get("note", ""))
    sheet.use_bytes(source)


def confirm(sheet: "FilledRound", handed: HandedRound) -> None:
    """Put down why odd readings are right, where the round does not say so."""
    for piece, words in handed.confirmed.items():
        if words not in str(sheet.pieces[piece].get("confirmed", "")):
            sheet.use_bytes(sheet.with_words(piece, "confirmed", words))
