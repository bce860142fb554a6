"""The next thing to do, by what failed or is open, and by its likely cause."""

from collections.abc import Sequence

from blankbook.results.advice.next_look import (
    side_seam_step,
    step_after_graded_fail,
    step_while_untested,
    step_with_more_pieces,
)
from blankbook.results.checks.washing import reason_to_wait
from blankbook.results.comparable_lines import line_mismatches, step_for_mismatch
from blankbook.results.evidence import measured_sizes
from blankbook.results.number_words import say_chance, say_counted, say_list, say_sentences
from blankbook.results.planning.sample_cost import sample_cost, say_cost
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Explanation, Purchase, Result
from blankbook.words.answers import Answer

ANOTHER_BLANK = "look for another blank: more than one lot shows it"
DECIDING_ODDS = 0.5
"""From these odds on, an explanation decides the next step."""


def step_after_fail(
    case: Case,
    results: Sequence[Result],
    fails: Sequence[Result],
    explanations: Sequence[Explanation],
    purchase: Purchase | None,
) -> str:
    """Return what to do after a required check failed in one lot only."""
    if all(r.check == "delivery" for r in fails):
        return "send it back or have it sorted, and inspect it again when it returns"
    if step := step_after_graded_fail(fails) or step_for_cause(explanations):
        return step
    wait = reason_to_wait(list(results))
    after = " Washing can wait until then." if wait else ""
    if purchase:
        return f"{say_purchase(purchase, case)}.{after}"
    what = f"{_pieces_of(case, fails)} from another lot{_cost_of(case, fails)}"
    return f"buy {what}: one lot cannot tell a bad lot from the way it is cut.{after}"


def say_purchase(purchase: Purchase, case: Case | None = None) -> str:
    """Return what to buy and what it would tell; with a case, also what that costs."""
    pieces = "one piece" if purchase.each == 1 else f"{_COUNTS[purchase.each]} pieces"
    each = "each of " if len(purchase.sizes) > 1 else "of "
    lot = "another lot" if purchase.another_lot else "the same lot"
    first, second = (_CLAUSES.get(says, says) for says in purchase.between)
    cost = say_cost(case.blank, case.shop, purchase.sizes, purchase.each) if case else ""
    return say_sentences(
        f"buy {pieces} {each}{say_list(purchase.sizes)} from {lot}{cost}",
        f"{say_chance(purchase.chance)} times that tells which of two causes it is",
        f"either {first}, or {second}",
    )


_COUNTS = {2: "two", 3: "three", 4: "four"}
_CLAUSES = {"as charted": "all is as charted", "graded as usual": "all is graded as usual"}


def _pieces_of(case: Case, fails: Sequence[Result]) -> str:
    named = _sizes_of(case, fails)
    each = "each of " if len(named) > 1 else "of "
    return f"two pieces {each}{say_list(named)}" if named else "four pieces"


def _sizes_of(case: Case, results: Sequence[Result]) -> list[str]:
    """Return the sizes that results are about, smallest first."""
    sizes = {size for result in results for size in (result.size, result.next_size)}
    return [size for size in case.blank.style.sizes if size in sizes]


def _cost_of(case: Case, fails: Sequence[Result]) -> str:
    return say_cost(case.blank, case.shop, _sizes_of(case, fails), 2)


def step_for_cause(explanations: Sequence[Explanation]) -> str:
    """Return the step that the likeliest cause asks for, or ""."""
    first = explanations[0] if explanations else None
    if first is None or first.odds < DECIDING_ODDS:
        return ""
    subject = first.says.split(" ", maxsplit=1)[0]
    steps = {
        "mislabelled": f"set {subject} aside, and compare the tags of the carton with the tape",
        "exchanged": "compare the tags of both sizes with the tape, in the whole carton",
        "odd_piece": f"measure {subject} again; if it stays odd, buy another piece in its place",
    }
    return steps.get(first.key, "")


