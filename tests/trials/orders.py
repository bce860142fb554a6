"""Orders of simulated shops: is there enough as often as is said, and does the advice lose less?

``PYTHONPATH=tests python -m trials.orders [--orders N] [--seed N] [--write]`` prints the table;
with ``--write`` it goes into the package, and the method page prints it.

Each order has a blank of its own: lasting distances from the chart, an earlier lot of which one or
two pieces a size were measured, and a lot that will come, which may be an odd one. The shop knows
the spreads, as the judging core does, and nothing else. Each rule of looking further sees pieces of
the lot that comes, and then orders a size or serves it in another way, whichever is less to lose.
"""

import argparse
import datetime
import json
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path

import numpy as np

from blankbook.records.processes import map_in_processes
from blankbook.results.ordering.coming_lot import ComingLot, ComingPoint
from blankbook.results.ordering.further_look import Look, Stake, chances_given, value_of_look
from blankbook.results.ordering.lot_outcomes import Floats, off_and_alike, wrong_sizes
from blankbook.results.ordering.spoilage import WORTHS, SpoiledCount, spoiled_share, with_allowance

TABLE = "order_trials.json"
SIZES = ("S", "M", "L", "XL")
SHARES = (0.15, 0.35, 0.32, 0.18)
TOLERANCE, STEP = 12.7, 50.8
LASTING, BETWEEN, PIECE, ODD = (0.5 * TOLERANCE) ** 2, 2.0**2, 4.0**2, (2 * TOLERANCE) ** 2
ODD_CHANCE = 1 / 30
SAMPLE = 5.85
"""What a sampled piece costs: the blank and the measuring; a parcel costs more."""
PARCEL = 12.0
RULES: dict[str, int] = {"no samples": 0, "always two a size": 2, "always four a size": 4}
ADVISED = "as advised"
WANTED = 0.95


@dataclass(frozen=True, slots=True)
class SimulatedOrder:
    """What the shop knows of one order, and what is true."""

    lot: ComingLot
    stakes: tuple[Stake, ...]
    true: list[Floats]
    """By point: the distances of the lot that comes."""


def simulated_order(chance: np.random.Generator) -> SimulatedOrder:
    """Return one order, drawn as the shop assumes it."""
    count, pieces = len(SIZES), int(chance.integers(1, 3))
    odd = chance.random() < ODD_CHANCE
    points, true = [], []
    for name in ("half_chest", "body_length"):
        lasting = chance.normal(0, LASTING**0.5, count)
        seen = (
            lasting
            + chance.normal(0, BETWEEN**0.5)
            + chance.normal(0, (PIECE / pieces) ** 0.5, count)
        )
        prior = LASTING * np.eye(count)
        shown = prior + BETWEEN + PIECE / pieces * np.eye(count)
        gain = np.linalg.solve(shown, prior).T
        covariance = prior - gain @ prior + BETWEEN
        rows = tuple(tuple(map(float, row)) for row in covariance)
        points.append(
            ComingPoint(
                name, tuple(map(float, gain @ seen)), rows, BETWEEN, ODD, PIECE, TOLERANCE,
                (STEP if name == "half_chest" else STEP / 2,) * (count - 1),
            )
        )  # fmt: skip
        shift = chance.normal(0, (BETWEEN + odd * ODD) ** 0.5)
        true.append(lasting + shift)
    whole = int(chance.choice((24, 48, 96, 192, 384)))
    margin = float(chance.uniform(0.5, 8.0))
    stakes = tuple(
        Stake(size, whole * share * 9.0, whole * share * margin)
        for size, share in zip(SIZES, SHARES, strict=True)
    )
    lot = ComingLot(SIZES, tuple(points), (), 0.0, 0, 1, ODD_CHANCE)
    return SimulatedOrder(lot, stakes, true)


def loss(order: SimulatedOrder, look: Look | None, chance: np.random.Generator) -> float:
    """Return what is lost with a look: its cost, what goes wrong, and what is served otherwise."""
    lot, stakes = order.lot, order.stakes
    off, alike = off_and_alike(list(lot.points), [true[None, :] for true in order.true])
    wrong = (off | alike)[0]
    if look is None:
        chances = wrong_sizes(lot, 400).any
    else:
        own = [lot.sizes.index(size) for size in look.sizes]
        seen = [
            (true[own] + chance.normal(0, (PIECE / look.each) ** 0.5, len(own)))
            - np.array(point.mean)[own]
            for true, point in zip(order.true, lot.points, strict=True)
        ]
        chances = chances_given(lot, look, [off[None, :] for off in seen])[0]
    total = 0.0 if look is None else cost_of(look)
    for at, stake in enumerate(stakes):
        ordered = chances[at] * stake.wrong <= stake.instead
        total += (stake.wrong * float(wrong[at])) if ordered else stake.instead
    return total


def cost_of(look: Look) -> float:
    """Return what a look costs."""
    return PARCEL + SAMPLE * look.each * len(look.sizes)


def advised(order: SimulatedOrder) -> Look | None:
    """Return the look that saves most beyond its cost, or None."""
    chances = wrong_sizes(order.lot, 400).any
    ranked = sorted(
        range(len(SIZES)),
        key=lambda at: -min(order.stakes[at].wrong * float(chances[at]), order.stakes[at].instead),
    )
    best: tuple[float, Look | None] = (0.0, None)
    for count in (2, len(SIZES)):
        sizes = tuple(SIZES[at] for at in sorted(ranked[:count]))
        for each in (1, 2, 4):
            look = Look("coming lot", sizes, each)
            net = value_of_look(order.lot, order.stakes, look, 32, 96) - cost_of(look)
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


def tallied(seed: int, first: int, orders: int) -> Counter[str]:
    """Return the sums over some orders; each has a seed of its own."""
    found: Counter[str] = Counter()
    for number in range(first, first + orders):
        chance = np.random.default_rng((seed, number))
        stated, was = enough(chance)
        found["stated enough"] += stated  # type: ignore[assignment]
        found["was enough"] += int(was)
        order = simulated_order(chance)
        off, alike = off_and_alike(list(order.lot.points), [t[None, :] for t in order.true])
        wrong = wrong_sizes(order.lot, 400).any
        for at, stake in enumerate(order.stakes):
            found["stated loss"] += stake.wrong * float(wrong[at])  # type: ignore[assignment]
            found["was lost"] += stake.wrong * float((off | alike)[0, at])  # type: ignore[assignment]
        for rule, each in RULES.items():
            look = Look("coming lot", SIZES, each) if each else None
            found[rule] += loss(order, look, chance)  # type: ignore[assignment]
        look = advised(order)
        found[ADVISED] += loss(order, look, chance)  # type: ignore[assignment]
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
    starts = list(range(0, orders, 250))
    parts = map_in_processes(
        starts, lambda first: tallied(seed, first, min(250, orders - first)), None, worth=True
    )
    total: Counter[str] = Counter()
    for part in parts:
        total.update(part)
    return {
        "seed": seed,
        "orders": orders,
        "date": day.isoformat(),
        "rows": list(rows(total, orders)),
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
