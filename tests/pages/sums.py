"""Sums as the method page writes them, worked out by Python's arithmetic and scipy.stats alone.

``from pages.sums import worth, slack``. A printed number stands for all numbers that round to it:
`slack` is how far the outcome can move when every number that was put in moves by half its last
digit.
"""

import math
import re
from collections.abc import Callable

from scipy import stats

NUMBER = re.compile(r"(?<![\w.])\d+(?:\.\d+)?")
NAMES: dict[str, Callable[..., float]] = {
    "sqrt": math.sqrt,
    "exp": math.exp,
    "ln": math.log,
    "t": lambda p, nu: float(stats.t.ppf(p, nu)),
    "T": lambda x, nu: float(stats.t.cdf(x, nu)),
    "z": lambda p: float(stats.norm.ppf(p)),
    "Phi": lambda x: float(stats.norm.cdf(x)),
    "X": lambda p, nu: float(stats.chi2.ppf(p, nu)),
    "C": math.comb,
    "max": max,
    "min": min,
}


def program(written: str) -> str:
    """Return a sum as Python writes it."""
    text = written.replace("−", "-").replace("×", "*").replace("²", "**2").replace("^", "**")
    text = text.replace("Φ", "Phi").replace(";", ",")
    text = re.sub(r"√(\d+(?:\.\d+)?)", r"sqrt(\1)", text)
    return text.replace("√", "sqrt")


def value(text: str) -> float:
    """Return what a sum comes to, with nothing but the names above to call."""
    return float(eval(text, {"__builtins__": {}}, dict(NAMES)))


def worth(written: str) -> float:
    """Return what a sum comes to."""
    return value(program(written))


def half_digit(number: str) -> float:
    """Return half of a number's last printed digit; a whole number is exact."""
    _, point, decimals = number.partition(".")
    return 0.5 * 10.0 ** -len(decimals) if point else 0.0


def slack(written: str, exact: frozenset[str] = frozenset()) -> float:
    """Return how far the outcome may be off because every number put in was rounded.

    *exact* are numbers that are not rounded, such as a stated risk.
    """
    text = program(written)
    middle, total = value(text), 0.0
    for found in NUMBER.finditer(text):
        half = 0.0 if found[0] in exact else half_digit(found[0])
        if half:
            moved = []
            for step in (half, -half):
                other = f"{float(found[0]) + step!r}"
                moved.append(
                    abs(value(text[: found.start()] + other + text[found.end() :]) - middle)
                )
            total += max(moved)
    return total


def leading(said: str) -> str:
    """Return the number at the beginning of what comes out, as it is printed."""
    shape = re.match(r"[−-]?\d+(?:\.\d+)?", said)
    assert shape, said
    return shape[0].replace("−", "-")
