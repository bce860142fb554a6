"""One delivery: what is bad in it, what its plan says, and what it is compared with."""

import datetime
from dataclasses import replace

import pytest
from scipy import stats

from blankbook.records.model import Blank, Decision, Delivery, Flaw, Piece, Source, Tape
from blankbook.records.model.shop_defaults import INSPECTION
from blankbook.results.checks.delivery import delivery_results, operating_characteristic
from blankbook.results.deliveries.inspection import bad_pieces, inspection_result
from blankbook.results.judge_blank import judge
from blankbook.results.make_case import make_case
from blankbook.results.methods.equivalence import MoveAnswer
from blankbook.results.methods.sampling_plans import Outcome, single_plan
from blankbook.results.methods.sampling_tables import Severity
from blankbook.results.quantities import Quantity
from blankbook.words.answers import Advice, Answer
from made_blanks import EIGHTH, blank, measured, piece, shop, single_result
from made_deliveries import delivery_file, judge_all, shop_with
from support import LedgerMaker, Program

N, T, R, S = Severity
APPROVED = Decision("approved", datetime.date(2026, 1, 21), "rv")


def delivery(*pieces: Piece, flaws: tuple[Flaw, ...] = (), tape: Tape = EIGHTH) -> Delivery:
    """Return a delivery of 174 pieces with 32 looked at: up to 2 bad are accepted."""
    return Delivery(
        Source("d.yaml"),
        "2026-03-02-a-delivery",
        "a/b",
        datetime.date(2026, 3, 2),
        "rv",
        "B",
        {"S": 24, "M": 60, "L": 60, "XL": 30},
        32,
        tape=tape,
        pieces=pieces,
        flaws=flaws,
    )


def with_delivery(*pieces: Piece, flaws: tuple[Flaw, ...] = ()) -> Blank:
    """Return a blank with an approved round as charted, and a delivery."""
    as_charted = [
        piece(f"{size}-{n}", size, half_chest=str(18 + 2 * i), body_length=str(28 + i))
        for i, size in enumerate(("S", "M", "L", "XL"))
        for n in range(2)
    ]
    first = replace(measured(*as_charted), decision=APPROVED)
    return replace(blank(first), deliveries=(delivery(*pieces, flaws=flaws),))


class TestBadPieces:
    """A piece is bad by a written fault or by the tape, and is counted once."""

    def test_a_piece_that_is_bad_twice_counts_once(self) -> None:
        """Outside at two points, and with a fault that names it: one bad piece."""
        blank = with_delivery(
            piece("M-1", "M", half_chest="22", body_length="31"),
            flaws=(Flaw("M", "wrong_label", piece="M-1"),),
        )
        found = bad_pieces(blank, blank.deliveries[0], shop())
        assert found.count == 1
        assert {outside.point for outside in found.outside} == {"half_chest", "body_length"}

    def test_faults_of_unmeasured_pieces_add_up(self) -> None:
        blank = with_delivery(
            piece("M-1", "M", half_chest="22"),
            flaws=(Flaw("L", "hole", count=2), Flaw("S", "stain")),
        )
        assert bad_pieces(blank, blank.deliveries[0], shop()).count == 4

    @pytest.mark.parametrize(("reading", "bad"), [("20 1/2", 0), ("20 5/8", 1), ("19 3/8", 1)])
    def test_the_border_itself_is_inside(self, reading: str, bad: int) -> None:
        """Half an inch either way of 20 in: the reading is taken as it is, no guard band."""
        blank = with_delivery(piece("M-1", "M", half_chest=reading))
        assert bad_pieces(blank, blank.deliveries[0], shop()).count == bad

    def test_a_point_that_does_not_decide_is_told_and_not_counted(self) -> None:
        blank = with_delivery(piece("M-1", "M", half_chest="20", body_length="31"))
        found = bad_pieces(blank, blank.deliveries[0], shop(deciding_points=("half_chest",)))
        assert (found.count, [outside.point for outside in found.lesser]) == (0, ["body_length"])

    def test_without_a_chart_the_tape_finds_none_and_it_is_said(self) -> None:
        bare = replace(with_delivery(piece("M-1", "M", half_chest="30")))
        bare = replace(bare, style=replace(bare.style, charts=()), rounds=())
        assert bad_pieces(bare, bare.deliveries[0], shop()).uncharted
        assert "No chart speaks" in single_result(judge(bare, shop()), "delivery").reason

    def test_without_a_chart_a_piece_is_bad_by_the_approved_round(self) -> None:
        """20 in when it was approved: 20 1/2 is inside, 19 is not."""
        made = replace(
            measured(piece("M-0", "M", half_chest="20")),
            decision=Decision("approved", datetime.date(2026, 1, 25), "rv"),
        )
        for reading, bad in (("20 1/2", 0), ("19", 1)):
            found = with_delivery(piece("M-1", "M", half_chest=reading))
            found = replace(found, rounds=(made,), style=replace(found.style, charts=()))
            assert bad_pieces(found, found.deliveries[0], shop()).count == bad
            said = single_result(judge(found, shop()), "delivery").reason
            assert "each piece was checked against the approved round" in said


