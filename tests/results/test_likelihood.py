"""The likelihood at one point against the whole multivariate normal density of scipy.stats."""

import numpy as np
import pytest
from scipy import stats

from blankbook.results.causes import point_likelihood
from blankbook.results.causes.point_likelihood import (
    COLOUR_SHARE,
    CUT_SHARE,
    ODD_SHARE,
    Effect,
    PointFit,
)
from blankbook.results.causes.point_readings import Group, Target, Vector
from blankbook.results.make_case import make_case
from blankbook.results.piece_spread import usual_spread
from made_blanks import blank, measured, piece, shop

SIZES = ("S", "M", "L", "XL", "S", "M")
LOTS = ("A", "A", "A", "A", "B", "B")
CHESTS = ("18 1/4", "20", "22 1/2", "23 3/4", "18", "20 1/8")
LENGTHS = ("28 1/8", "29", "30 1/4", "31 7/8", "28 1/4", "29 1/8")


@pytest.fixture(params=["half_chest", "body_length"])
def fit(request: pytest.FixtureRequest) -> PointFit:
    """Return the fit of one point of a blank with six pieces of two lots."""
    rows = zip(SIZES, LOTS, CHESTS, LENGTHS, strict=True)
    pieces = [
        piece(f"{size}-{number}", size, lot, half_chest=chest, body_length=length)
        for number, (size, lot, chest, length) in enumerate(rows)
    ]
    one, point = blank(measured(*pieces)), str(request.param)
    readings = make_case(one, shop()).posterior.every[point]
    return PointFit(readings, usual_spread(one, shop(), point), {})


def covariances(fit: PointFit) -> list[Vector]:
    """Return the covariance of the six readings for every variance of the grid, term by term."""
    readings, spread = fit.readings, fit.prior
    cut, lot = (CUT_SHARE * readings.tolerance) ** 2, spread.between_lots**2
    found = []
    for variance in fit.variances:
        matrix = np.eye(6) * variance
        for one in range(6):
            for other in range(6):
                matrix[one, other] += cut * (SIZES[one] == SIZES[other])
                matrix[one, other] += lot * (1 + COLOUR_SHARE**2) * (LOTS[one] == LOTS[other])
        found.append(matrix)
    return found


def whole(fit: PointFit, shift: Vector, extra: Vector | None = None) -> list[float]:
    """Return the log density from scipy.stats for every variance."""
    more = np.zeros((6, 6)) if extra is None else extra
    off = fit.readings.off - shift
    return [float(stats.multivariate_normal.logpdf(off, cov=c + more)) for c in covariances(fit)]


def test_readings_as_they_are(fit: PointFit) -> None:
    assert list(fit.still) == pytest.approx(whole(fit, np.zeros(6)))


def test_known_shift(fit: PointFit) -> None:
    """A lot that is moved by so much."""
    effect = Effect(lambda _size, group: 7.5 * (group.lot == "B"))
    shift = np.array([7.5 * (lot == "B") for lot in LOTS])
    found = fit.fits(fit.rows([effect]), np.zeros(1))[0]
    assert list(found) == pytest.approx(whole(fit, shift))


def test_unknown_part(fit: PointFit) -> None:
    """A size with an offset of its own adds to the covariance of its pieces."""
    effect = Effect(lambda size, _group: float(size == "M"), variance=150.0)
    own = np.array([size == "M" for size in SIZES], float)
    found = fit.fits(fit.rows([effect]), np.array([effect.variance]))[0]
    assert list(found) == pytest.approx(whole(fit, np.zeros(6), 150.0 * np.outer(own, own)))


def test_one_piece_of_another_size_and_one_stray(fit: PointFit) -> None:
    """Worked out for all pieces at once; each is held against the whole density."""
    level = fit.readings.expected
    for at, size in enumerate(SIZES):
        for column, other in enumerate(level):
            shift = np.zeros(6)
            shift[at] = level[other] - level[size]
            assert list(fit.piece_fits[at, column]) == pytest.approx(whole(fit, shift))
        extra = np.zeros((6, 6))
        extra[at, at] = (ODD_SHARE * fit.readings.step) ** 2
        assert list(fit.piece_fits[at, -1]) == pytest.approx(whole(fit, np.zeros(6), extra))


def test_other_readings_of_the_same_pieces(fit: PointFit) -> None:
    offs = np.array([fit.readings.off, np.arange(6.0) - 2.5])
    assert fit.fits_of(offs)[0] == pytest.approx(fit.still)
    zero = whole(fit, fit.readings.off - offs[1])
    assert list(fit.fits_of(offs)[1]) == pytest.approx(zero)


def test_where_a_size_lies_is_the_conditional_normal(fit: PointFit) -> None:
    """Mean and variance of M in lot B, and of the step from M to L in lot A, given all readings."""
    spread, cut = fit.prior, (CUT_SHARE * fit.readings.tolerance) ** 2
    lot = spread.between_lots**2 * (1 + COLOUR_SHARE**2)
    targets = (
        Target("M", "", (Group("B", "black"),), -1.0, 1.0),
        Target("M", "L", (Group("A", "black"),), -1.0, 1.0),
    )
    (mean,), (variance,) = fit.moments(targets, np.zeros((1, 6)), np.zeros((1, 2)), np.zeros(1))
    sizes, lots = np.array(SIZES), np.array(LOTS)
    across = np.array([cut * (sizes == "M") + lot * (lots == "B"),
                       cut * (sizes == "L") - cut * (sizes == "M")])  # fmt: skip
    own = np.array([cut + lot, 2 * cut])
    for at, matrix in enumerate(covariances(fit)):
        solved = np.linalg.solve(matrix, across.T)
        assert mean[:, at] == pytest.approx(fit.readings.off @ solved)
        assert variance[:, at] == pytest.approx(own - (across * solved.T).sum(axis=1))
    joint = fit.covariances(targets, np.zeros(6), np.zeros(2), 0.0, np.arange(len(fit.variances)))
    assert pytest.approx(variance) == np.diagonal(joint, axis1=1, axis2=2).T


def test_size_with_a_part_of_its_own_is_told_by_its_own_pieces(fit: PointFit) -> None:
    """Given a wide part of its own, a size lies where its pieces say, whatever the others are."""
    effect = Effect(lambda size, _group: float(size == "XL"), variance=1e8)
    target = (Target("XL", "", (Group("A", "black"),), -1.0, 1.0),)
    added, unknown = fit.of_targets(target, effect)[None], np.array([effect.variance])
    (mean,), (variance,) = fit.moments(target, fit.rows([effect]), added, unknown)
    assert mean[0] == pytest.approx(np.full(len(fit.variances), fit.readings.off[3]), abs=0.01)
    assert variance[0] == pytest.approx(fit.variances, rel=1e-3)


def test_grid_holds_what_the_spread_may_be(fit: PointFit, monkeypatch: pytest.MonkeyPatch) -> None:
    """Averaged over the grid, 1 over the variance comes to what a hundred times as many give."""
    monkeypatch.setattr(point_likelihood, "VARIANCES", 900)
    dense = PointFit(fit.readings, fit.prior, {}, (-7.0, 9.0))
    ours, theirs = (
        float(shares @ (1 / one.variances) / shares.sum())
        for one in (fit, dense)
        for shares in [np.exp(one.still - one.still.max()) * np.exp(one.log_prior).sum(axis=0)]
    )
    assert ours == pytest.approx(theirs, rel=0.02)
