"""The tables of MIL-STD-105E for single sampling: code letters, sample sizes, acceptance numbers.

Source: MIL-STD-105E (1989), a US government text for unlimited release: table I, and tables II-A
(normal), II-B (tightened) and II-C (reduced). The three master tables are built on one pattern:
letter and AQL each move along one series of preferred numbers, so a cell depends only on the
diagonal that it lies on, the place of its letter plus the place of its AQL. This module keeps the
pattern and the cells that leave it; a test checks every cell against an independent copy. Later
editions of ISO 2859-1 differ in the reduced table.
"""

from enum import StrEnum

from blankbook.words import delivery_terms


class Severity(StrEnum):
    """How strictly a supplier's next delivery is inspected."""

    NORMAL = "normal"
    TIGHTENED = "tightened"
    REDUCED = "reduced"
    STOPPED = "stopped"
    """No delivery is accepted by sampling until the supplier has put the cause right."""


AcceptReject = tuple[int, int]
"""Acceptance number and rejection number."""

TABLE_AQLS = delivery_terms.AQLS
TABLE_LEVELS = tuple(delivery_terms.INSPECTION_LEVELS)

LETTERS = "ABCDEFGHJKLMNPQR"

CODE_LETTERS: tuple[tuple[int | None, str], ...] = (
    (8, "AAAAAAB"),
    (15, "AAAAABC"),
    (25, "AABBBCD"),
    (50, "ABBCCDE"),
    (90, "BBCCCEF"),
    (150, "BBCDDFG"),
    (280, "BCDEEGH"),
    (500, "BCDEFHJ"),
    (1200, "CCEFGJK"),
    (3200, "CDEGHKL"),
    (10_000, "CDFGJLM"),
    (35_000, "CDFHKMN"),
    (150_000, "DEGJLNP"),
    (500_000, "DEGJMPQ"),
    (None, "DEHKNQR"),
)
"""Table I: the largest lot of a row, and its code letter at each of `TABLE_LEVELS`."""

EXTRA_LETTER = "S"
"""Below the last letter, on tightened inspection only."""

_FULL = (2, 3, 5, 8, 13, 20, 32, 50, 80, 125, 200, 315, 500, 800, 1250, 2000)

SAMPLE_SIZES: dict[Severity, dict[str, int]] = {
    Severity.NORMAL: dict(zip(LETTERS, _FULL, strict=True)),
    Severity.TIGHTENED: dict(zip(LETTERS + EXTRA_LETTER, (*_FULL, 3150), strict=True)),
    Severity.REDUCED: dict(zip(LETTERS, (2, 2, *_FULL[:14]), strict=True)),
}

DIAGONALS: dict[Severity, dict[int, AcceptReject]] = {
    Severity.NORMAL: {
        14: (0, 1), 17: (1, 2), 18: (2, 3), 19: (3, 4), 20: (5, 6), 21: (7, 8), 22: (10, 11),
        23: (14, 15), 24: (21, 22), 25: (30, 31), 26: (44, 45),
    },
    Severity.TIGHTENED: {
        15: (0, 1), 18: (1, 2), 19: (2, 3), 20: (3, 4), 21: (5, 6), 22: (8, 9), 23: (12, 13),
        24: (18, 19), 25: (27, 28), 26: (41, 42),
    },
    Severity.REDUCED: {
        14: (0, 1), 17: (0, 2), 18: (1, 3), 19: (1, 4), 20: (2, 5), 21: (3, 6), 22: (5, 8),
        23: (7, 10), 24: (10, 13), 25: (14, 17), 26: (21, 24),
    },
}  # fmt: skip
"""What a diagonal holds; any other diagonal is an arrow."""

LAST_SHORT_DIAGONAL = 24
"""Only the letters A to E go on to diagonals 25 and 26."""

UPWARD_DIAGONAL: dict[Severity, int | None] = {
    Severity.NORMAL: 15,
    Severity.TIGHTENED: None,
    Severity.REDUCED: 15,
}
"""The diagonal whose arrow points up, between arrows that point down."""

_ROW_A = {17 + place: both for place, both in enumerate(
    ((1, 2), (2, 3), (3, 4), (5, 6), (7, 8), (10, 11), (14, 15), (21, 22), (30, 31))
)}  # fmt: skip
_ROW_B = {
    19: (2, 4), 20: (3, 5), 21: (5, 6), 22: (7, 8), 23: (10, 11), 24: (14, 15), 25: (21, 22),
    26: (30, 31),
}  # fmt: skip

EXCEPTIONS: dict[tuple[Severity, str], dict[int, AcceptReject | None]] = {
    (Severity.TIGHTENED, "A"): {15: None},
    (Severity.REDUCED, "A"): {**_ROW_A},
    (Severity.REDUCED, "B"): {**_ROW_B},
}
"""Cells that leave the pattern; None is an arrow where the pattern has numbers."""
