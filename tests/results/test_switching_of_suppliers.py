"""How strictly a supplier is inspected, from its files (MIL-STD-105E, 4.7 and 4.8)."""

import json
import random

import pytest

from blankbook.results.checks.delivery import series_for
from blankbook.results.deliveries.severities import (
    delivery_facts,
    inspection_series,
    series_from_data,
)
from blankbook.results.methods.sampling_tables import Severity
from made_deliveries import (
    FOLDER,
    delivery_file,
    judge_all,
    load_faultless,
    series_files,
    shop_with,
)
from support import LedgerMaker

WORDS = {"N": "normal", "T": "tightened", "R": "reduced", "S": "stopped"}
EARNED = shop_with("level: II, aql: 2.5, reduced: when_earned")


def severities(factory: LedgerMaker, letters: str, *, earned: bool = False) -> tuple[str, str]:
    """Return the severity of each delivery as letters, and the one that holds for the next."""
    rules = EARNED if earned else {}
    found = judge_all(factory({**series_files(letters), **rules}, name=f"of-{letters or 'none'}"))
    steps: dict[str, Severity] = {}
    for vetted in found.values():
        steps |= series_for(vetted.case).steps
    days = sorted(steps, key=lambda key: key.rpartition("/")[2])
    short = {word: letter for letter, word in WORDS.items()}
    then = {series_for(vetted.case).then for vetted in found.values()}
    assert len(then) == 1, "both styles must know the same of their supplier"
    return "".join(short[steps[key]] for key in days), short[then.pop()]


@pytest.mark.parametrize(
    ("letters", "inspected", "then"),
    [
        ("", "", "N"),
        ("raar", "NNNN", "T"),
        ("raaaar", "NNNNNN", "N"),
        ("rffffr", "NNNNNN", "T"),  # what was not inspected enough is no lot of the five
        ("rhr", "NNN", "T"),
        ("rha", "NNN", "N"),
        ("rraaaaa", "NNTTTTT", "N"),
        ("rrfffffaaaaa", "NNTTTTTTTTTT", "N"),
        ("rrrrrrr", "NNTTTTT", "S"),
        ("rrrrrrraf", "NNTTTTTSS", "S"),
        ("rrrrrrrac", "NNTTTTTST", "T"),
        ("a" * 12, "N" * 12, "N"),
    ],
)
def test_series_over_two_styles(
    letters: str, inspected: str, then: str, ledger_factory: LedgerMaker
) -> None:
    """The deliveries of both styles are one series, in the order of their days."""
    assert severities(ledger_factory, letters) == (inspected, then)


@pytest.mark.parametrize(
    ("letters", "inspected", "then"),
    [
        ("a" * 10, "N" * 10, "R"),
        ("a" * 9 + "u", "N" * 10, "N"),
        ("a" * 10 + "r", "N" * 10 + "R", "N"),
        ("a" * 10 + "u", "N" * 10 + "R", "N"),
    ],
)
def test_reduced_must_be_earned_and_wanted(
    letters: str, inspected: str, then: str, ledger_factory: LedgerMaker
) -> None:
    """Ten accepted in a row from a steady making, where shop.yaml lets it be earned."""
    assert severities(ledger_factory, letters, earned=True) == (inspected, then)


def by_the_clauses(letters: str) -> tuple[str, str]:
    """Return the severities by 4.7 and 4.8 read anew: counts over the lots since the last change.

    Written without the code under test, for series of a (accepted) and r (rejected) alone.
    """
    now, since, found = "N", "", ""
    for letter in letters:
        found += now
        if now == "S":
            continue
        since += letter
        if now == "N" and since[-5:].count("r") == 2:
            now, since = "T", ""
        elif now == "T" and since.count("r") == 5:
            now, since = "S", ""
        elif now == "T" and since.endswith("aaaaa"):
            now, since = "N", ""
    return found, now


