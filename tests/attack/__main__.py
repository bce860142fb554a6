"""The attack: ``PYTHONPATH=tests python -m attack [--mutants N] [--kills N] [--seed N] [--write]``.

It ends with 1 where anything got through. With ``--write`` its table goes into `last.md`.
"""

import argparse
import datetime
import os
import platform
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

from attack.kills import run_kills
from attack.marks import run_marks_behind_options, run_private_marks
from attack.markup import run_markup
from attack.mutants import run_mutants
from attack.repositories import run_repositories
from attack.tally import Tally
from blankbook import __version__

LAST = Path(__file__).with_name("last.md")


def main(arguments: list[str]) -> int:
    """Run every part, print the table, and write it where asked."""
    parser = argparse.ArgumentParser(prog="python -m attack", description=__doc__)
    parser.add_argument("--mutants", type=int, default=20_000)
    parser.add_argument("--kills", type=int, default=20, help="of each command")
    parser.add_argument("--seed", type=int, default=int(f"{datetime.date.today():%Y%m%d}"))
    parser.add_argument("--write", action="store_true", help=f"write {LAST.name}")
    asked = parser.parse_args(arguments)
    parts: list[Callable[[Path], Tally]] = [
        run_repositories,
        run_private_marks,
        run_marks_behind_options,
        run_markup,
        lambda folder: run_kills(asked.kills, asked.seed, folder),
        lambda folder: run_mutants(asked.mutants, asked.seed, folder),
    ]
    print("seed", asked.seed, flush=True)  # noqa: T201 - a script
    done = []
    for part in parts:
        with tempfile.TemporaryDirectory(prefix="attack-") as folder:
            os.environ["XDG_STATE_HOME"] = f"{folder}/state"
            (Path(folder) / "here").mkdir()
            done.append(part(Path(folder) / "here"))
        print("\n".join(done[-1].lines()), flush=True)  # noqa: T201 - a script
    if asked.write:
        LAST.write_text(table(done, asked.seed), encoding="utf-8")
    return int(any(tally.through for tally in done))


def table(done: list[Tally], seed: int) -> str:
    """Return the table as it stands in the project."""
    day = datetime.date.today().isoformat()
    head = [
        "# The last attack",
        "",
        f"Run on {day} with seed {seed} on blankbook {__version__} and Python "
        f"{platform.python_version()}: `PYTHONPATH=tests python -m attack --seed {seed}`.",
        "",
        "| what | tried | got through | processor s |",
        "|---|---|---:|---:|",
    ]
    return "\n".join([*head, *(line for tally in done for line in tally.lines())]) + "\n"


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
