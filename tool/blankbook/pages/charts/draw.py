"""The drawings. Each gets a spec's data and draws it; none computes a result."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from blankbook.pages.charts.outline import outline, tape_line
from blankbook.pages.charts.specs import PANEL, TOP, WIDTH, scale_of
from blankbook.pages.charts.style import SMALL, Canvas, settings, to_svg
from blankbook.pages.showing import change
from blankbook.pages.spec import ChartSpec
from blankbook.words.points import INCH

Data = Mapping[str, Any]
LEFT = 46
"""Where the marks begin: the scale stands to the left of it."""


def draw(spec: ChartSpec) -> bytes:
    """Return the chart as SVG: the same bytes for the same spec."""
    with settings():
        canvas = Canvas(spec.width, spec.height)
        DRAWINGS[spec.kind](canvas, spec.data)
        return to_svg(canvas, spec.path, spec.alt)


def _placed(points: Sequence[tuple[float, float]], scale: float, x: float, y: float) -> list[Any]:
    return [(x + scale * px, y + scale * py) for px, py in points]


def _sizes(canvas: Canvas, data: Data) -> None:
    sizes = data["sizes"]
    scale = scale_of(sizes)
    x, y = canvas.width / 2, 6.0
    for one in sizes:
        canvas.path(_placed(outline(one["lengths"]), scale, x, y), role="blue", closed=True)
    _whiskers(canvas, data, scale, x, y)
    _size_labels(canvas, sizes, scale, x, y)
    _scale_bar(canvas, data["unit"], scale)


def _whiskers(canvas: Canvas, data: Data, scale: float, x: float, y: float) -> None:
    """Mark one deviation between pieces, at the chest and at the hem of every size."""
    chest, length = (data["spread"][point] * scale for point in ("half_chest", "body_length"))
    pieces = []
    for place, one in enumerate(data["sizes"]):
        (_, _), (cx, cy) = tape_line("half_chest", one["lengths"])
        side, level = x - scale * cx, y + scale * cy + 6 + 5 * place
        pieces.append([(side - chest / 2, level), (side + chest / 2, level)])
        hem = y + scale * one["lengths"]["body_length"]
        across = x - 40 + 7 * place
        pieces.append([(across, hem - length), (across, hem + length)])
    canvas.lines(pieces, role="ink", width=1.6)


def _size_labels(canvas: Canvas, sizes: Sequence[Data], scale: float, x: float, y: float) -> None:
    """Name the sizes beside their hems, with leaders, far enough apart to be read."""
    ends = []
    for one in sizes:
        _, (hx, hy) = tape_line("hem_width", one["lengths"])
        ends.append((x + scale * hx, y + scale * hy, str(one["label"])))
    column = max(end[0] for end in ends) + 18
    level = 0.0
    for place, (ex, ey, label) in enumerate(sorted(ends, key=lambda end: end[1])):
        first = ey - 6.5 * (len(ends) - 1) / 2 if place == 0 else level + 13
        level = max(first, ey - 13 * (len(ends) - 1 - place)) if place == 0 else first
        canvas.lines([[(ex, ey), (column - 3, level)]], role="grey", width=0.6)
        canvas.text(column, level, label, bold=True)


def _scale_bar(canvas: Canvas, unit: str, scale: float) -> None:
    long = 5 * float(INCH) if unit == "in" else 100.0
    words = "5 in" if unit == "in" else "10 cm"
    left, level = 8.0, canvas.height - 12.0
    right = left + long * scale
    canvas.lines(
        [
            [(left, level), (right, level)],
            [(left, level - 4), (left, level + 4)],
            [(right, level - 4), (right, level + 4)],
        ]
    )
    canvas.text(right + 6, level, words)
    canvas.text(right + 48, level, "bars: one deviation between pieces", size=SMALL, role="grey")


def _sizes_small(canvas: Canvas, data: Data) -> None:
    sizes = data["sizes"]
    longest = max(one["lengths"]["body_length"] for one in sizes)
    scale = min(scale_of(sizes, canvas.width - 4), (canvas.height - 4) / longest)
    for one in sizes:
        points = _placed(outline(one["lengths"]), scale, canvas.width / 2, 2)
        canvas.path(points, role="blue", closed=True, width=0.8)


@dataclass(frozen=True, slots=True)
class Panel:
    """A strip with its own scale from *low* to *high*."""

    canvas: Canvas
    top: float
    low: float
    high: float
    columns: int

    @property
    def bottom(self) -> float:
        """The lower edge in pixels."""
        return self.top + PANEL - 30

    def y(self, value: float) -> float:
        """Return the level of a value, kept inside the strip."""
        share = (value - self.low) / (self.high - self.low)
        return self.bottom - min(max(share, 0.0), 1.0) * (self.bottom - self.top - 4)

    def x(self, column: int) -> float:
        """Return the middle of a column."""
        wide = (WIDTH - LEFT - 6) / self.columns
        return LEFT + wide * (column + 0.5)

    def rule(self, value: float, words: str, **look: Any) -> None:
        """Draw a level across the strip and name it at the left."""
        level = self.y(value)
        self.canvas.lines([[(LEFT, level), (WIDTH - 6, level)]], **look)
        self.canvas.text(LEFT - 5, level, words, size=SMALL, align="right", role="grey")

    def mean(self, column: int, data: Data) -> None:
        """Draw a mean with its limits."""
        role = "vermilion" if data["fails"] else "blue"
        x = self.x(column)
        span = [(x, self.y(data["low"])), (x, self.y(data["high"]))]
        bar = [(x - 8, self.y(data["mean"])), (x + 8, self.y(data["mean"]))]
        self.canvas.lines([span], role=role, width=1.0)
        self.canvas.lines([bar], role=role, width=2.4)

    def dots(self, column: int, values: Sequence[float], role: str = "grey") -> None:
        """Draw single pieces beside the mean, so that equal ones are seen apart."""
        x = self.x(column) + 12
        self.canvas.dots(
            [(x + 4 * (place % 4), self.y(value)) for place, value in enumerate(values)], role=role
        )


def _panel(
    canvas: Canvas, place: int, title: str, span: tuple[float, float], columns: int
) -> Panel:
    top = TOP + place * (PANEL + 22)
    canvas.text(4, top + 6, title, bold=True)
    return Panel(canvas, top + 18, *span, columns)


def _tolerance_rules(panel: Panel, allowed: float, unit: str) -> None:
    """Draw the chart's level with the tolerance about it; names that would overlap are joined."""
    apart = panel.y(0.0) - panel.y(allowed) >= SMALL
    panel.rule(allowed, change(allowed, unit) if apart else "", role="grey", width=0.6)
    panel.rule(-allowed, change(-allowed, unit) if apart else "", role="grey", width=0.6)
    panel.rule(0.0, "chart" if apart else f"±{change(allowed, unit)[1:]}", width=1.0)


