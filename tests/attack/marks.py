"""Marks: private ones in every field, and such that play tricks behind every option."""

import os
from pathlib import Path
from typing import Any

from attack.ledgers import command, whole_data, write_whole
from attack.tally import Tally
from blankbook.build.build_site import build_site
from building import site_files
from every_field import secrets_of
from house.test_hostile_arguments import TABLE, lines_with_marks, plain
from support import SMALL_LEDGER


def run_private_marks(folder: Path) -> Tally:
    """Return how many fields were marked, and which marks outsiders can read."""
    tally, said = Tally("private marks"), dict[str, Any]()
    root = write_whole(folder / "ledger", whole_data(said))
    build_site(root, folder / "public", jobs=1, public=True)
    everything = b"\n".join(
        [*(path.encode() for path in site_files(folder / "public")),
         *site_files(folder / "public").values()]
    )  # fmt: skip
    for path, text in secrets_of(said).items():
        tally.counts["fields"] += 1
        if text.encode() in everything:
            tally.through.append(f"{path} says {text}")
    return tally.end()


def run_marks_behind_options(folder: Path) -> Tally:
    """Return how many lines were tried, and which printed a mark or ended in a fault of ours."""
    tally = Tally("control characters behind every option")
    for path, text in {**SMALL_LEDGER, "table.csv": TABLE}.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_text(text)
    here = Path.cwd()
    os.chdir(folder)
    try:
        for line in lines_with_marks():
            ended = command(*(part.format(root=folder) for part in line))
            tally.counts["lines"] += 1
            if ended.code not in {0, 1, 2, 3} or not plain(ended):
                tally.through.append(f"{line!r} ended with {ended.code}")
    finally:
        os.chdir(here)
    return tally.end()
