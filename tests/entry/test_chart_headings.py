"""The words over a size chart: what suppliers write is known, and what is not known is not guessed.

The spellings are common practice, no source.
"""

import pytest

from blankbook.entry.charts.chart_headings import read_heading, unit_in_text, without_footnote
from blankbook.entry.charts.size_labels import size_label, size_rank
from blankbook.words.points import POINTS

SPELLINGS = {
    "half_chest": (
        *("Chest", "Chest Width", "Body Width", "Width", "1/2 Chest", "½ chest", "Half Chest"),
        *("Pit to Pit", "P2P", "Armpit to armpit", "Chest (A)", "A. Chest width", "Bust", "CHEST*"),
        *("Chest, laid flat", "Chest width (in)", 'Chest 1" below armhole', "Underarm width"),
        *("Chest width [cm]", "Width (+/- 1/2)", "Chest circumference", "B - Chest"),
    ),
    "body_length": (
        *(
            "Length",
            "Body Length",
            "Full Body Length",
            "HPS Length",
            "Length from HPS",
            "HPS to hem",
        ),
        *("Front length", "Back length", "CB length", "Length (B)", "Body length in inches"),
        *("Length from shoulder to hem", "Centre back length", "Body Length¹", "Total length"),
        "Length from high point of shoulder",
    ),
    "sleeve_length": ("Sleeve", "Sleeve Length", "Sleeve from shoulder seam", "C. Sleeve length"),
    "sleeve_opening": ("Sleeve opening", "Cuff", "Cuff width", "1/2 sleeve hem", "Sleeve Hem"),
    "shoulder_width": ("Shoulder", "Shoulder width", "Across shoulders", "Shoulder to shoulder"),
    "hem_width": ("Hem", "Hem width", "Bottom width", "Sweep", "1/2 hem", "Bottom opening"),
    "neck_opening": ("Neck opening", "Neck width", "Neckline width"),
    "rib_height": ("Collar rib", "Neck rib height", "Rib", "Collar height"),
}


@pytest.mark.parametrize(
    ("text", "point"), [(text, point) for point, every in SPELLINGS.items() for text in every]
)
def test_spellings_of_suppliers_are_known(text: str, point: str) -> None:
    """Whatever the case, with codes, units, marks and tolerances beside them."""
    for written in (text, text.upper(), f" {text} "):
        found = read_heading(written)
        assert (found.kind, found.point) == ("point", point)


def test_every_point_knows_its_own_names() -> None:
    """The vocabulary's own names of each point are read as that point."""
    assert set(SPELLINGS) <= set(POINTS)
    for point in POINTS.values():
        for name in (point.name, *point.also):
            assert read_heading(name).point == point.key, name


@pytest.mark.parametrize(
    "text",
    ["Sleeve CB", "Sleeve length from CB", "Center Back Sleeve", "Sleeve (centre back neck)"],
)
def test_a_sleeve_from_the_centre_back_is_another_point(text: str) -> None:
    """It is longer by half the shoulders, so it is left out, and said."""
    found = read_heading(text)
    assert found.kind == "left_out"
    assert "centre back" in found.why


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("Size", "size"),
        ("Sizes (inches)", "size"),
        ("Age", "size"),
        ("Tolerance +/-", "tolerance"),
        ("Tol (+/-)", "tolerance"),
        ("TOL", "tolerance"),
        ("± ", "tolerance"),
        ("+/-", "tolerance"),
        ("To fit chest", "left_out"),
        ("Armhole", "left_out"),
        ("Neck drop", "left_out"),
        ("Sleeve width", "left_out"),
        ("Shoulder drop", "left_out"),
        ("Weight (oz)", "left_out"),
        ("How to measure", "left_out"),
        ("Flapdoodle", "unknown"),
        ("Q", "unknown"),
        ("Size chart", "unknown"),
        ("", "empty"),
        ("*", "empty"),
    ],
)
def test_what_is_no_point_is_told_apart(text: str, kind: str) -> None:
    """Sizes, tolerances, what blankbook does not keep, and what nobody knows."""
    assert read_heading(text).kind == kind


