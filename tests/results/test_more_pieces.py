"""How many more pieces would settle it, eight times in ten."""

from math import inf

import numpy as np
import pytest
from scipy import stats

from blankbook.results.limits import SETTLED, freedom_to_settle, limits, pieces_to_settle

DRAWS = 40_000


def settled(mean: float, pieces: int, freedom: float, more: int, borders: tuple[float, float],
            groups: int = 1) -> float:  # fmt: skip
    """Return how often it is settled after *more* pieces, drawn as they may come.

    Where the true mean lies is drawn from what is known of it, Student's t, and the new pieces'
    mean about that; the spread of single pieces, 3, stays.
    """
    rng = np.random.default_rng(11)
    own, coming = 9.0 * groups / pieces, 9.0 * groups / more
    true = mean + rng.standard_t(freedom, DRAWS) * own**0.5
    seen = true + rng.normal(size=DRAWS) * coming**0.5
    joint = (mean / own + seen / coming) / (1 / own + 1 / coming)
    half = stats.t.ppf(0.95, freedom + more * groups) * (1 / (1 / own + 1 / coming)) ** 0.5
    inside = (joint - half >= borders[0]) & (joint + half <= borders[1])
    outside = (joint + half < borders[0]) | (joint - half > borders[1])
    return float((inside | outside).mean())


@pytest.mark.parametrize("mean", [0.0, 5.0, 6.5, 16.0])
@pytest.mark.parametrize(("pieces", "groups"), [(1, 1), (2, 1), (3, 2)])
def test_that_many_more_settle_it_so_often(mean: float, pieces: int, groups: int) -> None:
    """With many degrees of freedom the drawn pieces settle it eight times in ten, one less not."""
    freedom, borders = 60.0, (-9.5, 9.5)
    off = limits(mean, (9.0 * groups / pieces) ** 0.5, freedom, 0.05)
    more = pieces_to_settle(off, borders, 3.0, 0.05, groups)
    assert more
    assert settled(mean, pieces, freedom, more, borders, groups) >= SETTLED - 0.02
    if more > 1:
        assert settled(mean, pieces, freedom, more - 1, borders, groups) < SETTLED + 0.02


def test_none_where_it_sits_on_the_border() -> None:
    """However many come, half of all outcomes lie on either side, near the border."""
    off = limits(9.5, 3.0, 30.0, 0.05)
    more = pieces_to_settle(off, (-9.5, 9.5), 30.0, 0.05)
    assert more is None


def test_what_no_piece_makes_smaller_is_left() -> None:
    """A part of the error that all pieces share keeps a question open that others would settle."""
    free = limits(6.0, 2.0, 30.0, 0.05)
    bound = limits(6.0, (4.0 + 9.0) ** 0.5, 30.0, 0.05)
    assert pieces_to_settle(free, (-inf, 9.5), 3.0, 0.05)
    assert pieces_to_settle(bound, (-inf, 9.5), 3.0, 0.05, fixed=3.0) is None


@pytest.mark.parametrize("border", [1.0, 2.4, 2.9, 3.2, 4.0, 9.0])
@pytest.mark.parametrize("freedom", [3.0, 9.0])
def test_the_least_freedom_is_found(border: float, freedom: float) -> None:
    """The same for a deviation, with scipy.stats' chi-square."""
    found = None
    for more in range(1, 201):
        nu = freedom + more
        low, high = (3.0 * (nu / stats.chi2.ppf(p, nu)) ** 0.5 for p in (0.95, 0.05))
        if high <= border or low > border:
            found = more
            break
    assert freedom_to_settle(3.0, freedom, border, 0.05) == found
