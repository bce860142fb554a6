"""The shop's own measuring: the example study of the AIAG manual, by both of its methods."""

from itertools import product
from math import hypot, sqrt

import pandas as pd
import pytest
from statsmodels.formula.api import ols
from statsmodels.stats.anova import anova_lm

from blankbook.results.methods import gauge_study
from blankbook.results.methods.chart_constants import range_divisor
from blankbook.results.methods.gauge_study import Gauge, StudyReading
from published.tables import half_last_digit, rows

pytestmark = pytest.mark.published

STUDY = [
    StudyReading(r["appraiser"], r["piece"], float(r["value"]))
    for r in rows("variation/grr_example.csv")
]

# Invented: two people who disagree by piece, so that the interaction is kept.
CROSSED = [
    StudyReading(person, piece, value)
    for (person, piece), values in {
        ("ana", "1"): (10.0, 10.2), ("ana", "2"): (14.1, 13.9), ("ana", "3"): (19.0, 19.3),
        ("bo", "1"): (12.0, 12.1), ("bo", "2"): (13.0, 13.2), ("bo", "3"): (22.0, 21.8),
    }.items()
    for value in values
]  # fmt: skip


def total(gauge: Gauge) -> float:
    """Return gauge and pieces together (TV)."""
    return hypot(gauge.gauge, gauge.pieces)


def percent_of_study(gauge: Gauge, part: float) -> float:
    """Return *part*, one of the deviations, in percent of the total one."""
    return 100 * part / total(gauge)


def printed(ours: float, value: str) -> None:
    """Assert that *ours* rounds to what is printed."""
    assert ours == pytest.approx(float(value), abs=half_last_digit(value))


class TestAverageAndRange:
    """Measurement Systems Analysis, AIAG, 4th edition, average-and-range form."""

    study = gauge_study.average_and_range(STUDY)

    def test_ranges(self) -> None:
        """Mean range 0.3417, appraisers apart by 0.4447, parts by 3.511."""
        printed(self.study.mean_range, "0.3417")
        printed(self.study.appraiser_range, "0.4447")
        printed(self.study.piece_range, "3.511")

    def test_gauge(self) -> None:
        """EV 0.2019, AV 0.2297, GRR 0.3058."""
        printed(self.study.gauge.repeatability, "0.2019")
        printed(self.study.gauge.reproducibility, "0.2297")
        printed(self.study.gauge.gauge, "0.3058")

    def test_pieces(self) -> None:
        """PV 1.1046 and TV 1.1461 are printed with K3 rounded to 0.3146, which is put in here."""
        found = self.study.gauge
        pieces = found.pieces * range_divisor(10, 1) * 0.3146
        rounded = gauge_study.Gauge(found.repeatability, found.reproducibility, pieces)

        printed(rounded.pieces, "1.1046")
        printed(total(rounded), "1.1461")
        assert total(found) == pytest.approx(total(rounded), rel=0.00005 / 0.3146)

    def test_percentages(self) -> None:
        """17.6, 20.0, 26.7 and 96.4 % of the study variation."""
        found = self.study.gauge
        printed(percent_of_study(found, found.repeatability), "17.6")
        printed(percent_of_study(found, found.reproducibility), "20.0")
        printed(percent_of_study(found, found.gauge), "26.7")
        printed(percent_of_study(found, found.pieces), "96.4")

    def test_categories(self) -> None:
        """5.09, cut to 5."""
        assert self.study.gauge.categories == 5


class TestAnalysisOfVariance:
    """The same study by analysis of variance; AIAG manual, 4th edition."""

    study = gauge_study.analysis_of_variance(STUDY)

    def test_mean_squares(self) -> None:
        """Parts, appraisers, interaction, repeats, and the pooled error."""
        printed(self.study.pieces.mean_square, "9.81799")
        printed(self.study.appraisers.mean_square, "1.58363")
        printed(self.study.interaction.mean_square, "0.01994")
        printed(self.study.repeats.mean_square, "0.04598")
        printed(self.study.error.mean_square, "0.03997")

    def test_interaction(self) -> None:
        """F 0.434, p 0.974: pooled."""
        printed(self.study.interaction_ratio, "0.434")
        printed(self.study.interaction_chance, "0.974")
        assert self.study.pooled
        assert self.study.error.freedom == 78

    def test_variances(self) -> None:
        """Repeatability, appraisers, gauge, parts, total."""
        found = self.study.gauge
        printed(found.repeatability**2, "0.03997")
        printed(found.reproducibility**2, "0.05146")
        printed(found.gauge**2, "0.09143")
        printed(found.pieces**2, "1.08645")
        printed(total(found) ** 2, "1.17788")

    def test_deviations(self) -> None:
        """Gauge, parts, total."""
        printed(self.study.gauge.gauge, "0.30237")
        printed(self.study.gauge.pieces, "1.04233")
        printed(total(self.study.gauge), "1.08530")

    def test_percentages(self) -> None:
        """Of the study variation, of its variance, and of a tolerance 8 wide."""
        found = self.study.gauge
        printed(percent_of_study(found, found.gauge), "27.86")
        printed(percent_of_study(found, found.repeatability), "18.42")
        printed(percent_of_study(found, found.reproducibility), "20.90")
        printed(percent_of_study(found, found.pieces), "96.04")
        printed(100 * found.gauge**2 / total(found) ** 2, "7.76")
        printed(100 * found.pieces**2 / total(found) ** 2, "92.24")
        printed(found.percent_of_tolerance(8), "22.68")

    def test_categories(self) -> None:
        """4.86, cut to 4: one fewer than by ranges, from the same readings."""
        found = self.study.gauge
        printed(gauge_study.CATEGORY_WIDTH * found.pieces / found.gauge, "4.86")
        assert found.categories == 4


