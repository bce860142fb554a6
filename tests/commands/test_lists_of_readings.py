"""Readings as a list or a table: in any encoding, of any size, from many hands at once."""

import subprocess
import sys
import time
from pathlib import Path

import pytest

from blankbook.text.yaml_tree import read_tree
from support import LedgerMaker, Program

ROUND = "blanks/tarn-thrush/h6/2024-02-12-first.yaml"
STYLE = "blanks/tarn-thrush/h6/style.yaml"
LINE = "L-black-1 hem_width 20½\n"
WHO = ("--by", "rv", "--lot", "B", "--date", "2024-03-01")


def hem_width(root: Path) -> object:
    """Return the hem width of the second piece."""
    tree = read_tree("", (root / ROUND).read_text()).tree
    return tree["pieces"][1]["received"].get("hem_width")


@pytest.mark.seldom(3)
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
@pytest.mark.parametrize("way", ["file", "standard input"])
def test_a_list_in_any_usual_encoding_is_read(
    encoding: str, way: str, ledger_factory: LedgerMaker, tmp_path: Path
) -> None:
    """As editors and spreadsheets of the last thirty years save it."""
    root, place = ledger_factory(), tmp_path / "list.txt"
    place.write_bytes(LINE.encode(encoding))
    named = str(place) if way == "file" else "-"
    line = [sys.executable, "-m", "blankbook", "enter", ROUND, "--lines", named]
    with place.open("rb") as stream:
        ended = subprocess.run(
            [*line, "--ledger", str(root)], stdin=stream, capture_output=True, check=False
        )
    assert ended.returncode == 0, ended.stderr
    assert hem_width(root) == "20 1/2"


@pytest.mark.parametrize("body", [b"\xff\xfe\x00", b"\x81\x8d", b"L-black-1 hem_width \xff\xff"])
def test_bytes_that_are_no_list_are_wrong_use(
    body: bytes, ledger_factory: LedgerMaker, tmp_path: Path, command: Program
) -> None:
    """One line that says what was expected, and nothing is written."""
    root = ledger_factory()
    (tmp_path / "list.txt").write_bytes(body)
    ended = command("enter", ROUND, "--lines", tmp_path / "list.txt", "--ledger", root)
    assert ended.code == 2
    assert hem_width(root) is None


def test_a_list_that_is_too_large_is_refused_with_its_limit(
    ledger_factory: LedgerMaker, tmp_path: Path, command: Program
) -> None:
    """A million bytes are more than a round can hold."""
    (tmp_path / "list.txt").write_bytes(b"# a remark\n" * 100_000)
    ended = command("enter", ROUND, "--lines", tmp_path / "list.txt", "--ledger", ledger_factory())
    assert (ended.code, "at most 1,000,000 bytes" in ended.err) == (2, True)


@pytest.mark.seldom(2)
@pytest.mark.parametrize("digits", [9, 500, 4_300, 5_000])
def test_a_reading_of_many_digits_is_no_length(
    digits: int, ledger_factory: LedgerMaker, command: Program
) -> None:
    """However many: Python refuses to read more than 4,300 of them as a number."""
    root = ledger_factory()
    put = ("--put", f"L-black-1.hem_width={'1' * digits}")
    ended = command("enter", ROUND, *put, "--ledger", root)
    assert (ended.code, "must be a length" in ended.err) == (2, True)
    table = root / "t.csv"
    table.write_text(f"Piece,Size,Colour,Hem width\nM-black-1,M,black,{'2' * digits}\n")
    assert command("import", table, "tarn-thrush/h6", *WHO, "--ledger", root).code in {1, 2}
    column = ("--column", f"Hem width=hem_width@{'1' * digits}")
    assert command("import", table, "tarn-thrush/h6", *column, "--ledger", root).code == 2


@pytest.mark.parametrize("sign", ["20 1⁄2", "２０ 1/2", "٢٠", "20 1∕2", "20\u00a01/2"])
def test_a_sign_that_only_looks_right_is_named(
    sign: str, ledger_factory: LedgerMaker, command: Program
) -> None:
    """Its reader cannot see what is wrong with it."""
    put = ("--put", f"L-black-1.hem_width={sign}")
    ended = command("enter", ROUND, *put, "--ledger", ledger_factory())
    assert ended.code == 2
    assert "must be written with plain characters, found U+" in ended.err


