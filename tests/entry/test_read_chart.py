"""A size chart, however a supplier writes it: read exactly, or each cell named that was not."""

import contextlib
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blankbook.entry.charts.chart_summary import summary_lines
from blankbook.entry.charts.read_chart import read_chart
from blankbook.entry.charts.size_chart import MissingAnswerError, SizeChart, TableHints
from blankbook.entry.tables.separated_text import table_from_text
from blankbook.entry.tables.table_cells import NoTableError, make_table
from blankbook.entry.tables.table_files import read_tables
from blankbook.words.points import POINTS
from entry.drawn_charts import DrawnChart, drawn_charts


def chart_in(text: str, **said: object) -> SizeChart:
    """Return the chart in a pasted text."""
    return read_chart([table_from_text(text)], TableHints(**said))  # type: ignore[arg-type]


def written_lengths(chart: SizeChart) -> dict[str, dict[str, str]]:
    """Return the lengths as they would be written."""
    return {
        size: {point: length.written for point, length in row.items()}
        for size, row in chart.sizes.items()
    }


def trouble_addresses(chart: SizeChart) -> list[str]:
    """Return the addresses of what was not understood."""
    return [trouble.address for trouble in chart.remarks.troubles]


DOWN = "Size,Body Width,Full Body Length\nS,18,28\nM,20,29\nL,22,30\n"
WANTED = {
    "S": {"half_chest": "18", "body_length": "28"},
    "M": {"half_chest": "20", "body_length": "29"},
    "L": {"half_chest": "22", "body_length": "30"},
}


def test_sizes_down_and_across_are_the_same_chart() -> None:
    """The one turned is the other."""
    across = "\tS\tM\tL\nChest (A)\t18\t20\t22\nLength (B)\t28\t29\t30"
    assert (
        written_lengths(chart_in(DOWN, unit="in"))
        == written_lengths(chart_in(across, unit="in"))
        == WANTED
    )
    assert chart_in(across, unit="in").across
    assert not chart_in(DOWN, unit="in").across


@pytest.mark.parametrize(
    "text",
    [
        "Size chart (inches)\n" + DOWN,
        DOWN + "* all measurements in inches\n",
        DOWN.replace("Size", "Size (in)"),
        DOWN.replace("Width", "Width (in)").replace("Length", "Length, in"),
        DOWN.replace("\nS,", "\n,inches,inches\nS,"),
        DOWN.replace("18", "18″")
        .replace("20", "20 in")
        .replace("22", "22 inches")
        .replace("28", "28”")
        .replace("29", "29''")
        .replace("30", "30 in."),
    ],
)
def test_the_unit_is_read_wherever_it_stands(text: str) -> None:
    """In a title, a note, a corner, each heading, a row of its own, each cell."""
    chart = chart_in(text)
    assert chart.unit == "in"
    assert written_lengths(chart) == WANTED
    assert not chart.remarks.troubles


@pytest.mark.parametrize(("factor", "likely"), [(1, "in"), (2.54, "cm")])
def test_a_unit_that_is_not_said_is_asked_for(factor: float, likely: str) -> None:
    """With the likelier answer; nothing is guessed."""
    rows = [("S", 18, 28), ("M", 20, 29), ("L", 22, 30)]
    text = "Size,Chest width,Length\n"
    text += "\n".join(f"{size},{chest * factor:g},{body * factor:g}" for size, chest, body in rows)
    with pytest.raises(MissingAnswerError) as caught:
        chart_in(text)
    assert (caught.value.what, caught.value.likely) == ("unit", likely)


FULL = "Size,Chest,Length\nS,36,28\nM,40,29\nL,44,30\n"


def test_a_chest_that_looks_like_all_around_is_asked_about() -> None:
    """A person says which; halved lengths are exact, and said to be halved."""
    with pytest.raises(
        MissingAnswerError, match=r"half chest of M is 40 in, .* all the way around"
    ) as caught:
        chart_in(FULL, unit="in")
    assert (caught.value.what, caught.value.point) == ("around", "half_chest")
    halved = chart_in(FULL, unit="in", around=["half_chest"])
    assert written_lengths(halved) == WANTED
    assert halved.halved == ["half_chest"]
    assert "halved" in halved.remarks.notes[0]
    assert (
        written_lengths(chart_in(FULL, unit="in", flat=["half_chest"]))["M"]["half_chest"] == "40"
    )


