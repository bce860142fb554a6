"""A purchase that is planned: what it costs and can show, and a file that only wants readings."""

import json
from pathlib import Path

import pytest

from blankbook.entry.new.sample_plan import planned_pieces, size_and_neighbours
from blankbook.records.load_ledger import load_ledger
from blankbook.results.planning.can_show import shown_by_purchases
from support import Program

DAY = ("--day", "2026-11-25")


def test_a_plan_is_a_file_that_checks(demo_copy: Path, command: Program) -> None:
    """Every piece has its name, and nothing but readings is missing."""
    ended = command("plan", "hobnettle/q7", "--each", "2", *DAY, "--ledger", str(demo_copy))
    assert ended.code == 0, ended.err
    assert "12 pieces, 73.20 USD (6.10 each)" in ended.out
    assert ended.out.endswith("next: blankbook enter hobnettle/q7\n")
    checked = command("check", "--ledger", str(demo_copy))
    assert "2026-11-25-sample" not in checked.out
    ledger = load_ledger(demo_copy).ledger
    assert ledger
    (one,) = ledger.blanks["hobnettle/q7"].planned
    assert [piece.size for piece in one.pieces] == ["M"] * 4 + ["L"] * 4 + ["XL"] * 4
    assert len({piece.key for piece in one.pieces}) == 12
    assert one.tape
    assert one.tape.reads_to.written == "1/8"


def test_the_file_says_what_to_measure_and_completes(demo_copy: Path, command: Program) -> None:
    """Its schema is found from where it lies: the demo ledger's stands one folder above."""
    (demo_copy.parent / "schemas").mkdir(exist_ok=True)
    (demo_copy.parent / "schemas/round.schema.json").write_text("{}")
    command("plan", "hobnettle/q7", *DAY, "--ledger", str(demo_copy))
    text = (demo_copy / "blanks/hobnettle/q7/2026-11-25-sample.yaml").read_text(encoding="utf-8")
    assert text.startswith("# yaml-language-server: $schema=../../../../schemas/round.schema.json")
    assert "# To measure: half_chest, body_length, sleeve_length" in text


def test_a_size_that_costs_more_is_counted(demo_copy: Path, command: Program) -> None:
    """2XL of Q7 costs 7.40, XL 6.10: two of each are 27.00."""
    flags = ("--sizes", "XL,2XL", "--colours", "black", "--each", "2", "--dry-run", "--json")
    told = json.loads(command("plan", "hobnettle/q7", *flags, "--ledger", str(demo_copy)).out)
    assert told["cost"] == {"currency": "USD", "each": 6.1, "total": 27.0}
    assert len(told["pieces"]) == 4
    assert told["written"] is False
    assert told["difference"].startswith("--- /dev/null")


def test_what_it_can_show_is_what_the_method_says(demo_copy: Path, command: Program) -> None:
    """The chances are those of the planning rules for so many pieces, not those of old rounds."""
    flags = ("--sizes", "M,L,XL", "--colours", "black,cream", *DAY, "--json", "--dry-run")
    told = json.loads(command("plan", "hobnettle/q7", *flags, "--ledger", str(demo_copy)).out)
    from blankbook.commands.shared.find_blank import one_blank
    from blankbook.results.planning.approval import PieceCounts

    shown = one_blank(
        demo_copy,
        "hobnettle/q7",
        lambda judged: shown_by_purchases(judged.case, (PieceCounts(3, 1, 2),)),
    )
    wanted = [row.chances[0] for row in shown.rows if row.chances[0] is not None]
    told_chances = [one["chance"] for one in told["can_show"] if one["chance"] is not None]
    assert told_chances == pytest.approx(wanted, abs=1e-6)


def test_a_second_plan_of_a_day_gets_its_own_file(demo_copy: Path, command: Program) -> None:
    """Nothing is replaced."""
    for _ in range(2):
        assert command("plan", "hobnettle/q7", *DAY, "--ledger", str(demo_copy)).code == 0
    folder = demo_copy / "blanks/hobnettle/q7"
    names = sorted(one.name for one in folder.iterdir() if one.name.startswith("2026-11-25"))
    assert names == ["2026-11-25-sample-2.yaml", "2026-11-25-sample.yaml"]


