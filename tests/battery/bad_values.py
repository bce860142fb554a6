"""Values that are written, and cannot be."""

from battery.bad_input import (
    ROUND,
    SHOP,
    STYLE,
    SUPPLIER,
    BadInput,
    Files,
    appended_to,
    half_chest_of,
    replaced_in,
)
from support import SMALL_LEDGER


def _date(text: str) -> Files:
    return replaced_in(ROUND, "date: 2024-02-03", f"date: {text}")


VALUES: list[BadInput] = [
    *(
        BadInput(f"B49 {text}", _date(text), "no-such-date", f"{ROUND}:5:16")
        for text in ("2026-02-30", "2026-13-01", "0000-01-01")
    ),
    *(
        BadInput(f"B50 {text}", _date(text), "not-a-date", f"{ROUND}:5:16")
        for text in (
            "2026-1-2",
            "01/02/2026",
            "20260102",
            "2026-W01-1",
            "2026-01-02T10:00",
            "today",
        )
    ),
    BadInput(
        "B51 future",
        replaced_in(SUPPLIER, "name:", "since: 2031-01-01\nname:"),
        "date-in-future",
        f"{SUPPLIER}:2:8",
    ),
    BadInput("B51 before bought", _date("2024-02-20"), "dates-backwards", f"{ROUND}:5:16"),
    BadInput("B51 0001", _date("0001-01-01"), "date-out-of-range", f"{ROUND}:5:16"),
    BadInput("B51 9999", _date("9999-01-01"), "date-out-of-range", f"{ROUND}:5:16"),
    *(
        BadInput(f"B52-B62 {text}", half_chest_of(text), "not-a-length", f"{ROUND}:11:28")
        for text in (
            "1e3",
            "0x1F",
            "0o17",
            "017",
            "1_000",
            "+3",
            ".nan",
            ".inf",
            "-.inf",
            "1.0e400",
            "1" * 5000,
            "20 1/0",
            "20 1/3",
            "20 1/7",
            "20 1/64",
            "20 3/2",
            "20/1/2",
            "1/2/",
            "20 1 2",
            "20 1/2 1/4",
            '"20,5"',
            "20 1⁄2",
            "２０",
            "٢٠",
            "20′",
            "20 ft",
            "20'",
            "-20",
            "0",
            "0.0",
            "0/2",
            '""',
            '"  "',
            "wide",
            "true",
        )
    ),
    *(
        BadInput(f"B57-B61 {text}", half_chest_of(text), "")
        for text in ("20 2/4", "20½", "20 ½", '20 1/2"', "20 1/2 in", "20 1/2 inches", "20-1/2")
    ),
    BadInput("B59 comma in flow", half_chest_of("20,5"), "unknown-key", f"{ROUND}:11:31"),
    BadInput("B62 cm in an inch field", half_chest_of("51 cm"), ""),
    BadInput(
        "B54 whole number",
        replaced_in(ROUND, "each: 4.60", "each: " + "9" * 5000),
        "wrong-kind",
        f"{ROUND}:5:34",
    ),
    BadInput("B63 1000", half_chest_of("1000"), "out-of-range", f"{ROUND}:11:28"),
    BadInput(
        "B64 comment",
        replaced_in(SUPPLIER, "name: Tarn", "lead_time_days: 9 # wide\nname: Tarn"),
        "",
    ),
    BadInput(
        "B64 comment eats a fraction",
        replaced_in(
            ROUND,
            "    received: {half_chest: 20 1/8, body_length: 28 7/8}",
            "    received:\n      half_chest: 20 #1/8\n      body_length: 28 7/8",
        ),
        "fraction-in-comment",
        f"{ROUND}:12:22",
        "note",
    ),
    BadInput(
        "B66 true for a number", replaced_in(ROUND, "4.60", "true"), "wrong-kind", f"{ROUND}:5:34"
    ),
    BadInput(
        "B66 1.0 for a whole number",
        appended_to(SUPPLIER, "lead_time_days: 1.0\n"),
        "wrong-kind",
        f"{SUPPLIER}:3:17",
    ),
    *(
        BadInput(
            f"B67 {size}",
            replaced_in(ROUND, "size: M", f"size: {size}"),
            "unknown-size",
            f"{ROUND}:9:11",
        )
        for size in ("2", '"2"', "m", "MM", "XM")
    ),
    BadInput(
        "B68 order",
        replaced_in(STYLE, "[S, M, L]", "[M, S, L]"),
        "chart-not-ascending",
        f"{STYLE}:12:23",
        others=1,
    ),
    BadInput(
        "B68 middle",
        replaced_in(STYLE, "      M: {half_chest: 20, body_length: 29}\n", ""),
        "size-skipped",
        f"{STYLE}:11:5",
    ),
    BadInput(
        "B69 piece twice",
        replaced_in(ROUND, "L-black-1", "M-black-1"),
        "piece-twice",
        f"{ROUND}:12:12",
    ),
    *(
        BadInput(
            f"B70 tolerance {text}",
            replaced_in(
                STYLE, "    sizes:\n", f"    tolerance: {{half_chest: {text}}}\n    sizes:\n"
            ),
            rule,
            f"{STYLE}:11:29",
        )
        for text, rule in {
            "-1/2": "not-a-length",
            "0": "not-a-length",
        }.items()
    ),
    BadInput(
        "B70 tolerance 3",
        replaced_in(STYLE, "    sizes:\n", "    tolerance: {half_chest: 3}\n    sizes:\n"),
        "tolerance-over-step",
        f"{STYLE}:11:29",
        "note",
    ),
    *(
        BadInput(
            f"B71 cycles {text}",
            replaced_in(
                ROUND,
                "  - piece: L-",
                f"    washed:\n      - {{cycles: {text}, half_chest: 20}}\n  - piece: L-",
            ),
            "out-of-range",
            f"{ROUND}:13:18",
        )
        for text in ("1000000000", "0", "-1")
    ),
    BadInput(
        "B71 percent", appended_to(SHOP, "mass_tolerance: 140\n"), "out-of-range", f"{SHOP}:7:17"
    ),
    BadInput("B72 empty", appended_to(ROUND, 'note: ""\n'), "wrong-count", f"{ROUND}:16:7"),
    BadInput("B72 spaces", appended_to(ROUND, 'note: "   "\n'), "wrong-form", f"{ROUND}:16:7"),
    BadInput("B72 no value", appended_to(ROUND, "note:\n"), "wrong-kind", f"{ROUND}:16:1"),
    BadInput(
        "B72 long",
        appended_to(ROUND, "note: " + "x" * 10_000 + "\n"),
        "wrong-count",
        f"{ROUND}:16:7",
    ),
    BadInput(
        "B73 centimetres as inches",
        {
            ROUND: SMALL_LEDGER[ROUND]
            .replace("20 1/8, body_length: 28 7/8", "51, body_length: 73")
            .replace("[22, 22 1/8], body_length: 30 1/8", "[56, 56], body_length: 76")
        },
        "wrong-unit",
        f"{ROUND}:6:14",
    ),
    BadInput(
        "B74 slipped digits", half_chest_of("32"), "far-from-siblings", f"{ROUND}:11:28", "warning"
    ),
]