@pytest.mark.parametrize("readings", [STUDY, CROSSED], ids=["published", "crossed"])
def test_table_against_statsmodels(readings: list[StudyReading]) -> None:
    """Two-way table of statsmodels' ols and anova_lm: squares, freedom, F and p."""
    columns = {
        "person": [r.appraiser for r in readings],
        "piece": [r.piece for r in readings],
        "value": [r.value for r in readings],
    }
    theirs = anova_lm(ols("value ~ C(piece) * C(person)", pd.DataFrame(columns)).fit())
    ours = gauge_study.analysis_of_variance(readings)
    lines = {
        "C(piece)": ours.pieces,
        "C(person)": ours.appraisers,
        "C(piece):C(person)": ours.interaction,
        "Residual": ours.repeats,
    }

    for name, row in lines.items():
        assert row.squares == pytest.approx(theirs.loc[name, "sum_sq"], rel=1e-9), name
        assert row.freedom == theirs.loc[name, "df"], name
    crossed = theirs.loc["C(piece):C(person)"]
    assert ours.interaction_ratio == pytest.approx(crossed["F"], rel=1e-9)
    assert ours.interaction_chance == pytest.approx(crossed["PR(>F)"], rel=1e-7)


def test_interaction_is_kept_where_it_shows() -> None:
    """The expected mean squares of the crossed model give back the mean squares.

    Source: AIAG manual, 4th edition, variance estimates with interaction: repeats s^2;
    interaction s^2 + r s_ap^2; parts that + k r s_p^2; appraisers that + n r s_a^2.
    """
    study = gauge_study.analysis_of_variance(CROSSED)
    found, crossed = study.gauge, study.interaction.mean_square

    assert not study.pooled
    assert study.error == study.repeats
    assert found.repeatability**2 == pytest.approx(study.repeats.mean_square)
    assert crossed + 4 * found.pieces**2 == pytest.approx(study.pieces.mean_square)
    by_piece = (crossed - study.repeats.mean_square) / 2
    by_person = max((study.appraisers.mean_square - crossed) / 6, 0)
    assert found.reproducibility == pytest.approx(sqrt(by_piece + by_person))


def test_people_who_agree_add_nothing() -> None:
    """A negative variance between people is set to zero by both methods."""
    values = {"1": (10.0, 12.0), "2": (20.0, 22.0), "3": (30.0, 32.0)}
    study = [
        StudyReading(person, piece, value)
        for person, (piece, pair) in product("ab", values.items())
        for value in pair
    ]

    assert gauge_study.average_and_range(study).gauge.reproducibility == 0
    assert gauge_study.analysis_of_variance(study).gauge.reproducibility == 0


def test_repeats_that_all_agree_bound_nothing() -> None:
    """With a coarse tape every repeat is the same: no number of categories is made up."""
    study = [StudyReading(p, g, float(g)) for p, g, _ in product("ab", "123", range(2))]

    for found in (
        gauge_study.average_and_range(study).gauge,
        gauge_study.analysis_of_variance(study).gauge,
    ):
        assert found.gauge == 0
        assert found.categories is None


def test_order_of_the_readings_does_not_matter() -> None:
    """A study is written down in whatever order it was read."""
    there, back = (
        gauge_study.analysis_of_variance(STUDY),
        gauge_study.analysis_of_variance(STUDY[::-1]),
    )

    assert back.gauge.gauge == pytest.approx(there.gauge.gauge)
    assert total(gauge_study.average_and_range(STUDY[::-1]).gauge) == pytest.approx(
        total(gauge_study.average_and_range(STUDY).gauge)
    )


@pytest.mark.parametrize(
    "method", [gauge_study.average_and_range, gauge_study.analysis_of_variance]
)
class TestRefused:
    """A study with holes is refused, and the hole is named."""

    @pytest.mark.parametrize(
        ("readings", "words"),
        [
            (STUDY[:-1], "must be 3 readings of every piece by every person, found 2 of 10 by C"),
            (
                [r for r in STUDY if (r.appraiser, r.piece) != ("B", "4")],
                "must be 3 readings of every piece by every person, found 0 of 4 by B",
            ),
            (
                [StudyReading(p, g, 1.0) for p, g in product("ab", "12")],
                "must be 2 readings of every piece by every person, found 1 of 1 by a",
            ),
            (
                [r for r in STUDY if r.appraiser == "A"],
                "must be two people and two pieces or more, found 1 and 10",
            ),
            ([], "must be two people and two pieces or more, found 0 and 0"),
        ],
        ids=["short", "missing", "no repeats", "one person", "empty"],
    )
    def test_words(self, method: object, readings: list[StudyReading], words: str) -> None:
        """The message says what there must be and where it is not."""
        assert callable(method)
        with pytest.raises(gauge_study.UnusableStudyError) as caught:
            method(readings)
        assert str(caught.value) == words
