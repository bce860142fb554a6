"""What a table holds is said, shown or asked: ways round, units, washes, days, which garment."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from blankbook.entry.charts.size_chart import MissingAnswerError, TableHints
from blankbook.entry.readings.read_table import TableReadings, read_table
from blankbook.entry.tables.separated_text import table_from_text
from blankbook.entry.tables.table_cells import NoTableError
from blankbook.records.lengths import read_length
from blankbook.records.load_ledger import load_ledger
from blankbook.records.model import Style, Tape
from made_blanks import shop
from support import Program
from terminals import Terminal

WHO = ("--by", "rv", "--lot", "A 12", "--date", "2026-11-24")
ROUND = "blanks/hobnettle/q7/2026-11-24-import.yaml"
TAPE = Tape("in", read_length("1/8", "in"))


@pytest.fixture
def q7(demo_ledger: Path) -> Style:
    """Return a style whose chart says half chest 20 1/2 for M, 22 1/2 for L and 24 1/2 for XL."""
    ledger = load_ledger(demo_ledger, only={"hobnettle/q7"}, pictures=False).ledger
    assert ledger
    return ledger.blanks["hobnettle/q7"].style


def read(text: str, style: Style, **said: object) -> TableReadings:
    """Return what is read of a table."""
    return read_table(table_from_text(text), TableHints(**said), style, shop(), TAPE, "black")  # type: ignore[arg-type]


def chests(found: TableReadings) -> list[list[str]]:
    """Return the readings of the half chest as received, piece by piece."""
    return [one.read[0, "half_chest"] for one in found.pieces]


def refused(found: TableReadings) -> dict[str, str]:
    """Return why cells were rejected, by address."""
    return {one.address: one.why for one in found.rejected}


FULL = "size,chest\nM,41\nL,45 1/4\n"


class TestWaysRound:
    """A full chest is halved where somebody says so, and never taken for a half one."""

    def test_a_full_chest_is_asked_about(self, q7: Style) -> None:
        """It names a cell, and what the column seems to hold."""
        with pytest.raises(
            MissingAnswerError, match="B3 45 1/4 looks as if the half chest of L"
        ) as caught:
            read(FULL, q7)
        assert (caught.value.what, caught.value.likely) == ("around", "around")

    def test_what_is_said_to_be_around_is_halved_and_told(self, q7: Style) -> None:
        """41 in around is 20 1/2 in flat: half of a whole, by definition."""
        found = read(FULL, q7, around=("half_chest",))
        assert chests(found) == [["20 1/2"], ["22 5/8"]]
        assert found.halved == ["half_chest"]
        assert found.notes == ["B1 chest: all the way around, so halved"]

    def test_a_heading_says_it_too(self, q7: Style) -> None:
        """But where its numbers are flat, somebody must say which of both is right."""
        text = "size,chest circumference\nM,41\nL,45\n"
        assert chests(read(text, q7)) == [["20 1/2"], ["22 1/2"]]
        with pytest.raises(MissingAnswerError, match="measured flat"):
            read("size,full chest\nM,20\nL,22\n", q7)

    def test_one_full_chest_among_half_ones_is_named(self, q7: Style) -> None:
        """And the other way round; what is said to be flat is taken."""
        text = "size,chest\nM,20 1/2\nM,20 3/8\nL,45\n"
        found = read(text, q7)
        assert list(refused(found)) == ["B4"]
        assert "half of it is 22 1/2 in" in refused(found)["B4"]
        assert refused(read(text, q7, flat=("half_chest",))) == {}
        other = read("size,chest\nM,41\nM,41\nL,22\n", q7, around=("half_chest",))
        assert list(refused(other)) == ["B4"]

    def test_without_a_chart_the_wearer_tells(self, q7: Style) -> None:
        """A-A-55069, page 1: M is meant for a chest of 38 to 40 in, so no half chest is 41 in."""
        with pytest.raises(MissingAnswerError, match="all the way around"):
            read("size,chest\nM,41\n", replace(q7, charts=()))

    def test_half_of_a_mark_is_written_as_it_is(self, q7: Style) -> None:
        """Half of 41 1/8 is 20 9/16, though a tape of eighths has no such mark."""
        assert chests(read("size,chest\nM,41 1/8\n", q7, around=("half_chest",))) == [["20 9/16"]]

    def test_centimetres_around_are_halved_in_centimetres(self, q7: Style) -> None:
        """104.2 cm around is 52.1 cm flat."""
        text = "size,chest (cm)\nM,104.2\n"
        assert chests(read(text, q7, around=("half_chest",))) == [["52.1 cm"]]


class TestUnits:
    """A unit is said by the cell, its heading, a row below it, a flag or a title, in that order."""

    @pytest.mark.parametrize(
        "text",
        [
            "size,chest (cm)\nM,52.1\n",
            "size,chest\n,cm\nM,52.1\n",
            "All measurements in cm,\nsize,chest\nM,52.1\n",
            "size,chest\nM,52.1 cm\n",
            "size,chest\nM,52.1cm\n",
            "size,chest\nM,52.1 CM\n",
        ],
    )
    def test_a_unit_is_found_where_it_stands(self, q7: Style, text: str) -> None:
        """52.1 cm is 521 mm, by definition of the unit."""
        (found,) = read(text, q7).pieces
        (written,) = found.read[0, "half_chest"]
        assert read_length(written, "in").exact == 521

    def test_bare_centimetres_are_no_inches(self, q7: Style) -> None:
        """40 and 57 could be inches of some garment, and are 2.54 times too large for this one."""
        text = "size,chest,sleeve\nM,52,61.5\nL,57,63.5\n"
        with pytest.raises(MissingAnswerError, match="look like centimetres") as caught:
            read(text, q7)
        assert (caught.value.what, caught.value.likely) == ("unit", "cm")
        assert chests(read(text, q7, unit="cm")) == [["52 cm"], ["57 cm"]]

    def test_one_cell_in_the_other_unit_is_named(self, q7: Style) -> None:
        """With what to write, and whether a unit stands at all."""
        found = read("size,sleeve\nM,24 1/4\nL,25\nL,63.5\n", q7)
        assert list(refused(found)) == ["B4"]
        assert "write 63.5 cm" in refused(found)["B4"]

    def test_both_units_may_stand_in_one_column(self, q7: Style) -> None:
        """22 1/2 in is 571.5 mm: the inch is exactly 25.4 mm (NIST SP 811, appendix B.8)."""
        found = read('size,chest\nM,52.1 cm\nL,"22 1/2"""\n', q7)
        exact = [float(read_length(row[0], "in").exact) for row in chests(found)]
        assert exact == [521.0, 571.5]


