"""One blank, judged: every check, what explains it, and the verdict."""

from dataclasses import replace

from blankbook.records.model import Blank, Shop
from blankbook.results.advice.verdict import decide
from blankbook.results.causes.explanations import likely_causes
from blankbook.results.causes.purchase import cheapest_purchase
from blankbook.results.checks.all_checks import CHECKS
from blankbook.results.checks.washing import reason_to_wait
from blankbook.results.comparable_lines import on_newest_lines
from blankbook.results.evidence import chart_for, newest_first
from blankbook.results.over_lots.lot_history import deciding_lots
from blankbook.results.piece_spread import moderated_repeatability, point_spread
from blankbook.results.result_types import NOTHING_LEARNED, Case, Judged, Learned, Result
from blankbook.results.standing.make_standing import make_standing
from blankbook.results.uncertainty_budget import uncertainty_budgets
from blankbook.words.answers import Answer
from blankbook.words.points import POINTS

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


def make_case(blank: Blank, shop: Shop, learned: Learned = NOTHING_LEARNED) -> Case:
    """Return what the checks may look at."""
    hand = moderated_repeatability(blank.rounds, shop, learned.hand)
    known = replace(learned, hand=hand)  # the same at every point, so it is worked out once
    spreads = {point: point_spread(blank, shop, point, known) for point in POINTS}
    alike = on_newest_lines(blank)
    case = Case(shop, alike, None, None, spreads, learned, None if alike is blank else blank)
    newest = next(newest_first(case), None)
    return replace(case, round=newest, chart=chart_for(case, newest) if newest else None)


def _needs_causes(results: tuple[Result, ...]) -> bool:
    asks = {Answer.FAILS, Answer.NOT_SHOWN}
    return any(r.check in _EXPLAINED and r.deciding and r.answer in asks for r in results)


def _with_washing_on_hold(results: tuple[Result, ...]) -> tuple[Result, ...]:
    """Return the results; an untested washing says so where it is not worth testing yet."""
    wait = reason_to_wait(list(results))
    if not wait:
        return results
    return tuple(
        replace(r, reason=f"{r.reason}; {wait}", word="not worth testing yet")
        if r.check == "washing" and r.answer == Answer.NOT_TESTED
        else r
        for r in results
    )