@pytest.mark.parametrize(
    ("text", "around"),
    [
        ("Chest circumference", True),
        ("Full chest", True),
        ("Bust girth", True),
        ("Chest", None),
        ("1/2 chest", False),
        ("Chest width", False),
        ("Pit to pit", False),
        ("Full chest width", None),
    ],
)
def test_flat_and_around_are_told_apart(text: str, around: bool | None) -> None:
    """Where the words say both or neither, nothing is made of them."""
    assert read_heading(text).around is around


@pytest.mark.parametrize(
    ("text", "how"),
    [
        ('Chest 1" below armhole', "below_armhole"),
        ("Chest width (2.5 cm under armpit)", "below_armhole"),
        ("Chest", ""),
        ("Front length from HPS", "high_point_front"),
        ("Back length from HPS", "high_point_back"),
        ("CB length", "centre_back"),
        ("Length from back of neck", "centre_back"),
        ("Length", ""),
    ],
)
def test_the_way_of_measuring_is_kept(text: str, how: str) -> None:
    """By the vocabulary's own variants; a point that says nothing has none."""
    found = read_heading(text)
    assert found.how == how
    assert not how or how in dict(POINTS[found.point].variants)


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("Chest (in)", "in"),
        ("Chest in inches", "in"),
        ("All measurements in cm", "cm"),
        ("Length, cm", "cm"),
        ("length cm", "cm"),
        ('Chest (")', "in"),
        ("mm", "mm"),
        ("Centimetres", "cm"),
        ("1 inch below the armhole", ""),
        ("1 in = 2.54 cm", ""),
        ("inches and cm", ""),
        ("Measured in March", ""),
        ("Chest", ""),
    ],
)
def test_units_are_read_where_they_are_meant(text: str, unit: str) -> None:
    """A length in a sentence is no statement of the unit, and two units are none."""
    assert unit_in_text(text) == unit


def test_a_tolerance_in_a_heading_is_kept() -> None:
    """With its own fraction."""
    assert read_heading("Body Length (+/- 1/2)").allowed == "1/2"
    assert read_heading("Chest ±1,5 cm").allowed.startswith("1")


def test_marks_of_footnotes_fall_off() -> None:
    """Stars, daggers, small raised digits, brackets; a number stays."""
    marked = ("22*", "22 **", "22†", "22¹", "22 [a]", "22 (1)")
    assert {without_footnote(text) for text in marked} == {"22"}


@pytest.mark.parametrize(
    ("text", "label"),
    [
        ("S", "S"),
        ("xl", "XL"),
        ("2XL", "2XL"),
        ("XXL", "XXL"),
        ("2 XL", "2XL"),
        ("Small", "S"),
        ("X-Large", "XL"),
        ("2X-Large", "2XL"),
        ("Extra Small", "XS"),
        ("Large (42-44)", "L"),
        ("Size M", "M"),
        ("Youth M", "YM"),
        ("S/M", "S/M"),
        ("4T", "4T"),
        ("12-18M", "12-18M"),
        ("LT", "LT"),
        ("One size", "OS"),
        ("M*", "M"),
        ("Chest", ""),
        ("20", ""),
        ("", ""),
        ("Mass", ""),
    ],
)
def test_labels_are_what_stands_on_the_tag(text: str, label: str) -> None:
    """A number is one only where numbers are expected."""
    assert size_label(text, numbers=False) == label


@pytest.mark.parametrize(
    ("text", "label"), [("3-4", "3-4"), ("9–11 years", "9-11"), ("5/6", "5/6"), ("34", "34")]
)
def test_numbers_are_labels_under_a_heading_of_sizes(text: str, label: str) -> None:
    """Years and chests, as on the tags of children's and of numbered sizes."""
    assert size_label(text, numbers=True) == label


def test_letters_have_an_order() -> None:
    """From the smallest to the largest; the young before the grown."""
    order = ["YS", "YM", "YL", "2XS", "XS", "S", "M", "L", "XL", "2XL", "XXXL", "4XL"]
    assert sorted(order, key=lambda label: size_rank(label) or ()) == order
    assert size_rank("9-11") is None
