"""The tables of the folders here, as rows; their `how_obtained.md` says where they come from."""

import csv
from pathlib import Path

HERE = Path(__file__).parent


def rows(name: str) -> list[dict[str, str]]:
    """Return the rows of one table, such as ``limits/tolerance_factors.csv``, by column heading."""
    with (HERE / name).open(encoding="utf-8", newline="") as text:
        return list(csv.DictReader(text))


def half_last_digit(printed: str) -> float:
    """Return half of the last digit of a number as it is printed, such as 5e-5 for 0.1234."""
    digits, _, power = printed.upper().partition("E")
    decimals = len(digits.partition(".")[2])
    return 0.5 * 10.0 ** (int(power or 0) - decimals)
