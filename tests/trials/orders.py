"""Orders of simulated shops: is there enough as often as is said, and does the advice lose less?

``PYTHONPATH=tests python -m trials.orders [--orders N] [--seed N] [--write]`` prints the table;
with ``--write`` it goes into the package, and the method page prints it.

A style is drawn as the core believes styles to be (`trials.worlds`), some of its pieces are
measured and judged, and a lot of it is bought, five orders of other sizes and margins each time.
Each rule of looking further sees pieces of the lot that comes, and then orders a size or serves it
in another way, whichever is less to lose.
"""

import argparse
import datetime
import json
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files
from pathlib import Path

import numpy as np

from blankbook.records.model import shop_defaults
from blankbook.records.processes import map_in_processes
from blankbook.results.causes.point_likelihood import COLOUR_SHARE, CUT_SHARE
from blankbook.results.make_case import make_case
from blankbook.results.ordering.coming_lot import ComingLot
from blankbook.results.ordering.further_look import Look, Stake, Teaching, saving
from blankbook.results.ordering.lot_outcomes import Floats, wrong_sizes
from blankbook.results.ordering.spoilage import WORTHS, SpoiledCount, spoiled_share, with_allowance
from blankbook.results.over_lots.next_lot_sizes import next_lot_sizes
from trials.shops import blank, measured, shop
from trials.worlds import EIGHTH, IN, ORDER, STEP, Plan, Style, World, charted

TABLE = "order_trials.json"
SIZES = ORDER[:4]
SHARES = (0.15, 0.35, 0.32, 0.18)
EACH, PART = 5, 50
"""Orders of each style, and styles that are worked out together."""
SAMPLE = 5.85
"""What a sampled piece costs: the blank and the measuring; a parcel costs more."""
PARCEL = 12.0
RULES: dict[str, int] = {"no samples": 0, "always two a size": 2, "always four a size": 4}
ADVISED = "as advised"
WANTED = 0.95


class Known:
    """What the shop knows of the next lot of a style, worked out once for all of its orders."""

    def __init__(self, lot: ComingLot) -> None:
        """Work out what is expected without a look."""
        self.lot, self.measures = lot, lot.measures
        self.chances = wrong_sizes(lot).any
        self.far = np.abs(np.tensordot(self.measures.chance, self.measures.mean, 1))
        self.taught = cache(lambda look: Teaching(self.measures, look))
        self.after = cache(lambda look: self.taught(look).chances_after(32))


@dataclass(frozen=True, slots=True)
class SimulatedOrder:
    """What the shop knows of one order, and what is true."""

    known: Known
    stakes: tuple[Stake, ...]
    style: Style
    name: str
    """Of the lot that comes."""
    off: Floats
    """The distances of the lot that comes from the chart. Shape: points, sizes."""


def simulated_orders(chance: np.random.Generator) -> list[SimulatedOrder]:
    """Return the orders of one style, drawn as the core believes it."""
    plan = Plan(SIZES, int(chance.integers(1, 3)), int(chance.integers(1, 3)), washed=0)
    style = Style(chance, World(cut=CUT_SHARE, lots=0.0), plan)
    lasting = dict(style.of_colour)
    _colours_of_a_lot(style)
    records = blank(measured(style))
    records = replace(records, style=replace(records.style, sizes=SIZES))
    measures = next_lot_sizes(make_case(records, shop()))
    known = Known(ComingLot(measures, ()))
    found = []
    for number in range(EACH):
        style.of_colour = dict(lasting)
        _colours_of_a_lot(style)
        own = f"next {number}"
        style.make(own)
        off = np.array(
            [
                [style.truth.means[own, size, point.point] - charted(size, point.point)
                 for size in measures.sizes]
                for point in measures.points
            ]
        )  # fmt: skip
        whole = int(chance.choice((24, 48, 96, 192, 384)))
        margin = float(chance.uniform(0.5, 8.0))
        stakes = tuple(
            Stake(size, whole * share * 9.0, whole * share * margin)
            for size, share in zip(SIZES, SHARES, strict=True)
        )
        found.append(SimulatedOrder(known, stakes, style, own, off))
    return found


def _colours_of_a_lot(style: Style) -> None:
    """Add what the colours of one lot differ by, as it is believed."""
    for colour, point in style.of_colour:
        usual = shop_defaults.LOT_SPREAD * shop_defaults.SPREAD[point].deviation
        style.of_colour[colour, point] += COLOUR_SHARE * usual * float(style.rng.normal())


def wrong(order: SimulatedOrder) -> Floats:
    """Return 1 for each size that is off its chart, or alike with its neighbour and left for it.

    Of two that are alike the one is left that was expected to lie farther from its chart.
    """
    points = order.known.measures.points
    found = np.zeros(len(SIZES))
    for point, off, far in zip(points, order.off, order.known.far, strict=True):
        found[np.abs(off) > shop_defaults.TOLERANCE[point.point]] = 1.0
        for small in range(len(off) - 1):
            if off[small + 1] - off[small] < -STEP[point.point] * IN / 2:
                found[small + (far[small] <= far[small + 1])] = 1.0
    return found


def seen(order: SimulatedOrder, look: Look) -> Floats:
    """Return what a look shows: means of readings of pieces of the lot that comes."""
    style, found = order.style, []
    for size in look.sizes:
        pieces = [
            style.lengths("", size, order.name, number % style.plan.colours)
            for number in range(look.each)
        ]
        found.append([
            sum(style.read(mm[point.point]) * EIGHTH for mm in pieces) / look.each
            - charted(size, point.point)
            for point in order.known.measures.points
        ])  # fmt: skip
    return np.array(found).T[None]


