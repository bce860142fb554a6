"""The judging core against simulated truth, in short; the full table is made by one command."""

import json
from importlib.resources import files

import pytest

from blankbook.results import limits
from trials.__main__ import BAD, OUTSIDE
from trials.report import LEAST_CASES, NEAR, NEAR_SHARE, rows
from trials.scoring import BINS, SCALE, Tally, run
from trials.worlds import Plan, World

SEED, ROUNDS = 7, 300
PRINTED = json.loads((files("blankbook.pages.shop") / "trials.json").read_text())


@pytest.fixture(scope="module")
def everything() -> Tally:
    """Return the counts over rounds of every kind."""
    return run(SEED, ROUNDS)


def _error(share: float, cases: int) -> float:
    """Return four standard errors of a share; readings of one round hang together."""
    return float(8 * (share * (1 - share) / cases) ** 0.5)


@pytest.mark.parametrize("kind", ["size", "step", "washing"])
def test_limits_cover_the_truth_as_often_as_they_say(kind: str, everything: Tally) -> None:
    held = everything.share(f"{kind} limits held", f"{kind} limits")
    cases = everything.counts[f"{kind} limits"]
    assert cases > 500
    assert held == pytest.approx(0.95, abs=0.01 + _error(0.95, cases) / 2)


@pytest.mark.seldom(4)
@pytest.mark.parametrize("name", sorted(OUTSIDE))
def test_limits_bear_what_nobody_believed(name: str) -> None:
    """In each other world the limits of sizes miss at most nine times in a hundred."""
    plan = Plan(each=2, lots=("A", "B")) if "lots" in name else Plan()
    tally = run(SEED, 50, plan, OUTSIDE[name], "as_charted")
    missed = 1 - tally.share("size limits held", "size limits")
    assert missed <= 0.09 + _error(0.09, tally.counts["size limits"]) / 2


@pytest.mark.parametrize("kind", ["cause", "tag", "size", "step", "inside"])
def test_stated_chances_are_right_that_often(kind: str, everything: Tally) -> None:
    """Within a fifth of themselves, or of what is left to one, or 0.02, and the noise."""
    seen = 0
    for place in range(len(BINS) - 1):
        cases = everything.counts[f"{kind} bin {place}"]
        if cases >= LEAST_CASES:
            stated = everything.counts[f"{kind} bin {place} stated"] / cases / SCALE
            came = everything.counts[f"{kind} bin {place} came"] / cases / SCALE
            off = max(NEAR, NEAR_SHARE * min(stated, 1 - stated)) + _error(stated, cases) / 2
            assert came == pytest.approx(stated, abs=off), place
            seen += 1
    assert seen


@pytest.mark.seldom(3)
def test_sound_styles_are_approved_more_often_with_more_pieces() -> None:
    sound = World(spread=1.0)
    shares = []
    for plan in (Plan(colours=1), Plan(), Plan(each=2)):
        tally = run(SEED, 60, plan, sound, "as_charted")
        shares.append(tally.share("style sound approved", "style sound"))
    assert shares == sorted(shares)
    assert shares[1] >= 0.75
    assert shares[2] >= 0.95


@pytest.mark.seldom(3)
@pytest.mark.parametrize(("what", "most"), list(zip(BAD, (0.1, 0.01, 0.01), strict=True)))
def test_what_must_not_be_approved_seldom_is(what: str, most: float) -> None:
    tally = run(SEED, 120, Plan(), World(), what)
    approved = tally.counts["style sound approved"] + tally.counts["style unsound approved"]
    assert approved / 120 <= most + 3 * (most / 120) ** 0.5


@pytest.mark.seldom(3)
def test_a_core_that_is_too_sure_of_itself_is_caught(monkeypatch: pytest.MonkeyPatch) -> None:
    """Halved limits must show, or these tests prove nothing."""
    real = limits.t_quantile
    monkeypatch.setattr(limits, "t_quantile", lambda chance, freedom: real(chance, freedom) / 2)
    tally = run(SEED, 60)
    assert tally.share("size limits held", "size limits") < 0.90


@pytest.mark.seldom(3)
def test_the_same_seed_is_the_same_shop() -> None:
    assert run(SEED, 20).counts == run(SEED, 20).counts
    assert run(SEED + 1, 20).counts != run(SEED, 20).counts


@pytest.mark.seldom(3)
def test_rounds_can_be_counted_in_parts() -> None:
    """A process may take some of the rounds: the parts add up to the whole."""
    parts = run(SEED, 10).counts + run(SEED, 10, first=10).counts
    assert parts == run(SEED, 20).counts


def test_the_printed_table_says_what_it_rests_on() -> None:
    assert {"rounds", "each", "seed", "date", "rows"} <= PRINTED.keys()
    groups = {row["group"] for row in PRINTED["rows"]}
    assert any(group.startswith("one-sided 95 % limits") for group in groups)
    assert any(group.startswith("approved, though") for group in groups)


@pytest.mark.night
def test_the_printed_table_rests_on_many_rounds() -> None:
    """As many as tell each chance; a machine with time to spare makes them."""
    assert PRINTED["rounds"] >= 8_000
    assert PRINTED["each"] >= 400


def test_what_protects_the_shop_is_kept() -> None:
    """No row on what must not be approved, and none on limits as believed, says no."""
    guards = [
        row
        for row in PRINTED["rows"]
        if row["group"].startswith("approved, though") or row["what"].endswith("as believed")
    ]
    assert len(guards) > 10
    assert [row["what"] for row in guards if not row["held"]] == []


def test_limits_of_no_width_would_break_the_table(monkeypatch: pytest.MonkeyPatch) -> None:
    """A row that limits of zero width would also pass is no row."""
    monkeypatch.setattr(limits, "t_quantile", lambda _chance, _freedom: 0.0)
    tally = run(SEED, 30)
    kept = [
        row for row in rows(tally, {}, {}, {}) if row["group"].startswith("one-sided 95 % limits")
    ]
    assert kept
    assert not any(row["held"] for row in kept)


def test_the_table_tells_what_does_not_hold() -> None:
    """A promise that is not kept is printed as such."""
    tally = Tally()
    tally.counts.update({"size limits": 1000, "size limits held": 900})
    (first,) = [row for row in rows(tally, {}, {}, {}) if "size against chart, as" in row["what"]]
    assert (first["seen"], first["held"]) == (0.1, False)
