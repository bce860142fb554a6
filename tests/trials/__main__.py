"""Run the simulation: ``PYTHONPATH=tests python -m trials --write``; ``--help`` tells the rest.

With ``--write`` the table goes into the package, and the method page prints it.
"""

import argparse
import datetime
import json
import sys
from collections import Counter
from importlib.resources import files
from pathlib import Path

from blankbook.records.processes import map_in_processes
from trials.report import DRAWN, operating, rows
from trials.scoring import Tally, run
from trials.worlds import OFF_BY, ORDER, Plan, World

TABLE = "trials.json"
OUTSIDE = {
    "spread twice the assumed": World(spread=2.0),
    "spread of 0.1 to 0.4 in": World(spread=(0.1, 0.4)),
    "heavy tails (t on 3)": World(spread=1.0, heavy=True),
    "half of all readings to the half inch": World(spread=1.0, halves=0.5),
    "a hand of 0.15 in": World(spread=1.0, hand=0.15),
    "5 % wrong tags": World(spread=1.0, wrong=0.05),
    "colours that differ by 0.2 in": World(spread=1.0, colours=0.2),
    "two lots that differ by 0.3 in": World(spread=1.0, lots=0.3),
}
"""Worlds that differ from what the core believes."""
PLANS = {plan.says: plan for plan in (
    Plan(colours=1), Plan(), Plan(each=2), Plan(sizes=ORDER),
)}  # fmt: skip


def tallied(seed: int, rounds: int, plan: Plan | None, world: World | None, cause: str) -> Tally:
    """Return the counts, worked out on every core."""
    size = 50
    starts = list(range(0, rounds, size))
    parts = map_in_processes(
        starts,
        lambda first: run(seed, min(size, rounds - first), plan, world, cause, first),
        None,
        worth=True,
    )
    total: Counter[str] = Counter()
    for part in parts:
        total += part.counts
    return Tally(total)


def table(seed: int, rounds: int, few: int, day: datetime.date) -> dict[str, object]:
    """Return the whole table as data."""
    usual, two_lots = Plan(), Plan(each=2, lots=("A", "B"))
    outside = {
        name: tallied(seed + 1, few, two_lots if "lots" in name else usual, world, "as_charted")
        for name, world in OUTSIDE.items()
    }
    sound = World(spread=1.0)
    approvals = {
        f"{name}{how}": tallied(seed + 2, few, plan, world, "as_charted")
        for name, plan in PLANS.items()
        for how, world in ((", spread as assumed", sound), (DRAWN, World()))
    }
    bad = {
        f"{what}: {name}": tallied(seed + 3, few, plan, World(), what)
        for what in BAD
        for name, plan in PLANS.items()
    }
    between = {
        (tolerances, name): tallied(seed + 4, few, plan, World(), f"off by {tolerances:g}")
        for tolerances in OFF_BY
        for name, plan in PLANS.items()
    }
    believed = tallied(seed, rounds, None, None, "")
    return {
        "seed": seed,
        "rounds": rounds,
        "each": few,
        "date": day.isoformat(),
        "rows": rows(believed, outside, approvals, bad),
        "operating": operating(approvals, bad, between),
    }


BAD = ("size on the border", "size off by 1.5 tolerances", "missing step")


def main(arguments: list[str]) -> int:
    """Run, print, and write where asked."""
    parser = argparse.ArgumentParser(prog="python -m trials", description=__doc__)
    parser.add_argument("--rounds", type=int, default=8_000)
    parser.add_argument("--each", type=int, default=400, help="rounds of each other kind")
    parser.add_argument("--seed", type=int, default=20261125)
    parser.add_argument("--write", action="store_true")
    given = parser.parse_args(arguments)
    found = table(given.seed, given.rounds, given.each, datetime.datetime.now().astimezone().date())
    text = json.dumps(found, indent=1, sort_keys=True) + "\n"
    if given.write:
        place = Path(str(files("blankbook.pages.shop"))) / TABLE
        place.write_text(text, encoding="utf-8")
    sys.stdout.write(text)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
