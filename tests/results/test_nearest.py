"""What could stand in for a blank: by what was measured, before anything that is claimed."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from blankbook.records.model import Blank, Decision, Price
from blankbook.results.json_results import judged_data
from blankbook.results.judge_blank import judge
from blankbook.results.learning.ledger_learning import blank_contribution, learn, learned_from_data
from blankbook.results.learning.stand_ins import (
    MOST_STAND_INS,
    _rank,
    fit_facts,
    nearest_by_blank,
    stand_ins,
)
from blankbook.results.make_case import make_case
from blankbook.results.result_types import Learned, StandIn
from made_blanks import DAY, blank, measured, piece, shop, washed


def tee(key: str, wider: float = 0.0, sizes: str = "S M L", **claims: Any) -> Blank:
    """Return a blank that is *wider* than the chart by so many inches, at every size."""
    pieces = [
        piece(
            f"{size}-1",
            size,
            half_chest=f"{18 + 2 * place + wider}",
            body_length=f"{28 + place}",
        )
        for place, size in enumerate(("S", "M", "L", "XL"))
        if size in sizes.split()
    ]
    tee = blank(measured(*pieces), **claims)
    return replace(tee, style=replace(tee.style, key=key, name=key))


def found_for(*blanks: Blank, of: str) -> tuple[StandIn, ...]:
    """Return what could stand in for one of *blanks*, the nearest first."""
    facts = {blank.style.key: fit_facts(blank, shop()) for blank in blanks}
    learned = Learned(nearest=nearest_by_blank(facts, shop())[of])
    (own,) = (blank for blank in blanks if blank.style.key == of)
    return stand_ins(make_case(own, shop(), learned))


def near(*blanks: Blank, of: str) -> list[str]:
    """Return the keys of what could stand in for one of *blanks*, the nearest first."""
    return [stand_in.key for stand_in in found_for(*blanks, of=of)]


def test_nearest_by_measure_comes_first() -> None:
    order = near(tee("a/b"), tee("a/far", 2.0), tee("a/near", 0.25), tee("a/mid", 1.0), of="a/b")
    assert order == ["a/near", "a/mid", "a/far"]


def test_distance_is_the_root_mean_square_in_tolerances() -> None:
    """Half an inch wider at three sizes is one tolerance at three of six measures: sqrt(1/2).

    Held against numpy's own root of the mean square.
    """
    (found,) = found_for(tee("a/b"), tee("a/c", 0.5), of="a/b")
    assert found.shared == 6
    assert found.distance == pytest.approx(float(np.sqrt(np.mean([1, 0, 1, 0, 1, 0]))), abs=0.05)


def test_size_to_order_instead_may_have_another_label() -> None:
    """A blank cut one size larger: its S stands for our M. Body lengths are one apart as well."""
    small = tee("a/b")
    pieces = [
        piece(f"{size}-1", size, half_chest=f"{20 + 2 * place}", body_length=f"{29 + place}")
        for place, size in enumerate(("S", "M", "L"))
    ]
    large = blank(measured(*pieces))
    large = replace(large, style=replace(large.style, key="a/large", name="large"))
    (found,) = found_for(small, large, of="a/b")
    # Their S is 2 in wider than ours, four tolerances: nothing of theirs is near our S.
    assert {size: other for size, (other, _) in found.instead.items()} == {"M": "S", "L": "M"}
    assert found.instead["M"][1] == 0


def test_only_shared_sizes_count() -> None:
    """A size that one of the two lacks neither helps nor harms, and none shared is no match."""
    others = (tee("a/c", sizes="L XL"), tee("a/d", sizes="M L"))
    order = near(tee("a/b", sizes="S M"), *others, of="a/b")
    assert order == ["a/d"]


def test_washing_decides_between_equals() -> None:
    def washes(key: str, length: str) -> Blank:
        pieces = [
            washed(piece("S-1", "S", half_chest="18", body_length="28"), 1, body_length=length),
            piece("M-1", "M", half_chest="20", body_length="29"),
        ]
        tee = blank(measured(*pieces))
        return replace(tee, style=replace(tee.style, key=key))

    order = near(washes("a/b", "27"), washes("a/c", "25"), washes("a/d", "27 1/8"), of="a/b")
    assert order == ["a/d", "a/c"]


def test_claims_decide_last_and_are_told() -> None:
    dear = (Price(DAY, 9.0, "USD"),)
    cheap = (Price(DAY, 4.0, "USD"),)
    own = tee("a/b", fibre="cotton", prices=cheap)
    order = near(
        own,
        tee("a/c", fibre="hemp", prices=cheap),
        tee("a/d", fibre="cotton", prices=dear),
        tee("a/e", fibre="cotton", prices=cheap),
        of="a/b",
    )
    assert order == ["a/e", "a/d", "a/c"]
    (found,) = found_for(own, tee("a/d", prices=dear), of="a/b")
    assert "9.00 each, not 4.00" in found.differs


def test_rejected_and_children_stand_in_for_none() -> None:
    refused = tee("a/c")
    refused = replace(
        refused, rounds=(replace(refused.rounds[0], decision=Decision("rejected", DAY, "rv")),)
    )
    child = tee("a/d", wearer="children")
    assert near(tee("a/b"), refused, child, of="a/b") == []
    assert near(tee("a/b"), refused, child, of="a/c") == ["a/b"]


def test_it_is_handed_to_every_blank() -> None:
    blanks = [tee("a/b"), tee("a/c", 0.25)]
    given = {blank.style.key: blank_contribution(blank, shop()) for blank in blanks}
    learned = learned_from_data(learn(given, shop())["a/b"])
    data = judged_data(judge(blanks[0], shop(), learned))
    assert [stand_in["blank"] for stand_in in data["nearest"]] == ["a/c"]


def test_nothing_measured_is_near_nothing() -> None:
    assert near(blank(), tee("a/c"), of="a/b") == []


def test_quick_way_finds_what_the_slow_one_does() -> None:
    """Over 300 drawn blanks, every list is the one that ranking all pairs by hand gives."""
    dice = np.random.default_rng(20261125)
    blanks = [
        tee(
            f"a/{place:03d}",
            float(dice.choice([0, 0.25, 0.5, 1.0])),
            fibre=str(dice.choice(["cotton", "hemp"])),
            mass=float(dice.choice([150, 180, 200])),
            prices=(Price(DAY, float(dice.integers(3, 9)), "USD"),),
        )
        for place in range(300)
    ]
    facts = {blank.style.key: fit_facts(blank, shop()) for blank in blanks}
    quick = nearest_by_blank(facts, shop())
    for key in list(facts)[::30]:
        ranked = sorted(
            (_rank(facts[key], facts[other], apart(facts[key], facts[other])), other)
            for other in facts
            if other != key
        )
        assert [stand_in["key"] for stand_in in quick[key]] == [
            other for _, other in ranked[:MOST_STAND_INS]
        ]


def apart(first: dict[str, Any], other: dict[str, Any]) -> float:
    """Return the distance of two blanks, worked out plainly."""
    squares = [
        ((mm - other["means"][size][point]) / shop().tolerance[point]) ** 2
        for size, means in first["means"].items()
        for point, mm in means.items()
    ]
    return float(np.sqrt(np.mean(squares)))
