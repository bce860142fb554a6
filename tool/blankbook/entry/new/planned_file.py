"""The text of a planned round, to be filled by hand or by a command."""

import datetime
from collections.abc import Sequence

from blankbook.entry.new.sample_plan import PlannedPiece
from blankbook.records.model import Tape
from blankbook.results.planning.sample_cost import SampleCost
from blankbook.text.writing.yaml_scalars import yaml_mapping, yaml_scalar

EXAMPLE_READINGS = {"in": "22 1/8", "cm": "56.2"}


def schema_lines(schema: str) -> list[str]:
    """Return the two comment lines by which editors find a schema; none without a schema."""
    if not schema:
        return []
    return [f"# yaml-language-server: $schema={schema}", f"# $schema: {schema}"]


def planned_round_text(
    style: str,
    day: datetime.date,
    pieces: Sequence[PlannedPiece],
    points: Sequence[str],
    tape: Tape,
    paid: SampleCost | None,
    lot: str = "",
    schema: str = "",
) -> str:
    """Return a round's text with pieces and no readings; *points* are what is to be measured."""
    lines = [*schema_lines(schema), f"style: {style}", f"planned: {day.isoformat()}"]
    if lot:
        lines.append(f"lot: {yaml_scalar(lot)}")
    if paid:
        lines.append(f"bought: {{each: {paid.each:.2f}, currency: {paid.currency}}}")
    lines.append(f"tape: {yaml_mapping({'unit': tape.unit, 'reads_to': tape.reads_to.written})}")
    example = ", ".join(f"{point}: {EXAMPLE_READINGS[tape.unit]}" for point in points[:1])
    lines += [
        "# When it is measured, the day, the hand and the lot go above (date, by, lot), and what",
        f"# the tape says goes below each piece, such as received: {{{example}}}",
        f"# To measure: {', '.join(points)}",
        "pieces:",
    ]
    for piece in pieces:
        lines += [
            f"  - piece: {yaml_scalar(piece.key)}",
            f"    size: {yaml_scalar(piece.size)}",
            f"    colour: {yaml_scalar(piece.colour)}",
        ]
    return "\n".join(lines) + "\n"
