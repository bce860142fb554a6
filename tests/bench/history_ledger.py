"""A made-up ledger with a long history, written in one go: a reading changes with each commit.

It changes by a quarter of an inch at most, as where a piece is measured again. A reading inches off
would be what a slip is, and weighing what slipped takes longer than all else that is judged.
"""

import random
import re
import subprocess
from pathlib import Path

from ledgers import SEED, in_inches, latest_rounds, write_ledger

_READING = re.compile(r"(half_chest: )(\d+)(?: (\d)/(\d))?")
_WHO = "rv <rv@example.org>"
_BEGIN = 1_750_000_000


def write_history(root: Path, blanks: int, commits: int, last: int) -> int:
    """Write a ledger and its commits to *root*; return how many files it has.

    The tags ``old`` and ``new`` stand at the last commit and *last* commits before it.
    """
    write_ledger(root, blanks)
    _git(root, "init", "--quiet", "--initial-branch=main")
    files = sorted(path for path in root.rglob("*.yaml"))
    rounds = latest_rounds(root)
    dice = random.Random(SEED)
    first = {place: place.read_text(encoding="utf-8") for place in rounds}
    parts = [_commit(1, files, root)]
    for number in range(2, commits + 1):
        place = dice.choice(rounds)
        place.write_text(_measured_again(first[place], dice.randint(-2, 2)), encoding="utf-8")
        parts.append(_commit(number, [place], root))
        if number == commits - last:
            parts.append(b"reset refs/tags/old\nfrom :%d\n\n" % number)
    parts.append(b"reset refs/tags/new\nfrom :%d\n\n" % commits)
    _git(root, "fast-import", "--quiet", given=b"".join(parts))
    _git(root, "reset", "--quiet", "--hard", "main")
    return len(files)


def _measured_again(text: str, eighths: int) -> str:
    """Return a round with its first half chest so many eighths of an inch larger."""

    def again(found: re.Match[str]) -> str:
        value = int(found[2]) + (int(found[3]) / int(found[4]) if found[3] else 0.0)
        return found[1] + in_inches(value + eighths / 8)

    return _READING.sub(again, text, count=1)


def _commit(number: int, changed: list[Path], root: Path) -> bytes:
    message = b"as entered"
    head = f"commit refs/heads/main\nmark :{number}\n"
    head += f"committer {_WHO} {_BEGIN + number * 3600} +0000\ndata {len(message)}\n"
    lines = [head.encode(), message, b"\n"]
    for place in changed:
        body = place.read_bytes()
        path = place.relative_to(root).as_posix().encode()
        lines.append(b"M 100644 inline %s\ndata %d\n%s\n" % (path, len(body), body))
    return b"".join([*lines, b"\n"])


def _git(root: Path, *arguments: str, given: bytes = b"") -> None:
    subprocess.run(["git", "-C", str(root), *arguments], input=given, check=True)
