"""Damaged files of every kind through check, judging, build and public build."""

import json
import random
import time
from pathlib import Path

from attack.ledgers import command, whole_data, write_demo, write_whole
from attack.tally import Tally
from blankbook.text.ledger_files import list_files
from support import Ended
from text.mutations import mutate, mutate_bytes

ONE_BUILT = 50
"""Of so many mutants that check lets pass, one is built, both ways."""
ONE_JUDGED = 8
"""Of so many mutants with a finding, one is judged besides."""
ONE_OF_DEMO = 10
"""Of so many mutants, one is a file of the demo's, which takes longer."""
MOST_SECONDS = 5.0
"""Processor seconds that one command may take."""
VALUES = (
    "", "-", "0", "-1", "1e9", "9" * 5000, "NaN", "22 1/2", "22½", "2026-02-30", "9999-12-31",
    "0001-01-01", "[]", "{}", "[[[[]]]]", "null", "true", "~", "'", '"x', "&a *a", "!!int 3", "XL",
    "x" * 3000, "=1+1", "../../x", "https://[", "👕", "a/b", "1/0", "0.0000001", "[1, 1, 1]",
)  # fmt: skip
"""What is put in the place of a value."""


def mutant(body: bytes, dice: random.Random) -> bytes:
    """Return a damaged record: by bytes, by characters, by a line, or by a value."""
    kind = dice.randrange(6)
    if kind == 0:
        return mutate_bytes(body, dice)
    text = body.decode()
    if kind <= 2:
        return mutate(text, dice).encode()
    lines = text.split("\n")
    at = dice.randrange(len(lines))
    if kind == 3:
        other = lines.pop(at)
        lines[dice.randrange(len(lines) + 1) : 0] = [other] * dice.randrange(3)
    elif kind == 4:
        key, colon, _ = lines[at].partition(":")
        lines[at] = f"{key}{colon} {dice.choice(VALUES)}"
    else:
        words = lines[at].split(" ")
        words[dice.randrange(len(words))] = dice.choice((*VALUES, *dice.choice(lines).split(" ")))
        lines[at] = " ".join(words)
    return "\n".join(lines).encode()


def run_mutants(number: int, seed: int, folder: Path) -> Tally:
    """Return what became of so many mutants."""
    tally = Tally(f"mutants, seed {seed}")
    roots = [write_whole(folder / "whole", whole_data({})), write_demo(folder / "demo")]
    files = [(root, file) for root in roots for file in list_files(root)]
    bodies = {(root, file.path): (root / file.path).read_bytes() for root, file in files}
    for count in range(number):
        dice = random.Random(f"{seed} {count}")
        part = roots[dice.randrange(ONE_OF_DEMO) == 0]
        root, file = dice.choice([one for one in files if one[0] == part])
        body = bodies[root, file.path]
        (root / file.path).write_bytes(mutant(body, dice))
        _put_through(tally, root, f"mutant {count} of seed {seed}, {file.path}", dice)
        tally.counts[f"{file.kind} files"] += 1
        (root / file.path).write_bytes(body)
    return tally.end()


def _put_through(tally: Tally, root: Path, name: str, dice: random.Random) -> None:
    checked = _ended(tally, name, "check", "--json", "--ledger", root)
    if checked is None:
        return
    found = json.loads(checked.out)["counts"]["error"]
    tally.counts["with a finding" if found else "that still check"] += 1
    if not found or dice.randrange(ONE_JUDGED) == 0:
        _ended(tally, name, "vet", "--json", "--ledger", root)
    if not found and dice.randrange(ONE_BUILT) == 0:
        tally.counts["built, both ways"] += 1
        own, public = root.parent / f"{root.name}-own", root.parent / f"{root.name}-public"
        _ended(tally, name, "build", "--jobs", "1", "--ledger", root, "--out", own)
        _ended(tally, name, "build", "--public", "--jobs", "1", "--ledger", root, "--out", public)


def _ended(tally: Tally, name: str, *line: str | Path) -> Ended | None:
    """Run one command; return how it ended, or None where that was no plain end."""
    start = time.process_time()
    ended = command(*line)
    spent = time.process_time() - start
    if ended.code not in {0, 1}:
        tally.through.append(f"{name}: {line[0]} ended with {ended.code}: {ended.err[:120]!r}")
        return None
    if spent > MOST_SECONDS:
        tally.through.append(f"{name}: {line[0]} took {spent:.1f} s")
    return ended
