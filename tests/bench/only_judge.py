"""Judge a ledger that is loaded already, and say how long that alone took, as JSON.

    python tests/bench/only_judge.py LEDGER (each | all)

``each`` is the median over its blanks, one after the other; ``all`` is all of them on every core.
"""

import json
import os
import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

from blankbook.commands.shared.judge_ledger import judge_loaded
from blankbook.commands.vet_report import line_of
from blankbook.records.load_ledger import LoadedLedger, load_ledger
from blankbook.results.judge_blank import judge
from blankbook.results.learning.ledger_learning import blank_contribution, learn, learned_from_data


def used() -> float:
    """Return the processor seconds of this process and of the children it waited for."""
    took = os.times()
    return took.user + took.system + took.children_user + took.children_system


def taken(work: Callable[[], object]) -> tuple[float, float]:
    """Return the seconds that *work* took, by the clock and on the processors."""
    wall, cpu = time.perf_counter(), used()
    work()
    return time.perf_counter() - wall, used() - cpu


def each(loaded: LoadedLedger) -> tuple[float, float]:
    """Return the medians over all blanks but the first, which loads what judging needs."""
    assert loaded.ledger
    shop = loaded.ledger.shop
    taught = learn(loaded.gathered, shop, loaded.ledger.studies)
    runs = []
    for key, blank in sorted(loaded.ledger.blanks.items()):
        start = time.perf_counter(), time.process_time()
        judge(blank, shop, learned_from_data(taught[key]))
        runs.append((time.perf_counter() - start[0], time.process_time() - start[1]))
    return statistics.median(r[0] for r in runs[1:]), statistics.median(r[1] for r in runs[1:])


def main() -> None:
    """Load, judge, and say how long it took."""
    root, how = sys.argv[1:]
    loaded = load_ledger(Path(root), gather=blank_contribution)
    wall, cpu = each(loaded) if how == "each" else taken(lambda: judge_loaded(loaded, line_of))
    sys.stdout.write(json.dumps({"wall": wall, "cpu": cpu}) + "\n")


if __name__ == "__main__":
    main()
