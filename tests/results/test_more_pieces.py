"""How many more pieces would settle it: the fewest, found without trying each."""

import pytest
from scipy import stats

from blankbook.results.limits import freedom_to_settle, pieces_to_settle


@pytest.mark.parametrize("margin", [0.05, 0.4, 1.0, 2.5, 6.0, 30.0])
@pytest.mark.parametrize("freedom", [2.0, 6.0, 40.0])
@pytest.mark.parametrize(("pieces", "groups", "fixed"), [(1, 1, 0.0), (3, 2, 0.0), (2, 1, 0.3)])
def test_the_fewest_pieces_are_found(
    margin: float, freedom: float, pieces: int, groups: int, fixed: float
) -> None:
    """One after the other, with scipy.stats' Student's t, gives the same count."""
    found = None
    for more in range(1, 51):
        half = stats.t.ppf(0.95, freedom + more * groups)
        if half * (9.0 * groups / (pieces + more) + fixed**2) ** 0.5 < margin:
            found = more
            break
    assert pieces_to_settle(margin, 3.0, freedom, pieces, 0.05, groups, fixed) == found


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
