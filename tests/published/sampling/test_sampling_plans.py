"""Single sampling plans against the tables of MIL-STD-105E, cell by cell."""

import math

import pytest
from scipy import stats

from blankbook.results.methods import sampling_plans
from blankbook.results.methods.sampling_plans import Outcome, Plan, plan_cell, single_plan
from blankbook.results.methods.sampling_tables import (
    LETTERS,
    SAMPLE_SIZES,
    TABLE_AQLS,
    TABLE_LEVELS,
    Severity,
)
from published.tables import rows

pytestmark = pytest.mark.published

CELLS = rows("sampling/aql_single_plans.csv")
N, T, R = Severity.NORMAL, Severity.TIGHTENED, Severity.REDUCED


def plan(pieces: int, accept: int, reject: int | None = None) -> Plan:
    """Return a plan by its numbers alone."""
    return Plan("", pieces, accept, accept + 1 if reject is None else reject, whole_lot=False)


class TestTables:
    """`how_obtained.md` says what each part was checked against."""

    @pytest.mark.parametrize(
        "row", rows("sampling/aql_code_letters.csv"), ids=lambda row: row["lot_min"]
    )
    @pytest.mark.parametrize("level", TABLE_LEVELS)
    def test_code_letters(self, row: dict[str, str], level: str) -> None:
        """Table I, at both ends of every range."""
        for lot in (int(row["lot_min"]), int(row["lot_max"] or 10**7)):
            assert sampling_plans.code_letter(lot, level) == row[level]

    def test_the_copy_is_whole(self) -> None:
        """Three tables, sixteen letters, 26 AQLs."""
        keys = {(c["severity"], c["code_letter"], float(c["aql"])) for c in CELLS}
        assert keys == {(s.value, le, a) for s in (N, T, R) for le in LETTERS for a in TABLE_AQLS}
        assert len(CELLS) == len(keys) == 1248

    @pytest.mark.parametrize("severity", [N, T, R])
    @pytest.mark.parametrize("letter", LETTERS)
    def test_master_tables(self, severity: Severity, letter: str) -> None:
        """Tables II-A, II-B and II-C: letter, sample size, acceptance and rejection number."""
        row = [c for c in CELLS if (c["severity"], c["code_letter"]) == (severity, letter)]
        for cell in row:
            there, accept, reject = plan_cell(letter, float(cell["aql"]), severity)
            size = SAMPLE_SIZES[severity][there]
            assert there in cell["resolved_letter"].split("/"), cell
            assert (size, accept, reject) == (int(cell["n"]), int(cell["Ac"]), int(cell["Re"])), (
                cell
            )
            assert SAMPLE_SIZES[severity][letter] == int(cell["letter_sample_size"])

    def test_arrows_are_arrows(self) -> None:
        """A cell with its own numbers keeps its letter, an arrow leads the way it is printed."""
        for cell in CELLS:
            there, _, _ = plan_cell(
                cell["code_letter"], float(cell["aql"]), Severity(cell["severity"])
            )
            letters = LETTERS + "S"
            moved = letters.index(there) - letters.index(cell["code_letter"])
            if cell["cell"] in {"own", "arrow_down", "arrow_up"}:
                way = {"own": 0, "arrow_down": 1, "arrow_up": -1}[cell["cell"]]
                assert (moved > 0) - (moved < 0) == way, cell

    @pytest.mark.parametrize(
        ("letter", "aql"),
        list(
            zip(
                "CDEFGHJKLMNPQ", [a for a in reversed(TABLE_AQLS) if 0.025 <= a <= 6.5], strict=True
            )
        ),
    )
    def test_disputed_diagonal_leads_down(self, letter: str, aql: float) -> None:
        """Right of each 0/1 of the tightened table; an arrow up would be laxer than normal."""
        letters = LETTERS + "S"
        there, accept, reject = plan_cell(letter, aql, T)
        assert there == letters[letters.index(letter) + 2]
        assert (accept, reject) == (1, 2)

    def test_an_arrow_up_would_be_laxer_than_normal(self) -> None:
        """Letter C at AQL 6.5, 26 % bad: up 0.405, normal 0.343, down 0.111 (computed)."""
        chances = [
            sampling_plans.acceptance_chance(plan(3, 0), 0.26),
            sampling_plans.acceptance_chance(single_plan(20, "II", 6.5, N), 0.26),
            sampling_plans.acceptance_chance(single_plan(20, "II", 6.5, T), 0.26),
        ]
        assert sampling_plans.code_letter(20, "II") == "C"
        assert chances == pytest.approx([0.405, 0.343, 0.111], abs=0.0005)

    def test_tightened_is_never_laxer(self) -> None:
        """At twice the AQL, where a plan is meant to bite; AQLs above 10 count faults."""
        for letter in LETTERS:
            for aql in (a for a in TABLE_AQLS if a <= 10):
                normal, tight = (
                    plan(SAMPLE_SIZES[s][there], accept, reject)
                    for s in (N, T)
                    for there, accept, reject in [plan_cell(letter, aql, s)]
                )
                at = min(aql / 50, 0.99)
                strict = sampling_plans.acceptance_chance(tight, at)
                assert strict <= sampling_plans.acceptance_chance(normal, at) + 1e-12