@pytest.mark.parametrize(
    ("size", "inspected", "bad", "severity", "outcome", "more"),
    [
        (174, 32, 2, N, Outcome.ACCEPTED, 0),
        (174, 32, 3, N, Outcome.REJECTED, 0),
        (174, 20, 2, N, None, 12),  # too few to accept
        (174, 20, 3, N, Outcome.REJECTED, 0),  # too few, and bad enough already
        (174, 32, 1, T, Outcome.ACCEPTED, 0),
        (174, 32, 2, T, Outcome.REJECTED, 0),
        (144, 20, 1, T, None, 12),  # an arrow of the tightened table leads to 32
        (174, 13, 2, R, Outcome.BETWEEN, 0),  # reduced, between 1 and 3
        (174, 13, 3, R, Outcome.REJECTED, 0),
        (174, 174, 0, S, Outcome.REJECTED, 0),  # while stopped no sample accepts
        (3, 3, 0, N, Outcome.ACCEPTED, 0),  # the plan takes all three
        (3, 2, 0, N, None, 1),
        (174, 49, 3, N, Outcome.REJECTED, 0),  # more than asked, and not yet the next plan
        (174, 50, 3, N, Outcome.ACCEPTED, 0),  # the plan of 50 accepts up to 3
        (174, 174, 7, N, Outcome.ACCEPTED, 0),  # all of them fill the plan of 125
        (174, 174, 8, N, Outcome.REJECTED, 0),
    ],
)
def test_how_a_delivery_fares(
    size: int, inspected: int, bad: int, severity: Severity, outcome: Outcome | None, more: int
) -> None:
    """Level II, AQL 2.5; the numbers are those of MIL-STD-105E, tables I and II."""
    found = inspection_result(size, inspected, bad, severity, INSPECTION)
    assert (found.outcome, found.more) == (outcome, more)


@pytest.mark.parametrize("lot", [3, 36, 72, 144, 174, 500, 1000, 5000])
@pytest.mark.parametrize("severity", [N, T, R])
def test_operating_characteristic(lot: int, severity: Severity) -> None:
    """The chances are the binomial ones of scipy.stats, and its two points lie on the curve."""
    plan = single_plan(lot, "II", 2.5, severity)
    shields = operating_characteristic(plan)
    last = plan.reject - 1
    for share, chance in shields.chances:
        assert chance == pytest.approx(stats.binom.cdf(last, plan.sample_size, share), abs=1e-12)
    for share, chance in (
        (shields.producers_risk_quality, 0.95),
        (shields.consumers_risk_quality, 0.10),
    ):
        assert stats.binom.cdf(last, plan.sample_size, share) == pytest.approx(chance, abs=1e-9)


@pytest.mark.parametrize(("bad", "inspected", "size"), [(0, 20, 72), (1, 32, 174), (3, 50, 500)])
def test_what_a_count_leaves_open(bad: int, inspected: int, size: int) -> None:
    """As many may be bad in all as scipy.stats still gives the count a chance of 5 % or more."""
    blank = with_delivery()
    came_so = replace(
        blank.deliveries[0],
        delivered={"M": size},
        inspected=inspected,
        flaws=(Flaw("M", "hole", bad),) if bad else (),
    )
    (found,) = delivery_results(make_case(replace(blank, deliveries=(came_so,)), shop()))
    chances = [
        stats.hypergeom.cdf(bad, size, most, inspected)
        for most in (found.most_faulty, found.most_faulty + 1)
    ]
    assert chances[0] > 0.05 >= chances[1]


def test_one_piece_that_was_measured_says_little_of_sizes() -> None:
    """Twenty were looked at for faults and one was measured: each has its own limit."""
    blank = with_delivery()
    came_so = replace(
        blank.deliveries[0],
        delivered={"M": 72},
        inspected=20,
        pieces=(piece("M-1", "M", half_chest="20", body_length="29"),),
        flaws=(),
    )
    (found,) = delivery_results(make_case(replace(blank, deliveries=(came_so,)), shop()))
    assert found.most_faulty == 8
    assert found.most_outside is not None
    chances = [
        stats.hypergeom.cdf(0, 72, most, 1) for most in (found.most_outside, found.most_outside + 1)
    ]
    assert chances[0] > 0.05 >= chances[1]
    (said,) = judge(replace(blank, deliveries=(came_so,)), shop()).of("delivery")
    assert f"Only 1 piece measured: up to {found.most_outside} of 72 may be outside" in said.reason


