"""The drawings of shirts: the sizes over each other, the same in small, and where the tape goes."""

from collections.abc import Sequence
from math import hypot
from typing import Any

from blankbook.pages.charts.chart_types import (
    GuideData,
    ScaleBar,
    SizesData,
    SmallSizesData,
    WashedShirtData,
)
from blankbook.pages.charts.sizes_chart import ABOVE, LEADER, LETTER, fitting_scale
from blankbook.pages.draw.axis_labels import shortened, spread_apart
from blankbook.pages.draw.canvas import Canvas
from blankbook.pages.draw.chart_style import SMALL_TEXT
from blankbook.pages.draw.shirt_outline import (
    OutlineXY,
    Polygon,
    garment_width,
    neckline,
    outline,
    tape_line,
)

_CAP = 2.5
"""Pixels of the short bar at a whisker's end, either way."""
_ROW = 14
"""Pixels between the names of sizes."""
_SMALL_SCALE = 0.055
"""Pixels in a millimetre of every small drawing, so that rows compare: an adult 4XL just fits."""
_ARROW = 7.0
"""Pixels of an arrow's head."""


class ScaledGarment:
    """A garment's own millimetres, placed on a sheet."""

    def __init__(self, scale: float, x: float, y: float) -> None:
        self.scale, self.x, self.y = scale, x, y

    def at(self, point: OutlineXY) -> OutlineXY:
        """Return where a point of the garment is on the sheet."""
        return self.x + self.scale * point[0], self.y + self.scale * point[1]

    def line(self, points: Sequence[OutlineXY]) -> Polygon:
        """Return a line of the garment on the sheet."""
        return [self.at(point) for point in points]


def draw_sizes(canvas: Canvas, data: SizesData) -> None:
    """Draw the charted sizes, the measured ones over them, and what tells them apart."""
    placed = ScaledGarment(data.scale, canvas.width / 2, ABOVE)
    asked = [placed.line(outline(lengths)) for lengths in data.charted]
    canvas.lines(asked, role="grey", width=0.6, closed=True)
    seen = [placed.line(outline(size.lengths)) for size in data.sizes]
    canvas.lines(seen, role="blue", width=1.2, closed=True)
    if data.sizes:
        _whiskers(canvas, data, placed)
        _name_hems(canvas, data, placed)
        _name_sides(canvas, data, placed)
    _foot(canvas, data)


def _whiskers(canvas: Canvas, data: SizesData, placed: ScaledGarment) -> None:
    """Mark one deviation between pieces either way, at the side and at the hem of every size."""
    chest, length = (data.spread[point] * placed.scale for point in ("half_chest", "body_length"))
    pieces: list[Polygon] = []
    top = _between(data, placed, 0.4)
    for place, size in enumerate(data.sizes):
        (left, _), _ = tape_line("half_chest", size.lengths)
        x, _ = placed.at((left, 0.0))
        _, y = placed.at((0.0, size.lengths["body_length"]))
        level, across = top + 9 * place, placed.x - 40 + 9 * place
        # A half chest's own spread is shared by its two sides.
        pieces += _whisker(x, level, chest / 2, 0.0)
        pieces += _whisker(across, y, 0.0, length)
    canvas.lines(pieces, role="ink", width=1.0)


def _between(data: SizesData, placed: ScaledGarment, share: float) -> float:
    """Return a level between the lowest armhole and the highest hem."""
    armhole = max(tape_line("half_chest", size.lengths)[1][1] for size in data.sizes)
    hem = min(size.lengths["body_length"] for size in data.sizes)
    return placed.at((0.0, armhole + share * (hem - armhole)))[1]


def _whisker(x: float, y: float, wide: float, high: float) -> list[Polygon]:
    """Return a bar reaching *wide* or *high* either way, with its caps."""
    cap_x, cap_y = (_CAP, 0.0) if high else (0.0, _CAP)
    return [
        [(x - wide, y - high), (x + wide, y + high)],
        *(
            [(ex - cap_x, ey - cap_y), (ex + cap_x, ey + cap_y)]
            for ex, ey in ((x - wide, y - high), (x + wide, y + high))
        ),
    ]


def _name_hems(canvas: Canvas, data: SizesData, placed: ScaledGarment) -> None:
    """Name the sizes beside their hems; outlines that the eye cannot part share a name."""
    ends = []
    for group in data.hems:
        lengths = data.sizes[group.places[-1]].lengths
        _, corner = tape_line("hem_width", lengths)
        ends.append((*placed.at(corner), group.label))
    ends.sort(key=lambda end: end[1])
    column = max((x for x, _, _ in ends), default=0.0) + LEADER
    levels = spread_apart([y for _, y, _ in ends], _ROW, placed.y + 60, canvas.height - 44)
    most = max(int((canvas.width - column) / LETTER), 3)
    leaders = []
    for (x, y, label), level in zip(ends, levels, strict=True):
        leaders.append([(x + 1, y), (column - 4, level)])
        canvas.text(column, level, shortened(label, most), bold=True)
    canvas.lines(leaders, role="grey", width=0.6)


