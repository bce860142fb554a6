"""Text that is not YAML, or more of YAML than a record needs."""

from battery.bad_input import (
    ROUND,
    SUPPLIER,
    BadInput,
    appended_to,
    half_chest_of,
    replaced_in,
    whole_file,
)
from support import SMALL_LEDGER

BOMB = "a0: &a0 [x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]\n" for n in range(1, 9)
)
FORMS: list[BadInput] = [
    BadInput(
        "B24 tab indent", replaced_in(ROUND, "    size: M", "\tsize: M"), "tab", f"{ROUND}:9:1"
    ),
    BadInput(
        "B25 tab before #", replaced_in(ROUND, "by: rv", "by: rv\t# me"), "tab", f"{ROUND}:3:7"
    ),
    BadInput(
        "B26 two colons",
        replaced_in(ROUND, "by: rv", "by: rv: mo"),
        "colon-in-text",
        f"{ROUND}:3:7",
    ),
    BadInput(
        "B27 inch mark and colon",
        appended_to(ROUND, 'note: 22" wide: fits\n'),
        "colon-in-text",
        f"{ROUND}:16:15",
    ),
    BadInput("B28 quote", replaced_in(ROUND, "by: rv", 'by: "rv'), "unclosed", f"{ROUND}:3:5"),
    BadInput(
        "B28 single quote", replaced_in(ROUND, "by: rv", "by: 'rv"), "unclosed", f"{ROUND}:3:5"
    ),
    BadInput("B28 bracket", replaced_in(ROUND, "22 1/8]", "22 1/8"), "unclosed", f"{ROUND}:15:28"),
    BadInput("B28 brace", replaced_in(ROUND, "30 1/8}", "30 1/8"), "unclosed", f"{ROUND}:15:15"),
    *(
        BadInput(f"B29 {sign}", appended_to(ROUND, f"note: {sign}x\n"), rule, f"{ROUND}:16:7")
        for sign, rule in {
            "%": "sign-at-start",
            "@": "sign-at-start",
            "`": "sign-at-start",
            "*": "sign-at-start",
            "&": "sign-at-start",
            "!": "sign-at-start",
        }.items()
    ),
    BadInput("B30 top", appended_to(ROUND, "by: mo\n"), "duplicate-key", f"{ROUND}:16:1"),
    BadInput(
        "B30 nested",
        replaced_in(ROUND, "body_length: 28 7/8", "half_chest: 28 7/8"),
        "duplicate-key",
        f"{ROUND}:11:36",
    ),
    BadInput("B31 quoted twin", appended_to(ROUND, "'by': mo\n"), "duplicate-key", f"{ROUND}:16:1"),
    BadInput(
        "B32 documents", appended_to(ROUND, "---\nby: mo\n"), "second-document", f"{ROUND}:16:1"
    ),
    BadInput("B33 list", whole_file(SUPPLIER, "- a\n"), "not-a-mapping", f"{SUPPLIER}:1:1"),
    BadInput("B33 scalar", whole_file(SUPPLIER, "\nabc\n"), "not-a-mapping", f"{SUPPLIER}:2:1"),
    BadInput("B33 null", whole_file(SUPPLIER, "null\n"), "not-a-mapping", f"{SUPPLIER}:1:1"),
    BadInput(
        "B34 directive",
        {SUPPLIER: "# x\n%YAML 1.1\n---\n" + SMALL_LEDGER[SUPPLIER]},
        "directive",
        f"{SUPPLIER}:2:1",
    ),
    BadInput(
        "B35 anchor", replaced_in(ROUND, "by: rv", "by: &me rv"), "sign-at-start", f"{ROUND}:3:5"
    ),
    BadInput("B35 alias", replaced_in(ROUND, "by: rv", "by: *me"), "sign-at-start", f"{ROUND}:3:5"),
    BadInput("B36 alias bomb", whole_file(SUPPLIER, BOMB), "sign-at-start", f"{SUPPLIER}:1:5"),
    BadInput(
        "B37 recursive", whole_file(SUPPLIER, "a: &a {b: *a}\n"), "sign-at-start", f"{SUPPLIER}:1:4"
    ),
    BadInput(
        "B38 merge key", appended_to(SUPPLIER, "<<: {note: x}\n"), "merge-key", f"{SUPPLIER}:3:1"
    ),
    *(
        BadInput(
            f"B39-B40 {tag}",
            appended_to(SUPPLIER, f"note: {tag} x\n"),
            "sign-at-start",
            f"{SUPPLIER}:3:7",
        )
        for tag in (
            "!!python/object/apply:os.system",
            "!!binary",
            "!!set",
            "!foo",
            "!!int",
            "!!float",
            "!<tag:example.org,2000:x>",
        )
    ),
    BadInput(
        "B41 33 deep",
        appended_to(SUPPLIER, "note: " + "[" * 32 + "]" * 32 + "\n"),
        "nested-too-deep",
        f"{SUPPLIER}:3:38",
    ),
    BadInput(
        "B41 33 deep in maps",
        appended_to(SUPPLIER, "note: " + "{a: " * 32 + "b" + "}" * 32 + "\n"),
        "nested-too-deep",
        f"{SUPPLIER}:3:131",
    ),
    *(
        BadInput(
            f"B41 {count} {sign.strip()}",
            whole_file(SUPPLIER, "a:\n  " + sign * count + "x"),
            "nested-too-deep",
            f"{SUPPLIER}:2:{column}",
        )
        for count in (500, 5000)
        for sign, column in {
            "[": 34,
            "{": 34,
            "- ": 65,
            "? ": 65,
            "{a: ": 127,
            "[{": 34,
        }.items()
    ),
    *(
        BadInput(
            f"B41 a megabyte of {sign.strip()}",
            whole_file(SUPPLIER, sign * ((1 << 20) // len(sign))),
            "nested-too-deep",
            f"{SUPPLIER}:1:{1 + 32 * len(sign)}",
        )
        for sign in ("[", "{", "- ", "? ")
    ),
    BadInput(
        "B42 list as key", appended_to(SUPPLIER, "? [a]\n: b\n"), "key-not-text", f"{SUPPLIER}:3:3"
    ),
    BadInput("B42 flow key", appended_to(SUPPLIER, "[a]: b\n"), "key-not-text", f"{SUPPLIER}:3:1"),
    *(
        BadInput(
            f"B42 {key}", appended_to(SUPPLIER, f"{key}: b\n"), "unknown-key", f"{SUPPLIER}:3:1"
        )
        for key in ("null", "true", "1", "1.5", "~", '""')
    ),
    BadInput(
        "B43 too many values",
        appended_to(SUPPLIER, "note: [" + ", ".join(["x"] * 50_000) + "]\n"),
        "too-many-values",
        f"{SUPPLIER}:3:7",
    ),
    BadInput("B44 NEL", replaced_in(ROUND, "rv", "r\x85v"), "hidden-character", f"{ROUND}:3:6"),
    BadInput("B44 LS", replaced_in(ROUND, "rv", "r\u2028v"), "hidden-character", f"{ROUND}:3:6"),
    BadInput("B44 bidi", replaced_in(ROUND, "rv", "r\u202ev"), "hidden-character", f"{ROUND}:3:6"),
    BadInput("B44 NBSP key", replaced_in(ROUND, "by:", "b\xa0y:"), "unknown-key", f"{ROUND}:3:1"),
    BadInput(
        "B44 zero width", replaced_in(ROUND, "by:", "b\u200by:"), "unknown-key", f"{ROUND}:3:1"
    ),
    BadInput(
        "B45 surrogate",
        appended_to(SUPPLIER, 'note: "\\ud800"\n'),
        "hidden-character",
        f"{SUPPLIER}:3:7",
    ),
    BadInput(
        "B46 homoglyph",
        replaced_in(ROUND, "date: 2024-02-12", "d\u0430te: 2024-02-12"),
        "unknown-key",
        f"{ROUND}:2:1",
    ),
    BadInput(
        "B47 long value",
        replaced_in(ROUND, "each: 4.60", "each: " + "x" * 200_000),
        "wrong-kind",
        f"{ROUND}:5:34",
    ),
    BadInput(
        "B47 long length",
        half_chest_of('"' + "1," * 100_000 + '"'),
        "not-a-length",
        f"{ROUND}:11:28",
    ),
    BadInput(
        "B48 20,000 bad records",
        {ROUND: SMALL_LEDGER[ROUND].partition("pieces:")[0] + "pieces:\n" + "  - x\n" * 20_000},
        "wrong-count",
        f"{ROUND}:8:3",
        others=199,
    ),
    BadInput(
        "B48 20,000 unknown keys",
        {SUPPLIER: SMALL_LEDGER[SUPPLIER] + "".join(f"k{n}: 1\n" for n in range(20_000))},
        "unknown-key",
        f"{SUPPLIER}:3:1",
        others=199,
    ),
]