def test_a_chest_that_says_it_is_around_is_halved() -> None:
    """Where words and numbers agree, nobody is asked; where they contradict each other, one is."""
    assert (
        written_lengths(chart_in(FULL.replace("Chest", "Chest circumference"), unit="in")) == WANTED
    )
    with pytest.raises(MissingAnswerError):
        chart_in(FULL.replace("Chest", "Chest width"), unit="in")
    with pytest.raises(MissingAnswerError, match="flat"):
        chart_in(DOWN.replace("Body Width", "Full chest"), unit="in")


def test_without_letters_the_body_tells_what_is_around() -> None:
    """Children's sizes have no letter: a chest wider than the shirt is long goes around."""
    flat = "Age,Chest,Length\n3-4,13,18\n5-6,14,20\n"
    assert written_lengths(chart_in(flat, unit="in"))["5-6"] == {
        "half_chest": "14",
        "body_length": "20",
    }
    with pytest.raises(MissingAnswerError):
        chart_in(flat.replace("13", "26").replace("14", "28"), unit="in")


def test_hem_and_sleeve_are_held_against_the_chest() -> None:
    """They may go around as well."""
    text = "Size,Chest width,Sweep,Cuff\nS,18,36,7\nM,20,40,7 1/2\n"
    with pytest.raises(MissingAnswerError, match="hem width") as caught:
        chart_in(text, unit="in")
    assert caught.value.point == "hem_width"
    chart = chart_in(text, unit="in", around=["hem_width"])
    assert written_lengths(chart)["M"] == {
        "half_chest": "20",
        "sleeve_opening": "7 1/2",
        "hem_width": "20",
    }


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("20 1/2", "20 1/2"),
        ("20-1/2", "20 1/2"),
        ("20–1/2", "20 1/2"),
        ("20½", "20 1/2"),
        ("20 ½”", "20 1/2"),
        ("20 1⁄2", "20 1/2"),
        ("20.5", "20 1/2"),
        ("20,5", "20 1/2"),
        ("20.50 in", "20 1/2"),
        ("20 8/16", "20 1/2"),
        ("20 1/2*", "20 1/2"),
        ("20.5¹", "20 1/2"),
        ("20.47", "20.47"),
        ("52 cm", "52 cm"),
        ("20 1/2 in / 52 cm", "20 1/2"),
        ("20.5 in (52.1 cm)", "20 1/2"),
    ],
)
def test_a_length_is_read_in_any_form(text: str, wanted: str) -> None:
    """Fractions, decimals, commas, marks, two units at once."""
    given = f"Size\tChest width\tLength\nS\t18\t28\nM\t{text}\t29\nL\t22\t30"
    chart = chart_in(given, unit="in")
    assert not chart.remarks.troubles
    assert written_lengths(chart)["M"]["half_chest"] == wanted


@pytest.mark.parametrize(
    "text",
    ["twenty", "20/51", "20 1/3", "20 or 21", "TBC", "=A1+2", "20 in / 60 cm", "2026-05-06", "-20"],
)
def test_a_cell_that_is_not_understood_is_named(text: str) -> None:
    """By its address, and the rest stands."""
    chart = chart_in(f"Size\tChest width\tLength\nS\t18\t28\nM\t{text}\t29\nL\t22\t30", unit="in")
    assert trouble_addresses(chart) == ["B3"]
    assert written_lengths(chart)["M"] == {"body_length": "29"}


def test_an_impossible_length_is_named() -> None:
    """Centimetres that were taken for inches, for one."""
    chart = chart_in("Size\tChest width\tLength\nS\t18\t28\nM\t20\t290", unit="in")
    assert trouble_addresses(chart) == ["C3"]
    assert "is right" in chart.remarks.troubles[0].instead


def test_a_unit_that_no_letter_fits_is_named() -> None:
    """18 cm across the chest is nobody's M, though it is a child's."""
    chart = chart_in("Size,Chest width,Length\nS,18,28\nM,20,29", unit="cm")
    assert trouble_addresses(chart)[:2] == ["B2", "B3"]


def test_parts_of_a_chart_have_their_own_unit() -> None:
    """Inches above and centimetres below: the part in the unit that is asked for is taken."""
    text = (
        "Sizes,S,M\nInches,,\nChest,18,20\nLength,28,29\nCentimetres,,\nChest,46,51\nLength,71,74"
    )
    assert written_lengths(chart_in(text))["M"] == {"half_chest": "20", "body_length": "29"}
    assert written_lengths(chart_in(text, unit="cm"))["M"] == {
        "half_chest": "51",
        "body_length": "74",
    }


@pytest.mark.parametrize("text", ["", "-", "–", "n/a"])
def test_what_is_not_given_is_left_open(text: str) -> None:
    """An empty cell is no fault."""
    chart = chart_in(f"Size\tChest width\tLength\nS\t18\t28\nM\t{text}\t29", unit="in")
    assert not chart.remarks.troubles
    assert written_lengths(chart)["M"] == {"body_length": "29"}


