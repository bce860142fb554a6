"""The one thing to do next, never one that was done."""

from blankbook.results.planning.planned_rounds import say_planned
from blankbook.results.planning.sample_cost import say_cost
from blankbook.results.standing.fail_clauses import telling_cause
from blankbook.results.standing.rule_types import RuleFinding
from blankbook.results.standing.size_words import say_day, say_sizes
from blankbook.results.standing.sound_sizes import is_about_sizes
from blankbook.results.standing.standing_facts import StandingFacts
from blankbook.words.answers import MayOrder


def next_action(
    facts: StandingFacts, kind: MayOrder, sizes: tuple[str, ...], rule: str, told: RuleFinding
) -> str:
    """Return one action, as a sentence without its full stop; *told* is what the headline says."""
    if kind == MayOrder.NO:
        return "look for another blank"
    if sizes:
        return _with_sizes(facts, sizes, told)
    if rule in _SETTLED_BY_PEOPLE:
        return _SETTLED_BY_PEOPLE[rule]
    if facts.case.blank.planned:
        planned = facts.case.blank.planned[0]
        return f"measure what was planned on {say_day(planned.planned)}: {say_planned(planned)}"
    unmet = (*facts.fails, *facts.open)
    about_sizes = bool(unmet) and all(is_about_sizes(result) for result in unmet)
    if (
        rule == "evidence holds"
        and about_sizes
        and facts.sound
        and not telling_cause(facts.explanations)
    ):
        named = say_sizes(facts.case.blank.style.sizes, facts.sound)
        return f"write down what you decide on {named}: nothing speaks against that"
    return _by_pieces(facts, rule, told) or facts.verdict.next_step


def _by_pieces(facts: StandingFacts, rule: str, told: RuleFinding) -> str:
    """Return the purchase that a rule asks for, with its cost; "" for none."""
    pieces, then = _SETTLED_BY_PIECES.get(rule, ("", ""))
    blank = facts.case.blank
    sizes = [size for size in blank.style.sizes if size in (told.opens or blank.style.sizes)]
    return f"{pieces}{say_cost(blank, facts.case.shop, sizes, 2)}, {then}" if pieces else ""


def _with_sizes(facts: StandingFacts, sizes: tuple[str, ...], told: RuleFinding) -> str:
    """Return what to do where some sizes may be ordered."""
    if facts.decided is None:
        return "write down what you decide"
    if told.opens:
        named = say_sizes(facts.case.blank.style.sizes, sizes)
        return f"order in {named} alone, or decide again"
    return "order, and check what comes against this round"


_SETTLED_BY_PEOPLE = {
    "approved without a size": "name the sizes in the decision",
    "moved lot": "ask the supplier which of the lots to expect, and decide again",
    "refused delivery": "have it replaced or sorted, and inspect it when it comes back",
    "good since it was held": "decide again",
    "supplier stopped": "ask the supplier what has been put right",
    "held back": "decide again when its reason is gone",
}
"""By rule: what no further pieces would settle."""
_SETTLED_BY_PIECES = {
    "newer chart": ("buy two pieces each of the sizes that moved", "and measure them"),
    "claim changed": ("buy two pieces of each size", "measure and wash them"),
    "evidence too old": ("buy two pieces of each size", "and measure them"),
}
"""By rule: the purchase, where none is planned yet, and what to do with it."""
