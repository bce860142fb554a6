"""What could stand in for a blank: the vetted blanks nearest to it, by what was measured.

The distance of two blanks is the root mean square of how far their sizes of one label are apart, in
tolerances, over every size and point of measure that both were measured at. It is told in steps of
half a tolerance, since less cannot be felt; within a step, what washing does decides, then fabric,
mass, colours and price. The order of these is a choice of ours.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from blankbook.records.model import Blank, Shop
from blankbook.results.evidence import sample
from blankbook.results.fabric import mass_per_area
from blankbook.results.frame import Near
from blankbook.results.spread import mean_of
from blankbook.words.answers import Advice
from blankbook.words.points import POINTS

MOST = 4
"""So many are named for a blank."""
LEAST_SHARED = 2
"""From so many shared measures on, two blanks can be held against each other."""
STEP = 0.5
"""Distances are told in steps of half a tolerance."""


def fit_facts(blank: Blank, shop: Shop) -> dict[str, Any]:
    """Return what one blank is compared by, as JSON data. Lengths in millimetres, to a tenth."""
    style = blank.style
    decided = [one.decision for one in reversed(blank.rounds) if one.decision]
    swatches = next((one.swatches for one in reversed(blank.rounds) if one.swatches), ())
    masses = [mass_per_area(one) for one in swatches]
    found = sum(masses) / len(masses) if masses else style.mass
    return {
        "name": style.name,
        "means": {size: means for size in style.sizes if (means := _means(blank, size))},
        "washed": {point: _washed(blank, point) for point in shop.deciding_points},
        "fabric": ", ".join(text for text in (style.fibre, style.knit) if text),
        "mass": round(found) if found else None,
        "colours": list(style.colours),
        "price": style.prices[-1].each if style.prices else None,
        "wearer": style.wearer,
        "decision": decided[0].decision if decided else "",
    }


def _means(blank: Blank, size: str) -> dict[str, float]:
    """Return the newest mean of a size at each point, as received."""
    found: dict[str, float] = {}
    for one in reversed(blank.rounds):
        for point in POINTS:
            if point not in found and (here := sample(one, size, point)):
                found[point] = round(here.mean, 1)
    return found


def _washed(blank: Blank, point: str) -> float | None:
    """Return the mean change after the most washes of the newest round with any, percent."""
    for one in reversed(blank.rounds):
        stages = [
            (stage.cycles, 100 * (mean_of(stage.readings[point]) / mean_of(before) - 1))
            for piece in one.pieces
            for stage in piece.washed
            if point in stage.readings and (before := piece.received.get(point))
        ]
        if stages:
            most = max(cycles for cycles, _ in stages)
            last = [change for cycles, change in stages if cycles == most]
            return round(sum(last) / len(last), 1)
    return None


def nearest(facts: Mapping[str, Mapping[str, Any]], shop: Shop) -> dict[str, list[dict[str, Any]]]:
    """Return, for each blank by its key, what could stand in for it, the nearest first; JSON data.

    *facts* are what `fit_facts` gave of each. A blank that a person rejected stands in for none.
    """
    keys = sorted(facts)
    if not keys:
        return {}
    distances, shared = _distances([facts[key] for key in keys], shop)
    found: dict[str, list[dict[str, Any]]] = {}
    for place, key in enumerate(keys):
        own = facts[key]
        ranked = sorted(
            (_rank(own, facts[other], distances[place][at]), other, distances[place][at], at)
            for at, other in enumerate(keys)
            if other != key
            and shared[place][at] >= LEAST_SHARED
            and _may_stand_in(own, facts[other])
        )
        found[key] = [
            _near(own, facts[other], other, distance, shared[place][at], shop)
            for _, other, distance, at in ranked[:MOST]
        ]
    return found


def near_of(data: Sequence[Mapping[str, Any]]) -> tuple[Near, ...]:
    """Return what `nearest` gave for one blank, typed."""
    return tuple(
        Near(
            one["key"],
            one["name"],
            one["distance"],
            one["shared"],
            {size: (other, off) for size, (other, off) in one["instead"].items()},
            tuple(one["differs"]),
            one["decision"],
        )
        for one in data
    )


def _may_stand_in(own: Mapping[str, Any], other: Mapping[str, Any]) -> bool:
    return bool(other["decision"] != Advice.REJECTED and other["wearer"] == own["wearer"])


def _distances(
    facts: Sequence[Mapping[str, Any]], shop: Shop
) -> tuple[list[list[float]], list[list[int]]]:
    """Return how far every two blanks are apart, in tolerances, and on how many measures."""
    import numpy as np

    labels = sorted({size for one in facts for size in one["means"]})
    columns = {
        pair: place
        for place, pair in enumerate((size, point) for size in labels for point in POINTS)
    }
    values = np.zeros((len(facts), len(columns)))
    known = np.zeros_like(values)
    for row, one in enumerate(facts):
        for size, means in one["means"].items():
            for point, mm in means.items():
                values[row, columns[size, point]] = mm / shop.tolerance[point]
                known[row, columns[size, point]] = 1.0
    shared = known @ known.T
    squares = (values**2) @ known.T
    apart = np.maximum(squares + squares.T - 2 * values @ values.T, 0.0)
    means = np.sqrt(apart / np.maximum(shared, 1.0))
    return means.tolist(), shared.astype(int).tolist()


def _rank(
    own: Mapping[str, Any], other: Mapping[str, Any], distance: float
) -> tuple[int, float, bool, float, int, float]:
    """Return what two blanks are ranked by: fit, washing, fabric, mass, colours, price."""
    washing = [
        abs(change - other["washed"][point])
        for point, change in own["washed"].items()
        if change is not None and other["washed"].get(point) is not None
    ]
    mass = abs(own["mass"] - other["mass"]) if own["mass"] and other["mass"] else 1e3
    price = abs(own["price"] - other["price"]) if own["price"] and other["price"] else 1e3
    return (
        round(distance / STEP),
        round(max(washing), 1) if washing else 1e3,
        own["fabric"] != other["fabric"],
        mass,
        -len(set(own["colours"]) & set(other["colours"])),
        price,
    )


def _near(
    own: Mapping[str, Any],
    other: Mapping[str, Any],
    key: str,
    distance: float,
    shared: int,
    shop: Shop,
) -> dict[str, Any]:
    instead = {
        size: size_instead(means, other["means"], shop) for size, means in own["means"].items()
    }
    return {
        "key": key,
        "name": other["name"],
        "distance": round(distance, 1),
        "shared": shared,
        "instead": {size: list(found) for size, found in instead.items() if found},
        "differs": _differs(own, other),
        "decision": other["decision"],
    }


def size_instead(
    means: Mapping[str, float], others: Mapping[str, Mapping[str, float]], shop: Shop
) -> tuple[str, float] | None:
    """Return the size of another blank that is nearest to one of this, and how far, in tolerances.

    None where no point of measure is shared at the deciding points.
    """
    found = []
    for size, theirs in others.items():
        points = [p for p in shop.deciding_points if p in means and p in theirs]
        if len(points) == len([p for p in shop.deciding_points if p in means]) and points:
            offs = [(means[point] - theirs[point]) / shop.tolerance[point] for point in points]
            found.append(((sum(off * off for off in offs) / len(offs)) ** 0.5, size))
    if not found:
        return None
    distance, size = min(found)
    return size, round(distance, 1)


def _differs(own: Mapping[str, Any], other: Mapping[str, Any]) -> list[str]:
    """Return what else is different, in the order in which it counts."""
    words = []
    for point, change in own["washed"].items():
        theirs = other["washed"].get(point)
        if change is None or theirs is None:
            continue
        if abs(theirs - change) >= 1:
            words.append(f"{POINTS[point].name} {_moves(theirs)} in the wash, not {change:+.1f} %")
    if own["fabric"] != other["fabric"] and other["fabric"]:
        words.append(other["fabric"])
    if own["mass"] and other["mass"] and abs(own["mass"] - other["mass"]) >= 5:
        words.append(f"{other['mass']} g/m2, not {own['mass']}")
    missing = [colour for colour in own["colours"] if colour not in other["colours"]]
    if missing:
        words.append(f"not in {', '.join(missing[:4])}{' …' if len(missing) > 4 else ''}")
    if own["price"] and other["price"] and own["price"] != other["price"]:
        words.append(f"{other['price']:.2f} each, not {own['price']:.2f}")
    return words


def _moves(change: float) -> str:
    return f"changes by {change:+.1f} %"
