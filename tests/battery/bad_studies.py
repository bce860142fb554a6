"""Studies of measuring that cannot be worked out, or cannot be as they are written."""

from battery.bad_input import BadInput, Files

PLACE = "measuring/2024-03-hands.yaml"
STUDY = """\
date: 2024-03-02
by: rv
point: half_chest
tape: {unit: in, reads_to: 1/8}
pieces:
  - {piece: A, read: {rv: [18, 18 1/8], mo: [18 1/8, 18]}}
  - {piece: B, read: {rv: [20, 20 1/8], mo: [20 1/8, 20]}}
  - {piece: C, read: {rv: [22, 22], mo: [22 1/8, 22]}}
"""


def with_study(old: str = "", new: str = "") -> Files:
    """Return a sound study with one text put for another."""
    assert old in STUDY
    return {PLACE: STUDY.replace(old, new, 1)}


def study_row(key: str, old: str, new: str, rule: str, place: str) -> BadInput:
    """Return the row of a study with one mistake."""
    return BadInput(key, with_study(old, new), rule, f"{PLACE}:{place}")


_ALONE = STUDY.replace(", mo: [18 1/8, 18]", "").replace(", mo: [20 1/8, 20]", "")
_ALONE = _ALONE.replace(", mo: [22 1/8, 22]", "")
_ONE_PIECE = STUDY[: STUDY.index("  - {piece: B")]

STUDIES: list[BadInput] = [
    BadInput("study", with_study(), ""),
    study_row("B67 study point", "half_chest", "half_chset", "unknown-word", "3:8"),
    study_row("B60 study without point", "point: half_chest\n", "", "missing-key", "1:1"),
    study_row("B61 study key", "by: rv", "by: rv\npieces_read: 3", "unknown-key", "3:1"),
    study_row("study uneven", "rv: [20, 20 1/8]", "rv: [20]", "uneven-study", "7:27"),
    study_row("study absent", ", mo: [22 1/8, 22]", "", "uneven-study", "8:16"),
    study_row("study piece twice", "piece: C", "piece: a", "piece-twice", "8:13"),
    study_row("B40 study length", "[18, 18 1/8]", "[18, 18 1/3]", "not-a-length", "6:32"),
    study_row("B45 study range", "[18, 18 1/8]", "[18, 180]", "out-of-range", "6:32"),
    study_row("B70 study date", "2024-03-02", "2031-03-02", "date-in-future", "1:7"),
    study_row("study nobody", "rv: [18, 18 1/8]", "' ': [18, 18 1/8]", "unnamed-person", "6:23"),
    BadInput("study alone", {PLACE: _ALONE}, "study-too-small", f"{PLACE}:6:22"),
    BadInput("study of one piece", {PLACE: _ONE_PIECE}, "study-too-small", f"{PLACE}:6:3"),
]
"""A mistake each, in a study beside the small ledger."""
