"""A supplier sends a newer size chart: it goes behind the one it follows, and says what moves."""

import json
from pathlib import Path

import pytest

from battery.bad_input import STYLE
from blankbook.records.load_ledger import load_ledger
from support import SMALL_LEDGER, LedgerMaker, Program
from terminals import Terminal

NEWER = "inches,S,M,L,Tol\nHalf chest,17.5,20,22 3/4,1/2\nBody length,28,29,30,\n"
BLANK = "tarn-thrush/h6"
PLACE = f"blanks/{BLANK}/style.yaml"
CHART = ("add", "chart", BLANK, "--since", "2026-10-01", "--source", "sheet of October")


@pytest.fixture
def ledger(ledger_factory: LedgerMaker) -> Path:
    """Return a small ledger, whose chart is of 2024."""
    return ledger_factory()


@pytest.fixture
def given(tmp_path: Path) -> Path:
    """Return the newer chart in a file."""
    place = tmp_path / "newer.csv"
    place.write_text(NEWER, encoding="utf-8")
    return place


def test_the_older_chart_stays_for_its_time(ledger: Path, given: Path, command: Program) -> None:
    """Only lines are added, and what was bought before is judged by what held then."""
    before = (ledger / PLACE).read_text(encoding="utf-8")
    told = json.loads(command("vet", BLANK, "--json", "--ledger", ledger).out)["checks"]
    ended = command(*CHART, "--chart", given, "--ledger", ledger)
    assert ended.code == 0, ended.err
    after = (ledger / PLACE).read_text(encoding="utf-8")
    assert after.startswith(before)
    assert after[len(before) :] == (
        "  - since: 2026-10-01\n    source: sheet of October\n    unit: in\n"
        "    tolerance: {half_chest: 1/2}\n    sizes:\n"
        "      S: {half_chest: 17 1/2, body_length: 28}\n"
        "      M: {half_chest: 20, body_length: 29}\n"
        "      L: {half_chest: 22 3/4, body_length: 30}\n"
    )
    assert command("check", "--ledger", ledger).code == 0
    assert json.loads(command("vet", BLANK, "--json", "--ledger", ledger).out)["checks"] == told


def test_what_moves_is_said(ledger: Path, given: Path, command: Program) -> None:
    """Cells and steps, old to new, signed; and where it is past the tolerance.

    Expected: 22 to 22 3/4 is +3/4 in, more than the 1/2 in that the chart allows; 18 to 17 1/2 is
    -1/2 in, just as much; each moves one step.
    """
    out = command(*CHART, "--chart", given, "--ledger", ledger).out
    moved = [line for line in out.splitlines() if line.startswith("moved: ")]
    assert (
        moved
        == [
            "moved: half chest, S: 18 in to 17 1/2 in, -1/2 in",
            "moved: half chest, L: 22 in to 22 3/4 in, +3/4 in, past the tolerance",
            "moved: half chest, S to M: 2 in to 2 1/2 in, +1/2 in",
            "moved: half chest, M to L: 2 in to 2 3/4 in, +3/4 in, past the tolerance",
        ]
        or moved[-1] == "moved: half chest, M to L: 2 in to 2 3/4 in, +3/4 in"
    )


def test_data_and_a_dry_run(ledger: Path, given: Path, command: Program) -> None:
    """The difference and the moves as data; the file stays as it was."""
    before = (ledger / PLACE).read_bytes()
    flags = ("--chart", given, "--dry-run", "--json", "--ledger", ledger)
    told = json.loads(command(*CHART, *flags).out)
    assert (ledger / PLACE).read_bytes() == before
    assert told["written"] is False
    assert "+  - since: 2026-10-01" in told["difference"]
    assert [(one["size"], one["point"], one["past_tolerance"]) for one in told["moved"]] == [
        ("S", "half_chest", False),
        ("L", "half_chest", True),
    ]
    assert [one["new_mm"] for one in told["moved"]] == [17.5 * 25.4, 22.75 * 25.4]


