"""Pieces of a table as a round's file, new or already there."""

from collections.abc import Iterable, Mapping, Sequence

from blankbook.entry.in_round import fill, value_at
from blankbook.entry.readings_table import Found
from blankbook.entry.round_file import schema_lines
from blankbook.entry.stages import RECEIVED, Stage, washed
from blankbook.records.model import Tape
from blankbook.text.writing.edits import CannotEdit, Value, add_item
from blankbook.text.writing.scalars import listed, mapped, plain
from blankbook.text.writing.spans import Text


def new_round(
    style: str, head: Mapping[str, str], tape: Tape, pieces: Iterable[Found], schema: str = ""
) -> str:
    """Return a round with its readings; *head* is its day, hand and lot."""
    lines = [*schema_lines(schema), f"style: {style}"]
    lines += [f"{key}: {plain(head[key])}" for key in ("date", "by", "lot")]
    lines.append(f"tape: {mapped({'unit': tape.unit, 'reads_to': tape.reads_to.written})}")
    if head.get("wash"):
        lines.append(f"laundering: {mapped({'wash': head['wash'], 'dry': head['dry']})}")
    lines.append("pieces:")
    for one in pieces:
        lines += ["  - " + _first(one)[0], *("    " + line for line in _first(one)[1:])]
    return "\n".join(lines) + "\n"


def _first(one: Found) -> list[str]:
    lines = [
        f"piece: {plain(one.piece)}",
        f"size: {plain(one.size)}",
        f"colour: {plain(one.colour)}",
    ]
    if one.lot:
        lines.append(f"lot: {plain(one.lot)}")
    if one.note:
        lines.append(f"note: {plain(one.note)}")
    stages = sorted({washes for washes, _ in one.read})
    for washes in stages:
        row = {point: texts for (at, point), texts in one.read.items() if at == washes}
        flow = ", ".join(f"{point}: {_value(texts)}" for point, texts in row.items())
        if not washes:
            lines.append(f"received: {{{flow}}}")
    if any(stages):
        lines.append("washed:")
        for washes in (at for at in stages if at):
            row = {point: texts for (at, point), texts in one.read.items() if at == washes}
            flow = ", ".join(f"{point}: {_value(texts)}" for point, texts in row.items())
            lines.append(f"  - {{cycles: {washes}, {flow}}}")
    return lines


def _value(texts: Sequence[str]) -> str:
    return plain(texts[0]) if len(texts) == 1 else listed(list(texts))


def fill_round(source: bytes, pieces: Iterable[Found]) -> tuple[bytes, list[str]]:
    """Return a round with the readings of a table in it, and what was there already and stays.

    A piece that the round does not have is added to it, with its lot and note.
    Raises: CannotEdit where a piece of that name is another one; UnreadableText.
    """
    kept: list[str] = []
    for one in pieces:
        tree = Text(source).tree
        same = next((held for held in tree["pieces"] if held["piece"] == one.piece), None)
        if same is not None and (same["size"], same["colour"]) != (one.size, one.colour):
            there = f"{one.piece} is {same['size']}, {same['colour']} in the round"
            raise CannotEdit(f"{there}, and {one.size}, {one.colour} in the table")
        if same is None:
            item = (
                f"piece: {plain(one.piece)}\nsize: {plain(one.size)}\ncolour: {plain(one.colour)}"
            )
            item += f"\nlot: {plain(one.lot)}" if one.lot else ""
            item += f"\nnote: {plain(one.note)}" if one.note else ""
            source = add_item(source, ("pieces",), item)
        for (washes, point), texts in sorted(one.read.items()):
            stage: Stage = washed(washes) if washes else RECEIVED
            before = value_at(Text(source).tree, stage, one.piece, point)
            value: Value = texts[0] if len(texts) == 1 else texts
            if before is None:
                source = fill(source, stage, one.piece, point, value)
            elif before != value:
                kept.append(f"{one.piece} {point} {stage.name}: {before} is there already")
    return source, kept