@pytest.mark.parametrize("path", [STYLE, "suppliers/tarn-thrush.yaml", "shop.yaml"])
def test_readings_go_into_rounds_and_deliveries_alone(
    path: str, ledger_factory: LedgerMaker, command: Program
) -> None:
    """A style or another record is named as what it is."""
    root = ledger_factory()
    table = root / "t.csv"
    table.write_text("Piece,Size,Colour,Hem width\nM-black-1,M,black,20\n")
    lines = (("enter", path, "--put", "L-black-1.hem_width=20"),
             ("import", table, "tarn-thrush/h6", "--into", path))  # fmt: skip
    for line in lines:
        ended = command(*line, "--ledger", root)
        assert ended.code == 2
        assert "neither a round nor a delivery" in ended.err


@pytest.mark.seldom(3)
def test_a_long_list_takes_little_more_than_a_short_one(
    ledger_factory: LedgerMaker, command: Program, tmp_path: Path
) -> None:
    """1,000 readings are written at once: one by one, each would read the file anew."""
    lines = "".join(
        f"  - {{piece: p{n}, size: M, colour: black{', received: {half_chest: 20}' * (n % 2)}}}\n"
        for n in range(500)
    )
    head = "style: tarn-thrush/h6\ndate: 2024-03-01\nby: rv\nlot: B\n"
    path = "blanks/tarn-thrush/h6/2024-03-01-many.yaml"
    root = ledger_factory({path: head + "tape: {unit: in, reads_to: 1/8}\npieces:\n" + lines})
    text = "".join(f"p{n} hem_width 20\np{n} body_length 29 1/8\n" for n in range(500))
    (tmp_path / "list.txt").write_text(text)
    start = time.process_time()
    ended = command("enter", path, "--lines", tmp_path / "list.txt", "--ledger", root)
    assert ended.code in {0, 1}, ended.err
    assert time.process_time() - start < 15
    pieces = read_tree("", (root / path).read_text()).tree["pieces"]
    assert all(one["received"]["hem_width"] == "20" for one in pieces)
    assert all(one["received"]["body_length"] == "29 1/8" for one in pieces)
    assert pieces[1]["received"]["half_chest"] == "20"


@pytest.mark.seldom(2)
def test_of_many_that_write_at_once_each_is_written(
    ledger_factory: LedgerMaker, tmp_path: Path
) -> None:
    """Six commands give one reading each to one round; none is lost, and none is refused."""
    pieces = "".join(f"  - {{piece: p{n}, size: M, colour: black}}\n" for n in range(6))
    head = "style: tarn-thrush/h6\ndate: 2024-03-01\nby: rv\nlot: B\n"
    path = "blanks/tarn-thrush/h6/2024-03-01-many.yaml"
    root = ledger_factory({path: head + "tape: {unit: in, reads_to: 1/8}\npieces:\n" + pieces})
    line = [sys.executable, "-m", "blankbook", "enter", path, "--ledger", str(root)]
    children = [
        subprocess.Popen([*line, "--put", f"p{n}.hem_width=20"], stderr=subprocess.PIPE)
        for n in range(6)
    ]
    said = [child.communicate(timeout=120)[1] for child in children]
    assert [child.returncode for child in children] == [0] * 6, said
    found = read_tree("", (root / path).read_text()).tree["pieces"]
    assert [piece["received"] for piece in found] == [{"hem_width": "20"}] * 6


def test_a_record_that_is_a_link_to_the_top_of_the_ledger_is_filled(
    ledger_factory: LedgerMaker, command: Program
) -> None:
    """The command that waits for its turn there does not wait for itself."""
    root = ledger_factory()
    (root / ROUND).rename(root / "moved")
    (root / ROUND).symlink_to("../../../moved")
    start = time.monotonic()
    ended = command("enter", ROUND, "--put", "L-black-1.hem_width=20", "--ledger", root)
    assert ended.code == 0, ended.err
    assert time.monotonic() - start < 9
    assert (root / ROUND).is_symlink()
    assert hem_width(root) == "20"
