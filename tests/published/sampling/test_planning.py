"""What n pieces can show, against noncentral t, power functions and the judge itself."""

import math
import random
from collections.abc import Iterator
from dataclasses import replace

import pytest
from scipy import integrate, stats
from statsmodels.stats.power import TTestIndPower, TTestPower

from blankbook.results.checks import grade_steps, size_against_chart
from blankbook.results.judge_blank import make_case
from blankbook.results.methods import power_statements, purchase_power
from blankbook.results.methods.planning_grid import KnownSpread, PieceCounts
from blankbook.results.methods.power_statements import Required
from blankbook.results.result_types import Case
from blankbook.words.answers import Answer
from made_blanks import blank, measured, piece, shop

pytestmark = pytest.mark.published

STEP = 50.8
TOLERANCE = 12.7
RISK = 0.05
NOTHING = KnownSpread(0.0, 0.0)
"""No assumption: the limits rest on the purchase alone."""


class TestNothingAssumed:
    """With a true deviation given and nothing assumed, the rule is the textbook's t test."""

    @pytest.mark.parametrize("each", [2, 3, 5, 12])
    @pytest.mark.parametrize("deviation", [3.0, 8.0, 25.0])
    def test_missing_step_is_noncentral_t(self, each: int, deviation: float) -> None:
        """scipy.stats.nct, on the freedom of two sizes."""
        ours = purchase_power.chance_missing_step(
            NOTHING, PieceCounts(2, each), STEP, RISK, deviation
        )
        freedom = 2 * (each - 1)
        off = -STEP / 2 / (deviation * math.sqrt(2 / each))
        want = stats.nct.cdf(-stats.t.ppf(1 - RISK, freedom), freedom, off)
        assert ours == pytest.approx(want, abs=1e-8)

    @pytest.mark.parametrize("each", [2, 4, 9])
    @pytest.mark.parametrize("deviation", [5.0, 12.0, 30.0])
    def test_missing_step_against_statsmodels(self, each: int, deviation: float) -> None:
        """TTestIndPower: two groups of the same size, one-sided."""
        ours = purchase_power.chance_missing_step(
            NOTHING, PieceCounts(2, each), STEP, RISK, deviation
        )
        want = TTestIndPower().power(STEP / 2 / deviation, each, RISK, alternative="larger")
        assert ours == pytest.approx(want, abs=1e-8)

    @pytest.mark.parametrize("each", [2, 3, 6, 20])
    @pytest.mark.parametrize("deviation", [4.0, 9.0])
    def test_half_size_against_statsmodels(self, each: int, deviation: float) -> None:
        """TTestPower: one group, one-sided; the far side of the tolerance adds next to nothing."""
        buy = PieceCounts(1, each)
        ours = purchase_power.chance_fails(
            NOTHING, buy, TOLERANCE, RISK, STEP / 2, true_deviation=deviation
        )
        effect = (STEP / 2 - TOLERANCE) / deviation
        want = TTestPower().power(effect, each, RISK, alternative="larger")
        far = stats.norm.cdf(-(STEP / 2 + TOLERANCE) / deviation * math.sqrt(each))
        assert ours == pytest.approx(want, abs=1e-6 + far)

    @pytest.mark.parametrize("off", [0.0, 5.0, 12.7, 20.0])
    @pytest.mark.parametrize("each", [2, 5, 10])
    def test_meets_is_the_power_of_two_one_sided_tests(self, each: int, off: float) -> None:
        """Schuirmann 1987: P(both tests reject), integrated by scipy over the chi distribution."""
        deviation, freedom = 6.0, each - 1
        error, wide = deviation / math.sqrt(each), float(stats.t.ppf(1 - RISK, freedom))

        def given(chi: float) -> float:
            room = TOLERANCE - wide * error * chi / math.sqrt(freedom)
            inside = stats.norm.cdf(room, off, error) - stats.norm.cdf(-room, off, error)
            return max(float(inside), 0.0) * float(stats.chi.pdf(chi, freedom))

        most = TOLERANCE / wide / error * math.sqrt(freedom)  # wider limits never fit
        want, _ = integrate.quad(given, 0, most, epsabs=1e-10)
        buy = PieceCounts(1, each)
        ours = purchase_power.chance_meets(
            NOTHING, buy, TOLERANCE, RISK, off, true_deviation=deviation
        )
        near = {1: 1e-3, 4: 1e-4, 9: 1e-6}[freedom]  # as the module promises
        assert ours == pytest.approx(want, abs=near)

    def test_one_piece_alone_shows_nothing(self) -> None:
        """No assumption and no second piece: there is no spread, and so there are no limits."""
        buy = PieceCounts(2, 1)
        assert purchase_power.chance_missing_step(NOTHING, buy, STEP, RISK, 5.0) == 0
        assert purchase_power.chance_meets(NOTHING, buy, TOLERANCE, RISK, true_deviation=5.0) == 0

    def test_spread_must_come_from_somewhere(self) -> None:
        with pytest.raises(ValueError, match="must know the spread"):
            purchase_power.chance_missing_step(NOTHING, PieceCounts(2, 3), STEP, RISK)


