"""The method page: every number on it is computed, and comes to what it says."""

import re
from collections.abc import Iterator, Sequence
from statistics import fmean

import pytest
from scipy import stats

from blankbook.pages.render import render_body
from blankbook.pages.shop.method_page import method_page
from blankbook.pages.shop.method_types import WorkedStep
from blankbook.records.model import Shop
from blankbook.results.checks.all_checks import CHECKS
from blankbook.results.judge_blank import judge
from blankbook.results.make_case import make_case
from blankbook.results.result_types import Case, Check
from blankbook.results.worked import example_blank, rules_worked
from blankbook.results.worked.all_worked import WORKED
from blankbook.results.worked.working_lines import WorkedLine
from blankbook.words.causes import CAUSES
from made_blanks import shop
from markup import Markup
from pages.sums import half_digit, leading, slack, worth

RULES = example_blank.example_rules(shop())
SOUND = make_case(example_blank.sound_blank(), RULES)
SMALL = make_case(example_blank.small_lot_blank(), RULES)
EXACT = frozenset({"0.95", "0.05", "0.998650", "0.01"})
"""What is stated and not rounded: the risk, a swatch's area; and three deviations to six digits."""


def work(check: Check, case: Case = SOUND) -> Sequence[WorkedLine]:
    """Return a check, worked out."""
    return WORKED[check.key](case)


def examples() -> Iterator[tuple[str, WorkedLine]]:
    """Yield every line of every worked example, with where it stands."""
    for check in CHECKS:
        yield from ((check.key, line) for line in work(check))
    wrong = make_case(example_blank.wrong_tag_blank(), RULES)
    nothing = make_case(example_blank.unmeasured_blank(), RULES)
    groups = {
        "label, wrong": WORKED["label"](wrong),
        "reading": rules_worked.reading_lines(SOUND),
        "causes": rules_worked.cause_lines(SMALL),
        "purchase": rules_worked.purchase_lines(SMALL),
        "tags": rules_worked.label_lines(SOUND),
        "planning": rules_worked.planning_lines(nothing, 2),
        "zero": rules_worked.zero_failure_lines(RULES.risk, (3, 8, 20)),
    }
    for name, lines in groups.items():
        yield from ((name, line) for line in lines)


LINES = list(examples())
SUMS = [(where, line) for where, line in LINES if line.put_in]
NAMED = [f"{at} {where} {line.what}" for at, (where, line) in enumerate(SUMS)]


@pytest.mark.parametrize(("where", "line"), SUMS, ids=NAMED)
def test_every_sum_comes_to_what_is_printed(where: str, line: WorkedLine) -> None:
    """Put into Python and scipy.stats, each sum gives the printed number.

    It may be off by half the last digit of the outcome, and by what the rounding of the numbers
    that were put in can move it: no more.
    """
    said = leading(line.comes)
    allowed = half_digit(said) + slack(line.put_in, EXACT) + 1e-9
    assert worth(line.put_in) == pytest.approx(float(said), abs=allowed), (where, line)


def test_there_are_sums_for_every_rule() -> None:
    assert len(SUMS) > 80
    assert {where for where, _ in SUMS} >= {"reading", "causes", "tags", "planning"}


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.key)
def test_every_check_has_a_formula_and_is_worked_out(check: Check) -> None:
    """Nobody adds a check without saying how it reckons."""
    assert check.formula
    lines = work(check)
    assert [line.answer for line in lines if line.answer], "no line gives the answer"


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.key)
def test_the_answer_is_the_checks_own(check: Check) -> None:
    """The sentence under the sums is one that the blank's page would print."""
    reasons = {(str(r.answer), r.reason) for r in check.judge(SOUND)}
    for line in work(check):
        if line.answer:
            assert (line.answer, line.comes) in reasons


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.key)
def test_nothing_to_work_on_is_no_fault(check: Check) -> None:
    assert not any(
        line.put_in for line in work(check, make_case(example_blank.unmeasured_blank(), RULES))
    )


def by_what(lines: Sequence[WorkedLine]) -> dict[str, str]:
    """Return what comes out, by what it is."""
    return {line.what: line.comes for line in lines}


def test_size_against_chart_by_hand() -> None:
    """The sample's mean and its limits, from the readings and the spread of all of them."""
    values = [fmean([20.125, 20.25]), 20.0]
    spread = SOUND.spreads["half_chest"]
    error = spread.deviation / 25.4 / 2**0.5
    low, high = stats.t.interval(0.9, spread.freedom, fmean(values) - 20, error)
    found = by_what(work(CHECKS[0]))
    assert found["mean"] == f"{fmean(values):.3f} in"
    assert found["lower limit"] == f"−{-low:.3f} in"
    assert found["upper limit"] == f"{high:.3f} in"


def test_causes_add_up_to_the_stated_chances() -> None:
    """Belief times likelihood of all ways, over their sum, are the odds that a page shows."""
    judged = judge(example_blank.small_lot_blank(), RULES)
    found = by_what(rules_worked.cause_lines(SMALL))
    for explanation in judged.explanations[:3]:
        (said,) = [
            v for k, v in found.items() if k.startswith("chance of") and _titled(k, explanation.key)
        ]
        assert float(said) == pytest.approx(explanation.odds, abs=0.00005)


def _titled(what: str, key: str) -> bool:
    return CAUSES[key].title in what


def text_of(rules: Shop) -> str:
    """Return the method page's text."""
    return " ".join(Markup(render_body(method_page(rules))).text.split())


def worked_by_check() -> dict[str, tuple[WorkedStep, ...]]:
    """Return the worked example of every check, as the page has it."""
    return {check.key: check.worked for check in method_page(shop()).context.checks}


def test_another_reading_makes_another_page(monkeypatch: pytest.MonkeyPatch) -> None:
    """No number of the example is typed into the page: one reading changes what rests on it."""
    before = worked_by_check()
    changed = {**example_blank.SECOND_LOT, "M-2": ("20 1/2", "29 1/4")}
    monkeypatch.setattr(example_blank.sound_blank, "__defaults__", (changed,))
    after = worked_by_check()
    moved = {key for key in before if before[key] != after[key]}
    assert moved >= {"size_against_chart", "grade_steps", "spread", "washed_size", "lots"}
    assert "fabric" not in moved


def test_the_shops_own_rules_are_worked_with() -> None:
    usual, strict = text_of(shop()), text_of(shop(risk=0.01))
    freedom = f"{SOUND.spreads['half_chest'].freedom:.4g}"
    assert f"t(0.95; {freedom})" in usual
    assert f"t(0.99; {freedom})" in strict
    assert f"t(0.95; {freedom})" not in strict


def test_a_shop_in_centimetres_reads_centimetres() -> None:
    text = text_of(shop(unit="cm"))
    assert "Lengths are decimals of centimetres" in text
    assert "51.276, 50.800 cm" in text


def test_contents_lead_to_their_sections() -> None:
    page = Markup(render_body(method_page(shop())))
    ids = {element.get("id") for element in page.elements}
    links = [element.get("href") for element in page.elements if element.tag == "a"]
    assert {link[1:] for link in links if link.startswith("#")} <= ids
    assert len([link for link in links if re.match(r"#check-", link)]) == len(CHECKS)