def step_while_open(
    case: Case,
    open_: Sequence[Result],
    explanations: Sequence[Explanation],
    purchase: Purchase | None = None,
) -> str:
    """Return what would settle the answers that are open.

    Where two causes compete, that is the purchase that tells them apart.
    """
    unseen = [r for r in open_ if r.answer == Answer.NOT_TESTED]
    unsettled = [r for r in open_ if r.answer == Answer.NOT_SHOWN]
    if case.round is None:
        return _first_samples(case)
    if open_ and all(r.check == "delivery" for r in open_):
        return _rest_of_delivery(open_[0])
    if step := step_for_cause(explanations):
        return step
    if purchase and unsettled:
        return f"{say_purchase(purchase, case)}{_also(purchase, unsettled)}"
    return _for_sizes(case, unseen) or _more(case, unseen, unsettled)


def _first_samples(case: Case) -> str:
    cost = sample_cost(case.blank, case.shop, ())
    at = f" at {cost.each:.2f} {cost.currency} each" if cost else ""
    return f"buy samples{at}: your size, one down and one up, in the colours you sell, and measure"


def _rest_of_delivery(result: Result) -> str:
    more = result.number(Quantity.STILL_TO_LOOK_AT)
    count = f"{more.value:.0f}" if more else "the"
    pieces = "piece" if count == "1" else "pieces"
    return f"look at {count} more {pieces} of the delivery before any of it is printed"


def _also(purchase: Purchase, unsettled: Sequence[Result]) -> str:
    """Return how many pieces would settle the checks as well, where that is more."""
    more = max((r.more_pieces or 0 for r in unsettled), default=0)
    return f"; {more} of each would settle the checks as well" if more > purchase.each else ""


def _for_sizes(case: Case, unseen: Sequence[Result]) -> str:
    """Return what an untested size needs: pieces, or a chart to compare them with."""
    sizes = [r for r in unseen if r.check in {"size_against_chart", "grade_steps"}]
    if any(not r.numbers for r in sizes) or any(r.check == "mix_up" for r in unseen):
        return "measure your size with its neighbours below and above, two pieces each"
    if other := line_mismatches(case, sizes):
        return step_for_mismatch(other[0])
    if sizes or any(r.check == "piece_against_chart" for r in unseen):
        return "ask the supplier for a size chart in writing, and copy it into the style's file"
    return ""


def _more(case: Case, unseen: Sequence[Result], unsettled: Sequence[Result]) -> str:
    if settled := [r for r in unsettled if r.more_pieces]:
        return _more_pieces(case, settled)
    if any(r.check in {"washing", "washed_size"} for r in unseen):
        return "wash and dry at least four pieces by their label, and measure them again"
    if any(r.check == "lots" for r in unseen):
        sizes = list(measured_sizes(case))
        cost = say_cost(case.blank, case.shop, sizes, 2)
        return f"buy two pieces of each measured size from another lot{cost}, and measure them"
    if any(r.check == "fabric" for r in unseen):
        claimed = case.blank.style.mass
        return "cut and weigh two swatches" if claimed else "ask the supplier what the cloth weighs"
    if step := side_seam_step(unsettled) or step_while_untested(unseen):
        return step
    return "decide by hand: more pieces would not settle what is left"


def _more_pieces(case: Case, settled: Sequence[Result]) -> str:
    """Return which further pieces would settle it: sizes, number and lot.

    A check judges the pieces of one round, so they come from its lot and join that round.
    """
    named = say_list(_sizes_of(case, settled))
    most = max(settled, key=lambda r: r.more_pieces or 0)
    more = most.more_pieces or 0
    pieces = say_counted(more, "more piece")
    lots = sorted({r.lot for r in settled if r.lot})
    lot = f"the same lot, {lots[0]}," if len(lots) == 1 else "the same lots"
    what = (
        f"measure {pieces} of {'each of ' * (' and ' in named)}{named}"
        if named
        else step_with_more_pieces(most.check, pieces)
    )
    return f"{what} from {lot} and add them to its round"
