"""A supplier and a style are added: by flags, from a chart, or by answering at a terminal."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from entry.test_table_files import workbook_bytes
from support import LedgerMaker, Program

CHART = """\
Size chart (inches)
Size,Body Width,Full Body Length,Sleeve CB
S,18,28,16 1/4
M,20,29,17
L,22,30,18 1/2
Tolerance +/-,1/2,1/2,
"""
STYLE = ("add", "style", "tarn-thrush/h9", "--name", "H9 tee", "--colours", "black,white")


@pytest.fixture
def ledger(ledger_factory: LedgerMaker) -> Path:
    """Return a small ledger."""
    return ledger_factory()


@pytest.fixture
def chart(tmp_path: Path) -> Path:
    """Return a chart in a file."""
    place = tmp_path / "chart.csv"
    place.write_text(CHART, encoding="utf-8")
    return place


def test_a_supplier_is_added(ledger: Path, command: Program) -> None:
    """By a name that becomes the file's, with what is known; it passes its check."""
    ended = command(
        *("add", "supplier", "Sedge & Hollow: Goods", "--lead-time", "3", "--sends", "parcel"),
        *("--website", "https://sedge.example/", "--note", "asks: # first", "--ledger", ledger),
    )
    assert ended.code == 0, ended.err
    assert ended.out == (
        "wrote suppliers/sedge-hollow-goods.yaml\n"
        "next: blankbook add style sedge-hollow-goods/STYLE\n"
    )
    text = (ledger / "suppliers/sedge-hollow-goods.yaml").read_text(encoding="utf-8")
    assert text == (
        'supplier: sedge-hollow-goods\nname: "Sedge & Hollow: Goods"\n'
        "website: https://sedge.example/\nlead_time_days: 3\nsends: parcel\n"
        'note: "asks: # first"\n'
    )
    assert command("check", "--ledger", ledger).code == 0


def test_the_schema_line_stands_where_there_are_schemas(tmp_path: Path, command: Program) -> None:
    """A ledger that was begun with the command completes in an editor at once."""
    root = tmp_path / "shop"
    command("start", root, "--name", "Harebell Press")
    command("add", "supplier", "Sedge & Hollow", "--ledger", root)
    first = (root / "suppliers/sedge-hollow.yaml").read_text(encoding="utf-8").splitlines()[0]
    schema = first.partition("$schema=")[2]
    assert (root / "suppliers" / schema).is_file()


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["Tarn & Thrush Blanks"], "is much like the supplier tarn-thrush"),
        (["Tarn and Thrush"], "is much like the supplier tarn-thrush"),
        (["Tarn-Trush"], "is much like the supplier tarn-thrush"),
        (["X", "--key", "tarn-thrush"], "suppliers/tarn-thrush.yaml is there already"),
        (["Con"], "a name that every system can hold"),
        (["X", "--key", "Sedge"], "--key must be at most 64 small letters"),
        (["X", "--key", "../x"], "--key must be at most 64 small letters"),
        (["繭"], "a name for the file is not given"),
        (["  "], "NAME must be 1 to 120 characters"),
        (["X", "--sends", "pigeon"], "sends must be one of the known words, found pigeon"),
        (["X", "--lead-time", "soon"], "lead_time_days must be"),
        (["X", "--website", "x.example"], "website must be"),
        (["X", "--since", "2026-02-30"], "since: there is no day 2026-02-30"),
        ([], "the supplier's name is not given"),
    ],
)
def test_a_supplier_that_cannot_be_is_refused(
    ledger: Path, command: Program, arguments: list[str], words: str
) -> None:
    """With what to do instead, and nothing written."""
    before = sorted(ledger.rglob("*"))
    ended = command("add", "supplier", *arguments, "--ledger", ledger)
    assert ended.code == 2
    assert words in ended.err
    assert "help: " in ended.err
    assert sorted(ledger.rglob("*")) == before


def test_another_one_of_a_like_name_is_taken_at_ones_word(ledger: Path, command: Program) -> None:
    """Two suppliers may be called much alike."""
    ended = command("add", "supplier", "Tarn-Trush", "--new", "--ledger", ledger)
    assert ended.code == 0, ended.err
    assert (ledger / "suppliers/tarn-trush.yaml").is_file()


