"""Run the simulation: ``PYTHONPATH=tests python -m trials [--rounds N] [--seed N] [--write]``.

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
from trials.missing import Bought
from trials.plans import Plan
from trials.report import rows
from trials.scoring import Tally, run

TABLE = "trials.json"
PURCHASES = {
    "1 piece of each size": (1, 1, 0.90),
    "2 pieces of each size, 1 in each of 2 colours": (1, 2, 0.97),
    "4 pieces of each size, 2 in each of 2 colours": (2, 2, 0.97),
}
"""Pieces of a size and colour, colours, and how often a missing step must be found with them."""


def tallied(seed: int, rounds: int, plan: Plan) -> Tally:
    """Return the counts, worked out on every core."""
    size = 100
    starts = list(range(0, rounds, size))
    parts = map_in_processes(
        starts, lambda first: run(seed, min(size, rounds - first), plan, first), None, worth=True
    )
    total: Counter[str] = Counter()
    for part in parts:
        total += part.counts
    return Tally(total)


def table(seed: int, rounds: int, day: datetime.date) -> dict[str, object]:
    """Return the whole table as data."""
    missing = []
    for number, (name, (each, colours, target)) in enumerate(PURCHASES.items()):
        plan = Plan(each=each, colours=colours, cause="not_graded", whole_step=True)
        tally = tallied(seed + 1 + number, rounds // 4, plan)
        missing.append(Bought(name, plan, target, tally))
    everything = tallied(seed, rounds, Plan())
    return {
        "seed": seed,
        "rounds": rounds,
        "date": day.isoformat(),
        "rows": rows(everything, missing),
    }


def main(arguments: list[str]) -> int:
    """Run, print, and write where asked."""
    parser = argparse.ArgumentParser(prog="python -m trials", description=__doc__)
    parser.add_argument("--rounds", type=int, default=10_000)
    parser.add_argument("--seed", type=int, default=20261125)
    parser.add_argument("--write", action="store_true")
    given = parser.parse_args(arguments)
    found = table(given.seed, given.rounds, datetime.datetime.now().astimezone().date())
    text = json.dumps(found, indent=1, sort_keys=True) + "\n"
    if given.write:
        place = Path(str(files("blankbook.pages.shop"))) / TABLE
        place.write_text(text, encoding="utf-8")
    sys.stdout.write(text)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