class TestAssumedSpread:
    """With a spread on so many degrees of freedom, which is what a shop has."""

    @pytest.mark.parametrize("freedom", [1.0, 4.0, 6.0, 40.0, 900.0])
    @pytest.mark.parametrize("deviation", [3.0, 8.0])
    def test_one_piece_each_is_student(self, freedom: float, deviation: float) -> None:
        """No new freedom, so the distance over its error is Student's t on what is assumed."""
        known = KnownSpread(deviation, freedom)
        ours = purchase_power.chance_missing_step(known, PieceCounts(3, 1), STEP, RISK)
        scaled = STEP / 2 / (deviation * math.sqrt(2))
        want = stats.t.cdf(scaled - stats.t.ppf(1 - RISK, freedom), freedom)
        assert ours == pytest.approx(want, abs=1e-6)

    @pytest.mark.parametrize("each", [1, 2, 7])
    def test_certain_spread_is_normal(self, each: int) -> None:
        """The z test: scipy.stats.norm; a very large freedom comes to the same."""
        scaled = STEP / 2 / (9.0 * math.sqrt(2 / each))
        want = stats.norm.cdf(scaled - stats.norm.ppf(1 - RISK))
        for freedom, near in ((math.inf, 1e-12), (1e7, 1e-6)):
            ours = purchase_power.chance_missing_step(
                KnownSpread(9.0, freedom), PieceCounts(2, each), STEP, RISK
            )
            assert ours == pytest.approx(want, abs=near)

    @pytest.mark.parametrize(("each", "colours"), [(2, 1), (2, 2), (4, 1)])
    def test_moderated_spread(self, each: int, colours: int) -> None:
        """Smyth 2004: given the squares, t on all the freedom; the squares are a beta mixture."""
        deviation, assumed, buy = 8.0, 6.0, PieceCounts(3, each, colours)
        freedom = assumed + buy.freedom

        def given(part: float) -> float:
            error = deviation * math.sqrt(assumed / freedom / part * 2 / buy.per_size)
            shown = stats.t.cdf(STEP / 2 / error - stats.t.ppf(1 - RISK, freedom), freedom)
            return float(shown * stats.beta.pdf(part, assumed / 2, buy.freedom / 2))

        want, _ = integrate.quad(given, 0, 1, epsabs=1e-11)
        ours = purchase_power.chance_missing_step(KnownSpread(deviation, assumed), buy, STEP, RISK)
        assert ours == pytest.approx(want, abs=1e-8)

    @pytest.mark.parametrize("buy", [PieceCounts(3, 1), PieceCounts(3, 2, 2), PieceCounts(2, 6)])
    @pytest.mark.parametrize("risk", [0.01, 0.05, 0.10])
    def test_at_the_border_the_wrong_answer_has_the_stated_risk(
        self, buy: PieceCounts, risk: float
    ) -> None:
        """A step of just half is called missing, a size on its tolerance failing, that often."""
        known = KnownSpread(2.0, 6.0)
        assert purchase_power.chance_missing_step(known, buy, 0.0, risk) == pytest.approx(
            risk, abs=1e-9
        )
        fails = purchase_power.chance_fails(known, buy, 200.0, risk, off=200.0)
        meets = purchase_power.chance_meets(known, buy, 200.0, risk, off=200.0)
        assert (fails, meets) == pytest.approx((risk, risk), abs=1e-6)

    def test_sizes_together(self) -> None:
        """With a certain spread the sizes are independent, and otherwise they go together."""
        sure, unsure, buy = KnownSpread(9.0, math.inf), KnownSpread(9.0, 4.0), PieceCounts(3, 2)
        single = purchase_power.chance_fails(sure, buy, TOLERANCE, RISK, 20.0)
        three = purchase_power.chance_fails(sure, buy, TOLERANCE, RISK, 20.0, in_sizes=3)
        assert three == pytest.approx(1 - (1 - single) ** 3)
        single = purchase_power.chance_meets(unsure, buy, 30.0, RISK)
        three = purchase_power.chance_meets(unsure, buy, 30.0, RISK, in_sizes=3)
        assert single**3 < three < single

    @pytest.mark.parametrize("deviation", [2.0, 5.0, 9.0])
    def test_more_pieces_never_show_less(self, deviation: float) -> None:
        known = KnownSpread(deviation, 6.0)
        chances = [
            (
                purchase_power.chance_missing_step(known, PieceCounts(3, each), STEP, RISK),
                purchase_power.chance_fails(known, PieceCounts(3, each), TOLERANCE, RISK, STEP / 2),
                purchase_power.chance_meets(known, PieceCounts(3, each), TOLERANCE, RISK),
                purchase_power.chance_step_true(known, PieceCounts(3, each), TOLERANCE, RISK),
            )
            for each in range(1, 15)
        ]
        for question in zip(*chances, strict=True):
            assert list(question) == sorted(question)

    def test_large_and_small_are_alike(self) -> None:
        known, buy = KnownSpread(6.0, 6.0), PieceCounts(3, 2)
        large = purchase_power.chance_fails(known, buy, TOLERANCE, RISK, 20.0)
        assert purchase_power.chance_fails(known, buy, TOLERANCE, RISK, -20.0) == pytest.approx(
            large
        )


