"""How every chart looks: the one place that knows a colour or a setting of matplotlib.

Colour has a role, never an identity: ink for what is asked, blue for what was measured, vermilion
for what is outside, grey for the rest, band for what is allowed. All but the band, which only
repeats its two edges, pass 3:1 against the theme's light and dark grounds (WCAG 2.2, success
criterion 1.4.11); the chart itself is transparent.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from functools import lru_cache
from typing import Any

LIGHT = {
    "ink": "#1a1a1a",
    "blue": "#0072b2",
    "vermilion": "#c75000",
    "grey": "#5a5a5a",
    "band": "#ebe7df",
}
DARK = {
    "ink": "#efece6",
    "blue": "#79bdf0",
    "vermilion": "#ff9d66",
    "grey": "#b3aea4",
    "band": "#33302b",
}
TEXT = 12.0
"""Pixels. On a phone 360 px wide a chart shrinks by a tenth, and is still read."""
SMALL_TEXT = 11.0
DPI = 72
"""A point is then a pixel, so that sizes and places are in one unit."""
FAMILY = "DejaVu Sans"
"""Carried by matplotlib itself; the reader's machine picks from `_FONTS`."""
_FONTS = 'ui-sans-serif,system-ui,"Segoe UI","Noto Sans","DejaVu Sans",sans-serif'

_SETTINGS: dict[str, Any] = {
    "svg.fonttype": "none",
    "font.family": ["sans-serif"],
    "font.sans-serif": [FAMILY],
    "font.size": TEXT,
    "text.parse_math": False,
    "path.simplify": False,
    "figure.dpi": float(DPI),
    "savefig.dpi": float(DPI),
}
_NOT_OURS = {"backend", "backend_fallback", "interactive", "toolbar"}


@contextmanager
def chart_settings(name: str) -> Iterator[None]:
    """Return a context in which the house's settings hold, and nobody else's.

    *name* salts the ids that matplotlib makes up. Only what differs is set and set back: copying
    and comparing all three hundred by matplotlib's own ways takes as long as the drawing.
    """
    import matplotlib as mpl

    wanted = {**_usual(), **_SETTINGS, "svg.hashsalt": name}
    now: Any = mpl.rcParams
    before: dict[str, Any] = {key: dict.__getitem__(now, key) for key in wanted}
    changed = {key: it for key, it in wanted.items() if before[key] != it}
    now.update(changed)
    try:
        yield
    finally:
        dict.update(now, {key: before[key] for key in changed})


@lru_cache(maxsize=1)
def _usual() -> dict[str, Any]:
    import matplotlib as mpl

    usual: Any = mpl.rcParamsDefault
    return {key: usual[key] for key in usual if key not in _NOT_OURS and not key.startswith("_")}


def style_sheet() -> str:
    """Return the style sheet that travels in every chart: its colours, light and dark."""
    light = "".join(f"--{role}:{colour};" for role, colour in LIGHT.items())
    dark = "".join(f"--{role}:{colour};" for role, colour in DARK.items())
    return (
        f":root{{{light}}}"
        f"@media(prefers-color-scheme:dark){{:root{{{dark}}}}}"
        f"*{{stroke-linejoin:round;stroke-linecap:butt}}text{{font-family:{_FONTS}}}"
    )