class TestWashes:
    """Readings after washing never count as received."""

    def test_a_title_that_says_washed_must_be_said_of_a_column(self, q7: Style) -> None:
        """Nothing in the columns says it, so a person does."""
        text = "After 5 washes,\nsize,chest\nM,20\n"
        with pytest.raises(NoTableError, match="After 5 washes") as caught:
            read(text, q7)
        assert "--column B=half_chest@5" in caught.value.instead
        (found,) = read(text, q7, points={"b": "half_chest@5"}).pieces
        assert found.read == {(5, "half_chest"): ["20"]}
        (found,) = read(text, q7, points={"b": "half_chest@0"}).pieces
        assert found.read == {(0, "half_chest"): ["20"]}

    def test_before_washing_is_as_received(self, q7: Style) -> None:
        """A title that says so stands in nobody's way."""
        (found,) = read("Unwashed pieces before washing,\nsize,chest\nM,20\n", q7).pieces
        assert found.read == {(0, "half_chest"): ["20"]}

    @pytest.mark.parametrize(
        ("text", "washes"),
        [("0", 0), ("", 0), ("new", 0), ("5", 5), ("5.0", 5), ("5x", 5), ("after 3 washes", 3)],
    )
    def test_a_number_of_washes_is_read(self, q7: Style, text: str, washes: int) -> None:
        """In the words that people write."""
        (found,) = read(f"size,washes,chest\nM,{text},20\n", q7).pieces
        assert list(found.read) == [(washes, "half_chest")]

    @pytest.mark.parametrize("text", ["1/2", "1.5", "-1", "some", "201", "3 or 4"])
    def test_what_is_no_number_of_washes_is_named(self, q7: Style, text: str) -> None:
        """Its digits are not put together to another one."""
        assert list(refused(read(f"size,washes,chest\nM,{text},20\n", q7))) == ["B2"]

    def test_row_and_heading_must_agree(self, q7: Style) -> None:
        """One says five washes, the other three."""
        found = read("size,washes,chest after 3 washes\nM,5,20\n", q7)
        assert refused(found) == {"B2": "says 5 washes, and C1 says 3"}


