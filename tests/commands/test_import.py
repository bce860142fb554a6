"""Readings from a table kept elsewhere: all of it understood, or each cell named that is not."""

import io
import json
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from blankbook.entry.charts.size_chart import TableHints
from blankbook.entry.readings.read_table import read_table
from blankbook.entry.readings.reading_columns import table_head
from blankbook.entry.round.typed_lengths import value_text
from blankbook.entry.tables.separated_text import table_from_text
from blankbook.entry.tables.table_files import read_tables
from blankbook.records.lengths import read_length
from blankbook.records.load_ledger import load_ledger
from blankbook.records.model import Style, Tape
from made_blanks import blank, shop
from support import Program

CSV = """\
Piece,Size,Colour,Pit to Pit,Body Length,Sleeve,Chest after 1 wash,Remarks
M-1,M,black,20 5/8,28 1/2,24.25,20,
L-1,L,black,22-1/2,29.13,25,22 1/8,tag loose
XL-1,xl,cream,24½,30,,,
"""
WHO = ("--by", "rv", "--lot", "A 12", "--date", "2026-11-24")
WASH = ("--wash", "home_warm,tumble_low")
ROUND = "blanks/hobnettle/q7/2026-11-24-import.yaml"
TAPE = Tape("in", read_length("1/8", "in"))


def put(tmp_path: Path, text: str, name: str = "old.csv") -> str:
    """Write a file and return its name."""
    (tmp_path / name).write_text(text, encoding="utf-8")
    return str(tmp_path / name)


def readings(root: Path) -> dict[str, dict[str, str]]:
    """Return what was read as received of every piece of the newest round, as written."""
    ledger = load_ledger(root).ledger
    assert ledger
    one = ledger.blanks["hobnettle/q7"].rounds[-1]
    return {
        piece.key: {p: "; ".join(r.written for r in row) for p, row in piece.received.items()}
        for piece in one.pieces
    }


def test_a_table_becomes_a_round_that_checks(
    demo_copy: Path, tmp_path: Path, command: Program
) -> None:
    """Headings as people write them, fractions in every form, and what a spreadsheet rounded."""
    here = ("--ledger", str(demo_copy))
    ended = command("import", put(tmp_path, CSV), "hobnettle/q7", *WHO, *WASH, *here)
    assert ended.code == 0, ended.err
    assert readings(demo_copy) == {
        "M-1": {"half_chest": "20 5/8", "body_length": "28 1/2", "sleeve_length": "24 1/4"},
        "L-1": {"half_chest": "22 1/2", "body_length": "29 1/8", "sleeve_length": "25"},
        "XL-1": {"half_chest": "24 1/2", "body_length": "30"},
    }
    ledger = load_ledger(demo_copy).ledger
    assert ledger
    piece = ledger.blanks["hobnettle/q7"].rounds[-1].pieces[1]
    assert piece.note == "tag loose"
    assert [(one.cycles, one.readings["half_chest"][0].written) for one in piece.washed] == [
        (1, "22 1/8")
    ]
    assert ROUND not in command("check", *here).out


def test_a_spreadsheet_is_read_as_it_shows(
    demo_copy: Path, tmp_path: Path, command: Program
) -> None:
    """Numbers, texts, and the day that was made of a fraction, which is named by its cell."""
    book = openpyxl.Workbook()
    sheet: Any = book.active
    sheet.append(["size", "colour", "half chest (cm)", "length (cm)"])
    sheet.append(["M", "black", 52.4, "72,5"])
    sheet.append(["L", "black", 57, 74])
    sheet["D3"].number_format = "0.0"
    stream = io.BytesIO()
    book.save(stream)
    (tmp_path / "b.xlsx").write_bytes(stream.getvalue())
    flags = (*WHO, "--tape", "0.1 cm", "--ledger", str(demo_copy))
    ended = command("import", str(tmp_path / "b.xlsx"), "hobnettle/q7", *flags)
    assert ended.code == 0, ended.err
    assert readings(demo_copy)["M-black-1"] == {"half_chest": "52.4", "body_length": "72.5"}

    import datetime

    sheet["C2"] = datetime.datetime(2026, 1, 8)
    stream = io.BytesIO()
    book.save(stream)
    (tmp_path / "c.xlsx").write_bytes(stream.getvalue())
    refused = command("import", str(tmp_path / "c.xlsx"), "hobnettle/q7", *flags, "--word", "c")
    assert refused.code == 1
    assert "C2: is a day" in refused.err


BAD = [
    ("22.1", "must be on a tape read to 1/8 in, found 22.1; the nearest mark is 22 1/8"),
    ("2026-01-08", "a spreadsheet makes days of fractions"),
    ("8-Jan", "a spreadsheet makes days of fractions"),
    ("=A1*2", "is a formula without a value"),
    ("wide", "must be a length"),
    ("99", "half chest must be between"),
    ("22 1/3", "must be in the parts that tapes are marked in"),
]