def test_a_style_is_added_with_its_chart(ledger: Path, chart: Path, command: Program) -> None:
    """What was understood is shown in both units, and what was left out is said."""
    ended = command(
        *(*STYLE, "--chart", chart, "--source", "sheet 4", "--since", "2026-03-02"),
        *(
            "--price",
            "4,60",
            "--price-of",
            "L=5,10",
            "--wearer",
            "adult",
            "--fibre",
            "100 % cotton",
        ),
        *("--mass", "6,1 oz/yd2", "--construction", "tube", "--uses", "events", "--ledger", ledger),
    )
    assert ended.code == 0, ended.err
    assert ended.out.splitlines() == [
        "read in inches, sizes down",
        "   half chest       body length",
        "S  18 in (45.7 cm)  28 in (71.1 cm)",
        "M  20 in (50.8 cm)  29 in (73.7 cm)",
        "L  22 in (55.9 cm)  30 in (76.2 cm)",
        "±  1/2 in (1.3 cm)  1/2 in (1.3 cm)",
        "D2 Sleeve CB: left out, measured from the centre back, which is another point than the "
        "sleeve length from the shoulder seam",
        "wrote blanks/tarn-thrush/h9/style.yaml",
        "next: blankbook plan tarn-thrush/h9",
    ]
    text = (ledger / "blanks/tarn-thrush/h9/style.yaml").read_text(encoding="utf-8")
    assert (
        text
        == """\
style: tarn-thrush/h9
name: H9 tee
fabric: {fibre: 100 % cotton, mass: 6.1 oz/yd2}
construction: tube
wearer: adult
sizes: [S, M, L]
colours: [black, white]
uses: [events]
charts:
  - since: 2026-03-02
    source: sheet 4
    unit: in
    tolerance: {half_chest: 1/2, body_length: 1/2}
    sizes:
      S: {half_chest: 18, body_length: 28}
      M: {half_chest: 20, body_length: 29}
      L: {half_chest: 22, body_length: 30}
prices:
  - {since: 2026-03-02, each: 4.60, sizes: {L: 5.10}}
"""
    )
    assert command("check", "--ledger", ledger).code == 0
    assert command("plan", "tarn-thrush/h9", "--ledger", ledger).code == 0


def test_a_chart_is_pasted_on_standard_input(ledger: Path) -> None:
    """Without a terminal nothing is asked."""
    ended = subprocess.run(
        [sys.executable, "-m", "blankbook", *STYLE, "--chart", "-", "--json", "--ledger", ledger],
        input=CHART.encode(),
        capture_output=True,
        check=True,
    )
    told = json.loads(ended.stdout)
    assert told["schema"] == "blankbook/add-style/1"
    assert told["written"] is True
    assert told["chart"]["sizes"]["M"]["half_chest"] == {"written": "20", "mm": 508.0}
    assert told["chart"]["notes"]
    assert "size chart pasted on 2" in (ledger / told["path"]).read_text(encoding="utf-8")


def test_a_chart_comes_from_a_sheet_of_a_spreadsheet(
    ledger: Path, tmp_path: Path, command: Program
) -> None:
    """The one that is named, where there are several."""
    import io

    import openpyxl

    book = openpyxl.load_workbook(
        io.BytesIO(
            workbook_bytes([["Size", "Chest cm", "Length cm"], ["S", 46, 71], ["M", 51, 74]], "A")
        )
    )
    other = book.create_sheet("B")
    for row in (["", "S", "M"], ["Width (cm)", 47, 52], ["Length (cm)", 72, 74.5]):
        other.append(row)
    book.save(tmp_path / "charts.xlsx")
    flags = (*STYLE, "--chart", tmp_path / "charts.xlsx", "--ledger", ledger)
    ended = command(*flags)
    assert (ended.code, "name one with --sheet" in ended.err) == (2, True)
    ended = command(*flags, "--sheet", "C")
    assert (ended.code, "there are A, B" in ended.err) == (2, True)
    assert command(*flags, "--sheet", "B").code == 0
    text = (ledger / "blanks/tarn-thrush/h9/style.yaml").read_text(encoding="utf-8")
    assert "M: {half_chest: 52, body_length: 74.5}" in text
    assert "source: charts.xlsx read on 2" in text


