"""Every row of bad input: one finding, in its place, with the right exit code, quickly."""

import json
import re
from pathlib import Path

import pytest

from battery import test_doors
from battery.bad_deliveries import DELIVERIES
from battery.bad_forms import FORMS
from battery.bad_grades import GRADES
from battery.bad_input import ROUND, BadInput
from battery.bad_links import LINKS
from battery.bad_orders import ORDERS
from battery.bad_studies import STUDIES
from battery.bad_texts import TEXTS
from battery.bad_values import VALUES
from support import SMALL_LEDGER, LedgerMaker, Program

ROWS = [*TEXTS, *FORMS, *VALUES, *GRADES, *LINKS, *DELIVERIES, *STUDIES, *ORDERS]

NOT_APPLICABLE = {
    "B65": "no key of the ledger holds a yes or a no",
    "B76": "no record names another that replaces it, so there is nothing to run in a circle",
    "B79 gap": "a chart holds until the next one begins: there can be no gap",
    "B83": "history is git's own; check looks at the files as they are",
}
"""Rows of the list that ask for what the ledger has not."""

ROUND_TEXT = SMALL_LEDGER[ROUND]
MOST_CHARACTERS = 300


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.key[:60])
def test_one_mistake_is_one_finding(
    row: BadInput, ledger_factory: LedgerMaker, command: Program
) -> None:
    """The finding names the file, the line and the column; the exit code follows from its level.

    It reads like a sentence of the house: it is lower case, says what to write, and nothing in it
    can play tricks on a terminal.
    """
    root = ledger_factory(row.files)
    row.prepare(root)
    ended = command("check", "--ledger", root, "--json")
    findings = json.loads(ended.out)["findings"]
    found = [
        (
            finding["rule"],
            f"{finding['path']}:{finding['line']}:{finding['column']}",
            finding["level"],
        )
        for finding in findings
    ]
    expected = [(row.rule, row.place, row.level)] if row.rule else []
    assert (found[:1], len(found)) == (expected, len(expected) + row.others)
    assert ended.code == (1 if row.rule and row.level != "note" else 0)
    assert "Traceback" not in ended.out + ended.err
    told = command("check", "--ledger", root).out
    assert all(c.isprintable() or c == "\n" for c in told)
    for finding in findings:
        assert len(finding["message"]) <= MOST_CHARACTERS
        assert finding["help"]
        assert not finding["message"].endswith(".")
        assert not finding["message"][0].isupper()
        assert not any(
            word in finding["message"] for word in ("NoneType", "dict", "str'", "scalar")
        )


def test_every_row_of_the_list_is_there_or_has_a_reason() -> None:
    """B01 to B124 are all covered, each once at the least."""
    covered = {17, 18}  # the two below
    for name in vars(test_doors):
        numbers = [int(number) for number in re.findall(r"_b([0-9]+)", name)]
        covered |= set(numbers)
        if "_to_" in name:  # the first two are the ends of a range
            covered |= set(range(numbers[0], numbers[1] + 1))
    for row in [row for row in ROWS if row.key.startswith("B")]:
        first, *last = re.findall(r"(?<=B)\d\d", row.key.split(" ")[0])
        covered |= set(range(int(first), int(last[0] if last else first) + 1))
    reasons = {int(number[1:3]) for number in NOT_APPLICABLE}
    assert set(range(1, 125)) - covered - reasons == set()


def test_a_file_that_may_not_be_read_is_the_machines_fault(
    ledger_factory: LedgerMaker, command: Program, monkeypatch: pytest.MonkeyPatch
) -> None:
    """B17: exit 3, with the path; rights are simulated, since root may read everything."""
    root = ledger_factory()

    def refuse(place: Path) -> bytes:
        raise PermissionError(13, "Permission denied", str(place))

    monkeypatch.setattr(Path, "read_bytes", refuse)
    ended = command("check", "--ledger", root, "--json")
    assert (ended.code, ended.out) == (3, "")
    assert "shop.yaml" in ended.err


@pytest.mark.parametrize("files", [1, 100], ids=["one process", "two processes"])
def test_a_file_that_vanishes_is_the_machines_fault(
    files: int, ledger_factory: LedgerMaker, command: Program, monkeypatch: pytest.MonkeyPatch
) -> None:
    """B18: a file that was listed and is gone when it is opened ends in exit 3."""
    more = {ROUND.replace("02-12", f"03-{n:02}"): ROUND_TEXT for n in range(1, files)}
    root = ledger_factory(more)
    from blankbook.text import ledger_files as place

    listed = place.scan_ledger(root)
    monkeypatch.setattr("blankbook.records.load_ledger.scan_ledger", lambda _root: listed)
    (root / ROUND).unlink()
    ended = command("check", "--ledger", root, "--json")
    assert (ended.code, ended.out) == (3, "")
    assert Path(ROUND).name in ended.err
