"""The tables beside this file, as rows; `how_obtained.md` says where they come from."""

import csv
from pathlib import Path

HERE = Path(__file__).parent


def rows(name: str) -> list[dict[str, str]]:
    """Return the rows of one table, by column heading."""
    with (HERE / name).open(encoding="utf-8", newline="") as text:
        return list(csv.DictReader(text))