def test_cells_that_are_not_understood_stop_it(ledger: Path, chart: Path, command: Program) -> None:
    """Each is named; the person may take the good ones."""
    chart.write_text(CHART.replace("M,20", "M,twenty").replace("30,", "30 1/3,"), encoding="utf-8")
    ended = command(*STYLE, "--chart", chart, "--ledger", ledger)
    assert ended.code == 1
    assert "B4 twenty: must be a length, found twenty" in ended.err
    assert "C5 30 1/3: must be in the parts that tapes are marked in" in ended.err
    assert "2 cells were not understood, so nothing was written" in ended.err
    assert not (ledger / "blanks/tarn-thrush/h9").exists()
    told = json.loads(command(*STYLE, "--chart", chart, "--json", "--ledger", ledger).out)
    assert [one["cell"] for one in told["chart"]["not_understood"]] == ["B4", "C5"]
    assert told["written"] is False
    assert command(*STYLE, "--chart", chart, "--good-cells", "--ledger", ledger).code == 0
    text = (ledger / "blanks/tarn-thrush/h9/style.yaml").read_text(encoding="utf-8")
    assert "M: {body_length: 29}" in text
    assert command("check", "--ledger", ledger).code == 0


FULL = "Size,Chest,Length\nS,36,28\nM,40,29\n"


def test_a_tolerance_of_more_than_a_step_is_taken_and_explained(
    ledger: Path, chart: Path, command: Program
) -> None:
    """It is true of many charts, and says that sizes may be mixed up."""
    flags = ("--chart", chart, "--tolerance", "half_chest=3")
    ended = command(*STYLE, *flags, "--ledger", ledger)
    assert ended.code == 0, ended.err
    assert "a piece inside the tolerance can measure as the size beside it" in ended.out
    checked = command("check", "--ledger", ledger)
    assert checked.code == 0
    assert ": note: the tolerance 3 is larger than the step of 2 in" in checked.out


@pytest.mark.parametrize(
    ("text", "flags", "words"),
    [
        (FULL, [], "it looks like inches: write --unit in"),
        (FULL, ["--unit", "in"], "or --point 'Chest=-' where it is the wearer's"),
        (FULL, ["--unit", "ft"], "--unit must be in, cm or mm"),
        (CHART, ["--around", "body_length"], "--around must name points that are laid flat"),
        (FULL, ["--around", "half_chest", "--flat", "half chest"], "contradict each other"),
        (CHART, ["--point", "Sleeve CB=tail"], "--point must name a point of measure, found tail"),
        (CHART, ["--point", "Sleeve CB"], "--point must be NAME=VALUE"),
        (CHART, ["--tolerance", "half_chest=x"], "--tolerance must be a length"),
        (CHART, ["--since", "tomorrow"], "--since must be a day"),
        (CHART, ["--price-of", "L=5"], "need the price itself"),
        (CHART, ["--price", "much"], "each must be a number, found much"),
        (CHART, ["--price", "4", "--price-of", "XS=5"], "XS"),
        (CHART, ["--sizes", "S,M"], "the chart has a size that the style has not: L"),
        (CHART, ["--construction", "knotted"], "construction must be one of the known words"),
        (CHART, ["--chart", "nowhere.csv"], "--chart must name a file, found none"),
        ("hello", [], "must be a size chart, found no sizes"),
        ("", [], "found nothing in it"),
        ("Size,Width\nS,x\nM,y\n", ["--unit", "in"], "nothing of the chart was understood"),
    ],
)
def test_a_style_that_cannot_be_is_refused(
    ledger: Path, chart: Path, command: Program, text: str, flags: list[str], words: str
) -> None:
    """With what to write instead; nothing is asked without a terminal, and nothing written."""
    chart.write_text(text, encoding="utf-8")
    ended = command(*STYLE, "--chart", chart, *flags, "--ledger", ledger)
    assert ended.code == 2
    assert words in ended.err
    assert not (ledger / "blanks/tarn-thrush/h9").exists()