def test_a_measure_that_is_left_out_is_said(ledger: Path, tmp_path: Path, command: Program) -> None:
    """A newer chart without a measure cannot be held against it, which is not the same as equal."""
    place = tmp_path / "short.csv"
    place.write_text("inches,S,M,L\nHalf chest,18,20,22\n", encoding="utf-8")
    ended = command(*CHART, "--chart", place, "--ledger", ledger)
    assert ended.code == 0, ended.err
    assert "nothing moved against the chart before it" in ended.out
    assert "look again: body length: charted before, and no more" in ended.out


def test_a_style_gets_its_first_chart(
    ledger_factory: LedgerMaker, given: Path, command: Program
) -> None:
    """Where it had none."""
    style = f"style: {BLANK}\nname: H6\nsizes: [S, M, L]\ncolours: [black]\n"
    root = ledger_factory({PLACE: style})
    ended = command(*CHART, "--chart", given, "--ledger", root)
    assert ended.code == 0, ended.err
    assert "the first chart of the style" in ended.out
    ledger = load_ledger(root).ledger
    assert ledger
    assert ledger.blanks[BLANK].style.charts[0].sizes["L"]["half_chest"].mm == 22.75 * 25.4


def test_a_tolerance_that_widens_is_said(
    ledger: Path, given: Path, tmp_path: Path, command: Program
) -> None:
    """A supplier who allows more promises less, though every number stays."""
    command(*CHART, "--chart", given, "--ledger", ledger)
    place = tmp_path / "wider.csv"
    place.write_text(NEWER.replace(",1/2\n", ",3/4\n"), encoding="utf-8")
    later = ("add", "chart", BLANK, "--since", "2026-11-01", "--chart", place, "--ledger", ledger)
    ended = command(*later)
    assert ended.code == 0, ended.err
    assert "look again: half chest: the tolerance was 1/2 in and is 3/4 in" in ended.out
    bare = tmp_path / "bare.csv"
    bare.write_text(NEWER.replace(",1/2\n", ",\n"), encoding="utf-8")
    last = ("add", "chart", BLANK, "--since", "2026-11-02", "--chart", bare, "--ledger", ledger)
    assert "a tolerance was given before, and is no more" in command(*last).out


def test_two_sizes_of_one_width_are_recorded_and_said(
    ledger: Path, tmp_path: Path, command: Program
) -> None:
    """It is the finding itself: shown when the chart is added, by `vet`, and in the data."""
    place = tmp_path / "shared.csv"
    place.write_text("inches,S,M,L\nHalf chest,18,20,20\nBody length,28,29,30\n", encoding="utf-8")
    ended = command(*CHART, "--chart", place, "--ledger", ledger)
    assert ended.code == 0, ended.err
    said = "look again: L is no wider than M in the chart: both 20 in"
    assert said in ended.out
    assert said in command("vet", BLANK, "--ledger", ledger).out
    told = json.loads(command("vet", BLANK, "--json", "--ledger", ledger).out)
    assert told["chart_remarks"] == [said.removeprefix("look again: ")]
    assert command("check", "--ledger", ledger).code == 0


WRONG = [
    ({"blank": "tarn-thrush/h7"}, "did you mean tarn-thrush/h6?"),
    ({"since": "2024-01-08"}, "has a chart since 2024-01-08"),
    ({"since": "2023-01-08"}, "has a chart since 2024-01-08"),
    ({"since": "soon"}, "--since must be a day"),
    ({"chart": "inches,S,M,L,3XL\nHalf chest,18,20,22,30\n"}, "a size that the style has not: 3XL"),
    ({"chart": "inches,S,L\nHalf chest,18,22\n"}, "the chart skips M"),
    ({"chart": "inches,S,M,L\nHalf chest,20,19,22\n"}, "half chest must grow"),
    ({"chart": "nothing\n"}, "must be a size chart"),
]


@pytest.mark.parametrize(("other", "words"), WRONG)
def test_nothing_is_written_that_is_wrong(
    ledger: Path, tmp_path: Path, command: Program, other: dict[str, str], words: str
) -> None:
    """And what is wrong is said."""
    before = (ledger / PLACE).read_bytes()
    place = tmp_path / "given.csv"
    place.write_text(other.get("chart", NEWER), encoding="utf-8")
    ended = command(
        *("add", "chart", other.get("blank", BLANK), "--chart", place),
        *("--since", other.get("since", "2026-10-01"), "--ledger", ledger),
    )
    assert ended.code == 2, ended.out
    assert words in ended.err
    assert (ledger / PLACE).read_bytes() == before


