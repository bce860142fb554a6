"""Rows of choices in which every two choices of two factors meet at least once."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations

Row = dict[str, str]
Pair = tuple[tuple[str, str], tuple[str, str]]


def pairs_of(row: Mapping[str, str]) -> Iterator[Pair]:
    """Yield every two choices of a row, in the order of its factors."""
    yield from combinations(row.items(), 2)


def all_pairs(factors: Mapping[str, Sequence[str]]) -> set[Pair]:
    """Return every two choices that two different factors can have."""
    return {
        ((first, a), (second, b))
        for first, second in combinations(factors, 2)
        for a in factors[first]
        for b in factors[second]
    }


def pairwise_rows(factors: Mapping[str, Sequence[str]]) -> list[Row]:
    """Return few rows that hold all pairs: greedy, always the same.

    Each row begins with a pair that no row has yet. Every further factor takes the choice that
    brings most new pairs, of equals the first.
    """
    missing, rows = all_pairs(factors), []
    while missing:
        first = min(missing, key=lambda pair: _place(factors, pair))
        row = dict(first)
        for factor, choices in factors.items():
            if factor not in row:
                row[factor] = max(
                    choices, key=lambda choice: len(_new(factors, {**row, factor: choice}, missing))
                )
        row = {factor: row[factor] for factor in factors}
        missing -= set(pairs_of(row))
        rows.append(row)
    return rows


def _new(factors: Mapping[str, Sequence[str]], row: Row, missing: set[Pair]) -> set[Pair]:
    ordered = {factor: row[factor] for factor in factors if factor in row}
    return missing & set(pairs_of(ordered))


def _place(factors: Mapping[str, Sequence[str]], pair: Pair) -> tuple[int, ...]:
    """Return where a pair stands when all are listed in the order of the factors."""
    names = list(factors)
    return tuple(
        number
        for factor, choice in pair
        for number in (names.index(factor), factors[factor].index(choice))
    )
