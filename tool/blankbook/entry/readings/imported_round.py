"""Pieces of a table as a round's file: a new one, or one that is there already."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from blankbook.entry.new.planned_file import schema_lines
from blankbook.entry.readings.table_pieces import TablePiece
from blankbook.entry.round.round_positions import fill_value, value_at
from blankbook.entry.round.stages import RECEIVED_STAGE, Stage, washed_stage
from blankbook.records.lengths import LengthError, read_length
from blankbook.records.model import Tape
from blankbook.text.writing.edits import NewValue, add_item
from blankbook.text.writing.yaml_scalars import yaml_list, yaml_mapping, yaml_scalar
from blankbook.text.writing.yaml_spans import RecordText


def new_round_text(
    style: str, head: Mapping[str, str], tape: Tape, pieces: Iterable[TablePiece], schema: str = ""
) -> str:
    """Return the text of a round with readings; *head* has its ``date``, ``by`` and ``lot``."""
    lines = [*schema_lines(schema), f"style: {style}"]
    lines += [f"{key}: {yaml_scalar(head[key])}" for key in ("date", "by", "lot")]
    lines.append(f"tape: {yaml_mapping({'unit': tape.unit, 'reads_to': tape.reads_to.written})}")
    if head.get("wash"):
        lines.append(f"laundering: {yaml_mapping({'wash': head['wash'], 'dry': head['dry']})}")
    lines.append("pieces:")
    for piece in pieces:
        lines += [
            "  - " + _piece_lines(piece)[0],
            *("    " + line for line in _piece_lines(piece)[1:]),
        ]
    return "\n".join(lines) + "\n"


def _piece_lines(piece: TablePiece) -> list[str]:
    """Return the lines of one piece, without indentation."""
    lines = [
        f"piece: {yaml_scalar(piece.key)}",
        f"size: {yaml_scalar(piece.size)}",
        f"colour: {yaml_scalar(piece.colour)}",
    ]
    if piece.lot:
        lines.append(f"lot: {yaml_scalar(piece.lot)}")
    if piece.note:
        lines.append(f"note: {yaml_scalar(piece.note)}")
    stages = sorted({washes for washes, _ in piece.read})
    for washes in stages:
        row = {point: texts for (at, point), texts in piece.read.items() if at == washes}
        flow = ", ".join(f"{point}: {_yaml_readings(texts)}" for point, texts in row.items())
        if not washes:
            lines.append(f"received: {{{flow}}}")
    if any(stages):
        lines.append("washed:")
        for washes in (at for at in stages if at):
            row = {point: texts for (at, point), texts in piece.read.items() if at == washes}
            flow = ", ".join(f"{point}: {_yaml_readings(texts)}" for point, texts in row.items())
            lines.append(f"  - {{cycles: {washes}, {flow}}}")
    return lines


def _yaml_readings(texts: Sequence[str]) -> str:
    return yaml_scalar(texts[0]) if len(texts) == 1 else yaml_list(list(texts))


class OtherPieceError(ValueError):
    """A piece of the round is another garment than the table's, or nobody can tell."""


@dataclass(slots=True)
class ImportedRound:
    """A round with the readings of a table in it."""

    source: bytes
    kept: list[str] = field(default_factory=list)
    """Readings of the table that were not written, as the round has others there."""
    added: list[str] = field(default_factory=list)
    """The pieces that the round did not have before."""
    written: int = 0
    """How many readings were written."""


def fill_round(source: bytes, pieces: Iterable[TablePiece], tape: Tape) -> ImportedRound:
    """Return a round with the readings of a table in it.

    A piece that the round does not have is added to it, with its lot and note.
    Raises: OtherPieceError where a piece of that name is another garment; CannotEditError;
    UnreadableError.
    """
    filled = ImportedRound(source)
    for piece in pieces:
        tree = RecordText(filled.source).tree
        same = next((held for held in tree["pieces"] if held["piece"] == piece.key), None)
        if same is None:
            item = "\n".join(_piece_lines(piece))
            filled.source = add_item(filled.source, ("pieces",), item)
            filled.added.append(piece.key)
            filled.written += sum(map(len, piece.read.values()))
            continue
        _check_same_garment(piece, same, tree, tape)
        for (washes, point), texts in sorted(piece.read.items()):
            stage: Stage = washed_stage(washes) if washes else RECEIVED_STAGE
            before = value_at(tree, stage, piece.key, point)
            value: NewValue = texts[0] if len(texts) == 1 else texts
            if before is None:
                filled.source = fill_value(filled.source, stage, piece.key, point, value)
                filled.written += len(texts)
            elif not _are_same_readings(before, value, tape):
                where = (
                    f"{piece.key} {point} {stage.name}: {_readings_text(before)} is there already"
                )
                filled.kept.append(f"{where}, and {_readings_text(value)} in the table")
    return filled


def _check_same_garment(piece: TablePiece, held: Mapping[str, Any], tree: Any, tape: Tape) -> None:
    """Make sure that a piece of the table is the round's piece of that name.

    A piece without a name of its own was only counted: it counts as the same garment only if its
    readings agree with those that are there. Raises: OtherPieceError.
    """
    if (held["size"], held["colour"]) != (piece.size, piece.colour):
        there = f"{piece.key} is {held['size']}, {held['colour']} in the round"
        raise OtherPieceError(f"{there}, and {piece.size}, {piece.colour} in the table")
    if piece.named or not (held.get("received") or held.get("washed")):
        return
    alike = []
    for (washes, point), texts in piece.read.items():
        stage: Stage = washed_stage(washes) if washes else RECEIVED_STAGE
        before = value_at(tree, stage, piece.key, point)
        if before is not None:
            alike.append(_are_same_readings(before, texts, tape))
    if not alike or not all(alike):
        named = f"{piece.address} has no name, and would be {piece.key}, which is measured already"
        raise OtherPieceError(f"{named} and may be another garment; name the pieces in a column")


def _are_same_readings(before: NewValue, value: NewValue, tape: Tape) -> bool:
    """Say whether two values hold the same readings, however they are written."""
    try:
        first, second = (
            [
                read_length(text, tape.unit).exact
                for text in ([readings] if isinstance(readings, str) else readings)
            ]
            for readings in (before, value)
        )
    except LengthError:
        return before == value
    return first == second


def _readings_text(value: NewValue) -> str:
    return value if isinstance(value, str) else "; ".join(value)