class TestWrongLabels:
    """At least one wrong label among the pieces."""

    @pytest.mark.parametrize("share", [0.01, 0.05, 0.3])
    @pytest.mark.parametrize("pieces", [1, 3, 12, 72])
    def test_binomial(self, pieces: int, share: float) -> None:
        ours = purchase_power.chance_wrong_label(pieces, share)
        assert ours == pytest.approx(stats.binom.sf(0, pieces, share))


class TestFewest:
    """The smallest number for a wanted chance."""

    def test_against_statsmodels(self) -> None:
        """solve_power gives the fraction of a piece; the next whole one is the answer."""
        solved = TTestIndPower().solve_power(
            STEP / 2 / 15.0, power=0.90, alpha=RISK, alternative="larger"
        )
        found = purchase_power.fewest_pieces(
            lambda each: purchase_power.chance_missing_step(
                NOTHING, PieceCounts(2, each), STEP, RISK, true_deviation=15.0
            ),
            0.90,
        )
        assert found == math.ceil(solved)

    @pytest.mark.parametrize("wanted", [0.05, 0.5, 0.9, 0.999])
    @pytest.mark.parametrize("deviation", [3.0, 7.0, 14.0])
    def test_no_smaller_count_would_do(self, deviation: float, wanted: float) -> None:
        """Found by halving; here every count from one on is tried."""
        known = KnownSpread(deviation, 6.0)

        def chance(each: int) -> float:
            return purchase_power.chance_meets(
                known, PieceCounts(3, each), TOLERANCE, RISK, in_sizes=3
            )

        tried = (
            each for each in range(1, purchase_power.MOST_PIECES + 1) if chance(each) >= wanted
        )
        assert purchase_power.fewest_pieces(chance, wanted) == next(tried, None)

    def test_none_above_the_cap(self) -> None:
        """A spread as wide as the step itself is settled by no purchase that a shop makes."""
        known = KnownSpread(STEP, 6.0)

        def chance(each: int) -> float:
            return purchase_power.chance_step_true(known, PieceCounts(3, each), TOLERANCE, RISK)

        assert purchase_power.fewest_pieces(chance, 0.90) is None


ROUNDS = 2500
INCHES = {"S": 18.0, "M": 20.0, "L": 22.0}


