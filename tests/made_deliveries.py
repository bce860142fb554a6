"""Deliveries of the small ledger as files, for tests to import."""

import datetime
from collections.abc import Iterable
from pathlib import Path

from blankbook.records.load_ledger import load_ledger
from blankbook.records.model import Ledger
from blankbook.results.judge_blank import judge
from blankbook.results.learning.ledger_learning import blank_contribution, learn, learned_from_data
from blankbook.results.result_types import Judged
from support import SMALL_LEDGER

FOLDER = "blanks/tarn-thrush/h6"
OTHER = "blanks/tarn-thrush/l4"
FIRST_DAY = datetime.date(2024, 3, 1)
TWO_STYLES = {
    f"{OTHER}/style.yaml": SMALL_LEDGER[f"{FOLDER}/style.yaml"].replace("/h6", "/l4"),
}
"""A second style of the same supplier, so that a series runs over both."""


def shop_with(rules: str, required: str = "size_against_chart, grade_steps") -> dict[str, str]:
    """Return shop.yaml with rules of inspection, such as ``level: II, aql: 2.5``."""
    text = SMALL_LEDGER["shop.yaml"].replace("size_against_chart, grade_steps", required)
    return {"shop.yaml": f"{text}inspection: {{{rules}}}\n"}


def delivery_file(
    day: datetime.date | str,
    delivered: str = "M: 144",
    inspected: int = 20,
    bad: int = 0,
    word: str = "a",
    more: str = "",
    folder: str = FOLDER,
) -> dict[str, str]:
    """Return one delivery as a file; *more* are further lines."""
    lines = [
        f"style: {folder.removeprefix('blanks/')}",
        f"date: {day}",
        "by: rv",
        f"lot: lot of {day}",
        f"delivered: {{{delivered}}}",
        f"inspected: {inspected}",
    ]
    if bad:
        lines.append(f"faults: [{{size: M, fault: hole, count: {bad}}}]")
    return {f"{folder}/{day}-{word}-delivery.yaml": "\n".join([*lines, more]) + "\n"}


def series_files(letters: Iterable[str]) -> dict[str, str]:
    """Return a series of deliveries, a day each, of two styles in turn.

    a accepted, r rejected, f too few looked at, h handed in again and rejected, u accepted after a
    change in the making, c accepted after the cause was put right. All are of 144 pieces with 32
    looked at: none bad is accepted and five bad are rejected on normal, tightened and reduced.
    """
    files = dict(TWO_STYLES)
    rejected = {FOLDER: "", OTHER: ""}
    for number, letter in enumerate(letters):
        day = FIRST_DAY + datetime.timedelta(days=number)
        folder = (FOLDER, OTHER)[number % 2]
        again = rejected[folder] or rejected[FOLDER] or rejected[OTHER]
        more = {"u": "changed: another mill", "c": "corrected: new markers", "h": f"again: {again}"}
        if letter == "h":
            assert again, "nothing was rejected that could come back"
            folder = FOLDER if again == rejected[FOLDER] else OTHER
        delivery = delivery_file(
            day,
            inspected=1 if letter == "f" else 32,
            bad=5 if letter in "rh" else 0,
            more=more.get(letter, ""),
            folder=folder,
        )
        files |= delivery
        if letter == "r":
            rejected[folder] = next(iter(delivery)).rpartition("/")[2].removesuffix(".yaml")
    return files


def load_faultless(root: Path) -> Ledger:
    """Return a ledger that must have no error."""
    found = load_ledger(root)
    assert [finding for finding in found.findings if finding.level == "error"] == []
    assert found.ledger is not None
    return found.ledger


def judge_all(root: Path) -> dict[str, Judged]:
    """Return every blank, judged with what the whole ledger teaches."""
    ledger = load_faultless(root)
    given = {key: blank_contribution(blank, ledger.shop) for key, blank in ledger.blanks.items()}
    taught = learn(given, ledger.shop)
    return {
        key: judge(blank, ledger.shop, learned_from_data(taught[key]))
        for key, blank in ledger.blanks.items()
    }
