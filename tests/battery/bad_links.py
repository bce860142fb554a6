"""Files that do not fit each other."""

from battery.bad_input import FOLDER, ROUND, STYLE, SUPPLIER, BadInput, appended_to
from support import SMALL_LEDGER

PHOTO = "photos:\n  - {file: collar.png, shows: collar}\n"
LINKS: list[BadInput] = [
    BadInput(
        "B75 supplier",
        {
            "blanks/tarn-thrus/h6/style.yaml": SMALL_LEDGER[STYLE].replace("thrush", "thrus"),
        },
        "unknown-supplier",
        "blanks/tarn-thrus/h6/style.yaml:1:8",
    ),
    BadInput(
        "B77 case",
        {f"{FOLDER}/2024-02-12-First.yaml": SMALL_LEDGER[ROUND]},
        "wrong-name",
        f"{FOLDER}/2024-02-12-First.yaml:1:1",
    ),
    BadInput(
        "B77 composed",
        {f"{FOLDER}/2024-02-12-é.yaml": SMALL_LEDGER[ROUND]},
        "wrong-name",
        f"{FOLDER}/2024-02-12-é.yaml:1:1",
    ),
    BadInput(
        "B78 decision before its evidence",
        appended_to(ROUND, "decision: {decision: hold, date: 2024-02-11, by: rv}\n"),
        "dates-backwards",
        f"{ROUND}:16:34",
    ),
    BadInput(
        "B78 decision without evidence",
        {
            ROUND: SMALL_LEDGER[ROUND].partition("pieces:")[0]
            + "pieces:\n  - {piece: M-1, size: M, colour: black}\n"
            + "decision: {decision: approved, date: 2024-02-12, by: rv}\n"
        },
        "decision-without-evidence",
        f"{ROUND}:9:22",
    ),
    *(
        BadInput(
            f"B78 approved without a piece, {reason}",
            {
                ROUND: SMALL_LEDGER[ROUND].partition("pieces:")[0]
                + "pieces: []\n"
                + f"decision: {{decision: approved, date: 2024-02-12, by: rv{reason}}}\n"
            },
            "decision-without-evidence",
            f"{ROUND}:8:22",
        )
        for reason in ("", ", reason: it looks good")
    ),
    BadInput(
        "B79 chart before chart",
        appended_to(
            STYLE,
            "  - since: 2023-01-08\n    source: sheet\n    unit: in\n"
            "    sizes: {M: {half_chest: 20}}\n",
        ),
        "dates-backwards",
        f"{STYLE}:15:12",
    ),
    BadInput("B80 photo", appended_to(ROUND, PHOTO), "wrong-photo", f"{ROUND}:17:12"),
    BadInput("B81 supplier deleted", {SUPPLIER: None}, "unknown-supplier", f"{STYLE}:1:8"),
    BadInput("B81 style deleted", {STYLE: None}, "no-style", f"{ROUND}:1:1"),
    BadInput("B82 shop alone", {SUPPLIER: None, STYLE: None, ROUND: None}, ""),
    BadInput("B82 one blank", {ROUND: None}, ""),
]