def simulated(seed: int, truth: dict[str, float], buy: PieceCounts) -> Iterator[Case]:
    """Yield cases whose true spread is drawn from what the shop assumes, seeded.

    *truth* is the half chest by size, inches, against a chart of 18, 20 and 22.
    """
    rng = random.Random(seed)
    assumed = assumed_spread()
    colours = ("black", "white", "red")[: buy.colours]
    for _ in range(ROUNDS):
        square = rng.gammavariate(assumed.freedom / 2, 2)
        deviation = assumed.deviation * math.sqrt(assumed.freedom / square)
        pieces = [
            replace(piece(f"{size}-{colour}-{i}", size, half_chest=f"{cut:.4f}"), colour=colour)
            for size, true in truth.items()
            for colour in colours
            for i in range(buy.each)
            for cut in [rng.gauss(true, deviation / 25.4)]
        ]
        yield make_case(blank(measured(*pieces)), shop())


def assumed_spread() -> KnownSpread:
    """Return the spread at the half chest before any piece is measured."""
    spread = make_case(blank(), shop()).spreads["half_chest"]
    return KnownSpread(spread.deviation, spread.freedom)


def near(chance: float) -> float:
    """Return four standard errors of a share counted over the simulated rounds.

    Room of 0.003 is left for groups that the judge sets aside as strangers: 1 in 1000 of each.
    """
    return 4 * math.sqrt(chance * (1 - chance) / ROUNDS) + 0.003


class TestAgainstTheJudge:
    """The planned chance is how often the checks of the program really answer so."""

    @pytest.mark.parametrize("buy", [PieceCounts(3, 1), PieceCounts(2, 3), PieceCounts(3, 3, 2)])
    def test_freedom_that_the_pieces_add(self, buy: PieceCounts) -> None:
        """The judge pools within size and colour, and so does the plan."""
        sizes = dict(list(INCHES.items())[: buy.sizes])
        case = next(simulated(8, sizes, buy))
        assert sum(len(round_.pieces) for round_ in case.blank.rounds) == buy.pieces
        added = case.spreads["half_chest"].freedom - assumed_spread().freedom
        assert added == pytest.approx(buy.freedom)

    @pytest.mark.parametrize(
        ("seed", "buy"), [(1, PieceCounts(3, 1)), (2, PieceCounts(3, 2)), (3, PieceCounts(3, 2, 2))]
    )
    def test_missing_step(self, seed: int, buy: PieceCounts) -> None:
        """M and L are cut alike; 2 in lie between them on the chart."""
        shown = sum(
            result.word in {"collapsed", "reversed"}
            for case in simulated(seed, {**INCHES, "L": 20.0}, buy)
            for result in grade_steps.judge(case)
            if (result.size, result.point) == ("M", "half_chest")
        )
        want = purchase_power.chance_missing_step(assumed_spread(), buy, STEP, RISK)
        assert shown / ROUNDS == pytest.approx(want, abs=near(want))

    @pytest.mark.parametrize(("seed", "buy"), [(4, PieceCounts(3, 1)), (5, PieceCounts(3, 2))])
    def test_half_a_size_large(self, seed: int, buy: PieceCounts) -> None:
        """Every size is 1 in over the chart, and the tolerance is 1/2 in."""
        answers = [
            [r.answer for r in size_against_chart.judge(case) if r.point == "half_chest"]
            for case in simulated(seed, {size: cut + 1 for size, cut in INCHES.items()}, buy)
        ]
        single = sum(found[0] == Answer.FAILS for found in answers) / ROUNDS
        some = sum(Answer.FAILS in found for found in answers) / ROUNDS
        known = assumed_spread()
        want = purchase_power.chance_fails(known, buy, TOLERANCE, RISK, STEP / 2)
        assert single == pytest.approx(want, abs=near(want))
        want = purchase_power.chance_fails(known, buy, TOLERANCE, RISK, STEP / 2, in_sizes=3)
        assert some == pytest.approx(want, abs=near(want))

    @pytest.mark.parametrize(("seed", "buy"), [(6, PieceCounts(3, 2)), (7, PieceCounts(3, 3))])
    def test_sound_style(self, seed: int, buy: PieceCounts) -> None:
        """Every size is just as charted."""
        meets = true = 0
        for case in simulated(seed, INCHES, buy):
            sizes = [r for r in size_against_chart.judge(case) if r.point == "half_chest"]
            meets += sum(r.answer == Answer.MEETS for r in sizes) == 3
            true += grade_steps.judge(case)[0].word == "true"
        known = assumed_spread()
        want = purchase_power.chance_meets(known, buy, TOLERANCE, RISK, in_sizes=3)
        assert meets / ROUNDS == pytest.approx(want, abs=near(want))
        want = purchase_power.chance_step_true(known, buy, TOLERANCE, RISK)
        assert true / ROUNDS == pytest.approx(want, abs=near(want))