@pytest.mark.parametrize(
    ("blank", "flags", "words"),
    [
        ("tarn-trush/h9", [], "did you mean tarn-thrush?"),
        ("nobody/h9", [], "run blankbook add supplier 'nobody'"),
        ("tarn-thrush", [], "write tarn-thrush/STYLE"),
        ("tarn-thrush/h6", [], "blanks/tarn-thrush/h6/style.yaml is there already"),
        ("tarn-thrush/h-6", [], "is much like the style h6, H6 heavy tee"),
        ("tarn-thrush/heavy", ["--name", "h6 Heavy Tee"], "is much like the style h6"),
        ("tarn-thrush/aux", [], "every system can hold"),
        ("tarn-thrush/H9", [], "STYLE must be at most 64 small letters"),
        ("tarn-thrush/../x", [], "STYLE must be at most 64 small letters"),
    ],
)
def test_names_of_styles_are_held(
    ledger: Path, command: Program, blank: str, flags: list[str], words: str
) -> None:
    """Unknown suppliers, names that are there, names that no file may have."""
    given = ("--sizes", "S,M", "--colours", "black", "--name", "A tee", *flags)
    ended = command("add", "style", blank, *given, "--ledger", ledger)
    assert ended.code == 2
    assert words in ended.err


def test_what_is_missing_is_named(ledger: Path, command: Program) -> None:
    """The flag that gives it."""
    ended = command("add", "style", "tarn-thrush/h9", "--sizes", "S", "--ledger", ledger)
    assert (ended.code, "write --colours black,white" in ended.err) == (2, True)
    ended = command("add", "style", "tarn-thrush/h9", "--colours", "black", "--ledger", ledger)
    assert (ended.code, "write --sizes S,M,L or --chart FILE" in ended.err) == (2, True)


def test_a_dry_run_writes_nothing(ledger: Path, chart: Path, command: Program) -> None:
    """It shows the file as it would be."""
    ended = command(*STYLE, "--chart", chart, "--dry-run", "--ledger", ledger)
    assert ended.code == 0
    assert "+      M: {half_chest: 20, body_length: 29}" in ended.out
    assert not (ledger / "blanks/tarn-thrush/h9").exists()
    ended = command("add", "supplier", "Harebell", "--dry-run", "--ledger", ledger)
    assert "+name: Harebell" in ended.out
    assert not (ledger / "suppliers/harebell.yaml").exists()


def test_cautions_come_with_what_calls_for_them(ledger: Path, command: Program) -> None:
    """Children's sizes, and a label that is made to be removed."""
    flags = ("--sizes", "3-4,5-6", "--wearer", "children", "--neck-label", "tear_away")
    ended = command(*STYLE, *flags, "--ledger", ledger)
    assert "Children's garments fall under flammability and product-safety law." in ended.out
    assert "must be replaced as the law requires where you sell" in ended.out


def test_a_halved_chest_is_told_in_the_file(ledger: Path, chart: Path, command: Program) -> None:
    """Whoever reads it later can hold it against the supplier's sheet."""
    chart.write_text(FULL, encoding="utf-8")
    flags = ("--unit", "in", "--around", "half_chest", "--source", "sheet 4")
    assert command(*STYLE, "--chart", chart, *flags, "--ledger", ledger).code == 0
    text = (ledger / "blanks/tarn-thrush/h9/style.yaml").read_text(encoding="utf-8")
    assert "sheet 4; half chest given all the way around, and halved here" in text
    assert "M: {half_chest: 20, body_length: 29}" in text


def at_terminal(arguments: list[str], answers: list[str], folder: Path) -> tuple[int, str]:
    """Return how a command ends, and what is to be seen, when a person types the answers."""
    pty = pytest.importorskip("pty", reason="only Unix has it")
    process, terminal = pty.fork()
    if not process:  # pragma: no cover - another process
        os.chdir(folder)
        os.execv(sys.executable, [sys.executable, "-m", "blankbook", *arguments])
    seen = b""
    for answer in answers:
        while (
            not seen.rstrip(b"\r\n").endswith((b": ", b"own\r\n")) and b"Ctrl-D" not in seen[-99:]
        ):
            seen += os.read(terminal, 4096)
        os.write(terminal, answer.encode() + b"\n")
        seen += b"\0"
    while True:
        try:
            more = os.read(terminal, 4096)
        except OSError:
            break
        if not more:
            break
        seen += more
    os.close(terminal)
    return os.waitstatus_to_exitcode(os.waitpid(process, 0)[1]), seen.decode()


