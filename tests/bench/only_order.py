"""Work out every order of a ledger that is loaded already, and say how long one takes, as JSON.

    python tests/bench/only_order.py LEDGER

The value of samples is in it; judging the blank is not.
"""

import json
import statistics
import sys
import time
from pathlib import Path

from blankbook.commands.ordering.find_order import order_basis, plan_of


def main() -> None:
    """Load, work out, and say the longest median of an order."""
    root = Path(sys.argv[1])
    worst = (0.0, 0.0)
    for blank in sorted({"/".join(path.parts[-3:-1]) for path in root.rglob("*-order.yaml")}):
        basis = order_basis(root, blank)
        for order in basis.judged.blank.orders:
            runs = []
            for _ in range(6):
                start = time.perf_counter(), time.process_time()
                plan_of(basis, order, order.date.isoformat())
                runs.append((time.perf_counter() - start[0], time.process_time() - start[1]))
            own = (
                statistics.median(r[0] for r in runs[1:]),
                statistics.median(r[1] for r in runs[1:]),
            )
            worst = max(worst, own)
    sys.stdout.write(json.dumps({"wall": worst[0], "cpu": worst[1]}) + "\n")


if __name__ == "__main__":
    main()
