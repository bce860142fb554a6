"""A T-shirt as an outline, to scale: the polygon that measurements and proportions give.

Plain geometry, in millimetres, with the origin between the two high points of the shoulder, x to
the wearer's left and y down. What was not measured is filled in by proportions that only draw, and
never judge (common practice, no source).
"""

from collections.abc import Mapping
from math import hypot

Point = tuple[float, float]
Polygon = list[Point]

NECK = 0.36
SHOULDER = 0.86
SLEEVE = 0.42
OPENING = 0.36
ARMHOLE = 0.33
SLOPE = 0.08


def outline(lengths: Mapping[str, float]) -> Polygon:
    """Return the outline of one garment: half chest, body length, and what else is known.

    Shape: a closed polygon without its last point repeated, clockwise from the left of the neck.
    """
    right = _right_half(lengths)
    left = [(-x, y) for x, y in reversed(right)]
    return [*right, *left]


def _right_half(lengths: Mapping[str, float]) -> Polygon:
    chest, length = lengths["half_chest"], lengths["body_length"]
    neck = lengths.get("neck_opening", NECK * chest) / 2
    shoulder = lengths.get("shoulder_width", SHOULDER * chest) / 2
    hem = lengths.get("hem_width", chest) / 2
    sleeve = lengths.get("sleeve_length", SLEEVE * chest)
    opening = lengths.get("sleeve_opening", OPENING * chest)
    drop, armhole = SLOPE * chest, ARMHOLE * length
    # The sleeve hangs on from the shoulder, a little steeper than the shoulder's own slope.
    run, fall = 0.83, 0.56
    tip = (shoulder + run * sleeve, drop + fall * sleeve)
    under = (tip[0] - fall * opening, tip[1] + run * opening)
    return [
        (0.0, 0.05 * length),
        (0.6 * neck, 0.035 * length),
        (neck, 0.0),
        (shoulder, drop),
        tip,
        under,
        (chest / 2, armhole),
        (hem, length),
    ]


def tape_line(point: str, lengths: Mapping[str, float]) -> tuple[Point, Point]:
    """Return the two ends of the tape at a point of measure, on the outline of *lengths*."""
    half = _right_half(lengths)
    _, _, neck, shoulder, tip, under, armhole, hem = half
    lines = {
        "half_chest": ((-armhole[0], armhole[1]), armhole),
        "body_length": (neck, (neck[0], hem[1])),
        "shoulder_width": ((-shoulder[0], shoulder[1]), shoulder),
        "sleeve_length": (shoulder, tip),
        "sleeve_opening": (tip, under),
        "hem_width": ((-hem[0], hem[1]), hem),
        "neck_opening": ((-neck[0], neck[1]), neck),
        "rib_height": ((0.0, half[0][1]), (0.0, half[0][1] - lengths.get("rib_height", 22.0))),
    }
    return lines[point]


def distance(ends: tuple[Point, Point]) -> float:
    """Return the length of a tape line, millimetres."""
    (x1, y1), (x2, y2) = ends
    return hypot(x2 - x1, y2 - y1)