@pytest.mark.parametrize("seed", range(8))
def test_any_series_follows_the_clauses(seed: int, ledger_factory: LedgerMaker) -> None:
    """Tightened exactly when 2 of the last 5 were rejected, normal after five accepted in a row."""
    rng = random.Random(seed)
    letters = "".join(rng.choices("ar", weights=(3, 1 + seed % 3), k=26))
    assert severities(ledger_factory, letters) == by_the_clauses(letters)


def test_another_supplier_is_another_series(ledger_factory: LedgerMaker) -> None:
    """Two rejected from one supplier leave the next one's inspection normal."""
    from building import SECOND_SUPPLIER

    second = next(path for path in SECOND_SUPPLIER if path.endswith("style.yaml")).rpartition("/")[
        0
    ]
    root = ledger_factory(
        {**SECOND_SUPPLIER, **series_files("rr"), **delivery_file("2024-06-01", folder=second)}
    )
    found = {key: series_for(vetted.case) for key, vetted in judge_all(root).items()}
    assert found["tarn-thrush/h6"].then == Severity.TIGHTENED
    assert found[second.removeprefix("blanks/")].then == Severity.NORMAL


def test_order_is_that_of_the_days_and_not_of_the_files(ledger_factory: LedgerMaker) -> None:
    """Facts in any order give the same series; the reason names what was counted."""
    ledger = load_faultless(ledger_factory(series_files("raraaa")))
    facts = [f for blank in ledger.blanks.values() for f in delivery_facts(blank, ledger.shop)]
    assert inspection_series(facts, ledger.shop) == inspection_series(facts[::-1], ledger.shop)
    assert (
        "tightened: 2 of the last 3 deliveries were rejected"
        in inspection_series(facts, ledger.shop).whys.values()
    )


def test_facts_and_series_are_plain_data(ledger_factory: LedgerMaker) -> None:
    """What a build keeps of them survives being written down."""
    ledger = load_faultless(ledger_factory(series_files("rrfa")))
    facts = [f for blank in ledger.blanks.values() for f in delivery_facts(blank, ledger.shop)]
    follows = inspection_series(json.loads(json.dumps(facts)), ledger.shop)
    assert series_from_data(json.loads(json.dumps(follows.as_data()))) == follows


def test_only_what_was_rejected_can_come_back(ledger_factory: LedgerMaker) -> None:
    """A delivery that names one that was accepted counts like any other, so none can be hidden."""
    names = "again: 2024-03-01-a-delivery"
    hidden = {
        **delivery_file("2024-03-01"),
        **delivery_file("2024-03-02", bad=3, more=names),
        **delivery_file("2024-03-03", bad=3, more=names),
    }
    found = judge_all(ledger_factory(hidden, name="hidden"))["tarn-thrush/h6"]
    assert series_for(found.case).then == Severity.TIGHTENED


def test_what_a_person_sent_back_can_come_back(ledger_factory: LedgerMaker) -> None:
    """Though the plan had accepted it: the rejection of its return does not count."""
    back = "decision: {decision: rejected, date: 2024-03-01, by: rv, reason: the wrong colour}"
    files = {
        **delivery_file("2024-03-01", more=back),
        **delivery_file("2024-03-02", bad=3, more="again: 2024-03-01-a-delivery"),
        **delivery_file("2024-03-03", bad=3),
    }
    found = judge_all(ledger_factory(files))["tarn-thrush/h6"]
    assert series_for(found.case).then == Severity.NORMAL


def test_person_does_not_change_the_series(ledger_factory: LedgerMaker) -> None:
    """A delivery that is kept against the plan was rejected on inspection all the same."""
    kept = "decision: {decision: accepted, date: 2024-03-09, by: rv, reason: no time}"
    files = {
        **delivery_file("2024-03-01", bad=3),
        **delivery_file("2024-03-02", bad=3, more=kept, word="b"),
    }
    vetted = judge_all(ledger_factory(files))["tarn-thrush/h6"]
    assert FOLDER.endswith(vetted.blank.style.key)
    assert series_for(vetted.case).then == Severity.TIGHTENED
