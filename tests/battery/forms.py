"""Text that is not YAML, or more of YAML than a record needs."""

from battery.rows import ROUND, SUPPLIER, Row, added, changed, of_lines, read_as
from support import SMALL_LEDGER

BOMB = "a0: &a0 [x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]\n" for n in range(1, 9)
)
FORMS: list[Row] = [
    Row("B24 tab indent", changed(ROUND, "    size: M", "\tsize: M"), "tab", f"{ROUND}:9:1"),
    Row("B25 tab before #", changed(ROUND, "by: rv", "by: rv\t# me"), "tab", f"{ROUND}:3:7"),
    Row("B26 two colons", changed(ROUND, "by: rv", "by: rv: mo"), "colon-in-text", f"{ROUND}:3:7"),
    Row(
        "B27 inch mark and colon",
        added(ROUND, 'note: 22" wide: fits\n'),
        "colon-in-text",
        f"{ROUND}:16:15",
    ),
    Row("B28 quote", changed(ROUND, "by: rv", 'by: "rv'), "unclosed", f"{ROUND}:3:5"),
    Row("B28 single quote", changed(ROUND, "by: rv", "by: 'rv"), "unclosed", f"{ROUND}:3:5"),
    Row("B28 bracket", changed(ROUND, "22 1/8]", "22 1/8"), "unclosed", f"{ROUND}:15:28"),
    Row("B28 brace", changed(ROUND, "30 1/8}", "30 1/8"), "unclosed", f"{ROUND}:15:15"),
    *(
        Row(f"B29 {sign}", added(ROUND, f"note: {sign}x\n"), rule, f"{ROUND}:16:7")
        for sign, rule in {
            "%": "sign-at-start",
            "@": "sign-at-start",
            "`": "sign-at-start",
            "*": "sign-at-start",
            "&": "sign-at-start",
            "!": "sign-at-start",
        }.items()
    ),
    Row("B30 top", added(ROUND, "by: mo\n"), "duplicate-key", f"{ROUND}:16:1"),
    Row(
        "B30 nested",
        changed(ROUND, "body_length: 28 7/8", "half_chest: 28 7/8"),
        "duplicate-key",
        f"{ROUND}:11:36",
    ),
    Row("B31 quoted twin", added(ROUND, "'by': mo\n"), "duplicate-key", f"{ROUND}:16:1"),
    Row("B32 documents", added(ROUND, "---\nby: mo\n"), "second-document", f"{ROUND}:16:1"),
    Row("B33 list", of_lines(SUPPLIER, "- a\n"), "not-a-mapping", f"{SUPPLIER}:1:1"),
    Row("B33 scalar", of_lines(SUPPLIER, "\nabc\n"), "not-a-mapping", f"{SUPPLIER}:2:1"),
    Row("B33 null", of_lines(SUPPLIER, "null\n"), "not-a-mapping", f"{SUPPLIER}:1:1"),
    Row(
        "B34 directive",
        {SUPPLIER: "# x\n%YAML 1.1\n---\n" + SMALL_LEDGER[SUPPLIER]},
        "directive",
        f"{SUPPLIER}:2:1",
    ),
    Row("B35 anchor", changed(ROUND, "by: rv", "by: &me rv"), "sign-at-start", f"{ROUND}:3:5"),
    Row("B35 alias", changed(ROUND, "by: rv", "by: *me"), "sign-at-start", f"{ROUND}:3:5"),
    Row("B36 alias bomb", of_lines(SUPPLIER, BOMB), "sign-at-start", f"{SUPPLIER}:1:5"),
    Row("B37 recursive", of_lines(SUPPLIER, "a: &a {b: *a}\n"), "sign-at-start", f"{SUPPLIER}:1:4"),
    Row("B38 merge key", added(SUPPLIER, "<<: {note: x}\n"), "merge-key", f"{SUPPLIER}:3:1"),
    *(
        Row(
            f"B39-B40 {tag}",
            added(SUPPLIER, f"note: {tag} x\n"),
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
    Row(
        "B41 33 deep",
        added(SUPPLIER, "note: " + "[" * 32 + "]" * 32 + "\n"),
        "nested-too-deep",
        f"{SUPPLIER}:3:38",
    ),
    Row(
        "B41 33 deep in maps",
        added(SUPPLIER, "note: " + "{a: " * 32 + "b" + "}" * 32 + "\n"),
        "nested-too-deep",
        f"{SUPPLIER}:3:131",
    ),
    *(
        Row(
            f"B41 {count} {sign.strip()}",
            of_lines(SUPPLIER, "a:\n  " + sign * count + "x"),
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
        Row(
            f"B41 a megabyte of {sign.strip()}",
            of_lines(SUPPLIER, sign * ((1 << 20) // len(sign))),
            "nested-too-deep",
            f"{SUPPLIER}:1:{1 + 32 * len(sign)}",
        )
        for sign in ("[", "{", "- ", "? ")
    ),
    Row("B42 list as key", added(SUPPLIER, "? [a]\n: b\n"), "key-not-text", f"{SUPPLIER}:3:3"),
    Row("B42 flow key", added(SUPPLIER, "[a]: b\n"), "key-not-text", f"{SUPPLIER}:3:1"),
    *(
        Row(f"B42 {key}", added(SUPPLIER, f"{key}: b\n"), "unknown-key", f"{SUPPLIER}:3:1")
        for key in ("null", "true", "1", "1.5", "~", '""')
    ),
    Row(
        "B43 too many values",
        added(SUPPLIER, "note: [" + ", ".join(["x"] * 50_000) + "]\n"),
        "too-many-values",
        f"{SUPPLIER}:3:7",
    ),
    Row("B44 NEL", changed(ROUND, "rv", "r\x85v"), "hidden-character", f"{ROUND}:3:6"),
    Row("B44 LS", changed(ROUND, "rv", "r\u2028v"), "hidden-character", f"{ROUND}:3:6"),
    Row("B44 bidi", changed(ROUND, "rv", "r\u202ev"), "hidden-character", f"{ROUND}:3:6"),
    Row("B44 NBSP key", changed(ROUND, "by:", "b\xa0y:"), "unknown-key", f"{ROUND}:3:1"),
    Row("B44 zero width", changed(ROUND, "by:", "b\u200by:"), "unknown-key", f"{ROUND}:3:1"),
    Row(
        "B45 surrogate", added(SUPPLIER, 'note: "\\ud800"\n'), "hidden-character", f"{SUPPLIER}:3:7"
    ),
    Row(
        "B46 homoglyph",
        changed(ROUND, "date: 2024-02-12", "d\u0430te: 2024-02-12"),
        "unknown-key",
        f"{ROUND}:2:1",
    ),
    Row(
        "B47 long value",
        changed(ROUND, "each: 4.60", "each: " + "x" * 200_000),
        "wrong-kind",
        f"{ROUND}:5:34",
    ),
    Row("B47 long length", read_as('"' + "1," * 100_000 + '"'), "not-a-length", f"{ROUND}:11:28"),
    Row(
        "B48 20,000 bad records",
        {ROUND: SMALL_LEDGER[ROUND].partition("pieces:")[0] + "pieces:\n" + "  - x\n" * 20_000},
        "wrong-count",
        f"{ROUND}:8:3",
        others=199,
    ),
]
