"""README.md and the handbook as something that can be run: ledger, commands, what they print.

A fence says by its first line what its text is:

``sh machine``   one of the two opening commands; .ci/run runs them in a fresh clone
``sh run``       run in a scratch folder that holds ``ledger/``, the demo shop's
``yaml PATH``    a file of that scratch folder
``text``         what the command above printed, whole
``text head=N``  its first N lines

Each document has a scratch folder of its own. ``python tests/readme.py`` writes what the commands
print today into all of them, and the pages of the commands from the program's own help;
``python tests/readme.py README.md table.md`` writes those only.
"""

import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from command_pages import PAGES, command_page
from support import ROOT

README = ROOT / "README.md"
HANDBOOK = ROOT / "site" / "handbook"
DOCUMENTS = (README, *sorted(HANDBOOK.glob("*.md")))
_FENCE = re.compile(
    r"^```(?P<kind>\w+)(?P<rest>[^\n]*)\n(?P<text>.*?)^```$", re.MULTILINE | re.DOTALL
)
ELLIPSIS_LINE = "…\n"
PICTURE = ROOT / ".github" / "sizes.svg"
"""The README's picture, from the site of the demo shop."""
DRAWN = "ledger/catalogue/charts/copperbeck/c66.sizes.svg"
"""Where the README's own build draws it, in its scratch folder."""


@dataclass(frozen=True, slots=True)
class Block:
    """One fenced block of a document."""

    kind: str
    rest: str
    text: str
    start: int
    """Where its text begins in the document."""


def blocks(text: str) -> list[Block]:
    """Return the fenced blocks of a Markdown text, in order."""
    found = _FENCE.finditer(text)
    return [Block(m["kind"], m["rest"].strip(), m["text"], m.start("text")) for m in found]


def fill_scratch(scratch: Path, found: list[Block]) -> None:
    """Put the demo ledger and a document's own files into a scratch folder."""
    leave = shutil.ignore_patterns("catalogue", ".blankbook")
    shutil.copytree(ROOT / "ledger", scratch / "ledger", ignore=leave)
    for block in found:
        if block.kind == "yaml" and block.rest:
            place = scratch / block.rest
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_text(block.text, encoding="utf-8")


def printed_by(command: str, scratch: Path) -> str:
    """Return what a command prints, on both streams, in the order in which it prints it."""
    program = str(Path(sys.executable).parent)
    done = subprocess.run(
        ["bash", "-c", command],
        cwd=scratch,
        env={"PATH": f"{program}:{os.environ['PATH']}", "HOME": str(scratch), "LC_ALL": "C.UTF-8"},
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        check=False,
        timeout=300,
    )
    return done.stdout


def shortened(printed: str, how: str) -> str:
    """Return what a block shows of what was printed: all of it, or its first lines."""
    if not how:
        return printed
    lines = printed.splitlines(keepends=True)
    wanted = int(how.removeprefix("head="))
    return printed if len(lines) <= wanted else "".join(lines[:wanted]) + ELLIPSIS_LINE


def shown_and_printed(text: str, scratch: Path) -> Iterator[tuple[Block, str, str]]:
    """Run every runnable command in order; yield each block of output, command and output."""
    found = blocks(text)
    fill_scratch(scratch, found)
    for command, output in zip(found, [*found[1:], None], strict=False):
        if (command.kind, command.rest) == ("sh", "run"):
            printed = printed_by(command.text, scratch)
            if output is not None and output.kind == "text":
                yield output, command.text, shortened(printed, output.rest)


def rewrite(document: Path) -> None:
    """Write what its commands print today into a document."""
    text = document.read_text(encoding="utf-8")
    with tempfile.TemporaryDirectory() as scratch:
        pairs = list(shown_and_printed(text, Path(scratch)))
        if document == README:
            shutil.copyfile(Path(scratch) / DRAWN, PICTURE)
    for block, _, printed in reversed(pairs):
        text = text[: block.start] + printed + text[block.start + len(block.text) :]
    document.write_text(text, encoding="utf-8", newline="\n")


def rewrite_all(names: list[str]) -> None:
    """Write every document anew, or those of *names*."""
    for key in PAGES:
        place = HANDBOOK / f"{key}.md"
        if not names or place.name in names:
            place.write_text(command_page(key), encoding="utf-8", newline="\n")
    for document in DOCUMENTS:
        if not names or document.name in names:
            rewrite(document)


if __name__ == "__main__":
    rewrite_all(sys.argv[1:])
