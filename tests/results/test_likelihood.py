"""The shortcuts of the likelihood against the whole multivariate normal density."""

import numpy as np
import pytest
from scipy import stats

from blankbook.results.causes.likelihood import ODD_SHARE, PointModel, point_models
from blankbook.results.judge_blank import make_case
from blankbook.results.result_types import Case
from made_blanks import blank, measured, piece, shop

LENGTHS = ("28 1/8", "29", "30 1/4", "31 7/8", "28 1/4", "29 1/8")


def _case() -> Case:
    pieces = [
        piece(f"{size}-{number}", size, lot, half_chest=chest, body_length=length)
        for number, (size, lot, chest, length) in enumerate(
            zip(
                ("S", "M", "L", "XL", "S", "M"),
                ("A", "A", "A", "A", "B", "B"),
                ("18 1/4", "20", "22 1/2", "23 3/4", "18", "20 1/8"),
                LENGTHS,
                strict=True,
            )
        )
    ]
    return make_case(blank(measured(*pieces)), shop())


def _whole(model: PointModel, shift: np.ndarray, extra: np.ndarray | None = None) -> float:
    """Return the log density from scipy.stats, averaged over the model's own covariances."""
    off = np.array([reading.deviation for reading in model.seen]) - shift
    logs = []
    for inverse in model.inverses:
        covariance = np.linalg.inv(inverse) + (0 if extra is None else extra)
        logs.append(stats.multivariate_normal.logpdf(off, cov=covariance))
    return float(np.logaddexp.reduce(logs) - np.log(len(logs)))


@pytest.fixture(params=[0, 1], ids=["half chest", "body length"])
def model(request: pytest.FixtureRequest) -> PointModel:
    """Return the model of one point of a blank with six pieces of two lots."""
    models = point_models(_case())
    return models[int(request.param)]


def test_any_shift(model: PointModel) -> None:
    shifts = [np.linspace(-9, 12, 6), np.zeros(6)]
    found = model.fits(shifts)
    assert list(found) == pytest.approx([_whole(model, shift) for shift in shifts])
    assert model.still == pytest.approx(float(found[1]))


def test_one_reading_moved(model: PointModel) -> None:
    """A wrong tag moves one reading alone; what that changes is worked out for all at once."""
    moves = np.array([[-25.4, 0.0, 40.0]] * 6) * np.arange(1.0, 7.0)[:, None]
    found = model.moved_fits(moves)
    assert found.shape == (6, 3)
    for reading in range(6):
        for column in range(3):
            shift = np.zeros(6)
            shift[reading] = moves[reading, column]
            assert found[reading, column] == pytest.approx(_whole(model, shift))


def test_one_reading_that_strays(model: PointModel) -> None:
    """A stray has a variance of its own on top."""
    for place, (name, found) in enumerate(model.odd_fits().items()):
        assert name == model.seen[place].piece
        extra = np.zeros((6, 6))
        extra[place, place] = (ODD_SHARE * model.step) ** 2
        assert found == pytest.approx(_whole(model, np.zeros(6), extra))