def _deviation(canvas: Canvas, data: Data) -> None:
    unit = data["unit"]
    for place, one in enumerate(data["panels"]):
        allowed = one["tolerance"]
        ends = [v for c in one["columns"] if c for v in (*c["dots"], c["low"], c["high"])]
        reach = 1.1 * max(1.3 * allowed, *(abs(end) for end in ends))
        panel = _panel(canvas, place, one["title"], (-reach, reach), len(data["sizes"]))
        top = panel.y(allowed)
        canvas.band(LEFT, top, WIDTH - 6 - LEFT, panel.y(-allowed) - top)
        _tolerance_rules(panel, allowed, unit)
        for column, (size, found) in enumerate(zip(data["sizes"], one["columns"], strict=True)):
            words = size if found else f"{size}: none"
            role = "ink" if found else "grey"
            canvas.text(panel.x(column), panel.bottom + 9, words, align="center", role=role)
            if found:
                panel.mean(column, found)
                panel.dots(column, found["dots"])


def _steps(canvas: Canvas, data: Data) -> None:
    unit = data["unit"]
    for place, one in enumerate(data["panels"]):
        ends = [v for c in one["columns"] for v in (c["low"], c["high"], c["asked"])]
        span = (min(0.0, *ends) - 2, max(ends) * 1.1 + 2)
        panel = _panel(canvas, place, one["title"], span, len(one["columns"]))
        panel.rule(0.0, "0", width=1.0)
        asked = one["columns"][0]["asked"]
        canvas.text(
            LEFT - 5, panel.y(asked), change(asked, unit), size=SMALL, align="right", role="grey"
        )
        for column, found in enumerate(one["columns"]):
            x, level = panel.x(column), panel.y(found["asked"])
            canvas.lines([[(x - 22, level), (x + 22, level)]], width=1.0, dashes=(4, 2))
            canvas.text(x, panel.bottom + 9, found["label"], align="center")
            panel.mean(column, found)


