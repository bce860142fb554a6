"""Studies of measuring: from a file to what every limit carries."""

import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from blankbook.records.load_ledger import load_ledger
from blankbook.records.model import Prior, Study
from blankbook.results.judge_blank import judge
from blankbook.results.learning.ledger_learning import (
    blank_contribution,
    learn,
    learned_from_data,
    ledger_repeatability,
)
from blankbook.results.learning.measuring_studies import between_people, repeat_pool, study_result
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Learned
from made_blanks import blank, piece, shop, single_result
from made_blanks import measured as round_of
from published.tables import half_last_digit, rows
from support import LedgerMaker, Program

PLACE = "measuring/2026-01-study.yaml"


def study_file(readings: dict[str, dict[str, list[str]]], unit: str = "in") -> str:
    """Return the text of a study: by piece, by person, what was read."""
    lines = [
        "date: 2026-01-05",
        "by: rv",
        "point: half_chest",
        f"tape: {{unit: {unit}, reads_to: 1/8}}",
        "pieces:",
    ]
    for name, people in readings.items():
        read = ", ".join(f"{who}: [{', '.join(values)}]" for who, values in people.items())
        lines.append(f"  - {{piece: {name}, read: {{{read}}}}}")
    return "\n".join(lines) + "\n"


def study_of(root: Path) -> Study:
    """Return the one study of a ledger without findings."""
    loaded = load_ledger(root)
    assert not [finding for finding in loaded.findings if finding.level == "error"]
    assert loaded.ledger
    (study,) = loaded.ledger.studies
    return study


@pytest.fixture
def published(ledger_factory: LedgerMaker) -> Study:
    """Return the AIAG example as a file of the ledger; 20 is added, for no shirt is below zero."""
    readings: dict[str, dict[str, list[str]]] = {}
    for row in rows("variation/grr_example.csv"):
        value = f"{float(row['value']) + 20:.2f}"
        readings.setdefault(row["piece"], {}).setdefault(row["appraiser"], []).append(value)
    return study_of(ledger_factory({PLACE: study_file(readings)}))


@pytest.mark.published
class TestPublishedStudy:
    """AIAG, Measurement Systems Analysis, 4th edition: the example, typed into a ledger file."""

    @pytest.mark.parametrize(
        ("part", "printed"),
        [
            ("repeatability", "0.2019"),
            ("reproducibility", "0.2297"),
            ("gauge", "0.3058"),
        ],
    )
    def test_averages_and_ranges(self, published: Study, part: str, printed: str) -> None:
        found = getattr(study_result(published, shop()).by_range.gauge, part) / 25.4
        assert found == pytest.approx(float(printed), abs=half_last_digit(printed))

    @pytest.mark.parametrize(("part", "printed"), [("gauge", "0.30237"), ("pieces", "1.04233")])
    def test_variances(self, published: Study, part: str, printed: str) -> None:
        found = getattr(study_result(published, shop()).by_variance.gauge, part) / 25.4
        assert found == pytest.approx(float(printed), abs=half_last_digit(printed))

    def test_categories(self, published: Study) -> None:
        """5 by ranges, 4 by variances, as published for the same data."""
        both = study_result(published, shop())
        assert (both.by_range.gauge.categories, both.by_variance.gauge.categories) == (5, 4)

    def test_it_feeds_the_hand(self, published: Study) -> None:
        """Within people the published mean square is 0.04598, on 60 degrees of freedom."""
        seen = repeat_pool(published)
        assert seen.freedom == 60
        assert seen.squares / 60 / 25.4**2 == pytest.approx(0.04598, abs=5e-6)
        hand, freedom = ledger_repeatability({}, shop(), [published])
        assumed = shop().repeatability
        pooled = (assumed.worth * assumed.deviation**2 + seen.squares) / (assumed.worth + 60)
        assert freedom == 60
        assert hand.deviation == pytest.approx(pooled**0.5)

    def test_it_feeds_what_people_differ_by(self, published: Study) -> None:
        """The published variance between operators is 0.05146, on 2 degrees of freedom."""
        people = between_people([published])
        assert people
        assert people.worth == 2
        assert (people.deviation / 25.4) ** 2 == pytest.approx(0.05146, abs=5e-6)


def test_people_are_in_every_limit_and_do_not_average_out() -> None:
    """With a hundred pieces the pieces' part is gone, and the people's is all that is left."""
    many = blank(round_of(*(piece(f"M-{n}", "M", half_chest="20") for n in range(100))))
    people = Prior(3.0, 1000)
    without = single_result(judge(many, shop()), "size_against_chart", size="M", point="half_chest")
    within = single_result(
        judge(many, shop(), Learned(people=people)),
        "size_against_chart",
        size="M",
        point="half_chest",
    )
    halves = []
    for result in (without, within):
        off = result.number(Quantity.OFF_THE_CHART)
        assert off is not None
        assert off.high is not None
        halves.append(off.high - off.value)
    assert halves[0] < 1.0
    assert halves[1] == pytest.approx((halves[0] ** 2 + (1.645 * 3.0) ** 2) ** 0.5, rel=0.01)