class TestPlans:
    """A lot, a level and an AQL in, a plan out."""

    @pytest.mark.parametrize(
        ("lot", "aql", "letter", "normal", "tightened", "reduced"),
        [
            (3201, 1.5, "L", (200, 7, 8), (200, 5, 6), (80, 3, 6)),
            (10000, 1.5, "L", (200, 7, 8), (200, 5, 6), (80, 3, 6)),
            (1000, 2.5, "J", (80, 5, 6), (80, 3, 4), (32, 2, 5)),
            (500, 2.5, "H", (50, 3, 4), (50, 2, 3), (20, 1, 4)),
            (144, 2.5, "F", (20, 1, 2), (32, 1, 2), (8, 0, 2)),
            (144, 4.0, "F", (20, 2, 3), (20, 1, 2), (8, 1, 3)),
            (72, 2.5, "E", (20, 1, 2), (32, 1, 2), (8, 0, 2)),
            (36, 2.5, "D", (5, 0, 1), (8, 0, 1), (2, 0, 1)),
        ],
    )
    def test_lots_of_a_shop(
        self,
        lot: int,
        aql: float,
        letter: str,
        normal: tuple[int, int, int],
        tightened: tuple[int, int, int],
        reduced: tuple[int, int, int],
    ) -> None:
        """MIL-STD-105E, level II: the L row as printed in a published text, the rest read off."""
        assert sampling_plans.code_letter(lot, "II") == letter
        for severity, want in ((N, normal), (T, tightened), (R, reduced)):
            plan = single_plan(lot, "II", aql, severity)
            assert (plan.sample_size, plan.accept, plan.reject) == want
            assert not plan.whole_lot

    def test_an_arrow_brings_its_own_sample(self) -> None:
        """Letter A at AQL 10 leads to C: five pieces, not A's two."""
        plan = single_plan(12, "I", 10, N)
        assert (plan.letter, plan.sample_size, plan.accept) == ("C", 5, 1)

    @pytest.mark.parametrize(("lot", "size"), [(1, 1), (4, 4), (12, 12), (20, 20), (21, 20)])
    def test_a_sample_as_large_as_the_lot_takes_the_whole_lot(self, lot: int, size: int) -> None:
        """AQL 0.65 asks for 20 pieces even of a small lot."""
        plan = single_plan(lot, "II", 0.65, N)
        assert (plan.sample_size, plan.whole_lot) == (size, lot <= 20)

    def test_extra_letter_below_the_last(self) -> None:
        """Tightened 0.025 for the letters Q and R: 3150 pieces, one bad one accepted."""
        for lot in (500_000, 500_001):
            plan = single_plan(lot, "III", 0.025, T)
            assert plan == Plan("S", 3150, 1, 2, whole_lot=False)

    @pytest.mark.parametrize(
        ("lot", "level", "aql", "severity", "says"),
        [
            (0, "II", 2.5, N, "at least one piece"),
            (100, "IV", 2.5, N, "inspection level"),
            (100, "II", 3.0, N, "AQLs of the standard"),
            (100, "II", 2.5, Severity.STOPPED, "severity that has a table"),
        ],
    )
    def test_what_the_tables_do_not_have(
        self, lot: int, level: str, aql: float, severity: Severity, says: str
    ) -> None:
        with pytest.raises(ValueError, match=says):
            single_plan(lot, level, aql, severity)

    def test_outcome_between_the_numbers(self) -> None:
        """Reduced, letter F at AQL 4.0: accept up to 1, reject from 3, and 2 lies between."""
        reduced = single_plan(144, "II", 4.0, R)
        found = [sampling_plans.plan_outcome(reduced, bad) for bad in range(5)]
        a, b, r = Outcome.ACCEPTED, Outcome.BETWEEN, Outcome.REJECTED
        assert found == [a, a, b, r, r]

    def test_nothing_lies_between_on_normal_and_tightened(self) -> None:
        for severity in (N, T):
            plan = single_plan(1000, "II", 2.5, severity)
            assert all(
                sampling_plans.plan_outcome(plan, bad) != Outcome.BETWEEN
                for bad in range(plan.sample_size + 1)
            )


