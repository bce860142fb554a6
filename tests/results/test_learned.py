"""What the ledger teaches: fitted as published, only from enough, calibrated where it is used."""

from collections.abc import Iterator
from dataclasses import replace
from math import inf

import numpy as np
import pytest
from scipy import special, stats

from blankbook.records.model import Blank, Piece, Prior, Shop
from blankbook.results.judge_blank import judge
from blankbook.results.learning.ledger_learning import (
    ENOUGH_BLANKS,
    blank_contribution,
    learn,
    learn_spread,
    learned_from_data,
    ledger_repeatability,
    rounded_to_grain,
)
from blankbook.results.make_case import make_case
from blankbook.results.methods.variance_prior import fit_prior, trigamma_inverse
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Learned
from made_blanks import blank, measured, piece, shop
from trials import shops, worlds


class TestFit:
    """Smyth 2004, section 6.2: the two constants from the logs of the sample variances."""

    @pytest.mark.parametrize("value", [0.01, 0.3, 1.0, 4.5, 60.0])
    def test_inverse_of_trigamma(self, value: float) -> None:
        """Held against scipy's polygamma."""
        assert trigamma_inverse(float(special.polygamma(1, value))) == pytest.approx(value, 1e-8)

    def test_constants_solve_the_equations(self) -> None:
        """With equal freedom, the mean and the variance of log F are those of the samples."""
        squares = [1.1, 4.0, 2.2, 9.5, 0.4, 3.3, 2.0, 7.1]
        square, worth = fit_prior([(square, 3) for square in squares])
        logs = np.log(squares)
        mean = np.log(square) + special.psi(1.5) - np.log(1.5)
        mean -= special.psi(worth / 2) - np.log(worth / 2)
        assert mean == pytest.approx(logs.mean())
        variance = special.polygamma(1, 1.5) + special.polygamma(1, worth / 2)
        assert variance == pytest.approx(logs.var(ddof=1))

    def test_finds_what_was_drawn(self) -> None:
        """Of 4,000 samples of a scaled F variable, drawn by scipy."""
        drawn = 9.0 * stats.f.rvs(3, 8, size=4000, random_state=20261125)
        square, worth = fit_prior([(float(square), 3) for square in drawn])
        assert square == pytest.approx(9.0, rel=0.05)
        assert worth == pytest.approx(8.0, rel=0.15)

    def test_samples_that_agree_are_worth_without_end(self) -> None:
        square, worth = fit_prior([(2.0, 4), (2.1, 4), (1.9, 4)])
        assert worth == inf
        assert square == pytest.approx(2.0)


def style(place: int, *chests: str) -> Blank:
    """Return a blank with pieces of one size, as many as there are readings."""
    pieces: list[Piece] = [piece(f"M-{n}", "M", half_chest=text) for n, text in enumerate(chests)]
    tee = blank(measured(*pieces))
    return replace(tee, style=replace(tee.style, key=f"a/{place}"))


def taught(blanks: list[Blank]) -> Learned:
    """Return what these blanks teach."""
    given = {blank.style.key: blank_contribution(blank, shop()) for blank in blanks}
    return learned_from_data(learn(given, shop())[blanks[0].style.key])


FIVE = ("20", "20 1/4", "19 7/8", "20 1/8", "20")


class TestEnough:
    """The shop's assumption holds until the ledger has enough, and the spread says which."""

    def test_too_few_blanks_teach_nothing(self) -> None:
        blanks = [style(place, *FIVE, *FIVE) for place in range(ENOUGH_BLANKS - 1)]
        assert taught(blanks).spread == {}
        case = make_case(blanks[0], shop(), taught(blanks))
        assert case.spreads["half_chest"].origin == "shop"

    def test_enough_blanks_replace_the_assumption(self) -> None:
        blanks = [style(place, *FIVE) for place in range(ENOUGH_BLANKS)]
        learned = taught(blanks)
        assert set(learned.spread) == {"half_chest"}
        case = make_case(blanks[0], shop(), learned)
        spread = case.spreads["half_chest"]
        assert spread.origin == "ledger"
        assert case.spreads["body_length"].origin == "shop"
        within = float(np.var([0, 0.25, -0.125, 0.125, 0], ddof=1) * 25.4**2)
        assert spread.deviation == pytest.approx(within**0.5, rel=0.06)

    def test_single_pieces_teach_nothing(self) -> None:
        assert taught([style(place, "20") for place in range(50)]).spread == {}

    def test_wrong_tag_teaches_nothing(self) -> None:
        """A group that no spread explains is left out, so the others say what they would."""
        blanks = [style(place, *FIVE) for place in range(ENOUGH_BLANKS + 1)]
        wrong = [*blanks[:-1], style(ENOUGH_BLANKS, "20", "22", "20", "22", "20")]
        assert taught(wrong).spread == taught(blanks).spread

    def test_pieces_that_all_read_alike_differ_by_what_the_tape_cannot_see(self) -> None:
        blanks = [style(place, *["20"] * 5) for place in range(ENOUGH_BLANKS)]
        learned = taught(blanks).spread["half_chest"]
        assert 0 < learned.deviation < 25.4 / 8 / 12**0.5

    def test_small_edit_teaches_the_same(self) -> None:
        """One reading a mark off in forty does not move what every blank is judged by."""
        blanks = [style(place, *FIVE) for place in range(ENOUGH_BLANKS * 5)]
        edited = [*blanks[:-1], style(ENOUGH_BLANKS * 5 - 1, *FIVE[:-1], "20 1/8")]
        assert taught(edited).spread == taught(blanks).spread

    @pytest.mark.parametrize("deviation", [0.3, 1.0, 3.17, 12.0])
    def test_grain_is_fine_enough(self, deviation: float) -> None:
        assert rounded_to_grain(deviation) == pytest.approx(deviation, rel=0.026)