def as_charted(size: str, off: float = 0.0, count: int = 4) -> list[Piece]:
    """Return pieces of a size whose half chest is *off* the chart by so many inches."""
    place = ("S", "M", "L", "XL").index(size)
    middle = 18 + 2 * place + off
    across = [str(middle + (n % 2) / 8) for n in range(count)]
    along = str(28 + place)
    return [
        piece(f"{size}-{n}", size, half_chest=wide, body_length=along)
        for n, wide in enumerate(across)
    ]


class TestComparison:
    """The measured pieces of a delivery beside the approved round."""

    def test_as_approved_is_unchanged(self) -> None:
        blank = with_delivery(*as_charted("M"), *as_charted("L"))
        (found,) = delivery_results(make_case(blank, shop()))
        rows = {(row.point, row.size): row for row in found.comparisons}
        assert rows["half_chest", ""].moved.answer == MoveAnswer.UNCHANGED
        assert (rows["half_chest", ""].before, rows["half_chest", ""].now) == (4, 8)
        assert found.approved == "2026-01-20-first"

    def test_half_an_inch_more_has_moved(self) -> None:
        """And it is said in the reason, though the plan accepts the delivery."""
        blank = with_delivery(*as_charted("M", 3 / 8), *as_charted("L", 3 / 8))
        result = single_result(judge(blank, shop()), "delivery")
        assert result.answer == Answer.MEETS
        assert "Against the approved round, half chest has moved by +7/16 in" in result.reason

    def test_a_piece_at_the_margin_settles_nothing(self) -> None:
        """A quarter of an inch is half the tolerance: one piece cannot say on which side it is."""
        blank = with_delivery(*as_charted("M", 0.25, count=1))
        (found,) = delivery_results(make_case(blank, shop()))
        assert found.comparisons[0].moved.answer == MoveAnswer.NOT_SHOWN

    def test_sizes_together_are_weighed_for_the_least_error(self) -> None:
        """Of two means of two and n pieces, 1 / (1/2 + 1/n) is the weight: textbook least squares.

        The error against scipy.stats: limits are those of Student's t on the spread's freedom.
        """
        blank = with_delivery(*as_charted("M", 0.25, count=4), *as_charted("L", count=1))
        case = make_case(blank, shop())
        row = delivery_results(case)[0].comparisons[0]
        weights = 1 / (1 / 2 + 1 / 4), 1 / (1 / 2 + 1 / 1)
        apart = (0.25 + 1 / 16) * 25.4, 0.0
        mean = (weights[0] * apart[0] + weights[1] * apart[1]) / sum(weights)
        spread = case.spreads["half_chest"]
        error = spread.deviation / sum(weights) ** 0.5
        half = stats.t.ppf(0.95, spread.freedom) * error
        assert row.moved.difference == pytest.approx(mean)
        assert (row.moved.low, row.moved.high) == pytest.approx((mean - half, mean + half))

    def test_a_named_round_is_taken(self) -> None:
        blank = with_delivery(*as_charted("M"))
        old = measured(piece("M-1", "M", half_chest="19"), key="2026-01-02-old")
        named = replace(blank.deliveries[0], approved="2026-01-02-old")
        both = replace(blank, rounds=(replace(old, date=datetime.date(2026, 1, 2)), *blank.rounds))
        (found,) = delivery_results(make_case(replace(both, deliveries=(named,)), shop()))
        assert found.approved == "2026-01-02-old"
        assert found.comparisons[0].moved.difference > 25

    def test_grade_steps_within_the_delivery(self) -> None:
        blank = with_delivery(*as_charted("M"), *as_charted("L"), *as_charted("XL", -2))
        (found,) = delivery_results(make_case(blank, shop()))
        words = {(s.point, s.small): s.word for s in found.steps}
        assert words["half_chest", "M"] == "true"
        assert words["half_chest", "L"] == "collapsed"


def test_a_delivery_does_not_change_what_samples_show() -> None:
    """Every answer that is not of lots or of deliveries is the same with one and without."""
    blank = with_delivery(*as_charted("M", 1), *as_charted("L", 1))
    bare = judge(replace(blank, deliveries=()), shop())
    with_one = judge(blank, shop())
    own = {"lots", "delivery"}
    assert [r for r in bare.results if r.check not in own] == [
        r for r in with_one.results if r.check not in own
    ]
    assert bare.verdict == with_one.verdict


def test_a_delivery_is_a_further_lot() -> None:
    """Its measured pieces stand on the charts of lots, and an alarm names its lot."""
    judged = judge(with_delivery(*as_charted("M", 1), *as_charted("L", 1)), shop())
    across = single_result(judged, "lots", point="half_chest")
    assert across.answer == Answer.FAILS
    assert (across.lot, across.round) == ("B", "2026-03-02-a-delivery")
    assert across.alarms == ("B",)