def _washing(canvas: Canvas, data: Data) -> None:
    for place, one in enumerate(data["panels"]):
        limit = one["limit"]
        ends = [v for c in one["columns"] for v in (*c["dots"], c["low"], c["high"])]
        span = (1.1 * min(-limit, *ends), max(1.0, *ends) * 1.2)
        panel = _panel(canvas, place, f"{one['title']}, %", span, len(one["columns"]))
        panel.rule(0.0, "0", width=1.0)
        panel.rule(-limit, f"-{limit:g}", width=0.8, dashes=(4, 2))
        for column, found in enumerate(one["columns"]):
            canvas.text(panel.x(column), panel.bottom + 9, found["label"], align="center")
            panel.mean(column, found)
            panel.dots(column, found["dots"])


def _lots(canvas: Canvas, data: Data) -> None:
    unit = data["unit"]
    for place, one in enumerate(data["panels"]):
        allowed = one["tolerance"]
        ends = [mark["off"] for column in one["columns"] for mark in column["marks"]]
        reach = 1.15 * max(1.3 * allowed, *(abs(end) for end in ends))
        top = TOP + place * (PANEL + 50)
        canvas.text(4, top + 6, one["title"], bold=True)
        panel = Panel(canvas, top + 18, -reach, reach, len(one["columns"]))
        upper = panel.y(allowed)
        canvas.band(LEFT, upper, WIDTH - 6 - LEFT, panel.y(-allowed) - upper)
        _tolerance_rules(panel, allowed, unit)
        for column, found in enumerate(one["columns"]):
            canvas.text(panel.x(column), panel.bottom + 9, found["label"], align="center")
            _lot_marks(canvas, panel, column, found["marks"], allowed)


def _lot_marks(
    canvas: Canvas, panel: Panel, column: int, marks: Sequence[Data], allowed: float
) -> None:
    """Draw a lot's sizes side by side in trade order, joined, the first and last named."""
    wide = min(9.0, (WIDTH - LEFT - 6) / panel.columns / (len(marks) + 1))
    start = panel.x(column) - wide * (len(marks) - 1) / 2
    points = [(start + wide * place, panel.y(mark["off"])) for place, mark in enumerate(marks)]
    if len(points) > 1:
        canvas.lines([points], role="blue", width=0.8)
    inside = [p for p, mark in zip(points, marks, strict=True) if abs(mark["off"]) <= allowed]
    canvas.dots(inside, role="blue", size=2.8)
    canvas.dots([p for p in points if p not in inside], role="vermilion", size=2.8)
    if marks:
        ends = marks[0]["size"] if len(marks) == 1 else f"{marks[0]['size']}…{marks[-1]['size']}"
        canvas.text(
            panel.x(column), panel.bottom + 23, ends, size=SMALL, align="center", role="grey"
        )


def _guide(canvas: Canvas, data: Data) -> None:
    lengths = data["lengths"]
    scale = scale_of([{"lengths": lengths}], canvas.width - 10)
    scale = min(scale, (canvas.height - 26) / lengths["body_length"])
    x, y = canvas.width / 2, 22.0
    canvas.path(_placed(outline(lengths), scale, x, y), closed=True, width=1.0)
    (ax, ay), (bx, by) = _placed(tape_line(data["point"], lengths), scale, x, y)
    canvas.lines([[(ax, ay), (bx, by)]], role="vermilion", width=2.4)
    canvas.dots([(ax, ay), (bx, by)], role="vermilion", size=3.2)
    canvas.text(x, 9, data["label"], align="center", bold=True)


DRAWINGS: dict[str, Callable[[Canvas, Data], None]] = {
    "sizes": _sizes,
    "sizes_small": _sizes_small,
    "deviation": _deviation,
    "steps": _steps,
    "washing": _washing,
    "lots": _lots,
    "guide": _guide,
}