def _uncharted(ledger_factory: LedgerMaker) -> Path:
    """Return a ledger whose style was measured in 2024, and has no chart."""
    text = SMALL_LEDGER[STYLE]
    return ledger_factory({STYLE: text[: text.index("charts:")] + _behind_charts(text)})


def _behind_charts(text: str) -> str:
    """Return the keys of a style that stand behind its charts."""
    lines = text[text.index("charts:") :].splitlines(keepends=True)[1:]
    at = next((n for n, line in enumerate(lines) if line[:1].isalpha()), len(lines))
    return "".join(lines[at:])


def test_the_first_chart_can_hold_since_the_round(ledger_factory: LedgerMaker, given: Path) -> None:
    """A chart that is entered years later is asked about; the day of the round is offered."""
    root = _uncharted(ledger_factory)
    at = Terminal(root, "chart", BLANK, "--chart", str(given), door="add")
    at.until("since when it holds; pieces bought on 2024-02-03 have no chart [2024-02-03]")
    at.key("sam\r")
    at.until("since must be a date")
    at.until("[2024-02-03]")
    at.key("\r")
    at.until("is that what the chart says?")
    at.key("y\r")
    at.until("wrote")
    assert at.end() == 0
    loaded = load_ledger(root).ledger
    assert loaded
    assert loaded.blanks[BLANK].style.charts[0].since.isoformat() == "2024-02-03"


def test_a_younger_chart_is_called_so(
    ledger_factory: LedgerMaker, given: Path, command: Program
) -> None:
    """Neither the terminal nor `add chart` says that there is none."""
    root = _uncharted(ledger_factory)
    ended = command(*CHART, "--chart", given, "--ledger", root)
    assert "--since 2024-02-03 if it held" in ended.out
    told = command("vet", BLANK, "--all", "--ledger", root).out
    assert "the chart is younger than this round" in " ".join(told.split())
    assert "no chart judges" not in told


def test_approved_round_becomes_the_shops_own_chart(
    tmp_path: Path, ledger_factory: LedgerMaker, command: Program
) -> None:
    """One command, where the supplier has none: means to the tape's mark, for what comes later.

    Expected by hand: 18 and 18 1/4 have a mean of 18 1/8; XL was measured and not approved.
    """
    ledger = ledger_factory()
    place = ledger / PLACE
    text = place.read_text(encoding="utf-8")
    place.write_text(text[: text.index("charts:")], encoding="utf-8")
    refused = command("add", "chart", BLANK, "--as-measured", "--ledger", ledger)
    assert (refused.code, "no round of it was approved yet" in refused.err) == (2, True)
    pieces = "".join(
        f"  - {{piece: {size}-{n}, size: {size}, colour: black, "
        f"received: {{half_chest: {wide}}}}}\n"
        for size, widths in {"S": ("18", "18 1/4"), "M": ("20", "20"), "L": ("22", "23")}.items()
        for n, wide in enumerate(widths)
    )
    (ledger / f"blanks/{BLANK}/2026-05-01-own.yaml").write_text(
        f"style: {BLANK}\ndate: 2026-05-01\nby: rv\nlot: A 7\ntape: {{unit: in, reads_to: 1/8}}\n"
        f"pieces:\n{pieces}decision: {{decision: approved, date: 2026-05-02, by: rv, reason: ours, "
        "sizes: [S, M]}\n",
        encoding="utf-8",
    )
    ended = command(
        *("add", "chart", BLANK, "--as-measured", "--since", "2026-05-03", "--ledger", ledger)
    )
    assert ended.code == 0, ended.err
    assert place.read_text(encoding="utf-8").endswith(
        "charts:\n  - since: 2026-05-03\n"
        '    source: "our own, as measured on 2026-05-01, lot A 7"\n'
        "    unit: in\n    sizes:\n      S: {half_chest: 18 1/8}\n      M: {half_chest: 20}\n"
    )
    again = command(
        "add", "chart", BLANK, "--as-measured", "--since", "2027-01-01", "--ledger", ledger
    )
    assert again.code == 2