def test_a_supplier_is_added_by_answering(ledger: Path) -> None:
    """What stays empty is left out; a word that is none is asked for again."""
    answers = ["Sedge & Hollow", "Iben", "", "", "4", "pigeon", "parcel", ""]
    code, seen = at_terminal(["add", "supplier"], answers, ledger)
    assert code == 0, seen
    assert "must be one of pick_up, parcel, freight, or nothing" in seen
    assert (ledger / "suppliers/sedge-hollow.yaml").read_text(encoding="utf-8") == (
        "supplier: sedge-hollow\nname: Sedge & Hollow\ncontact: Iben\nlead_time_days: 4\n"
        "sends: parcel\n"
    )


def test_a_style_is_added_by_answering(ledger: Path, chart: Path) -> None:
    """With its chart from a file; the unit and what goes around are asked, then all is shown."""
    chart.write_text(FULL, encoding="utf-8")
    answers = ["H9 tee", "adult", "tube", "", "100 % cotton", "6.1 oz/yd2", "4.60", str(chart)]
    answers += ["in", "", "black, white", "y"]
    code, seen = at_terminal(["add", "style", "tarn-thrush/h9"], answers, ledger)
    assert code == 0, seen
    assert "around, flat, or - where it is the wearer's?" in seen
    assert "M  20 in (50.8 cm)  29 in (73.7 cm)" in seen
    text = (ledger / "blanks/tarn-thrush/h9/style.yaml").read_text(encoding="utf-8")
    assert "M: {half_chest: 20, body_length: 29}" in text
    assert "each: 4.60" in text


def test_a_chest_of_the_wearer_is_left_out_by_answering(ledger: Path, chart: Path) -> None:
    """A chart says whom a size fits, in ranges, and means no garment."""
    rows = "Size,Chest,Length (in)\nS,34-36,28\nM,38-40,29\n"
    chart.write_text(rows, encoding="utf-8")
    answers = ["H9 tee", "", "", "", "", "", "", str(chart), "-", "black", "y"]
    code, seen = at_terminal(["add", "style", "tarn-thrush/h9"], answers, ledger)
    assert code == 0, seen
    text = (ledger / "blanks/tarn-thrush/h9/style.yaml").read_text(encoding="utf-8")
    assert "M: {body_length: 29}" in text
    assert "half_chest" not in text


def test_a_no_at_the_end_writes_nothing(ledger: Path, chart: Path) -> None:
    """The person has the original beside it."""
    answers = ["H9 tee", "", "", "", "", "", "", str(chart), "black", "n"]
    code, seen = at_terminal(["add", "style", "tarn-thrush/h9"], answers, ledger)
    assert code == 2, seen
    assert "nothing was written" in seen
    assert not (ledger / "blanks/tarn-thrush/h9").exists()


def test_nothing_is_written_through_a_link(ledger: Path, tmp_path: Path, command: Program) -> None:
    """A folder of the ledger that leads elsewhere is not followed."""
    (tmp_path / "elsewhere").mkdir()
    (ledger / "blanks/tarn-thrush/h9").symlink_to(tmp_path / "elsewhere")
    ended = command(*STYLE, "--sizes", "S,M", "--ledger", ledger)
    assert (ended.code, "is a link" in ended.err) == (3, True)
    assert list((tmp_path / "elsewhere").iterdir()) == []


def test_a_chart_is_pasted_at_a_terminal(ledger: Path) -> None:
    """It ends with a key, and the questions go on."""
    pasted = "Size\tWidth (in)\tLength (in)\nS\t18\t28\nM\t20\t29\n\x04"
    answers = ["H9 tee", "", "", "", "", "", "", "-", pasted, "black", "y"]
    code, seen = at_terminal(["add", "style", "tarn-thrush/h9"], answers, ledger)
    assert code == 0, seen
    text = (ledger / "blanks/tarn-thrush/h9/style.yaml").read_text(encoding="utf-8")
    assert "M: {half_chest: 20, body_length: 29}" in text
