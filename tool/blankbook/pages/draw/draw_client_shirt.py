"""The drawing of the shirt that clients see: all sizes, with the tape on the largest."""

from blankbook.pages.charts.client_shirt_chart import KEY_ROW, TOP
from blankbook.pages.charts.ladder_types import ClientShirtData
from blankbook.pages.draw.axis_labels import spread_apart
from blankbook.pages.draw.canvas import Canvas
from blankbook.pages.draw.chart_style import SMALL_TEXT
from blankbook.pages.draw.draw_shirts import ScaledGarment, draw_tape
from blankbook.pages.draw.shirt_outline import OutlineXY, neckline, outline, tape_line

_LETTERS = "abcdefghijklmnopqrstuvwxyz"
_ASIDE = 9.0
"""Pixels from a tape to its letter."""
_ROW = 13
"""Pixels between the names of sizes."""


def draw_client_shirt(canvas: Canvas, data: ClientShirtData) -> None:
    """Draw the outlines, their names at the hems, and a lettered tape for each point."""
    if not data.sizes:
        return
    placed = ScaledGarment(data.scale, canvas.width / 2 - 14, TOP)
    lines = [placed.line(outline(lengths)) for lengths in data.sizes]
    canvas.lines(lines, role="grey", width=1.0, closed=True)
    largest = max(data.sizes, key=lambda lengths: lengths["half_chest"])
    canvas.lines([placed.line(neckline(largest))], role="grey", width=0.8)
    _names(canvas, data, placed)
    bottom = TOP + data.scale * max(own["body_length"] for own in data.sizes) + 24
    for place, (point, name) in enumerate(zip(data.points, data.names, strict=True)):
        start, end = placed.line(tape_line(point, largest))
        if point == "body_length":  # beside the neck it would run over the rib's tape
            start, end = ((x + 12, y) for x, y in (start, end))
        draw_tape(canvas, start, end)
        x, y = _beside(start, end)
        canvas.text(x, y, _LETTERS[place], bold=True, align="center", role="vermilion")
        at, level = (8.0, canvas.width / 2)[place % 2], bottom + KEY_ROW * (place // 2)
        canvas.text(at, level, _LETTERS[place], bold=True, role="vermilion")
        canvas.text(at + 14, level, name, size=SMALL_TEXT)


def _beside(start: OutlineXY, end: OutlineXY) -> OutlineXY:
    """Return the place of a letter: right of an upright tape, else above it, left of the neck."""
    (ax, ay), (bx, by) = start, end
    if abs(by - ay) > abs(bx - ax):
        return (ax + bx) / 2 + _ASIDE, (ay + by) / 2
    return ax + 0.3 * (bx - ax), ay + 0.3 * (by - ay) - _ASIDE


def _names(canvas: Canvas, data: ClientShirtData, placed: ScaledGarment) -> None:
    """Name the sizes beside their hems."""
    corners = [
        (*placed.at(tape_line("hem_width", lengths)[1]), label)
        for lengths, label in zip(data.sizes, data.labels, strict=True)
    ]
    corners.sort(key=lambda corner: corner[1])
    column = max(x for x, _, _ in corners) + 18
    levels = spread_apart([y for _, y, _ in corners], _ROW, 60, max(y for _, y, _ in corners) + 4)
    leaders = []
    for (x, y, label), level in zip(corners, levels, strict=True):
        leaders.append([(x + 1, y), (column - 4, level)])
        canvas.text(column, level, label, bold=True)
    canvas.lines(leaders, role="grey", width=0.6)
