"""What is graded, written as it cannot be."""

from battery.rows import ROUND, SHOP, Files, Row, added, changed
from support import SMALL_LEDGER

FIRST = "body_length: 28 7/8}"
WASHED = "laundering: {wash: home_warm, dry: tumble_low}\n"


def of_piece(text: str) -> Files:
    """Return the round with *text* as a line of its first piece."""
    files = changed(ROUND, FIRST, f"{FIRST}\n    {text}")
    return {ROUND: f"{files[ROUND]!s}{WASHED}"}


def washed(text: str) -> Files:
    """Return the round with *text* in a washed stage of its first piece."""
    return of_piece(f"washed: [{{cycles: 1, {text}}}]")


def decorated(text: str) -> Files:
    """Return the round with a decoration test in one line, at line 18."""
    test = f"decorated:\n  - {{piece: M-black-1, method: cut_film, {text}}}\n"
    return {ROUND: f"{SMALL_LEDGER[ROUND]}{WASHED}{test}"}


GRADED: list[Row] = [
    *(
        Row(f"grade {text}", washed(f"colour: {text}"), "not-a-grade", f"{ROUND}:12:34")
        for text in ("4.2", "4.5", "0", "6", "5-4", "4-6", "1-5", "five", "4+", "4/5", "-4", "1e3")
    ),
    Row("grade empty", washed("colour: "), "not-a-grade", f"{ROUND}:12:26"),
    Row("grades as a list", washed("pilling: [4, 5]"), "not-a-grade", f"{ROUND}:12:35"),
    Row("unknown part", of_piece("workmanship: {seam: 5}"), "unknown-key", f"{ROUND}:12:19"),
    Row("nothing graded", of_piece("workmanship: {}"), "wrong-count", f"{ROUND}:12:18"),
    Row("worn, no days", of_piece("worn: [{shape: 4}]"), "missing-key", f"{ROUND}:12:12"),
    Row(
        "days backwards",
        of_piece("worn: [{days: 10, shape: 4}, {days: 5, shape: 3}]"),
        "days-backwards",
        f"{ROUND}:12:41",
    ),
    *(
        Row(f"shift {text}", washed(f"seam_shift: {text}"), "not-a-length", f"{ROUND}:12:38")
        for text in ("-3/4", "3/4 forward", "left", "3/7", "3/4 left right")
    ),
    Row("no shift", washed("seam_shift: 0"), ""),
    Row("a shift to the left", washed("seam_shift: 3/4 left, seam_length: 18"), ""),
    Row(
        "twisted round",
        washed("seam_shift: 9, seam_length: 18"),
        "twisted-far",
        f"{ROUND}:12:38",
        "warning",
    ),
    Row("side of nothing", washed("seam_length: 0"), "not-a-length", f"{ROUND}:12:39"),
    Row("a whole test", decorated("press: {temperature: 160 C, seconds: 15}"), ""),
    Row("a test in Fahrenheit", decorated("dryer: {temperature: 320 °F, seconds: 90}"), ""),
    *(
        Row(
            f"temperature {text}",
            decorated(f"press: {{temperature: {text}}}"),
            "not-an-amount",
            f"{ROUND}:18:63",
        )
        for text in ("160", "hot", "160 K", "160C160", "1e3 C", "C")
    ),
    *(
        Row(
            f"temperature {text}",
            decorated(f"press: {{temperature: {text}}}"),
            "out-of-range",
            f"{ROUND}:18:63",
        )
        for text in ("320 C", "160 F", "20 C", "9999 F", "-10 C")
    ),
    Row("no settings", decorated("press: {}"), "wrong-count", f"{ROUND}:18:49"),
    Row("long press", decorated("press: {seconds: 900}"), "out-of-range", f"{ROUND}:18:59"),
    Row(
        "unknown pressure",
        decorated("press: {pressure: mediun}"),
        "unknown-word",
        f"{ROUND}:18:60",
    ),
    Row(
        "print washed backwards",
        decorated("washed: [{cycles: 5, cracking: 4}, {cycles: 5, cracking: 4}]"),
        "cycles-backwards",
        f"{ROUND}:18:86",
    ),
    Row(
        "print washed, not how",
        {ROUND: str(decorated("washed: [{cycles: 5, cracking: 4}]")[ROUND]).replace(WASHED, "")},
        "no-laundering",
        f"{ROUND}:16:1",
    ),
    Row(
        "unknown method",
        added(ROUND, "decorated: [{piece: M-black-1, method: embroidry}]\n"),
        "unknown-word",
        f"{ROUND}:16:40",
    ),
    Row(
        "unknown piece",
        added(ROUND, "decorated: [{piece: M-black-l, method: embroidery}]\n"),
        "unknown-piece",
        f"{ROUND}:16:21",
    ),
    Row(
        "other, not which",
        added(ROUND, "decorated: [{piece: M-black-1, method: other}]\n"),
        "no-material",
        f"{ROUND}:16:40",
    ),
    Row("least grade", added(SHOP, "least_grade: {colour: 3.8}\n"), "not-a-grade", f"{SHOP}:7:23"),
    Row(
        "least grade of nothing",
        added(SHOP, "least_grade: {color: 4}\n"),
        "unknown-key",
        f"{SHOP}:7:15",
    ),
    Row("twist limit", added(SHOP, "skew_limit: 0\n"), "out-of-range", f"{SHOP}:7:13"),
]
