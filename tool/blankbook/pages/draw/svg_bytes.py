"""From a finished sheet to the bytes of a file: the same bytes for the same drawing, anywhere."""

import io
import re
from functools import lru_cache
from typing import Any

from blankbook.pages.draw.axis_labels import printable
from blankbook.pages.draw.canvas import Canvas
from blankbook.pages.draw.chart_style import LIGHT, style_sheet

_FRONT = re.compile(
    r"^.*?<svg [^>]*>(?:\s*<metadata>.*?</metadata>|\s*<defs>\s*<style.*?</defs>)*", re.DOTALL
)
_TAG = re.compile(r"<[^<>]*>")
_IN_STYLE = re.compile(r"(fill|stroke): (#[0-9a-f]{6})")
_FAMILY = re.compile(r" ?font-family: [^;\"]*;?")
_TURN = re.compile(r' transform="rotate\(-?0[^"]*\)"')
_LONG = re.compile(r"\d+\.\d{4,}| \n")
"""A place to more than a thousandth of a pixel, or the end of a line inside a path."""
_ROLES = {colour: role for role, colour in LIGHT.items()}


def to_svg(canvas: Canvas, alt: str) -> bytes:
    """Return the sheet as SVG, with *alt* as its title.

    Its colours are variables, so that one file is shown in light and in dark.
    """
    from matplotlib.backends.backend_svg import RendererSVG

    stream = io.StringIO()
    nothing = {"Date": None, "Creator": None, "Format": None, "Type": None}
    kind: Any = RendererSVG  # it has no types
    renderer = kind(canvas.width, canvas.height, stream, metadata=nothing)
    canvas.draw(renderer)
    renderer.finalize()
    body = _FRONT.sub("", stream.getvalue(), count=1)
    # What a person typed stands between tags, and has no "<" or ">" left: only tags are touched.
    return (_head(canvas, alt) + _TAG.sub(_with_roles, body)).encode("utf-8")


def _with_roles(tag: re.Match[str]) -> str:
    """Return a tag with variables for colours, and without what the style sheet says already."""
    before, mark, rest = _LONG.sub(_short, tag[0]).partition(' style="')
    if not mark:
        return before
    style, _, after = rest.partition('"')
    return f'{before}{mark}{_style(style)}"{_TURN.sub("", after) if "rotate" in after else after}'


def _short(found: re.Match[str]) -> str:
    """Return a place to a hundredth of a pixel, which is less than can be seen."""
    return f"{float(found[0]):.2f}".rstrip("0").rstrip(".") if found[0].strip() else " "


@lru_cache(maxsize=256)
def _style(words: str) -> str:
    return _IN_STYLE.sub(_with_role, _FAMILY.sub("", words))


def _with_role(colour: re.Match[str]) -> str:
    return f"{colour[1]}: var(--{_ROLES[colour[2]]})"


def _head(canvas: Canvas, alt: str) -> str:
    size = f'width="{canvas.width}" height="{canvas.height}"'
    return (
        '<?xml version="1.0" encoding="utf-8"?>\n'
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
        f'{size} viewBox="0 0 {canvas.width} {canvas.height}" role="img">\n'
        f"<title>{_escaped(printable(alt))}</title>\n<style>{style_sheet()}</style>"
    )


def _escaped(text: str) -> str:
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
