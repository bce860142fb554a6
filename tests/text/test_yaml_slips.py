"""The commonest slips of the pen, and the words that a shop owner reads for each."""

import pytest

from support import SMALL_LEDGER, LedgerMaker, Program

ROUND = "blanks/tarn-thrush/h6/2024-02-12-first.yaml"
TEXT = SMALL_LEDGER[ROUND]
NBSP = "\xa0"

SLIPS = {
    "tab at the start": (
        TEXT.replace("    size: M", "\tsize: M"),
        "9:1: error: must be set in with spaces, found a tab  [tab]",
        "put spaces where the tab is",
    ),
    "unclosed quote": (
        TEXT.replace("by: rv", 'by: "rv'),
        '3:5: error: opened with " and never closed  [unclosed]',
        'add the closing "',
    ),
    "unclosed quote, and another one below": (
        TEXT.replace("by: rv", 'by: "rv') + 'note: "fine"\n',
        '3:5: error: opened with " and never closed  [unclosed]',
        'add the closing "',
    ),
    "quotes within quotes": (
        TEXT + 'note: "22" wide"\n',
        '16:12: error: text goes on after the closing "  [text-after-quote]',
        "put the whole text into ' '",
    ),
    "unclosed bracket": (
        TEXT.replace("[22, 22 1/8]", "[22, 22 1/8"),
        "15:28: error: opened with [ and never closed  [unclosed]",
        "add the closing ]",
    ),
    "unclosed brace in the middle": (
        TEXT.replace("28 7/8}", "28 7/8"),
        "11:15: error: opened with { and never closed  [unclosed]",
        "add the closing }",
    ),
    "a bracket too many": (
        TEXT.replace("22 1/8]", "22 1/8]]"),
        "15:40: error: a closing ] that nothing opened  [stray-bracket]",
        "delete it",
    ),
    "missing comma": (
        TEXT.replace("20 1/8, body", "20 1/8 body"),
        "11:46: error: must have a comma between two values, found none  [missing-comma]",
        "write {one: 1, two: 2}",
    ),
    "no space after the colon": (
        TEXT.replace("by: rv", "by:rv"),
        "3:4: error: must have a space after the colon, found none  [no-space]",
        "write by: rv",
    ),
    "no space after the colon in braces": (
        TEXT.replace("{half_chest: 20", "{half_chest:20"),
        "11:16: error: unknown key half_chest:20 1/8: there is no space after the colon"
        "  [unknown-key]",
        "write half_chest: 20 1/8",
    ),
    "no space after the hyphen": (
        TEXT.replace("- piece: M", "-piece: M"),
        "8:4: error: must have a space after the hyphen, found none  [no-space]",
        "write - piece: M-black-1",
    ),
    "inch mark and colon": (
        TEXT + 'note: 22" wide: fits\n',
        "16:15: error: a second colon in one line  [colon-in-text]",
        "quote the text: note: '22\" wide: fits'",
    ),
    "percent sign first": (
        TEXT + "note: % of cotton unknown\n",
        "16:7: error: text must not begin with %  [sign-at-start]",
        'quote the text: note: "% of cotton unknown"',
    ),
    "at sign first": (
        TEXT + "note: @mo look at this\n",
        "16:7: error: text must not begin with @  [sign-at-start]",
        'quote the text: note: "@mo look at this"',
    ),
    "star first": (
        TEXT + "note: *good*\n",
        "16:7: error: text must not begin with *  [sign-at-start]",
        'quote the text: "*…"',
    ),
    "greater-than sign first": (
        TEXT + "note: >20 in\n",
        "16:7: error: text must not begin with >  [sign-at-start]",
        'quote the text: note: ">20 in"',
    ),
    "bracket first": (
        TEXT + "note: [sic] too short\n",
        "16:7: error: text must not begin with [  [sign-at-start]",
        'quote the text: note: "[sic] too short"',
    ),
    "duplicate key": (
        TEXT + "by: mo\n",
        "16:1: error: by is there twice, first in line 3  [duplicate-key]",
        "delete one of the two",
    ),
    "set in too far": (
        TEXT.replace("    size: M", "     size: M"),
        "9:6: error: does not line up with the lines above  [wrong-indent]",
        "begin it under the first letter of the keys that it belongs to",
    ),
    "not set in enough": (
        TEXT.replace("    size: M", "   size: M"),
        "9:4: error: does not line up with the lines above  [wrong-indent]",
        "begin it under the first letter of the keys that it belongs to",
    ),
    "hyphen out of line": (
        TEXT.replace("  - piece: L", " - piece: L"),
        "12:2: error: does not line up with the lines above  [wrong-indent]",
        "begin it under the first letter of the keys that it belongs to",
    ),
    "a line without a colon": (
        TEXT + "measured in a hurry\n",
        "16:1: error: must be a line of key: value, found no colon  [no-colon]",
        "write key: value, with a space after the colon; or set it in, if it goes on",
    ),
    "smart quotes": (
        TEXT.replace("half_chest: 20 1/8", "half_chest: “20 1/8”"),
        "11:28: error: half_chest must be written with plain characters, found U+201C in “20 1/8”"
        "  [not-a-length]",
        "type it anew: 22 1/8",
    ),
    "non-breaking space in a length": (
        TEXT.replace("20 1/8", f"20{NBSP}1/8"),
        "11:28: error: half_chest must be written with plain characters, found U+00A0 in "
        "20\\xa01/8  [not-a-length]",
        "type it anew: 22 1/8",
    ),
    "non-breaking space after the colon": (
        TEXT.replace("by: rv", f"by:{NBSP}rv"),
        "3:4: error: a space that is not a plain one, U+00A0  [odd-space]",
        "delete it and type a space",
    ),
    "comma for a point": (
        TEXT.replace("received: {half_chest: 20 1/8,", "received:\n      {half_chest: '20,5',"),
        "12:20: error: half_chest must be written without a comma, found 20,5  [not-a-length]",
        "use a point: 20.5",
    ),
    "comma for a point in braces": (
        TEXT.replace("20 1/8", "20,5"),
        "11:31: error: unknown key 5  [unknown-key]",
        "a comma ends a value: write 20.5 with a point",
    ),
    "nothing after a key": (
        TEXT + "note: # later\n",
        "16:1: error: note must be text, found nothing  [wrong-kind]",
        "write text, or delete the line",
    ),
    "a word that is nearly right": (
        TEXT + "laundering: {wash: home_wram, dry: tumble_low}\n",
        "16:20: error: wash must be one of the known words, found home_wram  [unknown-word]",
        "did you mean home_warm?",
    ),
    "a key that is nearly right": (
        TEXT.replace("colour: black", "color: black", 1),
        "10:5: error: unknown key color  [unknown-key]",
        "did you mean colour?",
    ),
    "a missing key": (
        TEXT.replace("by: rv\n", ""),
        "1:1: error: by is missing  [missing-key]",
        "write it, such as by: rv",
    ),
}  # fmt: skip


