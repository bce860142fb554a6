"""What a supplier claims, and what a round says of its cloth: prices, fabric, colours, charts."""

import datetime
from pathlib import Path

import pytest

from battery.bad_input import FOLDER, ROUND, STYLE, SUPPLIER, Files, appended_to, replaced_in
from blankbook.records.load_ledger import load_ledger
from support import SMALL_LEDGER, LedgerMaker

TODAY = datetime.date(2026, 6, 1)


def findings_in(root: Path) -> list[str]:
    """Return place, level and rule of each finding."""
    return [
        f"{finding.path}:{finding.line}:{finding.column} {finding.level} {finding.rule}"
        for finding in load_ledger(root, today=TODAY, workers=1).findings
    ]


def style_with_prices(*lines: str) -> Files:
    """Return the style with these prices."""
    return appended_to(STYLE, "prices:\n" + "".join(f"  - {{{line}}}\n" for line in lines))


def style_with_mass(claim: str) -> Files:
    """Return the style with this mass per unit area."""
    return appended_to(STYLE, f"fabric: {{mass: {claim}}}\n")


def swatch(area: str, mass: str) -> Files:
    """Return the round with this swatch."""
    return appended_to(ROUND, f"swatches: [{{area: {area}, mass: {mass}}}]\n")


CASES: dict[str, tuple[Files, list[str]]] = {
    "a later price": (
        style_with_prices("since: 2024-01-01, each: 4", "since: 2025-01-01, each: 5"),
        [],
    ),
    "an earlier price below": (
        style_with_prices("since: 2025-01-01, each: 4", "since: 2024-01-01, each: 5"),
        [f"{STYLE}:17:13 error dates-backwards"],
    ),
    "two prices of one day": (
        style_with_prices("since: 2025-01-01, each: 4", "since: 2025-01-01, each: 5"),
        [f"{STYLE}:17:13 error two-prices-for-a-day"],
    ),
    "a price for a size": (style_with_prices("since: 2024-01-01, each: 4, sizes: {L: 5}"), []),
    "a price for no size": (
        style_with_prices("since: 2024-01-01, each: 4, sizes: {3XL: 5}"),
        [f"{STYLE}:16:42 error unknown-size"],
    ),
    "a mass in ounces": (style_with_mass("6.1 oz/yd2"), []),
    "a mass in grams": (style_with_mass("207 g/m2"), []),
    "the lightest": (style_with_mass("50 g/m2"), []),
    "lighter than any": (style_with_mass("49.9 g/m2"), [f"{STYLE}:15:16 error out-of-range"]),
    "the heaviest": (style_with_mass("800 g/m2"), []),
    "heavier than any": (style_with_mass("800.1 g/m2"), [f"{STYLE}:15:16 error out-of-range"]),
    "ounces with the unit of grams": (
        style_with_mass("6.1 g/m2"),
        [f"{STYLE}:15:16 error out-of-range"],
    ),
    "grams with the unit of ounces": (
        style_with_mass("207 oz/yd2"),
        [f"{STYLE}:15:16 error out-of-range"],
    ),
    "a swatch": (swatch("100 cm2", "2.05 g"), []),
    "a swatch in inches": (swatch("15.5 in2", "0.072 oz"), []),
    "a swatch with a slipped point": (
        swatch("100 cm2", "20.5 g"),
        [f"{ROUND}:16:34 error out-of-range"],
    ),
    "a swatch that weighs nothing": (
        swatch("100 cm2", "0.2 g"),
        [f"{ROUND}:16:34 error out-of-range"],
    ),
    "a colour twice": (
        replaced_in(STYLE, "[black]", "[black, white, Black]"),
        [f"{STYLE}:6:25 error colour-twice"],
    ),
    "a round before any chart": (
        replaced_in(STYLE, "2024-01-08", "2024-02-04"),
        [f"{ROUND}:5:16 note before-first-chart"],
    ),
    "a round bought on the day of the chart": (replaced_in(STYLE, "2024-01-08", "2024-02-03"), []),
    "a round before any chart, with no day of buying": (
        replaced_in(STYLE, "2024-01-08", "2024-02-13")
        | replaced_in(ROUND, "date: 2024-02-03, each", "each"),
        [f"{ROUND}:2:7 note before-first-chart"],
    ),
    "pieces that differ by case alone": (
        replaced_in(ROUND, "L-black-1", "m-Black-1"),
        [f"{ROUND}:12:12 error piece-twice"],
    ),
    "a round in a folder of the style's": (
        {f"{FOLDER}/old/2023-01-01-x.yaml": SMALL_LEDGER[ROUND]},
        [f"{FOLDER}/old/2023-01-01-x.yaml:1:1 error out-of-place"],
    ),
    "a round two folders down": (
        {f"{FOLDER}/a/b/x.YML": "a: b\n", f"{FOLDER}/a/b/notes.txt": "x"},
        [f"{FOLDER}/a/b/x.YML:1:1 error out-of-place"],
    ),
    "a supplier in a folder": (
        {"suppliers/old/x.yaml": "supplier: x\nname: X\n"},
        ["suppliers/old/x.yaml:1:1 error out-of-place"],
    ),
    "a merge that is half done": (
        replaced_in(ROUND, "by: rv\n", "<<<<<<< HEAD\nby: rv\n"),
        [f"{ROUND}:3:1 error unresolved-merge"],
    ),
    "a merge of which the end was left": (
        replaced_in(ROUND, "by: rv\n", "by: rv\n>>>>>>> other\n"),
        [f"{ROUND}:4:1 error unresolved-merge"],
    ),
    "a merge of which the middle was left": (
        replaced_in(ROUND, "by: rv\n", "by: rv\n||||||| base\nby: mo\n"),
        [f"{ROUND}:4:1 error unresolved-merge"],
    ),
    "lines of signs that are no merge": (
        appended_to(ROUND, "note: |\n  a\n  =======\n  <<<<<<< b\n  ||||||| c\n"),
        [],
    ),
    **{
        f"website {name}": (
            appended_to(SUPPLIER, f"website: '{text}'\n"),
            [f"{SUPPLIER}:3:10 error wrong-form"],
        )
        for name, text in {
            "script": "javascript:alert(1)",
            "data": "data:text/html,x",
            "no scheme": "//example.org",
            "ftp": "ftp://example.org",
            "space": " https://example.org",
        }.items()
    },
    "website": (appended_to(SUPPLIER, "website: https://example.org/a?b=c#d\n"), []),
}


