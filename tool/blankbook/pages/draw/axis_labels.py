"""The words, numbers and ticks of a chart: printable, short, and far enough apart to be read."""

from collections.abc import Sequence
from math import ceil, floor, isfinite

LABEL_LENGTH = 40
"""Characters in a label that a person typed."""


def printable(words: str) -> str:
    """Return *words* with a blank for every character that cannot be printed."""
    if words.isprintable():
        return words
    return "".join(c if c.isprintable() else " " for c in words)


def shortened(words: str, most: int = LABEL_LENGTH + 20) -> str:
    """Return *words* printable, and cut to *most* characters so that they stay on the chart."""
    clean = printable(words)
    return clean if len(clean) <= most else clean[: most - 1] + "…"


def short_label(label: str, most: int = LABEL_LENGTH) -> str:
    """Return what a person typed, such as a size label, printable and cut."""
    return shortened(label, most)


def chart_number(value: float | None, otherwise: float = 0.0, digits: int = 2) -> float:
    """Return *value* as a chart keeps it: rounded, and *otherwise* where it is no number."""
    return round(value if value is not None and isfinite(value) else otherwise, digits)


def ticks(low: float, high: float, steps: Sequence[float], most: int = 4) -> list[float]:
    """Return the multiples of the finest of *steps* of which no more than *most* fit.

    >>> ticks(-3.0, 52.0, (12.7, 25.4, 50.8))
    [0.0, 25.4, 50.8]
    """
    for step in steps:
        # An end of the scale that misses a multiple only by rounding still has its mark.
        first, last = ceil(low / step - 1e-9), floor(high / step + 1e-9)
        if last - first < most:
            return [round(step * place, 4) for place in range(first, last + 1)]
    return [0.0]


def spread_apart(levels: Sequence[float], gap: float, low: float, high: float) -> list[float]:
    """Return *levels*, which ascend, moved apart by *gap* and kept from *low* to *high*.

    >>> spread_apart([10.0, 11.0, 50.0], 12.0, 0.0, 60.0)
    [10.0, 22.0, 50.0]
    """
    placed: list[float] = []
    for level in levels:
        placed.append(max(level, placed[-1] + gap if placed else low))
    ceiling = high
    for place in reversed(range(len(placed))):
        placed[place] = min(placed[place], ceiling)
        ceiling = placed[place] - gap
    return placed
