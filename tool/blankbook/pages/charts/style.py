"""How every chart looks, and the one place that knows a colour or a setting of matplotlib.

Colour has a role, never an identity: ink for what is asked, blue for what was measured, vermilion
for what is outside, grey for the rest. The four pass 3:1 against both grounds (WCAG 2.2, 1.4.11).
Drawing is done on the figure itself, in pixels from the top left, without axes: axes cost most of
the time of a small chart. One file serves light and dark: its colours are variables.
"""

import hashlib
import io
import re
from collections.abc import Sequence
from functools import lru_cache
from importlib.resources import files
from typing import Any

LIGHT = {"ink": "#1a1a1a", "blue": "#0072b2", "vermilion": "#c75000", "grey": "#6b6b6b"}
DARK = {"ink": "#efece6", "blue": "#79bdf0", "vermilion": "#ff9d66", "grey": "#a8a39a"}
BAND = {"light": "#e4e0d8", "dark": "#33302b"}
_BAND_MARK = "#e4e0d8"
TEXT = 11.0
"""Pixels; a chart is never wider than a phone, so this is also what a phone shows."""
SMALL = 10.0
DPI = 72

_SETTINGS: dict[str, Any] = {
    "svg.fonttype": "none",
    "font.family": ["sans-serif"],
    "font.sans-serif": ["DejaVu Sans"],
    "font.size": TEXT,
    "text.parse_math": False,
    "path.simplify": False,
    "figure.dpi": DPI,
    "savefig.dpi": DPI,
    "axes.unicode_minus": False,
}


class Canvas:
    """A figure measured in pixels from the top left, with the few marks that charts need."""

    def __init__(self, width: int, height: int) -> None:
        from matplotlib.figure import Figure
        from matplotlib.transforms import Affine2D

        self.width, self.height = width, height
        self.figure = Figure(figsize=(width / DPI, height / DPI), frameon=False)
        flip = Affine2D().scale(1 / width, -1 / height).translate(0, 1)
        self.transform = flip + self.figure.transFigure

    def text(
        self, x: float, y: float, words: str, *, role: str = "ink", size: float = TEXT,
        align: str = "left", bold: bool = False,
    ) -> None:  # fmt: skip
        """Write *words* with their middle line at *y*."""
        self.figure.text(
            x / self.width, 1 - y / self.height, safe(words), color=LIGHT[role], fontsize=size,
            ha=align, va="center", fontweight="bold" if bold else "normal", parse_math=False,
        )  # fmt: skip

    def path(
        self, points: Sequence[tuple[float, float]], *, role: str = "ink", width: float = 1.0,
        closed: bool = False, dashes: Sequence[float] | None = None, alpha: float = 1.0,
    ) -> None:  # fmt: skip
        """Draw one line through *points*."""
        from matplotlib.patches import PathPatch
        from matplotlib.path import Path

        body = list(points) + ([points[0]] if closed else [])
        codes = [Path.MOVETO] + [Path.LINETO] * (len(points) - 1)
        codes += [Path.CLOSEPOLY] if closed else []
        patch = PathPatch(
            Path(body, codes), transform=self.transform, facecolor="none", edgecolor=LIGHT[role],
            linewidth=width, linestyle=(0, tuple(dashes)) if dashes else "solid", alpha=alpha,
            joinstyle="round", capstyle="butt",
        )  # fmt: skip
        self.figure.add_artist(patch)

    def lines(
        self, pieces: Sequence[Sequence[tuple[float, float]]], *, role: str = "ink",
        width: float = 1.0, dashes: Sequence[float] | None = None,
    ) -> None:  # fmt: skip
        """Draw many separate lines as one path."""
        from matplotlib.patches import PathPatch
        from matplotlib.path import Path

        if not pieces:
            return
        body = [point for piece in pieces for point in piece]
        codes = [
            Path.MOVETO if place == 0 else Path.LINETO
            for piece in pieces
            for place in range(len(piece))
        ]
        patch = PathPatch(
            Path(body, codes), transform=self.transform, facecolor="none", edgecolor=LIGHT[role],
            linewidth=width, linestyle=(0, tuple(dashes)) if dashes else "solid", capstyle="butt",
        )  # fmt: skip
        self.figure.add_artist(patch)

    def band(self, x: float, y: float, width: float, height: float) -> None:
        """Fill the pale rectangle of a tolerance."""
        from matplotlib.patches import Rectangle

        self.figure.add_artist(
            Rectangle(
                (x, y), width, height, transform=self.transform, facecolor=_BAND_MARK,
                edgecolor="none",
            )
        )  # fmt: skip

    def dots(
        self, points: Sequence[tuple[float, float]], *, role: str = "blue", size: float = 2.2
    ) -> None:
        """Draw small round dots as one path."""
        from matplotlib.patches import PathPatch
        from matplotlib.path import Path
        from matplotlib.transforms import Affine2D

        if not points:
            return
        circle = Path.unit_circle()
        circles = [circle.transformed(Affine2D().scale(size).translate(x, y)) for x, y in points]
        patch = PathPatch(
            Path.make_compound_path(*circles),
            transform=self.transform,
            facecolor=LIGHT[role],
            edgecolor="none",
        )
        self.figure.add_artist(patch)