@pytest.mark.parametrize(
    "text",
    [
        DOWN + "Tolerance +/-,1/2,3/4\n",
        DOWN + "Tol +,1/2,3/4\nTol -,1/2,3/4\n",
        DOWN.replace("Width", "Width (+/- 1/2)").replace("Length", "Length ±0.75"),
        ",S,M,L,Tol (+/-)\nWidth,18,20,22,1/2\nLength,28,29,30,± 3/4\n",
        DOWN.replace(",18", ",17.5-18.5")
        .replace(",20", ",19.5-20.5")
        .replace(",22", ",21 1/2 - 22 1/2")
        .replace(",28", ",28 ± 3/4"),
    ],
)
def test_tolerances_are_read_wherever_they_stand(text: str) -> None:
    """In a row, two rows, a column, the headings, the cells; ranges are a middle and a half."""
    chart = chart_in(text, unit="in")
    assert not chart.remarks.troubles
    assert written_lengths(chart) == WANTED
    assert {point: length.written for point, length in chart.tolerance.items()} == {
        "half_chest": "1/2",
        "body_length": "3/4",
    }


def test_a_tolerance_that_differs_by_direction_is_named() -> None:
    """A chart keeps one for both."""
    chart = chart_in(DOWN + "Tol +,1/2,1/2\nTol -,1/4,1/2\n", unit="in")
    assert trouble_addresses(chart) == ["B6"]
    assert "half_chest" not in chart.tolerance


def test_ranges_that_differ_are_named() -> None:
    """One length each is wanted."""
    chart = chart_in(DOWN.replace(",18", ",17-19").replace(",20", ",19-20"), unit="in")
    assert trouble_addresses(chart) == ["B2", "B3"]
    assert written_lengths(chart)["L"]["half_chest"] == "22"


def test_what_is_left_out_is_said() -> None:
    """A sleeve from the centre back, a weight, the second unit of a point."""
    text = (
        "Size,Chest (in),Chest (cm),Length (in),Sleeve CB,Weight\n"
        "S,18,45.7,28,16,5\nM,20,50.8,29,17,6\n"
    )
    chart = chart_in(text)
    assert not chart.remarks.troubles
    assert [note.partition(" ")[0] for note in chart.remarks.notes] == ["C1", "E1", "F1"]
    assert chart.points == ["half_chest", "body_length"]
    assert written_lengths(chart_in(text, unit="cm"))["M"]["half_chest"] == "50.8"


def test_two_units_that_contradict_each_other_are_named() -> None:
    """One of the two is a slip; a person says which to keep."""
    text = "Size,Chest (in),Chest (cm)\nS,18,45.7\nM,20,55\nL,22,56"
    assert trouble_addresses(chart_in(text)) == ["C3"]
    assert not chart_in(text, points={"Chest (cm)": "-"}).remarks.troubles


def test_codes_and_descriptions_are_no_sizes() -> None:
    """Beside the names of the points stand letters and sentences."""
    text = (
        "POM,Description,How to measure,S,M,L\n"
        "A,Chest,1 inch below the armhole,18,20,22\nB,HPS length,from neck to hem,28,29,30\n"
    )
    chart = chart_in(text, unit="in")
    assert not chart.remarks.troubles
    assert written_lengths(chart) == WANTED


def test_a_heading_that_nobody_knows_is_named_and_can_be_said() -> None:
    """By its cell; a person says which point it is, or that it is none."""
    text = DOWN.replace("Full Body Length", "Flapdoodle")
    assert trouble_addresses(chart_in(text, unit="in")) == ["C1"]
    assert (
        written_lengths(chart_in(text, unit="in", points={"flapdoodle": "body_length"})) == WANTED
    )
    chart = chart_in(text, unit="in", points={"Flapdoodle": "-"})
    assert not chart.remarks.troubles
    assert chart.points == ["half_chest"]


def test_a_sleeve_from_the_centre_back_can_be_insisted_on() -> None:
    """It is then kept with the way in which it is measured."""
    text = "Size,Width,Sleeve CB\nS,18,16\nM,20,17"
    chart = chart_in(text, unit="in", points={"Sleeve CB": "sleeve_length"})
    assert chart.how == {"sleeve_length": "centre_back"}


