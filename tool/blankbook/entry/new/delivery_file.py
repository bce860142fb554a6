"""The text of a delivery that was counted, before anybody has looked at a piece of it."""

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from blankbook.entry.new.planned_file import schema_lines
from blankbook.entry.new.sample_plan import PlannedPiece, planned_pieces
from blankbook.records.model import Tape
from blankbook.text.writing.yaml_scalars import yaml_mapping, yaml_scalar


@dataclass(frozen=True, slots=True)
class NewDelivery:
    """What is known of a delivery when it was counted, as it was typed."""

    style: str
    date: datetime.date
    by: str
    lot: str
    delivered: Mapping[str, str]
    tape: Tape
    pieces: Sequence[PlannedPiece] = ()
    """Those to measure."""
    invoiced: Mapping[str, str] = field(default_factory=dict)
    order: str = ""
    again: str = ""


def delivery_text(new: NewDelivery, schema: str) -> str:
    """Return the text of a delivery, without what is not known."""
    lines = [
        *schema_lines(schema),
        f"style: {new.style}",
        f"date: {new.date.isoformat()}",
        f"by: {yaml_scalar(new.by)}",
        f"lot: {yaml_scalar(new.lot)}",
    ]
    if new.order:
        lines.append(f"order: {yaml_scalar(new.order)}")
    lines.append(f"delivered: {yaml_mapping(dict(new.delivered))}")
    if new.invoiced:
        lines.append(f"invoiced: {yaml_mapping(dict(new.invoiced))}")
    lines.append("inspected: 0")
    if new.again:
        lines.append(f"again: {yaml_scalar(new.again)}")
    tape = {"unit": new.tape.unit, "reads_to": new.tape.reads_to.written}
    lines.append(f"tape: {yaml_mapping(tape)}")
    if new.pieces:
        lines.append("pieces:")
    for piece in new.pieces:
        own = {"piece": piece.key, "size": piece.size, "colour": piece.colour}
        lines.append(f"  - {yaml_mapping(own)}")
    return "\n".join(lines) + "\n"


def pieces_to_measure(
    came: Mapping[str, int], colours: Sequence[str], each: int, most: int
) -> list[PlannedPiece]:
    """Return pieces to lay under the tape: *each* of every size that *came*, *most* in all.

    Colours take turns, so that every size is there before one has two; in the order of the sizes.
    """
    sizes = [size for size, count in came.items() if count]
    found: list[PlannedPiece] = []
    for number in range(each):
        for size in sizes:
            if colours and number < came[size] and len(found) < most:
                colour = colours[number % len(colours)]
                found += planned_pieces([size], [colour], number // len(colours) + 1)[-1:]
    return sorted(found, key=lambda piece: sizes.index(piece.size))