class TestGarments:
    """No garment is taken for another one, and what is none is left out and told."""

    def test_two_names_are_never_one_piece(self, q7: Style) -> None:
        """Though the ledger would write both alike."""
        found = read("piece,size,chest\nA 1,M,20\nA/1,M,20 1/8\n", q7)
        assert list(refused(found)) == ["A3"]
        counted = read("piece,size,chest\nM-black-1,M,20\n,M,20 1/8\n", q7)
        assert list(refused(counted)) == ["A3"]

    def test_a_name_is_not_cut(self, q7: Style) -> None:
        """Two long ones that begin alike would be one."""
        assert "at most 60" in refused(read(f"piece,size,chest\n{'x' * 61},M,20\n", q7))["A2"]

    def test_the_same_row_twice_is_named(self, q7: Style) -> None:
        """But another reading of the same piece is a repeat, and told as one."""
        twice = read("piece,size,chest\nP,M,20\nP,M,20\n", q7)
        assert "is row 2 once more" in refused(twice)["A3"]
        repeat = read("piece,size,chest\nP,M,20\nP,M,20 1/8\n", q7)
        assert chests(repeat) == [["20", "20 1/8"]]
        assert repeat.notes == ["row 3: P once more, half chest read repeatedly"]

    def test_two_garments_without_names_may_measure_the_same(self, q7: Style) -> None:
        """They are counted."""
        found = read("size,chest\nM,20\nM,20\n", q7)
        assert [one.key for one in found.pieces] == ["M-black-1", "M-black-2"]

    @pytest.mark.parametrize(
        "row", ["Average,,20", "TOTAL:,,40", "mean (n=2),M,20", "Spec,M,20", "Average M,M,20"]
    )
    def test_a_row_that_sums_up_is_no_garment(self, q7: Style, row: str) -> None:
        """Even where it has a size."""
        found = read(f"piece,size,chest\nP,M,20\n{row}\n", q7)
        assert [one.key for one in found.pieces] == ["P"]
        assert refused(found) == {}
        assert found.notes[0].startswith("row 3 left out: ")

    def test_headings_once_more_and_a_remark_below_are_left_out(self, q7: Style) -> None:
        """And told."""
        found = read("size,chest\nM,20\nsize,chest\nL,22\nwith the steel tape,\n", q7)
        assert chests(found) == [["20"], ["22"]]
        assert found.notes == [
            "row 3 left out: the headings once more",
            "row 5 left out: with the steel tape, and no reading",
        ]

    def test_a_column_without_a_heading_is_not_dropped(self, q7: Style) -> None:
        """Somebody says what stands in it."""
        found = read("size,chest,\nM,20,28\n", q7)
        assert [one.holds for one in found.columns] == ["size", "half_chest", ""]

    def test_a_colour_is_a_whole_word_of_a_name(self, q7: Style) -> None:
        """Cream is no part of scream."""
        found = read_table(
            table_from_text("piece,chest\nM-scream-1,20\n"), TableHints(), q7, shop(), TAPE
        )
        assert list(refused(found)) == ["A2"]

    def test_another_lot_of_the_same_piece_is_named(self, q7: Style) -> None:
        """A garment is of one lot."""
        found = read("piece,size,lot,chest\nP,M,A,20\nP,M,B,20 1/8\n", q7)
        assert "is of lot A further up, and not B" in refused(found)["A3"]


def put(tmp_path: Path, text: str) -> str:
    """Write a file and return its name."""
    (tmp_path / "old.csv").write_text(text, encoding="utf-8")
    return str(tmp_path / "old.csv")


HALF_READ = (
    "piece,size,colour,chest,length\nP,M,black,20,28 1/2\nQ,M,black,2O,28\nR,L,black,22,29\n"
)