@pytest.mark.parametrize("case", CASES)
def test_a_claim_that_cannot_be_is_found(case: str, ledger_factory: LedgerMaker) -> None:
    """Each case has exactly these findings."""
    files, expected = CASES[case]
    assert findings_in(ledger_factory(files)) == expected


@pytest.mark.parametrize(
    ("files", "message", "remedy"),
    [
        (
            style_with_mass("6.1 g/m2"),
            "mass must be between 50 and 800 g/m2, found 6.1 g/m2",
            "ounces? write 6.1 oz/yd2",
        ),
        (
            # 207 oz/yd2 x 33.90575 g/m2 = 7018 g/m2: an ounce is 28.349523125 g and a yard 0.9144 m
            # by the international agreement of 1959.
            style_with_mass("207 oz/yd2"),
            "mass must be between 50 and 800 g/m2, found 207 oz/yd2, which is 7018 g/m2",
            "grams? write 207 g/m2",
        ),
        (
            replaced_in(ROUND, "L-black-1", "M-black-1"),
            "piece M-black-1 is there twice, first in line 8",
            "give each piece its own name",
        ),
        (
            replaced_in(STYLE, "[S, M, L]", "[S, M,\n  L, M]"),
            "size M is there twice, first in line 5",
            "delete one",
        ),
        (
            {f"{FOLDER}/old/x.yaml": "a: b\n"},
            "a record in a folder where none is looked for",
            f"move it to {FOLDER}/",
        ),
    ],
)
def test_the_words_name_both_places_and_what_was_meant(
    files: Files, message: str, remedy: str, ledger_factory: LedgerMaker
) -> None:
    """The second line of two that clash is where the finding stands; its words name the first."""
    (finding,) = load_ledger(ledger_factory(files), workers=1).findings
    assert (finding.message, finding.help) == (message, remedy)


def test_the_first_line_is_right_where_entries_above_it_are_faulty(
    ledger_factory: LedgerMaker,
) -> None:
    """Entries that are left out for a fault of their own do not shift the others' places."""
    head, mark, rest = SMALL_LEDGER[ROUND].partition("pieces:\n")
    faulty = "  - {piece: x-1, colour: black}\n"
    text = head + mark + faulty + rest.replace("L-black-1", "M-black-1")
    told = {
        finding.rule: finding for finding in load_ledger(ledger_factory({ROUND: text})).findings
    }
    assert told.keys() == {"missing-key", "piece-twice"}
    assert told["piece-twice"].message.endswith("first in line 9")
    assert told["piece-twice"].line == 13
