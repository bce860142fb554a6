"""What a count of bad pieces says about the share that is bad: exact limits.

Shares run from 0 to 1. A *risk* is the chance that a one-sided limit is wrong, such as 0.05.
Pieces drawn from a delivery of known size follow the hypergeometric distribution, any others the
binomial.
"""

from math import ceil, comb, log, sqrt
from typing import Any

from blankbook.results.number_words import say_share

EXACT_LOT = 5_000
EXACT_FOUND = 100
"""Beyond these, whole numbers take too long."""
VANISHING_DEVIATIONS = 40
"""So far from the mean, a term of the hypergeometric distribution is too small for a float."""
_WORDS = (
    "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "twelve",
)  # fmt: skip


def upper_share(bad: int, pieces: int, risk: float) -> float:
    """Return the largest share bad that *bad* out of *pieces* still allows.

    Source: Clopper and Pearson 1934, Biometrika 26, 404-413: a quantile of the beta distribution.

    >>> round(upper_share(0, 3, 0.05), 4)
    0.6316
    """
    from scipy import special

    _check(bad, pieces)
    return 1.0 if bad == pieces else float(special.betaincinv(bad + 1, pieces - bad, 1 - risk))


def lower_share(bad: int, pieces: int, risk: float) -> float:
    """Return the smallest share bad that *bad* out of *pieces* still allows.

    Source: Clopper and Pearson 1934.
    """
    from scipy import special

    _check(bad, pieces)
    return 0.0 if bad == 0 else float(special.betaincinv(bad, pieces - bad + 1, risk))


def _check(bad: int, pieces: int) -> None:
    if not 0 <= bad <= pieces or pieces < 1:
        raise ValueError(f"must be 0 to {pieces} bad out of at least one piece, found {bad}")


def zero_failure_bound(pieces: int, risk: float) -> float:
    """Return the share bad that *pieces* good ones, and no bad one, cannot rule out.

    Source: (1 - p)^n = risk, solved for p; the exact form of the rule of three, 3/n.
    """
    return float(1 - risk ** (1 / pieces)) if pieces else 1.0


def zero_acceptance_pieces(share: float, risk: float) -> int:
    """Return how many pieces must be looked at, all good, to rule out that *share* is bad.

    Source: the smallest n with (1 - p)^n <= risk.

    >>> zero_acceptance_pieces(0.10, 0.05)
    29
    """
    if not 0 < share <= 1:
        raise ValueError(f"must be a share above 0 and at most 1, found {share}")
    if share == 1:
        return 1
    near = max(ceil(log(risk) / log(1 - share)) - 1, 1)
    return near if (1 - share) ** near <= risk else near + 1


def upper_bad_in_lot(found: int, pieces: int, lot: int, risk: float) -> int:
    """Return the largest count bad in the whole lot that *found* out of *pieces* still allows.

    Source: the hypergeometric tail, inverted the way Clopper and Pearson invert the binomial.
    """
    _check(found, pieces)
    low, high = found, lot - (pieces - found)
    while low < high:
        middle = (low + high + 1) // 2
        if chance_at_most_in_lot(found, pieces, middle, lot) > risk:
            low = middle
        else:
            high = middle - 1
    return low


def chance_at_most(found: int, pieces: int, share: float) -> float:
    """Return the chance that at most *found* out of *pieces* are bad where *share* is bad.

    Source: the binomial distribution.
    """
    from scipy import special

    return 1.0 if found >= pieces else float(special.bdtr(found, pieces, share))


def chance_at_most_in_lot(found: int, pieces: int, bad: int, lot: int) -> float:
    """Return the chance that at most *found* out of *pieces* are bad where the lot holds *bad*.

    In a lot of up to `EXACT_LOT` it is worked out in whole numbers and so exact to the last digit;
    beyond, by logarithms, to eight digits or better, since whole numbers grow as long as the lot.
    Source: the hypergeometric distribution.
    Raises: ValueError where the counts do not fit into the lot.
    """
    if not (0 <= bad <= lot and 0 <= pieces <= lot):
        raise ValueError(f"must fit into a lot of {lot}, found {pieces} pieces and {bad} bad")
    if lot > EXACT_LOT or found > EXACT_FOUND:
        return _chance_by_logarithms(found, pieces, bad, lot)
    ways = sum(comb(bad, k) * comb(lot - bad, pieces - k) for k in range(min(found, pieces) + 1))
    return ways / comb(lot, pieces)


def _chance_by_logarithms(found: int, pieces: int, bad: int, lot: int) -> float:
    """Return the same, from the logarithms of the terms that are not vanishingly small."""
    import numpy as np

    mean = pieces * bad / lot
    far = VANISHING_DEVIATIONS * sqrt(mean * (1 - bad / lot)) + VANISHING_DEVIATIONS
    least = max(0, pieces - (lot - bad), int(mean - far))
    most = min(found, pieces, bad, int(mean + far))
    if most < least:
        return 1.0 if found > mean else 0.0
    k = np.arange(least, most + 1)
    ways = _log_ways(bad, k) + _log_ways(lot - bad, pieces - k) - _log_ways(lot, pieces)
    return min(1.0, float(np.exp(ways).sum()))


def _log_ways(count: int, taken: Any) -> Any:
    """Return the logarithm of the ways to take so many out of a count."""
    from scipy import special

    return -special.betaln(count - taken + 1, taken + 1) - log(count + 1)


def say_zero_failures(pieces: int, risk: float = 0.05) -> str:
    """Return what good pieces leave open, as a shop says it.

    >>> say_zero_failures(3)
    'three good out of three still allows that up to 63 % are bad'
    """
    count = say_count(pieces)
    bound = say_share(zero_failure_bound(pieces, risk))
    return f"{count} good out of {count} still allows that up to {bound} are bad"


def say_bad(bad: int, pieces: int, risk: float = 0.05) -> str:
    """Return what a count of bad pieces leaves open, as a shop says it.

    >>> say_bad(1, 12)
    'one bad out of twelve still allows anything from 0.43 % to 34 % bad'
    """
    if bad == 0:
        return say_zero_failures(pieces, risk)
    low = say_share(lower_share(bad, pieces, risk))
    high = say_share(upper_share(bad, pieces, risk))
    counted = f"{say_count(bad)} bad out of {say_count(pieces)}"
    return f"{counted} still allows anything from {low} to {high} bad"


def say_count(count: int) -> str:
    """Return a count in a word up to twelve and in figures above."""
    return _WORDS[count] if count < len(_WORDS) else str(count)