@pytest.mark.parametrize(
    ("flags", "words"),
    [
        (["--around", "QQ"], "--around names an unknown size"),
        (["--around", "l"], "did you mean L?"),
        (["--sizes", "M,,QQ"], "--sizes names an unknown size: QQ"),
        (["--colours", "blak"], "did you mean black?"),
        (["--around", "L", "--sizes", "M"], "contradict each other"),
        (["--each", "0"], "--each must be between 1 and 100"),
        (["--day", "2026-02-30"], "--day must be a day"),
        (["--word", "../up"], "--word must be"),
    ],
)
def test_wrong_use_is_told(demo_copy: Path, command: Program, flags: list[str], words: str) -> None:
    """With the flag that is meant, and nothing written."""
    before = sorted(demo_copy.rglob("*"))
    ended = command("plan", "hobnettle/q7", *flags, "--ledger", str(demo_copy))
    assert ended.code == 2
    assert words in ended.err
    assert sorted(demo_copy.rglob("*")) == before


def test_a_size_comes_with_its_neighbours(demo_ledger: Path) -> None:
    """At either end there is only one."""
    ledger = load_ledger(demo_ledger).ledger
    assert ledger
    style = ledger.blanks["hobnettle/q7"].style
    assert size_and_neighbours(style, "L") == ("M", "L", "XL")
    assert size_and_neighbours(style, "S") == ("S", "M")
    assert size_and_neighbours(style, "2XL") == ("XL", "2XL")


def test_a_piece_is_called_by_what_it_is() -> None:
    """No name has a space or a slash in it, which no piece may have."""
    keys = [one.key for one in planned_pieces(["7/8"], ["heather grey"], 2)]
    assert keys == ["7-8-heather-grey-1", "7-8-heather-grey-2"]


@pytest.mark.parametrize(
    ("lot", "words"),
    [
        (
            "",
            "the lot of these pieces is not known. Of the same lot they belong into it: --lot",
        ),
        ("B-2", "is still open and of another lot, A-1"),
    ],
)
def test_a_round_that_is_still_open_is_named(
    demo_copy: Path, command: Program, lot: str, words: str
) -> None:
    """With why the pieces do not go into it: two rounds of one lot leave its sizes apart."""
    first = ("plan", "hobnettle/q7", "--sizes", "M", "--lot", "A-1", *DAY)
    assert "still open" not in command(*first, "--ledger", str(demo_copy)).out
    more = ("plan", "hobnettle/q7", "--sizes", "L", "--lot", lot, *DAY)
    out = command(*more, "--ledger", str(demo_copy)).out
    assert words in out
    assert "wrote blanks/hobnettle/q7/2026-11-25-sample-2.yaml" in out


def test_an_open_round_of_an_unknown_lot_is_named(demo_copy: Path, command: Program) -> None:
    """What is known of the new pieces does not say that they are of its lot."""
    command("plan", "hobnettle/q7", "--sizes", "M", *DAY, "--ledger", str(demo_copy))
    more = ("plan", "hobnettle/q7", "--sizes", "L", "--lot", "A-1", *DAY)
    out = command(*more, "--ledger", str(demo_copy)).out
    assert "its lot is not known. Of the same lot they belong into it: blankbook enter" in out


def test_pieces_of_the_same_lot_go_into_the_open_round(demo_copy: Path, command: Program) -> None:
    """So that M is compared with L; a second M gets the next number, and it checks."""
    flags = ("--lot", "A-1", "--colours", "black", *DAY, "--ledger", str(demo_copy))
    command("plan", "hobnettle/q7", "--sizes", "M", *flags)
    ended = command("plan", "hobnettle/q7", "--sizes", "M,L", *flags)
    path = "blanks/hobnettle/q7/2026-11-25-sample.yaml"
    assert f"added them to {path}: it is of the same lot" in ended.out
    ledger = load_ledger(demo_copy).ledger
    assert ledger
    (planned,) = ledger.blanks["hobnettle/q7"].planned
    assert [piece.key for piece in planned.pieces] == ["M-black-1", "M-black-2", "L-black-1"]
    assert "2026-11-25" not in command("check", "--ledger", str(demo_copy)).out