class TestOperatingCharacteristic:
    """The chance that a delivery of a given quality is accepted."""

    @pytest.mark.parametrize(
        "row", rows("sampling/oc_points_binomial.csv"), ids=lambda row: f"{row['n']}-{row['Ac']}"
    )
    def test_percent_bad_at_chance(self, row: dict[str, str]) -> None:
        """Computed elsewhere, four digits; table X-J has such rows (from memory)."""
        tried_plan = plan(int(row["n"]), int(row["Ac"]))
        for heading, text in row.items():
            if heading.startswith("pct_defective_at_Pa_"):
                chance, percent = int(heading.rpartition("_")[2]) / 100, float(text)
                half = 0.5 * 10 ** (math.floor(math.log10(percent)) - 3)
                share = sampling_plans.share_accepted_at(tried_plan, chance)
                assert share * 100 == pytest.approx(percent, abs=half * (1 + 1e-9))
                assert sampling_plans.acceptance_chance(tried_plan, share) == pytest.approx(chance)

    @pytest.mark.parametrize(("per_hundred", "about"), [(1.0, 0.26), (0.10, 0.99)])
    def test_government_plan(self, per_hundred: float, about: float) -> None:
        """7 CFR 42.140: 500 pieces, accept 3, takes "about 26 %" and "about 99 %" of the lots.

        The rule counts faults and uses Poisson (0.26503, 0.99825); a hundred to one, the binomial
        of this program says the same to the two digits printed.
        """
        tried_plan = plan(500, 3)
        poisson = float(stats.poisson.cdf(3, 500 * per_hundred / 100))
        assert poisson == pytest.approx({1.0: 0.26503, 0.10: 0.99825}[per_hundred], abs=5e-6)
        ours = sampling_plans.acceptance_chance(tried_plan, per_hundred / 100)
        assert math.floor(ours * 100) == round(about * 100)

    @pytest.mark.parametrize(("share", "accepted"), [(0.019296, 0.95), (0.045884, 0.10)])
    def test_scheme_of_normal_and_tightened(self, share: float, accepted: float) -> None:
        """Stephens and Larson 1967, normal and tightened joined: 200 pieces, accept 7 and 5.

        Their closed form weighs the two plans by how long the switching rules stay on each; the
        printed shares are rounded, so the chance is held to the digits of 0.95 and 0.10.
        """
        normal = single_plan(5000, "II", 1.5, N)
        tight = single_plan(5000, "II", 1.5, T)
        pn = sampling_plans.acceptance_chance(normal, share)
        pt = sampling_plans.acceptance_chance(tight, share)
        on_normal = (2 - pn**4) / ((1 - pn) * (1 - pn**4))
        on_tight = (1 - pt**5) / ((1 - pt) * pt**5)
        joint = (on_normal * pn + on_tight * pt) / (on_normal + on_tight)
        assert joint == pytest.approx(accepted, abs=0.005)

    @pytest.mark.parametrize("share", [0.0, 0.013, 0.2, 0.77, 1.0])
    @pytest.mark.parametrize(("pieces", "accept"), [(2, 0), (20, 2), (80, 5)])
    def test_scipy_binomial(self, share: float, pieces: int, accept: int) -> None:
        ours = sampling_plans.acceptance_chance(plan(pieces, accept), share)
        assert ours == pytest.approx(stats.binom.cdf(accept, pieces, share))

    @pytest.mark.parametrize("bad", [0, 1, 7, 40, 144])
    def test_scipy_hypergeometric(self, bad: int) -> None:
        plan = single_plan(144, "II", 4.0, N)
        ours = sampling_plans.acceptance_chance_in_lot(plan, bad, 144)
        assert ours == pytest.approx(stats.hypergeom.cdf(2, 144, bad, 20), abs=1e-14)

    def test_reduced_plan_accepts_between_its_numbers(self) -> None:
        reduced = single_plan(144, "II", 4.0, R)
        ours = sampling_plans.acceptance_chance(reduced, 0.1)
        assert ours == pytest.approx(stats.binom.cdf(2, 8, 0.1))

    def test_count_accepted_at_chance(self) -> None:
        """The last count of bad pieces in a lot that is still accepted with that chance."""
        plan = single_plan(144, "II", 4.0, N)
        most = sampling_plans.bad_accepted_at(plan, 144, 0.95)
        assert stats.hypergeom.cdf(2, 144, most, 20) >= 0.95
        assert stats.hypergeom.cdf(2, 144, most + 1, 20) < 0.95

    def test_whole_lot_accepts_its_number_and_no_more(self) -> None:
        """Seven pieces, every one looked at, and no bad one accepted."""
        plan = single_plan(7, "II", 0.65, N)
        assert plan.whole_lot
        assert sampling_plans.bad_accepted_at(plan, 7, 0.5) == plan.accept == 0

    def test_plans_that_count_faults_can_accept_every_piece(self) -> None:
        """AQL 1000 accepts thirty faults on two pieces; no share of bad pieces is rejected."""
        plan = single_plan(12, "I", 1000, N)
        assert sampling_plans.share_accepted_at(plan, 0.10) == 1.0
        assert sampling_plans.acceptance_chance(plan, 1.0) == 1.0
