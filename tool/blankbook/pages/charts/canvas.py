"""A sheet measured in pixels from the top left, with the few marks that charts need.

Everything is drawn on the figure itself: axes cost most of the time of a small chart. A series is
one path. Text is handed to the renderer at its anchor, without a layout, so that no font's metrics
reach the file.
"""

from collections.abc import Callable, Sequence
from functools import lru_cache
from math import isfinite
from typing import Any

from blankbook.pages.charts.labels import safe
from blankbook.pages.charts.style import DPI, LIGHT, TEXT

Place = tuple[float, float]
Line = Sequence[Place]

SHAPES: dict[str, Line] = {
    "square": ((-0.9, -0.9), (0.9, -0.9), (0.9, 0.9), (-0.9, 0.9)),
    "diamond": ((0.0, -1.3), (1.3, 0.0), (0.0, 1.3), (-1.3, 0.0)),
    "up": ((0.0, -1.2), (1.15, 0.9), (-1.15, 0.9)),
    "down": ((0.0, 1.2), (1.15, -0.9), (-1.15, -0.9)),
    "bar": ((-1.3, -0.45), (1.3, -0.45), (1.3, 0.45), (-1.3, 0.45)),
    "post": ((-0.45, -1.3), (0.45, -1.3), (0.45, 1.3), (-0.45, 1.3)),
}
"""Marks with corners, for a radius of one; "dot" is the round one."""


@lru_cache(maxsize=1)
def _words() -> Any:
    """Return a kind of text that goes where it is told."""
    from matplotlib.text import Text

    class Words(Text):
        """Text at its anchor: the reader's browser lays it out."""

        def draw(self, renderer: Any) -> None:
            x, y = self.get_transform().transform(self.get_unitless_position())
            level = renderer.height - y if renderer.flipy() else y
            gc = renderer.new_gc()
            gc.set_foreground(self.get_color())
            font = self.get_fontproperties()
            renderer.draw_text(gc, x, level, self.get_text(), font, 0.0, mtext=self)
            gc.restore()

    return Words


class Canvas:
    """The sheet. Places are pixels from the top left; colours are roles."""

    def __init__(self, width: int, height: int) -> None:
        from matplotlib.figure import Figure
        from matplotlib.transforms import Affine2D

        self.width, self.height = width, height
        self.figure = Figure(figsize=(width / DPI, height / DPI), frameon=False)
        self.transform = Affine2D().scale(1, -1).translate(0, height)

    def text(
        self, x: float, y: float, words: str, *, role: str = "ink", size: float = TEXT,
        align: str = "left", bold: bool = False,
    ) -> None:  # fmt: skip
        """Write *words* with the middle of their small letters at *y*."""
        clean = safe(words)
        if not clean.strip():
            return
        artist = _words()(
            x, y + 0.36 * size, clean, color=LIGHT[role], fontsize=size, ha=align, va="baseline",
            fontweight="bold" if bold else "normal", parse_math=False, transform=self.transform,
        )  # fmt: skip
        self.figure.add_artist(artist)

    def lines(
        self, pieces: Sequence[Line], *, role: str = "ink", width: float = 1.0,
        dashes: Sequence[float] | None = None, closed: bool = False, caps: str = "butt",
    ) -> None:  # fmt: skip
        """Draw separate lines, or closed outlines, as one path."""
        style = (0, tuple(dashes)) if dashes else "solid"
        self._patch(
            pieces, closed, facecolor="none", edgecolor=LIGHT[role], linewidth=width,
            linestyle=style, capstyle=caps, joinstyle="round",
        )  # fmt: skip

    def fill(self, pieces: Sequence[Line], *, role: str) -> None:
        """Fill closed shapes as one path."""
        self._patch(pieces, True, facecolor=LIGHT[role], edgecolor="none", linewidth=0.0)

    def band(self, left: float, top: float, right: float, bottom: float) -> None:
        """Fill the pale rectangle of what is allowed."""
        self.fill([[(left, top), (right, top), (right, bottom), (left, bottom)]], role="band")

    def marks(
        self, places: Sequence[Place], *, role: str = "blue", shape: str = "dot", size: float = 2.4
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

    def _patch(self, pieces: Sequence[Line], closed: bool, **look: Any) -> None:
        from matplotlib.patches import PathPatch
        from matplotlib.path import Path

        body: list[Place] = []
        codes: list[int] = []
        for piece in pieces:
            _must_be_finite(piece)
            body += [*piece, piece[0]] if closed else piece
            codes += [int(Path.MOVETO)] + [int(Path.LINETO)] * (len(piece) - 1)
            codes += [int(Path.CLOSEPOLY)] if closed else []
        if body:
            patch = PathPatch(Path(body, codes), transform=self.transform, **look)
            self.figure.add_artist(patch)


def _must_be_finite(piece: Line) -> None:
    if not all(isfinite(x) and isfinite(y) for x, y in piece):
        raise ValueError(f"a chart's places must be numbers, found {list(piece)}")


Drawing = Callable[[Canvas, dict[str, Any]], None]