def test_good_rows_are_whole_rows(demo_copy: Path, tmp_path: Path, command: Program) -> None:
    """A row with a bad cell is left out whole; the corrected table brings it in, and no other."""
    here = ("--ledger", str(demo_copy))
    name = put(tmp_path, HALF_READ)
    ended = command("import", name, "hobnettle/q7", *WHO, "--good-rows", *here)
    assert ended.code == 1
    assert "not read: D3 must be a length, found 2O" in ended.out
    assert "left out whole: row 3" in ended.out
    text = (demo_copy / ROUND).read_text(encoding="utf-8")
    assert "piece: Q" not in text
    name = put(tmp_path, HALF_READ.replace("2O", "20"))
    again = command("import", name, "hobnettle/q7", "--into", ROUND, *here)
    assert again.code == 0, again.err
    assert "new in the round: Q" in again.out
    assert "wrote 2 readings" in again.out
    assert (demo_copy / ROUND).read_text(encoding="utf-8").startswith(text.rstrip("\n"))


def test_pieces_are_not_counted_past_one_that_nobody_knows(
    demo_copy: Path, tmp_path: Path, command: Program
) -> None:
    """The corrected table would count them otherwise, and readings would change garments."""
    name = put(tmp_path, "size,colour,chest\nM,black,20\nQ,black,20 1/2\nM,black,21\n")
    flags = (*WHO, "--good-rows", "--ledger", str(demo_copy))
    ended = command("import", name, "hobnettle/q7", *flags)
    assert ended.code == 1
    assert "cannot be counted while A3 is not understood" in ended.err
    assert not (demo_copy / ROUND).exists()


def test_a_counted_piece_fills_no_other_garment(
    demo_copy: Path, tmp_path: Path, command: Program
) -> None:
    """The same table may come again; another one without names may be of other garments."""
    here = ("--ledger", str(demo_copy))
    first = put(tmp_path, "size,colour,chest\nM,black,20 1/2\n")
    assert command("import", first, "hobnettle/q7", *WHO, *here).code == 0
    into = ("--into", ROUND, *here)
    more = put(tmp_path, "size,colour,chest,length\nM,black,20.5,28\n")
    ended = command("import", more, "hobnettle/q7", *into)
    assert (ended.code, "wrote 1 reading" in ended.out) == (0, True)
    before = (demo_copy / ROUND).read_bytes()
    for row in ("size,colour,chest\nM,black,21\n", "size,colour,hem width\nM,black,20\n"):
        ended = command("import", put(tmp_path, row), "hobnettle/q7", *into)
        assert ended.code == 1
        assert "A2 has no name, and would be M-black-1" in ended.err
    assert (demo_copy / ROUND).read_bytes() == before


DAYS = [
    (("2026-11-24",), 0, ""),
    (("1/8/2026",), 1, "A2: may be two days, found 1/8/2026; write 2026-01-08 or 2026-08-01"),
    (("46000",), 1, "A2: is a day as a spreadsheet counts, found 46000; write 2025-12-09"),
    (("2026-11-23", "2026-11-24"), 2, "a round is of one day, and the table has 2"),
]


@pytest.mark.parametrize(("days", "code", "words"), DAYS)
def test_the_day_of_measuring_may_stand_in_the_table(
    demo_copy: Path, tmp_path: Path, command: Program, days: tuple[str, ...], code: int, words: str
) -> None:
    """One day, written out; serial 46000 is 9 December 2025 (46000 days from 30 December 1899)."""
    rows = "".join(f"{day},M,black,20\n" for day in days)
    name = put(tmp_path, f"date,size,colour,chest\n{rows}")
    who = ("--by", "rv", "--lot", "A 12", "--ledger", str(demo_copy))
    ended = command("import", name, "hobnettle/q7", *who)
    assert (ended.code, words in ended.err) == (code, True)
    assert (demo_copy / ROUND).exists() == (code == 0)


REFUSALS = [
    (("--date", "1/8/2026"), "--date may be two days"),
    (("--date", "46000"), "--date is a day as a spreadsheet counts"),
    (("--word", "../../shop"), "--word must be small letters"),
    (("--column", "nothing=half_chest"), "has no column nothing"),
    (("--column", "size=size@3"), "--column must be HEADING=WHAT"),
    (("--column", "chest=half_chest@²"), "--column must be HEADING=WHAT"),
    (("--around", "body_length"), "--around must name points that are laid flat"),
    (("--around", "half_chest", "--flat", "half_chest"), "contradict each other"),
]


