"""A supplier's charts, one after the other: what each says otherwise than the one before."""

from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import Any

from blankbook.history.moved.chart_versions import ChartVersion, chart_versions
from blankbook.records.model import Chart
from made_blanks import blank, chart, readings, shop

FIRST = {
    "S": {"half_chest": "18", "body_length": "28", "sleeve_length": "8"},
    "M": {"half_chest": "20", "body_length": "29"},
}


def version(sizes: dict[str, dict[str, str]], year: int, **more: Any) -> Chart:
    """Return a chart that holds from a year on."""
    return replace(chart(sizes), since=date(year, 1, 1), **more)


def listed(*charts: Chart) -> list[ChartVersion]:
    """Return the versions of a style with these charts."""
    return [*chart_versions(blank(charts=charts, sizes=("S", "M", "L")).style, shop())]


def test_the_first_chart_has_nothing_to_be_held_against() -> None:
    """However many cells it has, none is new."""
    assert listed() == []
    (only,) = listed(version(FIRST, 2024))
    assert only.first
    assert (only.moved, only.added, only.removed) == ((), frozenset(), frozenset())


def test_what_moved_what_came_and_what_went_are_three_things() -> None:
    """Half an inch is 12.7 mm; a tolerance of 1/2 in is not passed by it, one of 1/4 in is."""
    second = {
        "S": {"half_chest": "18 1/2", "body_length": "28"},
        "M": {"half_chest": "20", "body_length": "29 3/4"},
        "L": {"half_chest": "22"},
    }
    _, new = listed(version(FIRST, 2024), version(second, 2025))
    moved = {(cell.size, cell.point): (cell.by, cell.past_tolerance) for cell in new.moved}

    assert not new.first
    assert moved == {
        ("S", "half_chest"): (Fraction("12.7"), False),
        ("M", "body_length"): (Fraction("19.05"), True),
    }
    assert new.added == {("L", "half_chest")}
    assert new.removed == {("S", "sleeve_length")}


def test_another_tolerance_and_another_way_of_measuring_are_told() -> None:
    """What is not written is the shop's tolerance, and the first way of the vocabulary."""
    quarter = {"half_chest": readings({"half_chest": "1/4"})["half_chest"][0]}
    later = version(FIRST, 2025, tolerance=quarter, how={"body_length": "high_point_back"})
    _, new = listed(version(FIRST, 2024, how={"body_length": "high_point_front"}), later)

    assert new.moved == ()
    assert new.tolerances == (("half_chest", shop().tolerance["half_chest"], 25.4 / 4),)
    assert [point for point, _, _ in new.measured_otherwise] == ["body_length"]


def test_another_line_is_another_length_and_has_not_moved() -> None:
    """From the centre of the back neck seam a body is shorter: no cell of it is compared."""
    back = {size: {**row, "body_length": "27 1/4"} for size, row in FIRST.items()}
    later = version(back, 2025, how={"body_length": "centre_back"})
    _, new = listed(version(FIRST, 2024), later)

    assert (new.moved, new.added, new.removed) == ((), frozenset(), frozenset())
    assert new.not_comparable == ("body_length",)
    assert [point for point, _, _ in new.measured_otherwise] == ["body_length"]


def test_a_slip_of_the_pen_is_told() -> None:
    """Each chart is held against the one before it, and not against the first."""
    moved = {size: {p: f"{text} 1/2" for p, text in row.items()} for size, row in FIRST.items()}
    three = {**moved, "L": {"half_chest": "22 1/2"}}
    _, second, third = listed(version(FIRST, 2024), version(moved, 2025), version(three, 2026))

    assert second.suspicions == ()
    assert len(second.moved) == 5
    assert third.moved == ()
    assert third.added == {("L", "half_chest")}
    swapped = {"S": {"half_chest": "20"}, "M": {"half_chest": "18"}}
    _, wrong = listed(version(FIRST, 2024), version(swapped, 2025))
    assert "half chest: S is larger than M" in wrong.suspicions
