"""Relations between values and files: a bad example each, and a near miss that is right."""

import datetime
import itertools
from collections.abc import Sequence
from pathlib import Path

import pytest

from battery.bad_input import FOLDER, ROUND, STYLE, SUPPLIER, Files, appended_to, replaced_in
from blankbook.records.load_ledger import load_ledger
from blankbook.text.findings import Finding
from support import SMALL_LEDGER, LedgerMaker

TODAY = datetime.date(2026, 6, 1)


def findings_in(root: Path) -> list[str]:
    """Return the findings, without their words."""
    return [
        place_and_rule(finding) for finding in load_ledger(root, today=TODAY, workers=1).findings
    ]


def place_and_rule(finding: Finding) -> str:
    """Return the place, level and rule of a finding."""
    return f"{finding.path}:{finding.line}:{finding.column} {finding.level} {finding.rule}"


def round_with_pieces(*lines: str, tape: str = "in, reads_to: 1/8", more: str = "") -> Files:
    """Return the round with these pieces: "M half_chest body_length rest"."""
    head = SMALL_LEDGER[ROUND].partition("pieces:")[0].replace("in, reads_to: 1/8", tape)
    body = "".join(
        f"  - {{piece: {size}-{number}, size: {size}, colour: black{rest}, "
        f"received: {{half_chest: {chest}, body_length: {length}}}}}\n"
        for number, (size, chest, length, rest) in enumerate(
            (*line.split("|"), "")[:4] for line in lines
        )
    )
    return {ROUND: f"{head}pieces:\n{body}{more}"}


def expected_finding(line: int, column: int, level: str, rule: str, path: str = ROUND) -> str:
    """Return what `findings_in` says of one finding."""
    return f"{path}:{line}:{column} {level} {rule}"