@pytest.mark.parametrize(
    ("rows", "named"),
    [
        ("S,18,28\nQQQ,20,29\nL,22,30", ["A3"]),
        ("S,18,28\n,20,29\nL,22,30", ["B3", "C3"]),
        ("S,18,28\nS,20,29\nL,22,30", ["A3"]),
        ("S,18,28\n2026-04-03,20,29\nL,22,30", ["A3"]),
        ("S,18,28,7\nL,22,30,7", ["D2", "D3"]),
    ],
)
def test_rows_and_columns_without_a_name_are_named(rows: str, named: list[str]) -> None:
    """No number is lost silently."""
    assert trouble_addresses(chart_in(f"Size,Width,Length\n{rows}", unit="in")) == named


def test_sizes_come_from_the_smallest() -> None:
    """Charts that begin with the largest, or in no order, are put in order."""
    text = "Size,Width,Length\nL,22,30\nS,18,28\nM,20,29"
    assert list(chart_in(text, unit="in").sizes) == ["S", "M", "L"]
    text = "Age,Width,Length\n7-8,14,20\n5-6,13,18\n3-4,12,17"
    assert list(chart_in(text, unit="in").sizes) == ["3-4", "5-6", "7-8"]


@pytest.mark.parametrize("text", ["a,b\nc,d", "S,M,L\n1,2,3", "Chest,Length\n18,28", "hello"])
def test_what_is_no_chart_is_refused(text: str) -> None:
    """With what a chart needs."""
    with pytest.raises(NoTableError, match="size chart"):
        chart_in(text, unit="in")


def test_it_is_shown_in_both_units() -> None:
    """As it was given, and in the other, for comparing with the original."""
    shown = summary_lines(chart_in(DOWN + "Tol,1/2,1/2", unit="in"))
    assert shown == [
        "read in inches, sizes down",
        "   half chest       body length",
        "S  18 in (45.7 cm)  28 in (71.1 cm)",
        "M  20 in (50.8 cm)  29 in (73.7 cm)",
        "L  22 in (55.9 cm)  30 in (76.2 cm)",
        "±  1/2 in (1.3 cm)  1/2 in (1.3 cm)",
    ]


@given(drawn_charts())
def test_a_chart_reads_back_however_it_is_written(drawn: DrawnChart) -> None:
    """Any layout, unit, orientation, separator, spelling and form of number gives it exactly."""
    chart = read_chart(read_tables(drawn.body), TableHints(unit=drawn.unit if drawn.silent else ""))
    assert chart.remarks.troubles == []
    assert list(chart.sizes) == list(drawn.sizes)
    got = {
        size: {point: length.exact for point, length in row.items()}
        for size, row in chart.sizes.items()
    }
    assert got == drawn.sizes
    assert {point: length.exact for point, length in chart.tolerance.items()} == drawn.tolerance


@given(drawn_charts(), st.integers(0, 10**6))
def test_a_spoilt_cell_is_named_and_nothing_else_changes(drawn: DrawnChart, seed: int) -> None:
    """One word in the place of one length: its address is named, and the rest is as it was."""
    chance = random.Random(seed)
    size = chance.choice(list(drawn.sizes))
    point = chance.choice(list(drawn.sizes[size]))
    spoilt = drawn.with_word(size, point, "flapdoodle")
    chart = read_chart(read_tables(spoilt.body), TableHints(unit=drawn.unit))
    assert trouble_addresses(chart) == [drawn.address_of(size, point)]
    got = {s: {p: length.exact for p, length in row.items()} for s, row in chart.sizes.items()}
    wanted = {
        s: {p: v for p, v in row.items() if (s, p) != (size, point)}
        for s, row in drawn.sizes.items()
    }
    assert got == {s: row for s, row in wanted.items() if row}


FRAGMENTS = (
    *("S", "M", "L", "XL", "Size", "Chest", "Length (in)", "18", "20 1/2", "", "-", "Tol", "±1/2"),
    *("in", "cm", "22-23", "n/a", "3-4", "*", "Sleeve CB", "1/2 Chest", "½", "(", "=A1", "0"),
    *("9999", "2026-01-01", "Chest cm", "Hem", "Cuff", "Full chest", "[", "+/-", "1/0", "۲"),
)


@given(
    st.integers(1, 6).flatmap(
        lambda width: st.lists(
            st.lists(st.sampled_from(FRAGMENTS), min_size=width, max_size=width), max_size=6
        )
    ),
    st.sampled_from(["", "in", "cm", "mm"]),
)
def test_any_table_is_a_chart_or_is_refused(rows: list[list[str]], unit: str) -> None:
    """Nothing else comes out, and what is read lies within what a garment can be."""
    with contextlib.suppress(NoTableError, MissingAnswerError):
        chart = read_chart([make_table(rows)], TableHints(unit=unit))
        assert summary_lines(chart)
        for row in chart.sizes.values():
            assert all(
                POINTS[p].least <= length.exact <= POINTS[p].most for p, length in row.items()
            )
