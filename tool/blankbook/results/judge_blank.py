"""One blank, judged: every check, what explains it, and the verdict."""

from dataclasses import replace

from blankbook.records.model import Blank, Shop
from blankbook.results.advice.verdict import decide
from blankbook.results.causes.explanations import likely_causes
from blankbook.results.causes.purchase import cheapest_purchase
from blankbook.results.checks.all_checks import CHECKS
from blankbook.results.checks.washing import reason_to_wait
from blankbook.results.make_case import make_case
from blankbook.results.number_words import say_sentences
from blankbook.results.over_lots.lot_history import deciding_lots
from blankbook.results.result_types import NOTHING_LEARNED, Judged, Learned, Result
from blankbook.results.standing.make_standing import make_standing
from blankbook.results.uncertainty_budget import uncertainty_budgets
from blankbook.words.answers import Answer

_EXPLAINED = {"size_against_chart", "grade_steps", "label"}


def judge(blank: Blank, shop: Shop, learned: Learned = NOTHING_LEARNED) -> Judged:
    """Return everything that follows for one blank. Pure: same records, same results.

    *learned* is what the whole ledger teaches about it.
    """
    case = make_case(blank, shop, learned)
    results = tuple(result for check in CHECKS for result in check.judge(case))
    results = _with_washing_on_hold(results)
    asks = _needs_causes(results)
    explanations = likely_causes(case) if asks else ()
    purchase = cheapest_purchase(case) if asks else None
    verdict = decide(case, results, explanations, purchase)
    budgets, lots = uncertainty_budgets(case), deciding_lots(case)
    standing = make_standing(case, results, verdict, explanations)
    return Judged(blank, case, results, explanations, verdict, standing, purchase, budgets, lots)


def _needs_causes(results: tuple[Result, ...]) -> bool:
    asks = {Answer.FAILS, Answer.NOT_SHOWN}
    return any(r.check in _EXPLAINED and r.deciding and r.answer in asks for r in results)


def _with_washing_on_hold(results: tuple[Result, ...]) -> tuple[Result, ...]:
    """Return the results; an untested washing says so where it is not worth testing yet."""
    wait = reason_to_wait(list(results))
    if not wait:
        return results
    return tuple(
        replace(r, reason=say_sentences(r.reason, wait), word="not worth testing yet")
        if r.check == "washing" and r.answer == Answer.NOT_TESTED
        else r
        for r in results
    )
