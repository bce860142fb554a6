"""A chart copied from a printed page: one space between cells, and inside a length too."""

import pytest

from blankbook.entry.charts.read_chart import read_chart
from blankbook.entry.charts.size_chart import TableHints
from blankbook.entry.tables.separated_text import table_from_text
from blankbook.entry.tables.spaced_text import cut_at_spaces
from blankbook.entry.tables.table_cells import NoTableError, Table

TEXT = """\
All measurements in inches
Size S M L XL
Body width 18 20 1/2 22 24½
Full body length 28 29 30" 31.5
Sleeve CB 16 17 - 19
"""


def filled_cell_texts(table: Table) -> list[list[str]]:
    """Return what stands in the cells that are not empty."""
    return [[cell.text for cell in row if cell.text] for row in table.rows]


def test_the_line_of_sizes_says_where_to_cut() -> None:
    """A fraction belongs to the number before it."""
    assert filled_cell_texts(cut_at_spaces(TEXT))[1:] == [
        ["Size", "S", "M", "L", "XL"],
        ["Body width", "18", "20 1/2", "22", "24½"],
        ["Full body length", "28", "29", '30"', "31.5"],
        ["Sleeve CB", "16", "17", "-", "19"],
    ]


def test_it_is_read_as_a_chart() -> None:
    """With its unit, and what is left out."""
    chart = read_chart([table_from_text(TEXT)], TableHints())
    assert not chart.remarks.troubles
    assert chart.sizes["M"]["half_chest"].written == "20 1/2"
    assert chart.sizes["XL"]["body_length"].written == "31 1/2"


@pytest.mark.parametrize("line", ["Body width 18 20 22", "Body width 18 20 22 24 1/2 26"])
def test_a_line_with_another_count_of_numbers_is_not_cut(line: str) -> None:
    """Which of them belongs to which size, nobody could tell."""
    table = cut_at_spaces(TEXT.replace("Body width 18 20 1/2 22 24½", line))
    assert filled_cell_texts(table)[2] == [line]


@pytest.mark.parametrize("text", ["", "Size Chest Length\nS 18 28", "S M L Tol\nChest 18 20 22 1"])
def test_without_a_line_of_sizes_nothing_is_cut(text: str) -> None:
    """Headings across, or something beside the sizes."""
    with pytest.raises(NoTableError):
        cut_at_spaces(text)
