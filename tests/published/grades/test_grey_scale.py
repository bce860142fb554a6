"""The grey scale as the standard has it."""

import csv
from pathlib import Path

import pytest

from blankbook.words.grade_scales import GRADE_SCALES, GRADES

TABLE = (Path(__file__).parent / "grey_scale.csv").read_text(encoding="utf-8")
ROWS = list(csv.DictReader(TABLE.splitlines()))


@pytest.mark.published
@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["grade"])
def test_pairs_of_chips_differ_as_the_standard_says(row: dict[str, str]) -> None:
    """ISO 105-A02:1993 (EN 20105-A02), CIELAB difference and tolerance; read in a preview of it."""
    difference, tolerance = GRADE_SCALES["change"].differences[row["grade"]]
    digit = 0.5 * 10 ** -len(row["difference"].partition(".")[2])
    assert difference == pytest.approx(float(row["difference"]), abs=digit)
    assert tolerance == pytest.approx(float(row["tolerance"]), abs=0.005)


@pytest.mark.published
def test_there_are_nine_grades_and_no_others() -> None:
    """Five steps and four halves, 5 best: ISO 105-A02 and A03."""
    assert list(GRADES) == [row["grade"] for row in ROWS]
    assert list(GRADES.values()) == [5, 4.5, 4, 3.5, 3, 2.5, 2, 1.5, 1]


def test_a_lower_grade_is_a_larger_difference() -> None:
    differences = [GRADE_SCALES["change"].differences[grade][0] for grade in GRADES]
    assert differences == sorted(differences)
