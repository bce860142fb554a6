"""What could stand in for a blank: the vetted blanks nearest to it, by what was measured.

The distance of two blanks is the root mean square of how far their sizes of one label are apart, in
tolerances, over every size and point of measure that both were measured at. It counts in steps of
half a tolerance, since less cannot be felt. Within a step, the change in washing decides, then
fabric, mass, colours and price; this order is a choice of ours.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Any

from blankbook.records.model import Blank, Shop
from blankbook.results.checks.fabric import mass_per_area
from blankbook.results.comparable_lines import is_on_guide_line, on_newest_lines
from blankbook.results.evidence import size_sample
from blankbook.results.piece_spread import mean_reading
from blankbook.results.result_types import Case, StandIn
from blankbook.results.standing.newest_decision import newest_decision
from blankbook.words.answers import Advice
from blankbook.words.points import POINTS

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Matrix = NDArray[Any]

MOST_STAND_INS = 4
"""So many stand-ins are named for a blank."""
ROWS_AT_A_TIME = 256
"""So many blanks are compared with all others at a time, to keep memory small."""
LEAST_SHARED = 2
"""From so many shared measures on, two blanks can be compared."""
DISTANCE_STEP = 0.5
"""Distances count in steps of half a tolerance."""
MOST_OFF = 3.0
"""A size further off than so many tolerances is no stand-in: with the usual half inch and a step of
two inches the next size is four away."""
RANK_OF_UNKNOWN = 999.0
"""What is not known ranks behind whatever is."""


def fit_facts(blank: Blank, shop: Shop) -> dict[str, Any]:
    """Return what one blank is compared by, as JSON data. Lengths in millimetres, to a tenth."""
    blank = on_newest_lines(blank)
    style = blank.style
    decided = newest_decision(blank)
    swatches = next((round_.swatches for round_ in reversed(blank.rounds) if round_.swatches), ())
    masses = [mass_per_area(swatch) for swatch in swatches]
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
        "decision": decided.made.decision if decided else "",
    }


def _means(blank: Blank, size: str) -> dict[str, float]:
    """Return the newest mean of a size at each point, as received, where others measure alike."""
    found: dict[str, float] = {}
    for round_ in reversed(blank.rounds):
        for point in POINTS:
            if point not in found and (here := size_sample(round_, size, point)):
                found[point] = round(here.mean, 1)
    return {point: mm for point, mm in found.items() if is_on_guide_line(blank, point)}


def _washed(blank: Blank, point: str) -> float | None:
    """Return the mean change after the most washes of the newest round with any, percent."""
    for round_ in reversed(blank.rounds):
        stages = [
            (stage.cycles, 100 * (mean_reading(stage.readings[point]) / mean_reading(before) - 1))
            for piece in round_.pieces
            for stage in piece.washed
            if point in stage.readings and (before := piece.received.get(point))
        ]
        if stages:
            most = max(cycles for cycles, _ in stages)
            last = [change for cycles, change in stages if cycles == most]
            return round(sum(last) / len(last), 1)
    return None


def nearest_by_blank(
    facts: Mapping[str, Mapping[str, Any]], shop: Shop
) -> dict[str, list[dict[str, Any]]]:
    """Return, for each blank by its key, what could stand in for it, the nearest first; JSON data.

    *facts* are what `fit_facts` gave of each. What is handed on is what a page says, no more: a
    blank is judged anew when it comes out otherwise. A rejected blank stands in for none.
    """
    keys = sorted(facts)
    if not keys:
        return {}
    table = BlankTable.of([facts[key] for key in keys], shop)
    found: dict[str, list[dict[str, Any]]] = {}
    for place, candidates in enumerate(table.candidates()):
        own = facts[keys[place]]
        ranked = sorted(
            (_rank(own, facts[keys[at]], distance), keys[at], distance, shared)
            for at, distance, shared in candidates
        )
        found[keys[place]] = [
            asdict(_stand_in(other, distance, shared, own, facts[other], shop))
            for _, other, distance, shared in ranked[:MOST_STAND_INS]
        ]
    return found


def stand_ins(case: Case) -> tuple[StandIn, ...]:
    """Return what could stand in for the blank of a case, the nearest first."""
    found = (StandIn(**near) for near in case.learned.nearest)
    return tuple(near for near in found if near.instead)


@dataclass(frozen=True, slots=True)
class BlankTable:
    """All blanks as numbers, so that each is compared with all others at once."""

    values: "Matrix"
    """Shape: blanks, measures. In tolerances; 0 where not measured."""
    known: "Matrix"
    """Shape: blanks, measures. 1 where measured, else 0."""
    washed: "Matrix"
    """Shape: blanks, deciding points. Percent; NaN where not washed."""
    mass: "Matrix"
    """Shape: blanks. g/m2; NaN where not known."""
    fabric: "Matrix"
    wearer: "Matrix"
    """Shape: blanks. A number for each text."""
    offered: "Matrix"
    """Shape: blanks. Whether it may stand in for another."""

    @classmethod
    def of(cls, facts: Sequence[Mapping[str, Any]], shop: Shop) -> "BlankTable":
        """Return the facts of all blanks as numbers."""
        import numpy as np

        labels = sorted({size for fact in facts for size in fact["means"]})
        pairs = ((size, point) for size in labels for point in POINTS)
        columns = {pair: place for place, pair in enumerate(pairs)}
        values = np.zeros((len(facts), len(columns)))
        known = np.zeros_like(values)
        for row, blank in enumerate(facts):
            for size, means in blank["means"].items():
                for point, mm in means.items():
                    values[row, columns[size, point]] = mm / shop.tolerance[point]
                    known[row, columns[size, point]] = 1.0
        return cls(
            values,
            known,
            np.array([list(blank["washed"].values()) for blank in facts], dtype=float),
            np.array([blank["mass"] for blank in facts], dtype=float),
            _numbered([blank["fabric"] for blank in facts]),
            _numbered([blank["wearer"] for blank in facts]),
            np.array([blank["decision"] != Advice.REJECTED for blank in facts]),
        )

    def candidates(self) -> Iterator[list[tuple[int, float, int]]]:
        """Yield, for each blank, the places of the nearest few, with distance and measures shared.

        They include all that tie with the last of the `MOST_STAND_INS` by fit, washing, fabric and
        mass; colours and price decide between those later. In no order.
        """
        for start in range(0, len(self.values), ROWS_AT_A_TIME):
            yield from self._of_rows(slice(start, start + ROWS_AT_A_TIME))

    def _of_rows(self, rows: slice) -> Iterator[list[tuple[int, float, int]]]:
        import numpy as np

        shared = self.known[rows] @ self.known.T
        squares = self.values**2
        total = squares[rows] @ self.known.T + self.known[rows] @ squares.T
        total = np.maximum(total - 2 * self.values[rows] @ self.values.T, 0.0)
        apart = np.sqrt(total / np.maximum(shared, 1.0))
        may = (shared >= LEAST_SHARED) & self.offered & (self.wearer[rows, None] == self.wearer)
        may[np.arange(len(may)), np.arange(len(self.values))[rows]] = False
        rough = np.where(may, self._rough(rows, apart), np.inf)
        count = min(MOST_STAND_INS, len(self.values)) - 1
        borders = np.partition(rough, count, axis=1)[:, count]
        for row, border in enumerate(borders):
            chosen = np.flatnonzero((rough[row] <= border) & may[row])
            yield [(int(at), float(apart[row, at]), int(shared[row, at])) for at in chosen]

    def _rough(self, rows: slice, apart: "Matrix") -> "Matrix":
        """Return one number for each pair that orders as `_rank` does, up to the mass."""
        import numpy as np

        change = np.abs(self.washed[rows, None] - self.washed[None])
        washing = np.where(np.isnan(change), -1.0, change).max(axis=2, initial=-1.0)
        washing = np.where(washing < 0, RANK_OF_UNKNOWN, np.round(washing, 1))
        mass = np.abs(self.mass[rows, None] - self.mass)
        mass = np.where(np.isnan(mass), RANK_OF_UNKNOWN, mass)
        other = self.fabric[rows, None] != self.fabric
        total: Matrix = np.round(apart / DISTANCE_STEP) * 1e9 + np.round(washing * 10) * 1e5
        return np.asarray(total + other * 5e4 + mass)


def _numbered(texts: Sequence[str]) -> "Matrix":
    import numpy as np

    numbers = {text: float(place) for place, text in enumerate(dict.fromkeys(texts))}
    return np.array([numbers[text] for text in texts])


def _rank(
    own: Mapping[str, Any], other: Mapping[str, Any], distance: float
) -> tuple[int, float, bool, float, int, float]:
    """Return what two blanks are ranked by: fit, washing, fabric, mass, colours, price."""
    washing = [
        abs(change - other["washed"][point])
        for point, change in own["washed"].items()
        if change is not None and other["washed"].get(point) is not None
    ]
    mass = abs(own["mass"] - other["mass"]) if own["mass"] and other["mass"] else RANK_OF_UNKNOWN
    price = (
        abs(own["price"] - other["price"]) if own["price"] and other["price"] else RANK_OF_UNKNOWN
    )
    return (
        round(distance / DISTANCE_STEP),
        round(max(washing), 1) if washing else RANK_OF_UNKNOWN,
        own["fabric"] != other["fabric"],
        mass,
        -len(set(own["colours"]) & set(other["colours"])),
        price,
    )


def _stand_in(
    key: str,
    distance: float,
    shared: int,
    own: Mapping[str, Any],
    other: Mapping[str, Any],
    shop: Shop,
) -> StandIn:
    instead = {
        size: nearest_size(means, other["means"], shop) for size, means in own["means"].items()
    }
    return StandIn(
        key,
        other["name"],
        round(distance, 1),
        shared,
        {size: found for size, found in instead.items() if found},
        tuple(_differs(own, other)),
        other["decision"],
    )


def nearest_size(
    means: Mapping[str, float], others: Mapping[str, Mapping[str, float]], shop: Shop
) -> tuple[str, float] | None:
    """Return the size of another blank that is nearest to one of this, and how far, in tolerances.

    None where no point of measure is shared at the deciding points, or all are too far off.
    """
    found = []
    for size, theirs in others.items():
        points = [p for p in shop.deciding_points if p in means and p in theirs]
        if len(points) == len([p for p in shop.deciding_points if p in means]) and points:
            offs = [(means[point] - theirs[point]) / shop.tolerance[point] for point in points]
            found.append(((sum(off * off for off in offs) / len(offs)) ** 0.5, size))
    distance, size = min(found, default=(MOST_OFF + 1, ""))
    return (size, round(distance, 1)) if distance <= MOST_OFF else None


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