def safe(words: str, most: int = 48) -> str:
    """Return words without control characters, cut so that they stay on the chart."""
    clean = "".join(c if c.isprintable() else " " for c in words)
    clean = clean.encode("utf-8", "replace").decode("utf-8")
    return clean if len(clean) <= most else clean[: most - 1] + "…"


def to_svg(canvas: Canvas, name: str, alt: str) -> bytes:
    """Return the figure as SVG: the same bytes for the same drawing, whatever the machine.

    *name* salts the ids; *alt* becomes the title.
    """
    stream = io.BytesIO()
    _matplotlib().rcParams["svg.hashsalt"] = name
    canvas.figure.savefig(
        stream, format="svg", transparent=True, metadata={"Date": None, "Creator": None}
    )
    return _with_variables(stream.getvalue().decode("utf-8"), canvas, alt).encode("utf-8")


@lru_cache(maxsize=1)
def _matplotlib() -> Any:
    import matplotlib as mpl

    return mpl


def settings() -> Any:
    """Return a context in which the house's settings hold, and nobody else's."""
    mpl = _matplotlib()
    usual = {key: mpl.rcParamsDefault[key] for key in mpl.rcParamsDefault if key != "backend"}
    return mpl.rc_context({**usual, **_SETTINGS})


_HEAD = re.compile(r"<svg [^>]*>", re.DOTALL)
_METADATA = re.compile(r"\s*<metadata>.*?</metadata>", re.DOTALL)
_DOCTYPE = re.compile(r"<!DOCTYPE[^>]*>\s*", re.DOTALL)


def _with_variables(svg: str, canvas: Canvas, alt: str) -> str:
    """Return the SVG with a title, its size in pixels, and colours that follow light and dark."""
    svg = _METADATA.sub("", _DOCTYPE.sub("", svg))
    for role, colour in LIGHT.items():
        svg = svg.replace(colour, f"var(--{role})")
    svg = svg.replace(_BAND_MARK, "var(--band)")
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
        f'width="{canvas.width}" height="{canvas.height}" '
        f'viewBox="0 0 {canvas.width} {canvas.height}" role="img">'
        f"<title>{_escape(alt)}</title><style>{_sheet()}</style>"
    )
    return _HEAD.sub(lambda _: head, svg, count=1)


def _sheet() -> str:
    light = "".join(f"--{role}:{colour};" for role, colour in LIGHT.items())
    dark = "".join(f"--{role}:{colour};" for role, colour in DARK.items())
    return (
        f":root{{{light}--band:{BAND['light']}}}"
        f"@media(prefers-color-scheme:dark){{:root{{{dark}--band:{BAND['dark']}}}}}"
    )


def _escape(text: str) -> str:
    clean = "".join(c if c.isprintable() else " " for c in text)
    return clean.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


@lru_cache(maxsize=1)
def fingerprint() -> str:
    """Return a hash that changes when a drawing could: our code, matplotlib, its font."""
    from importlib.metadata import version

    digest = hashlib.blake2b(digest_size=16)
    for entry in sorted(files("blankbook.pages.charts").iterdir(), key=lambda one: one.name):
        if entry.name.endswith(".py"):
            digest.update(entry.name.encode() + b"\0" + entry.read_bytes() + b"\0")
    digest.update(version("matplotlib").encode())
    return digest.hexdigest()