def test_people_cancel_in_a_step_that_one_person_measured() -> None:
    two = blank(round_of(piece("M-1", "M", half_chest="20"), piece("L-1", "L", half_chest="22")))
    plain, known = (
        single_result(judge(two, shop(), learned), "grade_steps", size="M", point="half_chest")
        for learned in (Learned(), Learned(people=Prior(3.0, 2)))
    )
    widths = [one.number(Quantity.STEP) for one in (plain, known)]
    low, other = (step.low for step in widths if step and step.low is not None)
    assert low == pytest.approx(other, rel=0.02), "what is left is what the spread is taken to be"


@pytest.mark.seldom(4)
def test_limits_with_a_study_cover_a_measurer_who_differs() -> None:
    """Each shop has three people; a study tells what they differ by, and one of them measures.

    Without the study the limits miss more often than they state; with it they hold. Drawn with a
    fixed seed: 1,500 shops, two pieces of a size, spread and hand as the shop assumes.
    """
    rng = np.random.default_rng(20261125)
    own = shop()
    spread = own.spread["half_chest"].deviation
    missed = {"with": 0, "without": 0}
    shops = 1500
    for _ in range(shops):
        bias = rng.normal(0, 2.5, size=3)
        found = float(np.std(bias + rng.normal(0, 0.3, size=3), ddof=1))
        true = rng.normal(0, spread, size=2) + bias[0] + rng.normal(0, 1.6, size=2)
        pieces = [
            piece(f"M-{n}", "M", half_chest=f"{20 + off / 25.4:.3f} in")
            for n, off in enumerate(true)
        ]
        for word, learned in (("with", Learned(people=Prior(found, 2))), ("without", Learned())):
            result = single_result(
                judge(blank(round_of(*pieces)), own, learned),
                "size_against_chart",
                size="M",
                point="half_chest",
            )
            off = result.number(Quantity.OFF_THE_CHART)
            assert off is not None
            assert off.high is not None
            missed[word] += off.high < 0
    assert missed["with"] / shops <= 0.05 + 2 * (0.05 * 0.95 / shops) ** 0.5
    assert missed["without"] / shops > 0.08


def test_command_says_what_is_learned_and_what_is_not(
    ledger_factory: LedgerMaker, command: Program
) -> None:
    quiet = command("measuring", "--ledger", ledger_factory())
    assert quiet.code == 0
    assert "between people: not known" in quiet.out
    readings = {
        name: {"rv": [low, low], "mo": [high, high]}
        for name, low, high in (("A", "18", "18 1/4"), ("B", "20", "20 1/4"))
    }
    root = ledger_factory({PLACE: study_file(readings)})
    data: dict[str, Any] = json.loads(command("measuring", "--json", "--ledger", root).out)
    (study,) = data["studies"]
    assert study["ways"]["variances"]["repeatability"] == 0
    apart = study["ways"]["variances"]["reproducibility"]
    assert apart == pytest.approx(25.4 / 4 / 2**0.5)
    assert data["learned"]["people"][0] == pytest.approx(apart, rel=0.026)


def test_faulty_study_is_left_out_and_the_rest_is_judged(
    ledger_factory: LedgerMaker, command: Program
) -> None:
    """`vet` goes on without it and says so; nothing crashes on a study that is uneven."""
    uneven = study_file({"A": {"rv": ["18", "18"], "mo": ["18"]}, "B": {"rv": ["20", "20"]}})
    ended = command("vet", "tarn-thrush/h6", "--ledger", ledger_factory({PLACE: uneven}))
    assert ended.code == 1
    assert "tarn-thrush/h6" in ended.out


def test_study_reaches_every_blank() -> None:
    """What each blank is handed of hands and people is the same, since they are the shop's own."""
    given = {key: blank_contribution(blank(), shop()) for key in ("a/b", "c/d")}
    learned, other = (learned_from_data(data) for data in learn(given, shop(), ()).values())
    assert (learned.hand, learned.people, learned.spread) == (
        other.hand,
        other.people,
        other.spread,
    )


@pytest.mark.parametrize("count", [2, 101, 200])
def test_a_study_may_have_as_many_pieces_as_its_schema_says(
    count: int, ledger_factory: LedgerMaker, command: Program
) -> None:
    """What check lets pass is worked out."""
    readings = {
        f"p{n}": {"rv": [f"{18 + n % 7}", f"{18 + n % 7} 1/8"], "mo": [f"{18 + n % 7}"] * 2}
        for n in range(count)
    }
    root = ledger_factory({PLACE: study_file(readings)})
    assert command("check", "--ledger", root).code == 0
    ended = command("measuring", "--ledger", root)
    assert ended.code == 0, ended.err
    assert "one hand differs from itself" in ended.out


@pytest.mark.parametrize("base", ["18", "22 1/8", "29 3/32"])
def test_readings_that_agree_exactly_differ_by_nothing(
    base: str, ledger_factory: LedgerMaker
) -> None:
    """What the rounding of a float leaves is no spread: no quadrillions of groups are told."""
    readings = {
        f"p{n}": {who: [f"{int(base[:2]) + n}{base[2:]}"] * 3 for who in ("rv", "mo", "ka")}
        for n in range(5)
    }
    found = study_result(study_of(ledger_factory({PLACE: study_file(readings)})), shop())
    assert found.by_variance.gauge.gauge == 0
    assert found.by_variance.gauge.categories is None
    assert "Distinct categories of pieces: as many as the tape has marks" in found.says