@pytest.mark.parametrize("slip", SLIPS)
def test_a_slip_is_told_in_words_that_help(
    slip: str, ledger_factory: LedgerMaker, command: Program
) -> None:
    """Place, words and remedy are exactly these, and nothing else is said."""
    text, said, remedy = SLIPS[slip]
    assert text != TEXT
    root = ledger_factory({ROUND: text})
    printed = command("check", "--ledger", root).out.splitlines()
    assert printed[0].endswith(f"{ROUND}:{said}")
    assert printed[1:] == [f"    help: {remedy}"]


@pytest.mark.parametrize(
    "text",
    [
        'note: 22" wide',
        "note: 22 1/2 # wide",
        "note: it's fine",
        "note: 50 % cotton, 50 % other",
        "note: see https://example.org/a?b=c",
        "note: “smart” quotes in a note",
        f"note: 20{NBSP}cm",
        "note: a - b",
        "note: '22\" wide: fits'",
        "note: rock & roll * stars ! now",
    ],
)
def test_near_misses_are_no_slips(text: str, ledger_factory: LedgerMaker, command: Program) -> None:
    """What only looks like a slip is accepted as it stands."""
    root = ledger_factory({ROUND: TEXT + text + "\n"})
    assert command("check", "--ledger", root).code == 0