@pytest.mark.parametrize(("flags", "words"), REFUSALS)
def test_what_stops_it_is_data_too(
    demo_copy: Path, tmp_path: Path, command: Program, flags: tuple[str, ...], words: str
) -> None:
    """With --json there is one document on standard output, whatever happens; nothing is asked."""
    name = put(tmp_path, "size,colour,chest\nM,black,20\n")
    ended = command(
        "import", name, "hobnettle/q7", *WHO, *flags, "--json", "--ledger", str(demo_copy)
    )
    assert ended.code == 2
    told = json.loads(ended.out)
    assert words in told["error"]
    assert (told["written"], told["schema"]) == (False, "blankbook/import/1")
    assert words in ended.err


def test_rejected_cells_are_data(demo_copy: Path, tmp_path: Path, command: Program) -> None:
    """Each with its address, and the rows that they spoil."""
    here = ("--json", "--ledger", str(demo_copy))
    ended = command("import", put(tmp_path, HALF_READ), "hobnettle/q7", *WHO, *here)
    told = json.loads(ended.out)
    assert ended.code == 1
    assert [one["cell"] for one in told["rejected"]] == ["D3"]
    assert told["rows_left_out"] == ["3"]


def test_what_columns_were_taken_for_is_shown(
    demo_copy: Path, tmp_path: Path, command: Program
) -> None:
    """Also where nobody can be asked: on the error stream, so that the difference stays alone."""
    name = put(tmp_path, "size,colour,chest,sleeve (cb)\nM,black,20,33\n")
    ended = command("import", name, "hobnettle/q7", *WHO, "--dry-run", "--ledger", str(demo_copy))
    assert ended.code == 0
    assert "C1 chest: half_chest" in ended.err
    assert "D1 sleeve (cb): left out" in ended.err
    assert ended.out.startswith("--- ")
    assert not (demo_copy / ROUND).exists()


def test_at_a_terminal_the_way_and_the_columns_are_asked(demo_copy: Path, tmp_path: Path) -> None:
    """The likelier way stands ready; the columns are shown, and nothing is written before yes."""
    name = put(tmp_path, "size,colour,chest\nM,black,41\nL,black,45\n")
    at = Terminal(demo_copy, name, "hobnettle/q7", *WHO, door="import")
    assert "C3 45 looks as if" in at.until("around or flat? [around]:")
    at.key("\r")
    assert "C1 chest: half_chest" in at.until("is that right? [Y/n]:")
    assert not (demo_copy / ROUND).exists()
    at.key("y\r")
    at.until("wrote 2 readings of 2 pieces")
    text = (demo_copy / ROUND).read_text(encoding="utf-8")
    assert "half_chest: 20 1/2" in text
    assert "half_chest: 22 1/2" in text


def test_at_a_terminal_no_is_no(demo_copy: Path, tmp_path: Path) -> None:
    """And the flag is named."""
    name = put(tmp_path, "size,colour,chest\nM,black,20 1/2\n")
    at = Terminal(demo_copy, name, "hobnettle/q7", *WHO, door="import")
    at.until("is that right? [Y/n]:")
    at.key("n\r")
    at.until("say it with --column HEADING=WHAT")
    assert not (demo_copy / ROUND).exists()


def test_a_table_on_its_side_is_told(demo_copy: Path, tmp_path: Path, command: Program) -> None:
    """Its pieces stand across; what a person does about it is said."""
    name = put(tmp_path, "size,M,L\ncolour,black,black\nchest,20,22\nbody length,28,29\n")
    ended = command("import", name, "hobnettle/q7", *WHO, "--ledger", str(demo_copy))
    assert ended.code == 2
    assert "has a column for each piece" in ended.err


def test_how_pieces_were_washed_is_asked_by_its_flag(
    demo_copy: Path, tmp_path: Path, command: Program
) -> None:
    """Readings after washing say nothing without it; the flag is named, and not a key of a file."""
    here = ("--ledger", str(demo_copy))
    name = put(tmp_path, "size,colour,chest after 3 washes\nM,black,20\n")
    ended = command("import", name, "hobnettle/q7", *WHO, *here)
    assert ended.code == 2
    assert "--wash home_warm,tumble_low" in ended.err
    wash = ("--wash", "home_warm,tumble_low")
    assert command("import", name, "hobnettle/q7", *WHO, *wash, *here).code == 0
    more = put(tmp_path, "size,colour,chest after 3 washes,chest after 5 washes\nM,black,20,19\n")
    assert command("import", more, "hobnettle/q7", "--into", ROUND, *here).code == 0