class TestSentences:
    """As a shop says it; the numbers are those of the chances above."""

    KNOWN = KnownSpread(5.4, 6.0)
    CHEST = Required("half chest", STEP, TOLERANCE, TOLERANCE)

    def said(self, key: str, buy: PieceCounts, asked: Required = CHEST) -> str:
        found = power_statements.power_statements(self.KNOWN, buy, asked, RISK, "in")
        return next(statement.sentence for statement in found if statement.key == key)

    def test_missing_step(self) -> None:
        chance = purchase_power.chance_missing_step(self.KNOWN, PieceCounts(3, 1), STEP, RISK)
        assert self.said("missing_step", PieceCounts(3, 1)) == (
            "with 1 piece of each size, a half chest step of 2 in that is missing is shown to be "
            f"missing {chance * 100:.0f} times in 100; it takes 2 pieces of each size for 90 times "
            "in 100"
        )

    def test_just_enough(self) -> None:
        """Two of each size are what 90 times in 100 takes, and two are bought."""
        assert self.said("missing_step", PieceCounts(3, 2)).endswith(
            "; 2 pieces of each size would be enough for 90 times in 100"
        )

    def test_half_size_in_two_colours(self) -> None:
        assert self.said("half_size", PieceCounts(3, 2, 2)) == (
            "with 2 pieces of each size in each of 2 colours, a style that runs half a size large "
            "(1 in at the half chest) is shown to fail in at least one size over 99 times in 100; "
            "1 piece of each size in each of 2 colours would be enough for 90 times in 100"
        )

    def test_half_size_inside_the_tolerance(self) -> None:
        """No purchase can show what the tolerance allows."""
        length = Required("body length", 25.4, TOLERANCE, TOLERANCE)
        assert self.said("half_size", PieceCounts(3, 2), length) == (
            "a style that runs half a size large (1/2 in at the body length) is inside the 1/2 in "
            "tolerance: no number of pieces can show it to fail"
        )

    def test_sound_style_that_nothing_shows(self) -> None:
        """A tolerance under the spread of the pieces takes more than a shop buys."""
        tight = Required("neck width", 0.0, 1.0, 1.0)
        found = power_statements.power_statements(self.KNOWN, PieceCounts(3, 1), tight, RISK, "cm")
        assert [statement.key for statement in found] == ["sound"]
        assert found[0].enough is None
        assert found[0].sentence == (
            "with 1 piece of each size, a style just as charted is shown to meet at the neck "
            "width, in all 3 sizes, less than once in 100; even 50 pieces of each size would not "
            "bring it to 90 times in 100"
        )

    def test_fewest_is_for_the_same_colours(self) -> None:
        """The fewest pieces reach the wanted chance, and one less does not."""
        found = power_statements.power_statements(
            self.KNOWN, PieceCounts(3, 1, 2), self.CHEST, RISK, "in"
        )
        true = next(statement for statement in found if statement.key == "true_step")
        assert true.enough is not None

        def chance(each: int) -> float:
            return purchase_power.chance_step_true(
                self.KNOWN, PieceCounts(3, each, 2), TOLERANCE, RISK
            )

        assert chance(true.enough) >= 0.9 > chance(true.enough - 1)

    def test_wrong_labels(self) -> None:
        """1 - 0.9^12 is 0.718."""
        assert power_statements.wrong_label_statement(12, 0.10).sentence == (
            "12 pieces hold at least one wrong label 72 times in 100 where 10 % are wrong; it "
            "takes 22 pieces for 90 times in 100"
        )

    @pytest.mark.parametrize("chance", [0.0, 1e-9, 0.0099, 0.01, 0.5, 0.99, 0.9901, 1.0])
    def test_never_always_and_never_never(self, chance: float) -> None:
        said = power_statements.say_times(chance)
        assert "100 times" not in said
        assert not said.startswith("0 ")