class TestHand:
    """Repeat readings are pooled over the whole ledger."""

    def test_repeats_of_every_blank_count(self) -> None:
        """Ten pairs that differ by one mark: their variance is half its square."""
        pairs = [blank(measured(piece("M-1", "M", half_chest=["20", "20 1/8"]))) for _ in range(10)]
        given = {str(place): blank_contribution(blank, shop()) for place, blank in enumerate(pairs)}
        hand, freedom = ledger_repeatability(given, shop(), ())
        assumed = shop().repeatability
        seen = (25.4 / 8) ** 2 / 2
        whole = (assumed.worth * assumed.deviation**2 + 10 * seen) / (assumed.worth + 10)
        assert freedom == 10
        assert hand.deviation == pytest.approx(whole**0.5)

    def test_hand_of_the_ledger_counts_in_every_blank(self) -> None:
        tee = blank(measured(piece("M-1", "M", half_chest="20")))
        steady = judge(tee, shop(), Learned(hand=Prior(0.2, 20)))
        shaky = judge(tee, shop(), Learned(hand=Prior(4.0, 20)))
        narrow, wide = (
            judged.of("piece_against_chart")[0].number(Quantity.OFF_THE_CHART)
            for judged in (steady, shaky)
        )
        assert narrow is not None
        assert narrow.high is not None
        assert wide is not None
        assert wide.high is not None
        assert wide.high - wide.value > 3 * (narrow.high - narrow.value)


def drawn(seed: int, count: int) -> Iterator[tuple[Blank, worlds.Truth]]:
    """Yield simulated styles of sound cut, two pieces of each size and colour."""
    plan = worlds.Plan(each=2, colours=2)
    for place in range(count):
        world = worlds.World(cut=0.25, lots=0.0)
        rng = np.random.default_rng((seed, place))
        blank, truth = shops.simulate(rng, plan, world, "as_charted")
        yield replace(blank, style=replace(blank.style, key=f"a/{place}")), truth


@pytest.mark.seldom(4)
def test_limits_on_a_learned_spread_cover_the_truth() -> None:
    """The shop guesses half the true spread; the ledger of 200 styles finds it, and limits hold.

    Each limit of the size against the chart covers the truth in 94 to 96 of 100, to two standard
    errors of 200 styles with three points each.
    """
    pairs = list(drawn(20261125, 200))
    own = shops.shop()
    wrong = replace(
        own, spread={p: Prior(prior.deviation / 2, 30) for p, prior in own.spread.items()}
    )
    given = {blank.style.key: blank_contribution(blank, wrong) for blank, _ in pairs}
    learned = learned_from_data(learn(given, wrong)["a/0"])
    assert set(worlds.POINTS) == set(learned.spread)
    shares = [_covered(pairs, wrong, taught) for taught in (learned, Learned())]
    error = (0.95 * 0.05 / (200 * 3)) ** 0.5
    assert 0.94 - 2 * error <= shares[0] <= 0.96 + 2 * error
    assert shares[1] < shares[0] - 0.02


def _covered(pairs: list[tuple[Blank, worlds.Truth]], own: Shop, learned: Learned) -> float:
    held = total = 0
    for tee, truth in pairs:
        for result in judge(tee, own, learned).of("size_against_chart"):
            off = result.number(Quantity.OFF_THE_CHART)
            if off and off.low is not None and off.high is not None:
                true = truth.off(("A",), result.size, result.point)
                held += (off.low <= true) + (true <= off.high)
                total += 2
    return held / total


def test_learned_spread_is_near_the_drawn_one() -> None:
    """What 150 simulated styles teach is what they were drawn with (deviation, 6 of freedom)."""
    given = {blank.style.key: blank_contribution(blank, shop()) for blank, _ in drawn(7, 150)}
    own = shops.shop()
    hand = own.repeatability
    for point in worlds.POINTS:
        learned = learn_spread(given, point, hand)
        assert learned
        assert learned.deviation == pytest.approx(own.spread[point].deviation, rel=0.15)
        assert 3 <= learned.worth <= 15
