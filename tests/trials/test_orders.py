"""Orders of simulated shops: what the method page prints holds, and comes of the program."""

import json
from collections import Counter
from importlib.resources import files
from typing import Any

import pytest

from trials.orders import ADVISED, EACH, RULES, tallied

LOSSES = (ADVISED, *RULES)


@pytest.fixture(scope="module")
def printed() -> dict[str, Any]:
    """Return the table as it was last written."""
    place = files("blankbook.pages.shop") / "order_trials.json"
    table: dict[str, Any] = json.loads(place.read_text(encoding="utf-8"))
    return table


def row(table: dict[str, Any], what: str) -> dict[str, float]:
    """Return a row of the table."""
    found: dict[str, float] = next(row for row in table["rows"] if row["what"] == what)
    return found


def test_it_is_a_table_of_many_orders(printed: dict[str, Any]) -> None:
    """Ten thousand orders, with the seed that makes them again."""
    assert printed["orders"] >= 10000
    assert printed["seed"] == 18


def test_there_is_enough_as_often_as_is_said(printed: dict[str, Any]) -> None:
    """Within one point in a hundred, on average."""
    enough = row(printed, "enough")

    assert enough["was"] == pytest.approx(enough["said"], abs=0.01)


def test_as_much_is_lost_as_is_said(printed: dict[str, Any]) -> None:
    """The expected loss is what was lost, within five in a hundred."""
    loss = row(printed, "loss, whatever is wrong")

    assert loss["was"] == pytest.approx(loss["said"], rel=0.05)


@pytest.mark.parametrize("rule", RULES)
def test_the_advice_loses_less_than_a_rule(rule: str, printed: dict[str, Any]) -> None:
    """No samples, always two a size, always four a size: each loses more on average."""
    advised = row(printed, f"loss, {ADVISED}")["was"]

    assert advised < row(printed, f"loss, {rule}")["was"]


STYLES = 16


@pytest.fixture(scope="module")
def few() -> Counter[str]:
    """Return the sums over the first orders of the table."""
    return tallied(18, 0, STYLES)


def test_few_orders_show_the_same(few: Counter[str], printed: dict[str, Any]) -> None:
    """Eighty orders give what the table prints, to four standard errors.

    Enough is a share; of the losses, orders of a style hang together, and one style in three or so
    loses much: their deviation is taken as twice their mean.
    """
    for what, key in (("enough", "was enough"), *((f"loss, {rule}", rule) for rule in LOSSES)):
        mean = row(printed, what)["was"]
        error = (mean * (1 - mean) / (STYLES * EACH)) ** 0.5 if mean < 1 else 2 * mean / STYLES**0.5
        assert few[key] / (STYLES * EACH) == pytest.approx(mean, abs=4 * error), what


def test_the_simulation_gives_it_again(few: Counter[str]) -> None:
    """The same seed gives the same orders, in whatever parts they are worked out."""
    parts = [tallied(18, 0, 4), tallied(18, 4, STYLES - 4)]

    for key in ("was enough", "was lost", ADVISED):
        assert few[key] == pytest.approx(sum(part[key] for part in parts))
