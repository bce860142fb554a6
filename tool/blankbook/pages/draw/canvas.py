"""A sheet measured in pixels from the top left, with the few marks that charts need.

Each mark goes straight to matplotlib's renderer: figure and axes cost most of the time of a small
chart, and an artist for each mark most of the rest. A series is one path. Text goes to its anchor
without a layout, so that no font's metrics reach the file.
"""

from collections.abc import Callable, Sequence
from functools import lru_cache
from math import isfinite
from typing import Any

from blankbook.pages.draw.axis_labels import shortened
from blankbook.pages.draw.chart_style import FAMILY, LIGHT, TEXT

XY = tuple[float, float]
Polyline = Sequence[XY]
Stroke = Callable[[Any], None]

SHAPES: dict[str, Polyline] = {
    "square": ((-0.9, -0.9), (0.9, -0.9), (0.9, 0.9), (-0.9, 0.9)),
    "diamond": ((0.0, -1.3), (1.3, 0.0), (0.0, 1.3), (-1.3, 0.0)),
    "up": ((0.0, -1.2), (1.15, 0.9), (-1.15, 0.9)),
    "down": ((0.0, 1.2), (1.15, -0.9), (-1.15, -0.9)),
    "bar": ((-1.3, -0.45), (1.3, -0.45), (1.3, 0.45), (-1.3, 0.45)),
    "post": ((-0.45, -1.3), (0.45, -1.3), (0.45, 1.3), (-0.45, 1.3)),
}
"""Marks with corners, for a radius of one; "dot" is the round one."""


@lru_cache(maxsize=8)
def _font(size: float, bold: bool) -> Any:
    from matplotlib.font_manager import FontProperties

    return FontProperties(family=[FAMILY], size=size, weight="bold" if bold else "normal")


class _Anchor:
    """Where a text stands, as a renderer asks for it: the reader's browser lays it out."""

    def __init__(self, x: float, y: float, align: str) -> None:
        self.place, self.align = (x, y), align

    def get_transform(self) -> Any:
        """Return a transform that moves nothing: the place is in pixels of the sheet already."""
        return _Unmoved

    def get_unitless_position(self) -> XY:
        """Return the place."""
        return self.place

    def get_ha(self) -> str:
        """Return which end of the text stands there."""
        return self.align


class _Unmoved:
    """A transform that moves nothing."""

    @staticmethod
    def transform(place: XY) -> XY:
        """Return the place."""
        return place


class Canvas:
    """The sheet. Places are pixels from the top left; colours are roles."""

    def __init__(self, width: int, height: int) -> None:
        from matplotlib.transforms import Affine2D

        self.width, self.height = width, height
        self._upright = Affine2D().scale(1, -1).translate(0, height).frozen()
        self._marks: list[Stroke] = []
        self._words: list[Stroke] = []

    def draw(self, renderer: Any) -> None:
        """Hand all marks to a renderer of matplotlib, in their order, and then all words."""
        for mark in (*self._marks, *self._words):
            mark(renderer)

    def text(
        self, x: float, y: float, words: str, *, role: str = "ink", size: float = TEXT,
        align: str = "left", bold: bool = False,
    ) -> None:  # fmt: skip
        """Write *words* with the middle of their small letters at *y*."""
        clean = shortened(words)
        if not clean.strip():
            return
        colour, font = LIGHT[role], _font(size, bold)
        level = y + 0.36 * size
        anchor = _Anchor(x, self.height - level, align)

        def write(renderer: Any) -> None:
            gc = renderer.new_gc()
            gc.set_foreground(colour)
            renderer.draw_text(gc, x, level, clean, font, 0.0, mtext=anchor)
            gc.restore()

        self._words.append(write)

    def lines(
        self, pieces: Sequence[Polyline], *, role: str = "ink", width: float = 1.0,
        dashes: Sequence[float] | None = None, closed: bool = False, caps: str = "butt",
    ) -> None:  # fmt: skip
        """Draw separate lines, or closed outlines, as one path."""
        path, edge = _path(pieces, closed), LIGHT[role]
        pattern = [width * dash for dash in dashes] if dashes else None

        def stroke(renderer: Any) -> None:
            gc = renderer.new_gc()
            gc.set_foreground(edge)
            gc.set_linewidth(width)
            gc.set_dashes(0, pattern)
            gc.set_capstyle(caps)
            gc.set_joinstyle("round")
            renderer.draw_path(gc, path, self._upright)
            gc.restore()

        self._add(path, stroke)

    def fill(self, pieces: Sequence[Polyline], *, role: str) -> None:
        """Fill closed shapes as one path."""
        from matplotlib.colors import to_rgba

        path, face = _path(pieces, True), to_rgba(LIGHT[role])

        def paint(renderer: Any) -> None:
            gc = renderer.new_gc()
            gc.set_linewidth(0)
            renderer.draw_path(gc, path, self._upright, face)
            gc.restore()

        self._add(path, paint)

    def _add(self, path: Any, mark: Stroke) -> None:
        if path is not None:
            self._marks.append(mark)

    def band(self, left: float, top: float, right: float, bottom: float) -> None:
        """Fill the pale rectangle of what is allowed."""
        self.fill([[(left, top), (right, top), (right, bottom), (left, bottom)]], role="band")

    def marks(
        self, places: Sequence[XY], *, role: str = "blue", shape: str = "dot", size: float = 2.4
    ) -> None:
        """Draw one mark at each place, all of them one path."""
        if shape == "dot":
            # A round cap on a line of no length is a dot, at a tenth of a circle's bytes.
            specks = [[(x, y), (x + 0.001, y)] for x, y in places]
            self.lines(specks, role=role, width=2 * size, caps="round")
            return
        corners = SHAPES[shape]
        self.fill([[(x + size * cx, y + size * cy) for cx, cy in corners] for x, y in places],
                  role=role)  # fmt: skip


def _path(pieces: Sequence[Polyline], closed: bool) -> Any:
    """Return separate lines as one path."""
    from matplotlib.path import Path

    body: list[XY] = []
    codes: list[int] = []
    for piece in pieces:
        _must_be_finite(piece)
        body += [*piece, piece[0]] if closed else piece
        codes += [int(Path.MOVETO)] + [int(Path.LINETO)] * (len(piece) - 1)
        codes += [int(Path.CLOSEPOLY)] if closed else []
    return Path(body, codes) if body else None


def _must_be_finite(piece: Polyline) -> None:
    """Raise ValueError where a place is no number: matplotlib would leave it out without a word."""
    if not all(isfinite(x) and isfinite(y) for x, y in piece):
        raise ValueError(f"a chart's places must be numbers, found {list(piece)}")
