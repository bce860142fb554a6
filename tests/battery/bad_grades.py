"""What is graded, written as it cannot be."""

from battery.bad_input import ROUND, SHOP, BadInput, Files, appended_to, replaced_in
from support import SMALL_LEDGER

FIRST = "body_length: 28 7/8}"
WASHED = "laundering: {wash: home_warm, dry: tumble_low}\n"


def with_piece_line(text: str) -> Files:
    """Return the round with *text* as a line of its first piece."""
    files = replaced_in(ROUND, FIRST, f"{FIRST}\n    {text}")
    return {ROUND: f"{files[ROUND]!s}{WASHED}"}


def with_washed_stage(text: str) -> Files:
    """Return the round with *text* in a washed stage of its first piece."""
    return with_piece_line(f"washed: [{{cycles: 1, {text}}}]")


def with_decoration_test(text: str) -> Files:
    """Return the round with a decoration test in one line, at line 18."""
    test = f"decorated:\n  - {{piece: M-black-1, method: cut_film, {text}}}\n"
    return {ROUND: f"{SMALL_LEDGER[ROUND]}{WASHED}{test}"}


GRADES: list[BadInput] = [
    *(
        BadInput(
            f"grade {text}", with_washed_stage(f"colour: {text}"), "not-a-grade", f"{ROUND}:12:34"
        )
        for text in ("4.2", "4.5", "0", "6", "5-4", "4-6", "1-5", "five", "4+", "4/5", "-4", "1e3")
    ),
    BadInput("grade empty", with_washed_stage("colour: "), "not-a-grade", f"{ROUND}:12:26"),
    BadInput(
        "grades as a list", with_washed_stage("pilling: [4, 5]"), "not-a-grade", f"{ROUND}:12:35"
    ),
    BadInput(
        "unknown part", with_piece_line("workmanship: {seam: 5}"), "unknown-key", f"{ROUND}:12:19"
    ),
    BadInput("nothing graded", with_piece_line("workmanship: {}"), "wrong-count", f"{ROUND}:12:18"),
    BadInput(
        "worn, no days", with_piece_line("worn: [{shape: 4}]"), "missing-key", f"{ROUND}:12:12"
    ),
    BadInput(
        "days backwards",
        with_piece_line("worn: [{days: 10, shape: 4}, {days: 5, shape: 3}]"),
        "days-backwards",
        f"{ROUND}:12:41",
    ),
    *(
        BadInput(
            f"shift {text}",
            with_washed_stage(f"seam_shift: {text}"),
            "not-a-length",
            f"{ROUND}:12:38",
        )
        for text in ("-3/4", "3/4 forward", "left", "3/7", "3/4 left right")
    ),
    BadInput("no shift", with_washed_stage("seam_shift: 0"), ""),
    BadInput("a shift to the left", with_washed_stage("seam_shift: 3/4 left, seam_length: 18"), ""),
    BadInput(
        "twisted round",
        with_washed_stage("seam_shift: 9, seam_length: 18"),
        "twisted-far",
        f"{ROUND}:12:38",
        "warning",
    ),
    BadInput(
        "side of nothing", with_washed_stage("seam_length: 0"), "not-a-length", f"{ROUND}:12:39"
    ),
    BadInput("a whole test", with_decoration_test("press: {temperature: 160 C, seconds: 15}"), ""),
    BadInput(
        "a test in Fahrenheit",
        with_decoration_test("dryer: {temperature: 320 °F, seconds: 90}"),
        "",
    ),
    *(
        BadInput(
            f"temperature {text}",
            with_decoration_test(f"press: {{temperature: {text}}}"),
            "not-an-amount",
            f"{ROUND}:18:63",
        )
        for text in ("160", "hot", "160 K", "160C160", "1e3 C", "C")
    ),
    *(
        BadInput(
            f"temperature {text}",
            with_decoration_test(f"press: {{temperature: {text}}}"),
            "out-of-range",
            f"{ROUND}:18:63",
        )
        for text in ("320 C", "160 F", "20 C", "9999 F", "-10 C")
    ),
    BadInput("no settings", with_decoration_test("press: {}"), "wrong-count", f"{ROUND}:18:49"),
    BadInput(
        "long press",
        with_decoration_test("press: {seconds: 900}"),
        "out-of-range",
        f"{ROUND}:18:59",
    ),
    BadInput(
        "unknown pressure",
        with_decoration_test("press: {pressure: mediun}"),
        "unknown-word",
        f"{ROUND}:18:60",
    ),
    BadInput(
        "print washed backwards",
        with_decoration_test("washed: [{cycles: 5, cracking: 4}, {cycles: 5, cracking: 4}]"),
        "cycles-backwards",
        f"{ROUND}:18:86",
    ),
    BadInput(
        "print washed, not how",
        {
            ROUND: str(with_decoration_test("washed: [{cycles: 5, cracking: 4}]")[ROUND]).replace(
                WASHED, ""
            )
        },
        "no-laundering",
        f"{ROUND}:16:1",
    ),
    BadInput(
        "unknown method",
        appended_to(ROUND, "decorated: [{piece: M-black-1, method: embroidry}]\n"),
        "unknown-word",
        f"{ROUND}:16:40",
    ),
    BadInput(
        "unknown piece",
        appended_to(ROUND, "decorated: [{piece: M-black-l, method: embroidery}]\n"),
        "unknown-piece",
        f"{ROUND}:16:21",
    ),
    BadInput(
        "other, not which",
        appended_to(ROUND, "decorated: [{piece: M-black-1, method: other}]\n"),
        "no-material",
        f"{ROUND}:16:40",
    ),
    BadInput(
        "least grade",
        appended_to(SHOP, "least_grade: {colour: 3.8}\n"),
        "not-a-grade",
        f"{SHOP}:7:23",
    ),
    BadInput(
        "least grade of nothing",
        appended_to(SHOP, "least_grade: {color: 4}\n"),
        "unknown-key",
        f"{SHOP}:7:15",
    ),
    BadInput("twist limit", appended_to(SHOP, "skew_limit: 0\n"), "out-of-range", f"{SHOP}:7:13"),
]
