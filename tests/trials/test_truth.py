"""The judging core against simulated truth, in short; the full table is made by one command."""

import json
from importlib.resources import files

import pytest

from blankbook.results import limits
from trials.plans import Plan
from trials.report import rows
from trials.scoring import Tally, run

SEED, ROUNDS = 7, 400


@pytest.fixture(scope="module")
def everything() -> Tally:
    """Return the counts over rounds of every kind."""
    return run(SEED, ROUNDS, Plan())


def _error(share: float, cases: int) -> float:
    """Return eight standard errors of a share: readings of one round hang together."""
    return float(8 * (share * (1 - share) / cases) ** 0.5)


@pytest.mark.parametrize("kind", ["size", "step", "washing"])
def test_limits_cover_the_truth_as_often_as_they_say(kind: str, everything: Tally) -> None:
    held = everything.share(f"{kind} limits held", f"{kind} limits")
    cases = everything.counts[f"{kind} limits"]
    assert cases > 500
    assert held == pytest.approx(0.95, abs=0.01 + _error(0.95, cases) / 4)


@pytest.mark.parametrize("kind", ["size", "step", "washing"])
@pytest.mark.parametrize(("state", "answer"), [("sound", "fails"), ("unsound", "meets")])
def test_a_wrong_answer_is_rarer_than_the_stated_risk(
    kind: str, state: str, answer: str, everything: Tally
) -> None:
    whole = f"{kind} {state}"
    assert everything.counts[whole] > 20
    assert everything.share(f"{whole} {answer}", whole) <= 0.05


@pytest.mark.parametrize("kind", ["label", "cause"])
def test_stated_chances_are_right_that_often(kind: str, everything: Tally) -> None:
    seen = 0
    for tenth in range(10):
        cases = everything.counts[f"{kind} tenth {tenth}"]
        if cases >= 100:
            stated = everything.counts[f"{kind} tenth {tenth} stated"] / cases / 1e6
            right = everything.share(f"{kind} tenth {tenth} right", f"{kind} tenth {tenth}")
            assert right == pytest.approx(stated, abs=0.03 + _error(stated, cases) / 4)
            seen += 1
    assert seen


def test_a_missing_step_across_the_chest_is_found() -> None:
    """With one piece of each size: at least 90 in 100, by its limits alone."""
    plan = Plan(cause="not_graded", point="half_chest", whole_step=True)
    tally = run(SEED, 150, plan)
    assert tally.counts["missing half_chest ranked"] == 150
    assert tally.share("missing half_chest shown", "missing half_chest ranked") >= 0.90


def test_with_two_pieces_it_is_found_nearly_always() -> None:
    plan = Plan(each=1, colours=2, cause="not_graded", point="half_chest", whole_step=True)
    tally = run(SEED, 100, plan)
    assert tally.share("missing half_chest shown", "missing half_chest ranked") >= 0.97
    assert tally.share("missing half_chest first", "missing half_chest ranked") >= 0.90


def test_a_core_that_is_too_sure_of_itself_is_caught(monkeypatch: pytest.MonkeyPatch) -> None:
    """Halved limits must show, or these tests prove nothing."""
    real = limits.t_quantile
    monkeypatch.setattr(limits, "t_quantile", lambda chance, freedom: real(chance, freedom) / 2)
    tally = run(SEED, 100, Plan())
    assert tally.share("size limits held", "size limits") < 0.90


def test_the_same_seed_is_the_same_shop() -> None:
    assert run(SEED, 20, Plan()).counts == run(SEED, 20, Plan()).counts
    assert run(SEED + 1, 20, Plan()).counts != run(SEED, 20, Plan()).counts


def test_rounds_can_be_counted_in_parts() -> None:
    """A process may take some of the rounds: the parts add up to the whole."""
    parts = run(SEED, 10, Plan()).counts + run(SEED, 10, Plan(), first=10).counts
    assert parts == run(SEED, 20, Plan()).counts


def test_the_printed_table_says_what_it_rests_on() -> None:
    table = json.loads((files("blankbook.pages.shop") / "trials.json").read_text())
    assert table["rounds"] >= 10_000
    assert {"seed", "date", "rows"} <= table.keys()
    promised = [row for row in table["rows"] if row["group"].startswith(("95 %", "wrongly"))]
    assert promised
    assert all(row["held"] for row in promised)


def test_what_is_not_found_often_enough_says_how_often_it_could_have_been() -> None:
    """Every broken promise about a missing step has a reason; what is kept needs none."""
    table = json.loads((files("blankbook.pages.shop") / "trials.json").read_text())
    missing = [row for row in table["rows"] if row["group"].startswith("missing step")]
    assert {row["held"] for row in missing} == {True, False, None}
    for row in missing:
        assert bool(row["why"]) == (row["held"] is False), row["what"]
    for row in missing:
        if row["what"].endswith("is shown to fail"):
            assert row["bound"] + 4 * (0.25 / row["cases"]) ** 0.5 > row["seen"], row["what"]
            least = float(row["promise"].removeprefix("at least "))
            out_of_reach = row["why"].startswith("no method reaches this")
            assert out_of_reach == (row["bound"] < least), row["what"]


def test_told_the_spread_no_cause_is_ranked_worse(everything: Tally) -> None:
    """Over all causes as common as believed, the rule of Bayes with the true spread is the best."""
    told, first = everything.counts["cause first when told"], everything.counts["cause first"]
    assert first <= told + 2 * ROUNDS**0.5 * 0.25
    assert first > 0.8 * everything.counts["cause ranked"]


def test_the_table_tells_what_does_not_hold() -> None:
    """A promise that is not kept is printed as such."""
    tally = Tally()
    tally.counts.update({"size limits": 1000, "size limits held": 900})
    first = rows(tally, [])[0]
    assert (first["seen"], first["held"]) == (0.9, False)