@pytest.mark.parametrize(("text", "words"), BAD)
def test_each_cell_that_is_not_understood_is_named(
    demo_copy: Path, tmp_path: Path, command: Program, text: str, words: str
) -> None:
    """By its address, and nothing is written; unless the rest of the rows is wanted."""
    name = put(tmp_path, f"size,colour,chest width\nM,black,20\nL,black,{text}\n")
    here = ("--ledger", str(demo_copy))
    ended = command("import", name, "hobnettle/q7", *WHO, *here)
    assert ended.code == 1
    assert "C3: " in ended.err
    assert words in ended.err
    assert not (demo_copy / ROUND).exists()
    rest = command("import", name, "hobnettle/q7", *WHO, "--good-rows", *here)
    assert rest.code == 1
    assert "not read: C3" in rest.out
    assert readings(demo_copy)["M-black-1"] == {"half_chest": "20"}


def test_a_round_that_is_there_is_filled_and_nothing_replaced(
    demo_copy: Path, tmp_path: Path, command: Program
) -> None:
    """What was read before stays, and is told; a piece that is new is added."""
    here = ("--ledger", str(demo_copy))
    into = "blanks/hobnettle/q5/2026-11-16-winter.yaml"
    name = put(tmp_path, "piece,size,colour,chest\nM-black-1,M,black,20 1/2\nL-9,L,cream,22 1/2\n")
    first = command("import", name, "hobnettle/q5", "--into", into, *WHO, *here)
    assert first.code == 0, first.err
    again = put(tmp_path, "piece,size,colour,chest,length\nM-black-1,M,black,21,28 1/2\n", "c.csv")
    second = command("import", again, "hobnettle/q5", "--into", into, *here)
    assert second.code == 1
    assert "M-black-1 half_chest as received: 20 1/2 is there already" in second.out
    text = (demo_copy / into).read_text(encoding="utf-8")
    assert "received: {half_chest: 20 1/2, body_length: 28 1/2}" in text
    assert "piece: L-9" in text
    assert text.startswith("# yaml-language-server")


def test_a_reading_never_goes_to_another_garment(
    demo_copy: Path, tmp_path: Path, command: Program
) -> None:
    """A name that stands for two pieces, here or in the round, is refused; so is another blank."""
    here = ("--ledger", str(demo_copy))
    twice = put(tmp_path, "piece,size,colour,chest\nP1,M,black,20 1/2\nP1,L,black,22 1/2\n")
    ended = command("import", twice, "hobnettle/q7", *WHO, *here)
    assert ended.code == 1
    assert "B3: P1 is M, black further up, and not L, black" in ended.err
    into = ("--into", "blanks/hobnettle/q5/2026-11-16-winter.yaml")
    other = put(tmp_path, "piece,size,colour,chest\nM-black-1,L,cream,22 1/2\n", "b.csv")
    ended = command("import", other, "hobnettle/q5", *into, *WHO, *here)
    assert ended.code == 1
    assert "M-black-1 is M, black in the round, and L, cream in the table" in ended.err
    ended = command("import", other, "dabchick/d42", *into, *WHO, *here)
    assert ended.code == 2
    assert "--into is a round of hobnettle/q5" in ended.err


def test_two_columns_for_one_point_are_asked_about(
    demo_copy: Path, tmp_path: Path, command: Program
) -> None:
    """They are no repeat readings; and a colour that the style does not have is no colour."""
    here = ("--ledger", str(demo_copy))
    name = put(tmp_path, "size,colour,chest,pit to pit\nM,black,20 1/2,21\n")
    ended = command("import", name, "hobnettle/q7", *WHO, *here)
    assert ended.code == 2
    assert "found C1 chest and D1 pit to pit" in ended.err
    ended = command("import", name, "hobnettle/q7", *WHO, "--column", "pit to pit=skip", *here)
    assert ended.code == 0
    blak = put(tmp_path, "size,colour,chest\nM,blak,20 1/2\n", "c.csv")
    ended = command("import", blak, "hobnettle/q7", *WHO, *here)
    assert ended.code == 1
    assert "B2: no colour of the style" in ended.err


def test_a_new_piece_brings_its_lot_and_note(
    demo_copy: Path, tmp_path: Path, command: Program
) -> None:
    """Nothing that was understood is dropped."""
    into = "blanks/hobnettle/q5/2026-11-16-winter.yaml"
    name = put(tmp_path, "piece,size,colour,lot,note,chest\nL-9,L,cream,B 7,thick rib,22 1/2\n")
    flags = ("--into", into, *WHO, "--ledger", str(demo_copy))
    assert command("import", name, "hobnettle/q5", *flags).code == 0
    text = (demo_copy / into).read_text(encoding="utf-8")
    assert "    lot: B 7\n    note: thick rib\n    received: {half_chest: 22 1/2}" in text