@pytest.mark.parametrize(
    ("bad", "required", "advice"),
    [
        (0, "grade_steps, delivery", Advice.APPROVED),
        (3, "grade_steps", Advice.CONDITIONS),  # not required, and still a condition
        (3, "grade_steps, delivery", Advice.HOLD),
    ],
)
def test_a_shop_may_let_the_newest_delivery_decide(bad: int, required: str, advice: Advice) -> None:
    """A rejected delivery holds the blank where shop.yaml requires it, else it is a condition."""
    rules = shop(required=tuple(required.split(", ")))
    judged = judge(with_delivery(flaws=(Flaw("M", "hole", count=bad),) if bad else ()), rules)
    assert judged.verdict.advice == advice
    if advice == Advice.HOLD:
        assert "3 bad of 32 looked at" in judged.verdict.headline
        assert judged.verdict.next_step.startswith("send it back")


def test_too_few_looked_at_asks_for_the_rest() -> None:
    """Not shown holds the blank where it is required, and the next step counts the pieces."""
    blank = with_delivery()
    fewer = replace(blank, deliveries=(replace(blank.deliveries[0], inspected=20),))
    found = judge(fewer, shop(required=("grade_steps", "delivery")))
    assert found.verdict.advice == Advice.HOLD
    assert "look at 12 more pieces of the delivery" in found.verdict.next_step


def test_a_blank_can_be_approved_before_its_first_delivery() -> None:
    """Where a shop requires deliveries, none so far is no reason to hold: none can come before."""
    bare = replace(with_delivery(), deliveries=())
    found = judge(bare, shop(required=("grade_steps", "delivery")))
    assert found.verdict.advice == Advice.APPROVED


@pytest.mark.parametrize(
    ("size", "level", "aql", "normal"),
    [
        (5000, "II", "1.5", (200, 7, 8)),
        (1000, "II", "2.5", (80, 5, 6)),
        (500, "II", "2.5", (50, 3, 4)),
        (144, "II", "2.5", (20, 1, 2)),
        (144, "II", "4", (20, 2, 3)),
        (72, "II", "2.5", (20, 1, 2)),
        (36, "II", "2.5", (5, 0, 1)),
    ],
)
def test_a_file_gets_the_plan_of_the_standard(
    size: int, level: str, aql: str, normal: tuple[int, int, int], ledger_factory: LedgerMaker
) -> None:
    """Worked rows: 5000 at AQL 1.5 as in the vignette of the R package AQLSchemes; the others from
    tables I and II-A of MIL-STD-105E, as kept in `tests/published/sampling`.
    """
    files = shop_with(f"level: {level}, aql: {aql}") | delivery_file("2024-03-01", f"M: {size}", 1)
    result = single_result(judge_all(ledger_factory(files))["tarn-thrush/h6"], "delivery")
    names = (Quantity.TO_LOOK_AT, Quantity.ACCEPTANCE_NUMBER, Quantity.REJECTION_NUMBER)
    numbers = [result.number(name) for name in names]
    assert tuple(number.value for number in numbers if number) == normal


@pytest.mark.parametrize(
    ("inspected", "bad", "words", "code"),
    [
        (20, 2, "decision: accepted", 1),
        (20, 2, "decision: accepted, reason: the fair is tomorrow", 0),
        (20, 2, "decision: rejected", 0),
        (20, 0, "decision: rejected", 1),
        (5, 0, "decision: accepted", 1),
        (20, 1, "decision: accepted", 0),
    ],
)
def test_a_decision_against_the_plan_asks_for_a_reason(
    inspected: int,
    bad: int,
    words: str,
    code: int,
    ledger_factory: LedgerMaker,
    command: Program,
) -> None:
    """144 pieces: 20 are looked at, up to 1 bad is accepted."""
    made = f"decision: {{{words}, date: 2024-03-01, by: rv}}"
    root = ledger_factory(delivery_file("2024-03-01", inspected=inspected, bad=bad, more=made))
    ended = command("check", "--ledger", root)
    assert ended.code == code, ended.out
    assert ("[decision-without-reason]" in ended.out) is bool(code)
    assert ("against the plan" in ended.out) is bool(code)


def test_vet_tells_the_plan_for_the_next(ledger_factory: LedgerMaker, command: Program) -> None:
    """Of as many pieces as came last, by the severity that the whole supplier has earned."""
    root = ledger_factory(delivery_file("2024-03-01", "S: 24, M: 60, L: 90", 32))
    told = command("vet", "tarn-thrush/h6", "--all", "--ledger", root).out
    plan = "of 174 pieces look at 32; up to 2 bad is accepted, 3 is rejected (normal inspection)"
    assert plan in " ".join(told.split())
