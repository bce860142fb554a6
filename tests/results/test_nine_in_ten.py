"""The limits between which nine pieces in ten of a size lie."""

from dataclasses import replace

import pytest

from blankbook.records.model import Prior
from blankbook.results.json_results import result_data
from blankbook.results.judge_blank import judge
from blankbook.results.methods.tolerance_intervals import tolerance_factor
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Judged, Learned, Number, Result
from blankbook.words.points import INCH
from made_blanks import CHARTED, blank, measured, piece, shop, single_result

IN = float(INCH)


def _judged(*inches: str, charted: bool = True, **known: Learned) -> Judged:
    pieces = [piece(f"M-{number}", "M", body_length=length) for number, length in enumerate(inches)]
    tee = blank(measured(*pieces), charts=(CHARTED,) if charted else ())
    return judge(tee, shop(), known.get("learned", Learned()))


def _of_size(judged: Judged) -> Result:
    return single_result(judged, "size_against_chart", size="M", point="body_length")


def _result(*inches: str, charted: bool = True, **known: Learned) -> Result:
    return _of_size(_judged(*inches, charted=charted, **known))


def _limits(result: Result) -> tuple[float, float, float]:
    found = result.number(Quantity.NINE_IN_TEN)
    assert isinstance(found, Number)
    assert found.low is not None
    assert found.high is not None
    return found.value, found.low, found.high


@pytest.mark.parametrize("charted", [True, False])
def test_mean_give_or_take_k_times_the_spread(charted: bool) -> None:
    """Three pieces of one size: k of the spread's freedom, times the spread of all readings.

    The factor is taken for an error and a freedom that are rounded to the safe side.
    """
    judged = _judged("29", "29 1/8", "29 1/4", charted=charted)
    value, low, high = _limits(_of_size(judged))
    spread = judged.case.spreads["body_length"]
    exact = tolerance_factor(3**-0.5, spread.freedom, 0.90, 0.95) * spread.deviation
    assert value == pytest.approx(29.125 * IN)
    assert high - value == pytest.approx(value - low)
    assert exact <= high - value <= exact * 1.05


def test_they_are_wider_than_those_of_the_mean_and_narrow_with_more_pieces() -> None:
    """Nine pieces in ten lie farther out than their mean can be."""
    few, many = _result("29", "29 1/8"), _result(*["29", "29 1/8"] * 4)
    mean = few.number(Quantity.MEAN)
    assert mean
    assert mean.low
    assert _limits(few)[1] < mean.low
    assert _limits(many)[2] - _limits(many)[1] < _limits(few)[2] - _limits(few)[1]


def test_people_who_read_differently_widen_them() -> None:
    """What people differ by is in the error of the mean, and so in these limits."""
    alone, together = (
        _result("29", "29 1/8", learned=Learned(people=people))
        for people in (None, Prior(IN / 8, 5))
    )
    wide = [high - low for _, low, high in map(_limits, (alone, together))]
    assert wide[0] < wide[1] < 1.5 * wide[0]


def test_stricter_shop_has_wider_limits() -> None:
    """They are wrong as often as the shop's risk says."""
    tee = blank(measured(piece("M-1", "M", body_length="29")))
    found = [
        single_result(judge(tee, replace(shop(), risk=risk)), "size_against_chart", size="M")
        for risk in (0.05, 0.01)
    ]
    assert _limits(found[1])[2] > _limits(found[0])[2]


def test_the_json_has_them() -> None:
    """As any number: the value, its unit, and what lies on either side."""
    data = result_data(_result("29", "29 1/8", "29 1/4"))["numbers"]["nine pieces in ten"]
    assert data["unit"] == "mm"
    assert data["low"] < data["value"] < data["high"]