def test_columns_can_be_said(demo_copy: Path, tmp_path: Path, command: Program) -> None:
    """By heading or by letter; one that nobody understands is asked about first."""
    name = put(tmp_path, "what,size,colour,A1,B1\nx,M,black,20,19 3/4\n")
    here = ("--ledger", str(demo_copy))
    refused = command("import", name, "hobnettle/q7", *WHO, "--column", "D=half_chest", *here)
    assert refused.code == 2
    assert "not understood: A1 what, E1 B1" in refused.err
    said = ("--column", "D=half_chest", "--column", "B1=half_chest@5", "--column", "what=skip")
    ended = command("import", name, "hobnettle/q7", *WHO, *WASH, *said, "--json", *here)
    told = json.loads(ended.out)
    assert [one["washes"] for one in told["columns"] if one["holds"] == "half_chest"] == [0, 5]
    assert told["readings"] == 2


WRONG = [
    (("--unit", "ft"), "--unit must be in, cm or mm"),
    (("--column", "x=chst"), "--column must be HEADING=WHAT"),
    (("--sheet", "Two"), "sheets"),
    ((), "--by"),
]


@pytest.mark.parametrize(("flags", "words"), WRONG)
def test_wrong_use_is_told(
    demo_copy: Path, tmp_path: Path, command: Program, flags: tuple[str, ...], words: str
) -> None:
    """With the flag that is meant."""
    name = put(tmp_path, "size,colour,chest\nM,black,20\n")
    ended = command("import", name, "hobnettle/q7", *flags, "--ledger", str(demo_copy))
    assert ended.code == 2
    assert words in ended.err


@pytest.mark.parametrize("body", [b"", b"\n\n", b"a,b\n1,2\n", b"\x00\x01\x02", b"PK\x03\x04junk"])
def test_what_is_no_table_is_told(
    demo_copy: Path, tmp_path: Path, command: Program, body: bytes
) -> None:
    """One line, no traceback, nothing written."""
    (tmp_path / "x.csv").write_bytes(body)
    ended = command(
        "import", str(tmp_path / "x.csv"), "hobnettle/q7", *WHO, "--ledger", str(demo_copy)
    )
    assert ended.code == 2
    assert ended.err.startswith("error: ")
    assert not (demo_copy / ROUND).exists()


def style() -> Style:
    """Return a style with three sizes and a colour."""
    return blank(sizes=("S", "M", "L")).style


@given(
    st.lists(
        st.tuples(st.sampled_from("SML"), st.integers(18 * 8, 26 * 8)), min_size=1, max_size=8
    ),
    st.sampled_from((",", ";", "\t")),
    st.sampled_from(("fraction", "decimal", "inch mark")),
)
def test_any_table_of_readings_reads_back_the_same(
    rows: list[tuple[str, int]], delimiter: str, form: str
) -> None:
    """Whatever separates the cells and however a reading is written: the same marks of the tape."""
    from fractions import Fraction

    def text(count: int) -> str:
        value = Fraction(count, 8)
        if form == "decimal":
            return f"{float(value):.3f}"
        return value_text(value, "in") + ('"' if form == "inch mark" and delimiter == "\t" else "")

    lines = [delimiter.join(("size", "half chest"))]
    lines += [delimiter.join((size, text(count))) for size, count in rows]
    found = read_table(
        table_from_text("\n".join(lines)),
        TableHints(flat=("half_chest",)),
        style(),
        shop(),
        TAPE,
        "black",
    )
    assert found.rejected == []
    read = [texts[0] for one in found.pieces for texts in one.read.values()]
    wanted = [value_text(Fraction(count, 8), "in") for _, count in rows]
    assert sorted(read) == sorted(wanted)


HEADINGS = [
    ("Chest width", "half_chest", 0),
    ("1/2 Chest", "half_chest", 0),
    ("Pit to Pit after 3 washes", "half_chest", 3),
    ("Body length w5", "body_length", 5),
    ("washed chest", "half_chest", 1),
    ("HPS length (cm)", "body_length", 0),
    ("Sleeve (CB)", "skip", 0),
    ("sleeve opening", "sleeve_opening", 0),
    ("Garment", "piece", 0),
    ("Color", "colour", 0),
]


@pytest.mark.parametrize(("heading", "holds", "washes"), HEADINGS)
def test_headings_as_shops_write_them(heading: str, holds: str, washes: int) -> None:
    """Common practice, no source: what is not among them is asked about, never guessed."""
    table = read_tables(f"size,hem width,{heading}\nM,20,1\n".encode())[0]
    columns = table_head(table, {}).columns
    assert (columns[2].holds, columns[2].washes) == (holds, washes)