CONFIRMED = ", confirmed: the tag says so"
WASHED = "laundering: {wash: home_warm, dry: tumble_low}\n"
FAR, LIKE = "far-from-siblings", "measures-like-another"
SCALE, SPAN = "mistaken-scale", "outside-usual-span"
CASES: dict[str, tuple[Files, list[str]]] = {
    "12 1/8 for 22 1/8": (
        round_with_pieces("L|22|30", "L|12 1/8|30", "L|22 1/8|30"),
        [expected_finding(9, 65, "warning", FAR)],
    ),
    "32 for 23 with a chart of 22": (
        round_with_pieces("L|23|30", "L|32|30", "L|22 7/8|30 1/8"),
        [expected_finding(9, 65, "warning", FAR)],
    ),
    "56.2 typed on an inch tape": (
        round_with_pieces("L|22|30", "L|56.2|30", "L|22 1/8|30"),
        [expected_finding(9, 65, "error", "out-of-range")],
    ),
    "two that disagree: the one farther from the chart is asked about": (
        round_with_pieces("L|22|30", "L|25|30"),
        [expected_finding(9, 65, "warning", FAR)],
    ),
    "a lone piece far from the chart": (
        round_with_pieces("L|25|30"),
        [expected_finding(8, 65, "warning", FAR)],
    ),
    "a lone piece a bit off the chart is no slip": (round_with_pieces("L|24|30"), []),
    "a lot half a size small is no slip": (
        round_with_pieces("M|19|28 1/2", "L|21|29 1/2", "L|21|29 1/2", "M|19|28 1/2"),
        [],
    ),
    "an L tagged M": (
        round_with_pieces("M|20|29", "M|20|29", "M|22|30"),
        [expected_finding(10, 24, "warning", LIKE)],
    ),
    "an L tagged M, alone": (
        round_with_pieces("M|22|30"),
        [expected_finding(8, 24, "warning", LIKE)],
    ),
    "an L tagged M, looked at": (
        round_with_pieces("M|20|29", "M|20|29", f"M|22|30|{CONFIRMED}"),
        [],
    ),
    "wide as an L, long as an M: no other size": (
        round_with_pieces("M|20|29", "M|20|29", "M|21|29"),
        [],
    ),
    "a slip that was looked at": (
        round_with_pieces("L|22|30", "L|22|30", f"L|12|30|{CONFIRMED}"),
        [],
    ),
    "confirmed does not make a length possible": (
        round_with_pieces("L|22|30", f"L|70|30|{CONFIRMED}"),
        [expected_finding(9, 93, "error", "out-of-range")],
    ),
    "an unknown size is not also far off": (
        round_with_pieces("XXL|22|30", "L|22|30"),
        [expected_finding(8, 26, "error", "unknown-size")],
    ),
    "one half chest all the way around": (
        round_with_pieces("L|22|30", "L|43|30"),
        [expected_finding(9, 65, "warning", SCALE)],
    ),
    "all half chests all the way around are asked about once": (
        round_with_pieces("M|40|29", "L|44|30", "L|44 1/8|30"),
        [expected_finding(8, 65, "warning", SCALE)],
    ),
    "a lone sleeve that no T-shirt has, at a point without a chart": (
        round_with_pieces("L|22|30, sleeve_length: 21 3/4", "L|22|30"),
        [expected_finding(8, 101, "warning", SPAN)],
    ),
    "a circumference that was looked at": (
        round_with_pieces("L|22|30", f"L|44|30|{CONFIRMED}"),
        [],
    ),
    "centimetres all over an inch tape": (
        round_with_pieces("M|51|73.5", "L|56|76"),
        [expected_finding(6, 14, "error", "wrong-unit")],
    ),
    "inches all over a centimetre tape": (
        round_with_pieces("M|20|29", "L|22|30", tape="cm, reads_to: 0.5"),
        [expected_finding(6, 14, "error", "wrong-unit")],
    ),
    "centimetres on a centimetre tape": (
        round_with_pieces("M|51|73.5", "L|56|76", tape="cm, reads_to: 0.5"),
        [],
    ),
    "repeats that differ by four marks": (
        round_with_pieces("L|[22, 22 1/2]|30"),
        [expected_finding(8, 65, "warning", "repeats-differ")],
    ),
    "repeats that differ by three marks": (round_with_pieces("L|[22, 22 3/8]|30"), []),
    "a repeat out of range is told at the repeat": (
        round_with_pieces("L|[22, 2]|30"),
        [expected_finding(8, 70, "error", "out-of-range")],
    ),
    "finer than the tape": (
        round_with_pieces("L|22 1/16|30"),
        [expected_finding(8, 65, "note", "finer-than-tape")],
    ),
    "on the mark, in another spelling": (round_with_pieces("L|22.125|30"), []),
    "a fifth lost in the wash": (
        round_with_pieces("L|22|30|, washed: [{cycles: 1, half_chest: 18}]", more=WASHED),
        [expected_finding(8, 75, "warning", "far-from-received")],
    ),
    "a tenth lost in the wash": (
        round_with_pieces("L|22|30|, washed: [{cycles: 1, half_chest: 20}]", more=WASHED),
        [],
    ),
    "washed before the others were measured": (
        round_with_pieces("L|22|30|, washed: [{cycles: 1, hem_width: 20}]", more=WASHED),
        [expected_finding(8, 63, "note", "washed-without-received")],
    ),
    "washed, nobody knows how": (
        round_with_pieces("L|22|30|, washed: [{cycles: 1, half_chest: 22}]"),
        [expected_finding(7, 1, "error", "no-laundering")],
    ),
    "cycles that run backwards": (
        round_with_pieces(
            "L|22|30|, washed: [{cycles: 5, half_chest: 22}, {cycles: 1, half_chest: 22}]",
            more=WASHED,
        ),
        [expected_finding(8, 89, "error", "cycles-backwards")],
    ),
    "a colour that the style has not": (
        replaced_in(ROUND, "colour: black", "colour: ecru"),
        [expected_finding(10, 13, "note", "unlisted-colour")],
    ),
    "a swatch of no piece": (
        appended_to(ROUND, "swatches: [{piece: M-black-2, area: 100 cm2, mass: 2 g}]\n"),
        [expected_finding(16, 20, "error", "unknown-piece")],
    ),
    "a swatch of a piece": (
        appended_to(ROUND, "swatches: [{piece: M-black-1, area: 100 cm2, mass: 2 g}]\n"),
        [],
    ),
    "an area that is none": (
        appended_to(ROUND, "swatches: [{area: 10 x 10, mass: 2 g}]\n"),
        [expected_finding(16, 19, "error", "not-an-amount")],
    ),
    "a size twice": (
        replaced_in(STYLE, "[S, M, L]", "[S, M, L, l]"),
        [expected_finding(5, 18, "error", "size-twice", STYLE)],
    ),
    "a chart with a size that the style has not": (
        replaced_in(STYLE, "      S:", "      XS:"),
        [expected_finding(12, 7, "error", "unknown-size", STYLE)],
    ),
    "a chart that leaves the last size out": (
        replaced_in(STYLE, "      L: {half_chest: 22, body_length: 30}\n", ""),
        [],
    ),
    "two sizes of one width in a chart": (
        replaced_in(STYLE, "half_chest: 22", "half_chest: 20"),
        [],
    ),
    "two sizes of one length in a chart": (
        replaced_in(STYLE, "body_length: 30", "body_length: 29"),
        [],
    ),
    "a chart that shrinks": (
        replaced_in(STYLE, "body_length: 30", "body_length: 28 7/8"),
        [expected_finding(14, 40, "error", "chart-not-ascending", STYLE)],
    ),
    "a chart that shrinks, and the supplier says so": (
        replaced_in(
            STYLE,
            "      L: {half_chest: 22, body_length: 30}",
            "      L: {half_chest: 22, body_length: 28 7/8}\n    confirmed: asked, they say so",
        ),
        [],
    ),
    "a tolerance of just a step": (
        replaced_in(
            STYLE, "    sizes:\n", "    tolerance: {half_chest: 2, body_length: 1}\n    sizes:\n"
        ),
        [],
    ),
    "a tolerance of just a step that no float holds": (
        {
            STYLE: SMALL_LEDGER[STYLE]
            .replace("    sizes:\n", "    tolerance: {half_chest: 1}\n    sizes:\n")
            .replace("half_chest: 18", "half_chest: 19")
            .replace("half_chest: 22", "half_chest: 21"),
        },
        [],
    ),
    "a tolerance of more than a step": (
        replaced_in(STYLE, "    sizes:\n", "    tolerance: {half_chest: 2 1/8}\n    sizes:\n"),
        [expected_finding(11, 29, "note", "tolerance-over-step", STYLE)],
    ),
    "a rib that does not grow": (
        replaced_in(STYLE, "28}", "28, rib_height: 1}")
        | {STYLE: SMALL_LEDGER[STYLE].replace("}", ", rib_height: 1}")},
        [],
    ),
    "approved without a reading, for a reason": (
        {
            ROUND: SMALL_LEDGER[ROUND].partition("pieces:")[0]
            + "pieces: [{piece: a, size: M, colour: black}]\n"
            + "decision: {decision: approved, date: 2024-02-12, by: rv, reason: as h5}\n"
        },
        [],
    ),
    "on hold without a reading": (
        {
            ROUND: SMALL_LEDGER[ROUND].partition("pieces:")[0]
            + "pieces: [{piece: a, size: M, colour: black}]\n"
            + "decision: {decision: hold, date: 2024-02-12, by: rv}\n"
        },
        [],
    ),
    "today is not in the future": (
        appended_to(ROUND, "decision: {decision: hold, date: 2026-06-01, by: rv}\n"),
        [],
    ),
    "tomorrow is": (
        appended_to(ROUND, "decision: {decision: hold, date: 2026-06-02, by: rv}\n"),
        [expected_finding(16, 34, "error", "date-in-future")],
    ),
    "a supplier's file with a fault is not also an unknown supplier": (
        replaced_in(SUPPLIER, "name:", "nmae:"),
        [expected_finding(2, 1, "error", "unknown-key", SUPPLIER)],
    ),
    "a shop.yaml with a fault does not hide a round's": (
        replaced_in("shop.yaml", "units: in", "units: inch")
        | replaced_in(ROUND, "size: M", "size: XM"),
        [
            expected_finding(9, 11, "error", "unknown-size"),
            expected_finding(2, 8, "error", "unknown-word", "shop.yaml"),
        ],
    ),
    "a style with a fault does not hide a round's": (
        replaced_in(STYLE, "name:", "nmae:") | replaced_in(ROUND, "by: rv", "by: ''"),
        [
            expected_finding(3, 5, "error", "wrong-count"),
            expected_finding(2, 1, "error", "unknown-key", STYLE),
        ],
    ),
    "a round's own fault leaves the style's alone": (
        {f"{FOLDER}/2024-03-01-second.yaml": SMALL_LEDGER[ROUND]},
        [
            expected_finding(
                2, 7, "error", "name-against-content", f"{FOLDER}/2024-03-01-second.yaml"
            )
        ],
    ),
    "a file name that windows keeps": (
        {"suppliers/con.yaml": "supplier: con\nname: Con\n"},
        [expected_finding(1, 1, "error", "wrong-name", "suppliers/con.yaml")],
    ),
    "a record outside of a blank's folder": (
        {"blanks/tarn-thrush/x.yaml": "a: b\n"},
        [expected_finding(1, 1, "error", "out-of-place", "blanks/tarn-thrush/x.yaml")],
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_a_relation_is_found_where_it_is_broken_and_nowhere_else(
    case: str, ledger_factory: LedgerMaker
) -> None:
    """Each case has exactly these findings."""
    files, expected = CASES[case]
    assert findings_in(ledger_factory(files)) == expected


def test_slips_are_guessed_at(ledger_factory: LedgerMaker) -> None:
    """The help names what was probably meant."""
    root = ledger_factory(round_with_pieces("L|22 1/8|30", "L|12 1/8|30", "L|22|30", "L|22|30"))
    (finding,) = load_ledger(root, workers=1).findings
    assert finding.message == "half chest 12 1/8 is far from 22 in of its siblings"
    assert finding.help.startswith("did you mean 22 1/8? measure it again")


def test_two_without_a_chart_are_asked_about_once(ledger_factory: LedgerMaker) -> None:
    """Which of the two is off nobody can tell, so one question is asked, not two."""
    chartless = SMALL_LEDGER[STYLE].partition("charts:")[0]
    root = ledger_factory({STYLE: chartless, **round_with_pieces("L|22|30", "L|25|30")})
    assert [finding.rule for finding in load_ledger(root, workers=1).findings] == [FAR]


def test_links_are_not_followed(ledger_factory: LedgerMaker, tmp_path: Path) -> None:
    """A folder that leads elsewhere is named and not read."""
    root = ledger_factory()
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "elsewhere" / "style.yaml").write_text("secret: yes\n")
    (root / "blanks/tarn-thrush/h7").symlink_to(tmp_path / "elsewhere")
    assert findings_in(root) == [
        expected_finding(1, 1, "error", "link-leaves", "blanks/tarn-thrush/h7")
    ]


def test_linked_top_folders_are_not_followed(ledger_factory: LedgerMaker, tmp_path: Path) -> None:
    """Neither are the two folders that hold everything."""
    root = ledger_factory()
    (root / "suppliers").rename(tmp_path / "suppliers")
    (root / "suppliers").symlink_to(tmp_path / "suppliers")
    assert expected_finding(1, 1, "error", "link-leaves", "suppliers") in findings_in(root)


def test_the_order_of_the_folders_does_not_matter(
    ledger_factory: LedgerMaker, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whatever order the system lists files in, the findings are the same."""
    from blankbook.text import ledger_files

    many = {f"{FOLDER}/2024-0{n}-01-x.yaml": f"style: x{n}\n" for n in range(1, 6)}
    root = ledger_factory(many | {"suppliers/z.yaml": "", "blanks/q/r/style.yaml": "a: b\n"})
    first = load_ledger(root, workers=1).findings
    usual = ledger_files._entries
    turns = itertools.count()

    def turned(folder: str) -> Sequence[object]:
        there = sorted(usual(folder), key=lambda file: file.name)
        turn = next(turns) % max(1, len(there))
        return [*there[turn:], *there[:turn]][::-1]

    monkeypatch.setattr(ledger_files, "_entries", turned)
    assert load_ledger(root, workers=1).findings == first
    assert len(first) > 10


def test_one_process_and_two_find_the_same(ledger_factory: LedgerMaker) -> None:
    """Findings do not depend on how the work is shared out, nor on whether records are kept."""
    faulty = {
        f"blanks/tarn-thrush/s{n}/style.yaml": SMALL_LEDGER[STYLE].replace("/h6", f"/s{n % 70}")
        for n in range(80)
    }
    root = ledger_factory(faulty)
    in_one = load_ledger(root, workers=1)
    two = load_ledger(root, workers=2, keep=lambda _: False)
    assert in_one.findings == two.findings
    assert len(in_one.findings) == 10
    assert in_one.ledger is not None
    assert len(in_one.ledger.blanks) == 71
    assert two.ledger is not None
    assert not two.ledger.blanks


def test_one_slip_does_not_hide_another(ledger_factory: LedgerMaker) -> None:
    """A bad length, an unknown size, an unknown key and a bad date in one file: all are found."""
    text = SMALL_LEDGER[ROUND]
    text = text.replace("20 1/8", "20 1/3").replace("size: L", "size: XL")
    text = text.replace(
        "    colour: black\n    received: {half_chest: [",
        "    colour: black\n    hue: 1\n    received: {half_chest: [",
    )
    text = text.replace("date: 2024-02-03", "date: 2024-02-30")
    root = ledger_factory({ROUND: text})
    rules = sorted(finding.rule for finding in load_ledger(root).findings)
    assert rules == ["no-such-date", "not-a-length", "unknown-key", "unknown-size"]
