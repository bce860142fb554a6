"""A T-shirt as an outline, to scale: the polygon that measurements and proportions give.

Plain geometry, in millimetres, with the origin between the two high points of the shoulder, x to
the wearer's left and y down. What was not measured is filled in by proportions that only draw, and
never judge (common practice, no source).
"""

from collections.abc import Mapping
from math import cos, hypot, pi, sin

OutlineXY = tuple[float, float]
Polygon = list[OutlineXY]

PROPORTIONS = {
    "neck_opening": ("half_chest", 0.36),
    "shoulder_width": ("half_chest", 0.86),
    "hem_width": ("half_chest", 1.0),
    "sleeve_length": ("half_chest", 0.42),
    "sleeve_opening": ("half_chest", 0.34),
}
"""What an unmeasured length is drawn as: a share of a measured one."""

ARMHOLE = 0.33
"""Of the body length: how far down the sleeve meets the side."""
SLOPE = 0.08
"""Of the half chest: how far the shoulder falls from the neck to the sleeve."""
NECK_DEPTH = 0.05
"""Of the body length, at the front."""
RUN, FALL = 0.9, 0.436
"""The direction of a sleeve laid flat: it falls by about 26 degrees."""
RIB = 22.0
"""The usual height of a neck rib, millimetres."""


def _with_proportions(lengths: Mapping[str, float]) -> dict[str, float]:
    """Return *lengths* with every part that an outline needs."""
    parts = dict(lengths)
    for part, (whole, share) in PROPORTIONS.items():
        parts.setdefault(part, share * parts[whole])
    return parts


def outline(lengths: Mapping[str, float]) -> Polygon:
    """Return the outline of one garment: half chest, body length, and what else is known.

    Shape: a closed polygon without its last point repeated, from the front of the neck.
    """
    right = _right_half(lengths)
    left = [(-x, y) for x, y in reversed(right) if x]
    return [*right, *left]


def _right_half(lengths: Mapping[str, float]) -> Polygon:
    corners = _corners(lengths)
    neck, depth = corners["neck"][0], NECK_DEPTH * lengths["body_length"]
    turns = [pi / 2 * place / 5 for place in range(5)]
    curve = [(neck * sin(turn), depth * cos(turn)) for turn in turns]
    return [*curve, *corners.values()]


def _corners(lengths: Mapping[str, float]) -> dict[str, OutlineXY]:
    """Return the corners of the right half, from the neck to the hem."""
    parts = _with_proportions(lengths)
    chest, length = parts["half_chest"], parts["body_length"]
    top = (parts["shoulder_width"] / 2, SLOPE * chest)
    sleeve, opening = parts["sleeve_length"], parts["sleeve_opening"]
    tip = (top[0] + RUN * sleeve, top[1] + FALL * sleeve)
    return {
        "neck": (parts["neck_opening"] / 2, 0.0),
        "shoulder": top,
        "tip": tip,
        "under": (tip[0] - FALL * opening, tip[1] + RUN * opening),
        "armhole": (chest / 2, ARMHOLE * length),
        "hem": (parts["hem_width"] / 2, length),
    }


def tape_line(point: str, lengths: Mapping[str, float]) -> tuple[OutlineXY, OutlineXY]:
    """Return the two ends of the tape at a point of measure, on the outline of *lengths*."""
    at = _corners(lengths)
    depth = NECK_DEPTH * lengths["body_length"]
    across = {
        "half_chest": "armhole",
        "shoulder_width": "shoulder",
        "hem_width": "hem",
        "neck_opening": "neck",
    }
    if point in across:
        x, y = at[across[point]]
        return (-x, y), (x, y)
    lines = {
        "body_length": (at["neck"], (at["neck"][0], at["hem"][1])),
        "sleeve_length": (at["shoulder"], at["tip"]),
        "sleeve_opening": (at["tip"], at["under"]),
        "rib_height": ((0.0, depth), (0.0, depth - lengths.get("rib_height", RIB))),
    }
    return lines[point]


def garment_width(lengths: Mapping[str, float]) -> float:
    """Return the width of the whole garment laid flat, millimetres."""
    return 2 * max(abs(x) for x, _ in outline(lengths))


def tape_length(ends: tuple[OutlineXY, OutlineXY]) -> float:
    """Return the length of a tape line, millimetres."""
    (x1, y1), (x2, y2) = ends
    return hypot(x2 - x1, y2 - y1)


def neckline(lengths: Mapping[str, float]) -> Polygon:
    """Return the edge of the neck rib, above the neck seam at the front."""
    neck, depth = _corners(lengths)["neck"][0], NECK_DEPTH * lengths["body_length"]
    rib = lengths.get("rib_height", RIB)
    inner, low = neck - rib * 0.6, depth - rib
    turns = [pi / 2 * place / 5 for place in range(-5, 6)]
    return [(inner * sin(turn), low * cos(turn) - 0.2 * rib) for turn in turns]