def _name_sides(canvas: Canvas, data: SizesData, placed: ScaledGarment) -> None:
    """Name the sizes that share a width, inside the smallest, with a leader to their side."""
    narrow = min(size.lengths["half_chest"] for size in data.sizes)
    inner, _ = placed.at((-narrow / 2, 0.0))
    for row, group in enumerate(data.sides):
        lengths = data.sizes[group.places[0]].lengths
        side, _ = placed.at((-lengths["half_chest"] / 2, 0.0))
        level = _between(data, placed, 0.25) - _ROW * row
        canvas.lines([[(side, level), (inner + 8, level)]], role="grey", width=0.6)
        canvas.marks([(side, level)], role="ink", size=2.2)
        canvas.text(inner + 11, level, f"{shortened(group.label, 14)}: one width", size=SMALL_TEXT)


def _foot(canvas: Canvas, data: SizesData) -> None:
    """Draw the scale bar, and say what the other marks are."""
    level = canvas.height - 26.0
    left, right = _scale_bar(canvas, data.bar, data.scale, level)
    charted = "; grey: as charted" if data.charted else ""
    words = f"bars: ± one deviation{charted}"
    canvas.text(right + 50, level, words, size=SMALL_TEXT, role="grey")
    if data.assumed:
        words = "parts not measured are drawn in usual proportions"
        canvas.text(left, canvas.height - 9, words, size=SMALL_TEXT, role="grey")


def _scale_bar(canvas: Canvas, bar: ScaleBar, scale: float, level: float) -> tuple[float, float]:
    """Draw how long a length is here, and return its ends."""
    left = 8.0
    right = left + bar.mm * scale
    ends = [[(x, level - 4), (x, level + 4)] for x in (left, right)]
    canvas.lines([[(left, level), (right, level)], *ends])
    canvas.text(right + 6, level, bar.words)
    return left, right


def draw_washed_shirt(canvas: Canvas, data: WashedShirtData) -> None:
    """Draw a size as received, with a broken line, and as it is after washing over it."""
    placed = ScaledGarment(data.scale, canvas.width / 2, ABOVE)
    looks: tuple[dict[str, Any], ...] = (
        {"role": "grey", "width": 1.0, "dashes": (4.0, 2.5)},
        {"role": "blue", "width": 1.4},
    )
    _, right = _scale_bar(canvas, data.bar, data.scale, canvas.height - 26.0)
    x = max(right + 50, canvas.width / 2)
    for row, (lengths, look) in enumerate(zip((data.new, data.washed), looks, strict=True)):
        canvas.lines([placed.line(outline(lengths))], closed=True, **look)
        level = canvas.height - 26.0 + 16 * row
        canvas.lines([[(x, level), (x + 26, level)]], **look)
        canvas.text(x + 32, level, data.words[row], size=SMALL_TEXT)


def draw_small(canvas: Canvas, data: SmallSizesData) -> None:
    """Draw nothing but the outlines."""
    if not data.sizes:
        return
    outlines = [size.lengths for size in data.sizes]
    longest = max(lengths["body_length"] for lengths in outlines)
    fits = min(fitting_scale(outlines, canvas.width - 4), (canvas.height - 4) / longest)
    scale = min(_SMALL_SCALE, fits)
    placed = ScaledGarment(scale, canvas.width / 2, (canvas.height - scale * longest) / 2)
    lines = [placed.line(outline(lengths)) for lengths in outlines]
    canvas.lines(lines, role="blue", width=0.8, closed=True)


def draw_guide(canvas: Canvas, data: GuideData) -> None:
    """Draw one shirt with the tape on it."""
    lengths = data.lengths
    scale = min(
        (canvas.width - 10) / garment_width(lengths), (canvas.height - 34) / lengths["body_length"]
    )
    placed = ScaledGarment(scale, canvas.width / 2, 28.0)
    canvas.lines([placed.line(outline(lengths))], role="grey", closed=True)
    canvas.lines([placed.line(neckline(lengths))], role="grey")
    draw_tape(canvas, *placed.line(tape_line(data.point, lengths)))
    canvas.text(canvas.width / 2, 9, data.label, align="center", bold=True)


def draw_tape(canvas: Canvas, start: OutlineXY, end: OutlineXY) -> None:
    """Draw the tape with an arrow at both ends; on a short one the arrows point from outside."""
    (ax, ay), (bx, by) = start, end
    long = hypot(bx - ax, by - ay)
    x, y = (bx - ax) / long, (by - ay) / long
    outside = long < 3 * _ARROW
    reach = -_ARROW if outside else _ARROW
    heads = [_head(ax, ay, reach * x, reach * y), _head(bx, by, -reach * x, -reach * y)]
    over = 2 * _ARROW if outside else 0.0
    shaft = [(ax - over * x, ay - over * y), (bx + over * x, by + over * y)]
    canvas.lines([shaft], role="vermilion", width=1.8)
    canvas.fill(heads, role="vermilion")
    # A tick across each end: where the tape begins and stops.
    ticks = [[(px - 5 * y, py + 5 * x), (px + 5 * y, py - 5 * x)] for px, py in (start, end)]
    canvas.lines(ticks, role="vermilion", width=1.4)


def _head(x: float, y: float, dx: float, dy: float) -> Polygon:
    """Return an arrow's head with its tip at (x, y), reaching back by (dx, dy)."""
    return [(x, y), (x + dx - 0.4 * dy, y + dy + 0.4 * dx), (x + dx + 0.4 * dy, y + dy - 0.4 * dx)]