def loss(order: SimulatedOrder, look: Look | None) -> float:
    """Return what is lost with a look: its cost, what goes wrong, and what is served otherwise."""
    known, was = order.known, wrong(order)
    total = 0.0 if look is None else cost_of(look)
    chances = known.chances
    if look is not None:
        chances = known.taught(look).chances_given(seen(order, look))[0]
    for stake in order.stakes:
        at = known.measures.sizes.index(stake.size)
        ordered = chances[at] * stake.wrong <= stake.instead
        total += (stake.wrong * float(was[at])) if ordered else stake.instead
    return total


def cost_of(look: Look) -> float:
    """Return what a look costs."""
    return PARCEL + SAMPLE * look.each * len(look.sizes)


def advised(order: SimulatedOrder) -> Look | None:
    """Return the look that saves most beyond its cost, or None."""
    known, chances = order.known, order.known.chances
    ranked = sorted(
        range(len(SIZES)),
        key=lambda at: -min(order.stakes[at].wrong * float(chances[at]), order.stakes[at].instead),
    )
    best: tuple[float, Look | None] = (0.0, None)
    for count in (2, len(SIZES)):
        sizes = tuple(SIZES[at] for at in sorted(ranked[:count]))
        for each in (1, 2, 4):
            look = Look("coming lot", sizes, each)
            net = saving(known.lot, order.stakes, *known.after(look)) - cost_of(look)
            best = max(best, (net, look), key=lambda pair: pair[0])
    return best[1]


def enough(chance: np.random.Generator) -> tuple[float, bool]:
    """Return the stated chance of enough, and whether there was enough."""
    mean = float(chance.beta(1.0, 49.0))
    worth = float(chance.choice(WORTHS))

    def spoiled(printed: int) -> float:
        return float(chance.beta(max(mean * worth, 1e-9), (1 - mean) * worth))

    earlier = []
    for _ in range(int(chance.integers(0, 9))):
        printed = int(chance.integers(40, 200))
        earlier.append(SpoiledCount(printed, int(chance.binomial(printed, spoiled(printed)))))
    share = spoiled_share(earlier, 0.02, 50)
    whole = int(chance.integers(24, 200))
    needed = {
        ("black", size): max(round(whole * s), 1) for size, s in zip(SIZES, SHARES, strict=True)
    }
    bought = with_allowance(needed, share, WANTED)
    rate = spoiled(whole)
    good = {line: count - chance.binomial(count, rate) for line, count in bought.pieces.items()}
    return bought.chance, all(good[line] >= count for line, count in needed.items())


def tallied(seed: int, first: int, styles: int) -> Counter[str]:
    """Return the sums over the orders of some styles; each style has a seed of its own."""
    found: Counter[str] = Counter()
    for number in range(first, first + styles):
        chance = np.random.default_rng((seed, number))
        for order in simulated_orders(chance):
            stated, came = enough(chance)
            found["stated enough"] += stated  # type: ignore[assignment]
            found["was enough"] += int(came)
            chances, was = order.known.chances, wrong(order)
            for at, stake in enumerate(order.stakes):
                found["stated loss"] += stake.wrong * float(chances[at])  # type: ignore[assignment]
                found["was lost"] += stake.wrong * float(was[at])  # type: ignore[assignment]
            for rule, each in RULES.items():
                look = Look("coming lot", SIZES, each) if each else None
                found[rule] += loss(order, look)  # type: ignore[assignment]
            look = advised(order)
            found[ADVISED] += loss(order, look)  # type: ignore[assignment]
            found["looked"] += look is not None
    return found


def rows(total: Counter[str], orders: int) -> Iterator[dict[str, object]]:
    """Yield the rows of the table: means over the orders."""

    def mean(key: str) -> float:
        return round(total[key] / orders, 4)

    yield {"what": "enough", "said": mean("stated enough"), "was": mean("was enough")}
    yield {
        "what": "loss, whatever is wrong",
        "said": mean("stated loss"),
        "was": mean("was lost"),
    }
    for rule in (ADVISED, *RULES):
        yield {"what": f"loss, {rule}", "said": None, "was": mean(rule)}


def table(seed: int, orders: int, day: datetime.date) -> dict[str, object]:
    """Return the whole table as data, worked out on every core."""
    styles = orders // EACH
    parts = map_in_processes(
        list(range(0, styles, PART)),
        lambda first: tallied(seed, first, min(PART, styles - first)),
        None,
        worth=True,
    )
    total: Counter[str] = Counter()
    for part in parts:
        total.update(part)
    return {
        "seed": seed,
        "orders": styles * EACH,
        "date": day.isoformat(),
        "rows": list(rows(total, styles * EACH)),
    }


def main(arguments: list[str]) -> int:
    """Run, print, and write where asked."""
    parser = argparse.ArgumentParser(prog="python -m trials.orders", description=__doc__)
    parser.add_argument("--orders", type=int, default=10000)
    parser.add_argument("--seed", type=int, default=18)
    parser.add_argument("--write", action="store_true")
    asked = parser.parse_args(arguments)
    made = table(asked.seed, asked.orders, datetime.datetime.now().astimezone().date())
    text = json.dumps(made, indent=2) + "\n"
    sys.stdout.write(text)
    if asked.write:
        place = Path(str(files("blankbook.pages.shop"))) / TABLE
        place.write_text(text, encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
