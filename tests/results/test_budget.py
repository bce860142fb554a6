"""The budget: its parts add up to what the limits are made of."""

from math import hypot

import pytest

from blankbook.records.model import Prior
from blankbook.results.json_results import judged_data
from blankbook.results.judge_blank import judge
from blankbook.results.limits import t_quantile
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Learned
from made_blanks import blank, measured, piece, shop, single_result

TWO = blank(
    measured(
        piece("M-1", "M", half_chest="20", body_length="29"),
        piece("M-2", "M", half_chest="20 1/4", body_length="29"),
        piece("L-1", "L", half_chest="22", body_length="30"),
        piece("L-2", "L", half_chest="22 1/8", body_length="30"),
    )
)
PEOPLE = Learned(people=Prior(1.5, 2))


@pytest.mark.parametrize("learned", [Learned(), PEOPLE])
def test_parts_add_up(learned: Learned) -> None:
    """GUM 5.1.2: variances of independent parts add; what averages is over the pieces."""
    for budget in judge(TWO, shop(), learned).budgets:
        known = {part.key: part.deviation or 0.0 for part in budget.parts}
        own = hypot(known["tape"], known["hand"], known["pieces"])
        assert budget.pieces == 2
        assert budget.of_reading == pytest.approx(
            hypot(known["tape"], known["hand"], known["people"])
        )
        assert budget.of_piece == pytest.approx(hypot(own, known["people"]))
        assert budget.of_mean == pytest.approx(hypot(own / 2**0.5, known["people"]))
        assert budget.of_next_lot == pytest.approx(hypot(budget.of_mean, known["lots"]))


@pytest.mark.parametrize("learned", [Learned(), PEOPLE])
def test_limits_are_made_of_it(learned: Learned) -> None:
    """The half width of a size's limits is Student's t times the mean's part of the budget."""
    judged = judge(TWO, shop(), learned)
    budget = next(budget for budget in judged.budgets if budget.point == "half_chest")
    off = single_result(judged, "size_against_chart", size="M", point="half_chest").number(
        Quantity.OFF_THE_CHART
    )
    assert off is not None
    assert off.high is not None
    half = t_quantile(0.95, budget.freedom) * budget.of_mean
    assert off.high - off.value == pytest.approx(half)


def test_tape_is_its_step_over_the_root_of_twelve() -> None:
    """GUM 4.3.7: an eighth of an inch gives 3.175 / sqrt(12) = 0.9165 mm."""
    (tape,) = (part for part in judge(TWO, shop()).budgets[0].parts if part.key == "tape")
    assert tape.deviation == pytest.approx(0.9165, abs=5e-5)


def test_unknown_is_not_zero() -> None:
    """Without a study, what people differ by is nothing that is known: no number stands there."""
    (people,) = (part for part in judge(TWO, shop()).budgets[0].parts if part.key == "people")
    assert people.deviation is None
    assert "not known" in people.origin
    data = judged_data(judge(TWO, shop()))["budget"]["half_chest"]
    assert next(part for part in data["parts"] if part["part"] == "people")["deviation"] is None


def test_origin_names_what_the_spread_rests_on() -> None:
    learned = Learned(spread={"half_chest": Prior(3.0, 10)}, hand=Prior(1.0, 20), hand_learned=True)
    before, after = (
        {part.key: part.origin for part in judge(TWO, shop(), learned).budgets[0].parts}
        for learned in (Learned(), learned)
    )
    assert "assumption" in before["pieces"]
    assert "ledger" in after["pieces"]
    assert "assumption" in before["hand"]
    assert "repeat readings" in after["hand"]
