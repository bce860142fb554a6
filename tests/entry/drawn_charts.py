"""Invented size charts written in every way that the reader should know."""

import io
from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction

import openpyxl
from hypothesis import strategies as st

from blankbook.entry.tables.table_cells import cell_address
from blankbook.records.lengths import MM_PER_UNIT

LETTERS = ("XS", "S", "M", "L", "XL", "2XL", "3XL")
LABEL_SPELLINGS = {
    "XS": ("XS", "X-Small", "xs"),
    "S": ("S", "Small", "s", "S (34-36)"),
    "M": ("M", "Medium", "M*"),
    "L": ("L", "Large", "Size L"),
    "XL": ("XL", "X-Large", "Extra Large"),
    "2XL": ("2XL", "2X-Large", "2 XL"),
    "3XL": ("3XL", "3X-Large"),
}
HEADINGS = {
    "half_chest": ("Body Width", "Chest (A)", "1/2 Chest", "Pit to Pit", "CHEST WIDTH", "Width"),
    "body_length": ("Full Body Length", "HPS Length", "Length", "B. Body length", "Length*"),
    "sleeve_length": ("Sleeve", "Sleeve Length", "Short sleeve length"),
    "shoulder_width": ("Shoulder", "Across shoulder"),
    "hem_width": ("Hem width", "1/2 Sweep", "Bottom width"),
}
FIRST = {
    "half_chest": (16, 17, 2),
    "body_length": (25, 27, 1),
    "sleeve_length": (7, 8, 1),
    "shoulder_width": (15, 16, 1),
    "hem_width": (16, 17, 2),
}
"""By point: least and most of the smallest size and the step, inches."""
IN_UNIT = {"in": Fraction(1, 8), "cm": Fraction(1, 10)}


@dataclass(frozen=True, slots=True)
class DrawnChart:
    """A chart, and how it is written."""

    sizes: dict[str, dict[str, Fraction]]
    tolerance: dict[str, Fraction]
    unit: str
    silent: bool
    """Whether nothing in it says its unit."""
    grid: tuple[tuple[str, ...], ...]
    """Sizes down, before it is turned."""
    top: int
    across: bool
    form: str

    @property
    def body(self) -> bytes:
        """The bytes of the file."""
        rows = [list(row) for row in (zip(*self.grid, strict=True) if self.across else self.grid)]
        if self.form == "xlsx":
            book = openpyxl.Workbook()
            sheet = book.active
            assert sheet
            for row in rows:
                sheet.append([_number(cell) for cell in row])
            made = io.BytesIO()
            book.save(made)
            return made.getvalue()
        return "\n".join(self.form.join(row) for row in rows).encode()

    def _place(self, size: str, point: str) -> tuple[int, int]:
        row = self.top + 1 + list(self.sizes).index(size)
        return row, 1 + list(self.sizes[size]).index(point)

    def address_of(self, size: str, point: str) -> str:
        """Return where a length stands in the file."""
        row, column = self._place(size, point)
        return cell_address(column, row) if self.across else cell_address(row, column)

    def with_word(self, size: str, point: str, word: str) -> "DrawnChart":
        """Return the same chart with a word in the place of one length."""
        row, column = self._place(size, point)
        grid = [list(row) for row in self.grid]
        grid[row][column] = word
        return replace(self, grid=tuple(map(tuple, grid)))


def _number(cell: str) -> str | float | None:
    try:
        return float(cell)
    except ValueError:
        return cell or None


def _written(value: Fraction, unit: str, draw: Callable[..., object], form: str) -> str:
    """Return a number in one of the forms that suppliers use."""
    whole, rest = divmod(value, 1)
    decimal = f"{float(value):.3f}".rstrip("0").rstrip(".")
    forms = [decimal]
    if form != ",":
        forms.append(decimal.replace(".", ",") if len(decimal.partition(".")[2]) < 3 else decimal)
    if unit == "in" and rest and whole:
        vulgar = {
            "1/2": "½",
            "1/4": "¼",
            "3/4": "¾",
            "1/8": "⅛",
            "3/8": "⅜",
            "5/8": "⅝",
            "7/8": "⅞",
        }
        forms += [f"{whole} {rest}", f"{whole}-{rest}", f"{whole}{vulgar[str(rest)]}"]
    elif unit == "in" and rest:
        forms.append(str(rest))
    forms += [f"{number} {unit}" for number in forms] + [f"{forms[0]}*"]
    return str(draw(st.sampled_from(forms)))


@st.composite
def drawn_charts(draw: Callable[..., object]) -> DrawnChart:
    """Draw an invented chart and a way to write it."""
    pick: Callable[..., str] = lambda choices: str(draw(st.sampled_from(choices)))  # noqa: E731
    unit, form = pick(["in", "cm"]), pick([",", ";", "\t", "xlsx"])
    first = draw(st.integers(0, len(LETTERS) - 2))
    assert isinstance(first, int)
    count = draw(st.integers(2, len(LETTERS) - first))
    assert isinstance(count, int)
    labels = LETTERS[first : first + count]
    more = draw(st.sets(st.sampled_from([p for p in HEADINGS if p != "half_chest"]), min_size=1))
    assert isinstance(more, set)
    points = ["half_chest", *(point for point in HEADINGS if point in more)]
    sizes: dict[str, dict[str, Fraction]] = {label: {} for label in labels}
    for point in points:
        for label, value in zip(labels, _values(draw, point, first, count, unit), strict=True):
            sizes[label][point] = value * MM_PER_UNIT[unit]
    said = pick(["title", "headings", "silent"])
    suffix = {"in": " (in)", "cm": " [cm]"}[unit] if said == "headings" else ""
    number: Callable[[Fraction], str] = lambda exact: _written(  # noqa: E731
        exact / MM_PER_UNIT[unit], unit, draw, form
    )
    grid = [["Size", *(pick(HEADINGS[point]) + suffix for point in points)]]
    grid += [
        [pick(LABEL_SPELLINGS[label]), *(number(sizes[label][point]) for point in points)]
        for label in labels
    ]
    tolerance: dict[str, Fraction] = {}
    if draw(st.booleans()):
        tolerance = dict.fromkeys(points, IN_UNIT[unit] * 4 * MM_PER_UNIT[unit])
        grid.append([pick(["Tolerance +/-", "Tol", "±"]), *(number(t) for t in tolerance.values())])
    title = {"in": "All measurements in inches", "cm": "Sizes in centimetres"}[unit]
    top = [[title, *[""] * len(points)]] if said == "title" else []
    cells = tuple(map(tuple, [*top, *grid]))
    across = bool(draw(st.booleans()))
    return DrawnChart(sizes, tolerance, unit, said == "silent", cells, len(top), across, form)


def _values(
    draw: Callable[..., object], point: str, first: int, count: int, unit: str
) -> list[Fraction]:
    """Return the lengths of one point from the smallest size on, in the unit."""
    least, most, step = FIRST[point]
    part = IN_UNIT[unit]
    per = Fraction(254, 100) if unit == "cm" else Fraction(1)
    start = draw(st.integers(int(least * per / part), int(most * per / part)))
    assert isinstance(start, int)
    grown = round(step * per / part)
    return [part * (start + grown * (first + at)) for at in range(count)]
