"""A client's list becomes an order: every cell of it counts, or is named."""

import json
from pathlib import Path

import openpyxl
import pytest

from support import LedgerMaker, Program

BLANK = "tarn-thrush/h6"
FOLDER = f"blanks/{BLANK}"
SAID = ("--for", "the choir", "--by", "rv", "--date", "2026-05-04")


@pytest.fixture
def shop(ledger_factory: LedgerMaker) -> Path:
    """Return the small ledger: a style in S to L, in black."""
    return ledger_factory()


def listed(tmp_path: Path, table: str) -> Path:
    """Return a list as a file."""
    place = tmp_path / "list.csv"
    place.write_text(table, encoding="utf-8")
    return place


@pytest.mark.parametrize(
    ("table", "needed"),
    [
        ("Name,Size\nAda,m\nBo,Large\nCy,M\nTotal,3\n", "{M: 2, L: 1}"),
        ("Size,Qty,Colour\nM,12,black\nS,3,Black\n", "{S: 3, M: 12}"),
        (",S,M,L,Total\nblack,2,,4,6\nTotal,2,,4,6\n", "{S: 2, L: 4}"),
        ("Spring choir\n\nName,Größe,Anzahl\nAda,M,2\nBo,S,1\n", "{S: 1, M: 2}"),
    ],
    ids=["a row a person", "a row a size", "a grid", "a title above"],
)
def test_a_list_becomes_an_order(
    table: str, needed: str, shop: Path, tmp_path: Path, command: Program
) -> None:
    """A row for each person, a row for each size with its count, or a grid of counts."""
    ended = command("import", listed(tmp_path, table), BLANK, "--ledger", shop, *SAID)

    assert ended.code == 0, ended.err
    assert "next: blankbook order tarn-thrush/h6 --file 2026-05-04-bulk-order" in ended.out
    written = (shop / FOLDER / "2026-05-04-bulk-order.yaml").read_text()
    assert f"black: {needed}" in written
    assert "for: the choir\n" in written
    assert command("check", "--ledger", shop).code == 0


def test_a_spreadsheet_says_what_its_columns_were_taken_for(
    shop: Path, tmp_path: Path, command: Program
) -> None:
    """Each column is shown; the flags go into the order; as data the counts are there."""
    book = openpyxl.Workbook()
    assert book.active
    for row in (["Name", "Size", "Qty"], ["Ada", "M", 2], ["Bo", "L", 3]):
        book.active.append(row)
    place = tmp_path / "list.xlsx"
    book.save(place)
    more = ("--needed-by", "2026-06-01", "--shirt", "18.00", "--use", "clients")
    ended = command("import", place, BLANK, "--ledger", shop, *SAID, *more)
    written = (shop / FOLDER / "2026-05-04-bulk-order.yaml").read_text()
    again = command("import", place, BLANK, "--ledger", shop, *SAID, "--word", "b", "--json")

    assert ended.code == 0, ended.err
    assert "A1 Name: left out\n" in ended.err
    assert "C1 Qty: count\n" in ended.err
    assert "wrote 5 shirts" in ended.out
    assert "needed_by: 2026-06-01\n" in written
    assert "money: {shirt: 18.00}\n" in written
    assert json.loads(again.out)["needed"] == {"black": {"M": 2, "L": 3}}


@pytest.mark.parametrize(
    ("table", "says"),
    [
        ("Name,Size\nAda,XM\n", "B2: XM is no size of this style; there are S, M, L"),
        ("Size,Qty\nM,0\n", "B2: must be a whole number of shirts above 0, found 0"),
        ("Size,Qty\nM,-2\n", "B2: must be a whole number of shirts above 0, found -2"),
        ("Size,Qty\nM,2.5\n", "B2: must be a whole number of shirts above 0, found 2.5"),
        ("Size,Colour\nM,teal\n", "B2: teal is no colour of this style"),
        ("Name,Size\nAda,\n", "B2: has no size"),
        (",S,M,4XL\nblack,2,3,1\n", "D1: 4XL is no size of this style"),
        ("Size,Colour\nM,\n,black\n", "A3: has no size"),
        ("Name,Size,No.\nAda,M,23\n", "not understood: C1 No."),
        ("Name,Size,\nAda,M,L\n", "not understood: C1 without a heading"),
        ("Name,Size,T-shirt size\nAda,M,L\n", "must have one column for size, found B1 Size"),
        ("Name,Height\nAda,M\n", "must have a column for the size"),
        ("Name,Size\n", "no shirt was understood"),
    ],
)
def test_what_is_not_understood_is_named(
    table: str, says: str, shop: Path, tmp_path: Path, command: Program
) -> None:
    """Each by its address; nothing is written until the list is whole."""
    ended = command("import", listed(tmp_path, table), BLANK, "--ledger", shop, *SAID)

    assert ended.code != 0
    assert says in ended.err
    assert not list((shop / FOLDER).glob("*-order.yaml"))


def test_a_person_says_what_a_column_is(shop: Path, tmp_path: Path, command: Program) -> None:
    """By heading or by letter: a column counts that no heading explains, or is left out."""
    place = listed(tmp_path, "Who,Cut,No.,Wants\nAda,M,23,2\n")
    columns = ("--column", "Who=skip", "--column", "Cut=size", "--column", "C=skip",
               "--column", "Wants=count")  # fmt: skip
    ended = command("import", place, BLANK, "--ledger", shop, *SAID, *columns)

    assert ended.code == 0, ended.err
    assert "black: {M: 2}" in (shop / FOLDER / "2026-05-04-bulk-order.yaml").read_text()


@pytest.mark.parametrize(
    ("flags", "says"),
    [
        ((*SAID, "--tape", "1/8 in"), "--tape is for readings"),
        ((*SAID, "--good-rows"), "--good-rows is for readings"),
        ((*SAID, "--column", "Size=half_chest"), "WHAT is size, colour, count, S, M, L, skip"),
        ((*SAID, "--needed-by", "2026-05-01"), "that is past"),
        (("--use", "clients"), "--use is for a client's list, and nobody is named"),
    ],
)
def test_flags_of_the_other_kind_of_table_are_refused(
    flags: tuple[str, ...], says: str, shop: Path, tmp_path: Path, command: Program
) -> None:
    """Readings and a list have flags of their own."""
    place = listed(tmp_path, "Name,Size\nAda,M\n")
    ended = command("import", place, BLANK, "--ledger", shop, *flags)

    assert ended.code == 2
    assert says in ended.err
    assert not list((shop / FOLDER).glob("*-order.yaml"))
