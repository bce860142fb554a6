"""The base of a standing: what a person decided, or what the evidence says without a decision."""

from collections.abc import Callable, Iterable, Iterator

from blankbook.results.number_words import say_counted
from blankbook.results.result_types import Result
from blankbook.results.standing.fail_clauses import clauses_of_fails, telling_cause
from blankbook.results.standing.rule_types import RuleFinding
from blankbook.results.standing.size_words import say_day, say_sizes
from blankbook.results.standing.sound_sizes import is_about_sizes
from blankbook.results.standing.standing_facts import ACCEPTING, StandingFacts
from blankbook.words.answers import Advice, Answer

Find = Callable[[StandingFacts], Iterable[RuleFinding]]


def find_nothing_measured(facts: StandingFacts) -> Iterator[RuleFinding]:
    """Find a blank of which nothing was measured and on which nothing was decided."""
    blank = facts.case.blank
    if facts.case.round is None and facts.decided is None:
        planned = blank.planned[0] if blank.planned else None
        day = planned.planned if planned else None
        source = planned.source.path if planned else blank.style.source.path
        yield RuleFinding(day, source, "nothing was measured yet", known=True)


def find_decision(word: Advice) -> Find:
    """Return what finds the newest decision, where it is *word*."""

    def find(facts: StandingFacts) -> Iterator[RuleFinding]:
        decided = facts.decided
        if decided is None or decided.made.decision != word:
            return
        made = decided.made
        clause = _condition(made.conditions) if word in ACCEPTING else _why_not(facts, word)
        day, source = made.date, decided.round.source.path
        yield RuleFinding(
            day,
            source,
            clause,
            conditions=made.conditions,
            known=True,
            typed=bool(made.conditions),
        )

    return find


def _condition(conditions: tuple[str, ...]) -> str:
    """Return a person's first condition as a clause; "" where there is none."""
    return conditions[0].strip().rstrip(".") if conditions else ""


def _why_not(facts: StandingFacts, word: Advice) -> str:
    """Return what fails, where anything does; else who decided, and that nothing does."""
    assert facts.decided
    if facts.known_fails:
        return fail_clause(facts, facts.known_fails)
    made = facts.decided.made
    done = "rejected" if word == Advice.REJECTED else "held back"
    says = f"{done} by {made.by} on {say_day(made.date)}"
    return f"{says}, though nothing required fails" if facts.verdict.advice in ACCEPTING else says


def find_no_size_approved(facts: StandingFacts) -> Iterator[RuleFinding]:
    """Find an approval that no measured size bears out and that names none."""
    if facts.accepted and not facts.decided_sizes:
        made, source = facts.accepted.made, facts.accepted.round.source.path
        clause = f"approved by {made.by}, but no size is shown to be right"
        yield RuleFinding(made.date, source, clause)


def find_evidence(word: Advice) -> Find:
    """Return what finds the advice, where it is *word* and nobody has decided.

    A rejection by two lots counts on its own: also where a round since the decision shows it.
    """

    def find(facts: StandingFacts) -> Iterator[RuleFinding]:
        if facts.verdict.advice != word or facts.case.round is None:
            return
        if word == Advice.REJECTED and facts.newer_fails:
            yield _finding(facts, fail_clause(facts, facts.newer_fails))
        elif facts.advice_counts:
            clause = "" if word in ACCEPTING else evidence_clause(facts)
            yield _finding(facts, clause, known=True)

    return find


def find_some_sizes(facts: StandingFacts) -> Iterator[RuleFinding]:
    """Find sizes that meet all, where others are open and nobody has decided.

    Where something speaks against the others, a person decides first: one look cannot tell a bad
    lot from a style that is cut so.
    """
    if _holds_up_others_only(facts):
        yield _finding(facts, evidence_clause(facts), known=True)


def find_all_held(facts: StandingFacts) -> Iterator[RuleFinding]:
    """Find a blank that is on hold in every size, on which nobody has decided."""
    if not _holds_up_others_only(facts):
        yield from find_evidence(Advice.HOLD)(facts)


def _holds_up_others_only(facts: StandingFacts) -> bool:
    if not (facts.advice_counts and facts.verdict.advice == Advice.HOLD and facts.sound):
        return False
    if facts.verdict.against:
        return False
    return bool(facts.open) and all(is_about_sizes(result) for result in facts.open)


def _finding(facts: StandingFacts, clause: str, *, known: bool = False) -> RuleFinding:
    """Return a finding of the judged round."""
    assert facts.case.round
    day, source = facts.case.round.date, facts.case.round.source.path
    return RuleFinding(day, source, clause, known=known, of_results=True)


def evidence_clause(facts: StandingFacts) -> str:
    """Return why the evidence alone lets nothing through, or not all of it."""
    if cause := telling_cause(facts.explanations):
        return cause
    return fail_clause(facts, facts.fails) if facts.fails else open_clause(facts)


def fail_clause(facts: StandingFacts, fails: Iterable[Result]) -> str:
    """Return the most telling of the fails as a clause."""
    return clauses_of_fails(facts.case, list(fails))[0][0]


def open_clause(facts: StandingFacts) -> str:
    """Return what is open, as a clause: nothing speaks against it yet."""
    unsettled = [r for r in facts.open if r.answer == Answer.NOT_SHOWN and r.more_pieces]
    untested = {r.check for r in facts.open if r.answer == Answer.NOT_TESTED}
    untested |= set(facts.case.shop.required) - {r.check for r in facts.results if r.deciding}
    if unsettled:
        most = max(unsettled, key=lambda r: r.more_pieces or 0)
        sizes = {size for size in (most.size, most.next_size) if size}
        pieces = say_counted(most.more_pieces or 0, "more piece")
        of = f" of {say_sizes(facts.case.blank.style.sizes, sizes)}" if sizes else ""
        return f"too few pieces yet: {pieces}{of} would settle it"
    if "size_against_chart" in untested and not facts.case.blank.style.charts:
        return "there is no size chart to compare it with"
    for check, clause in _UNTESTED.items():
        if check in untested:
            return clause
    first = next(iter(facts.open), None)
    return _UNSETTLED.get(first.check if first else "", "what is required is not shown yet")


_UNTESTED = {
    "grade_steps": "only one size was measured",
    "size_against_chart": "the chart does not say how long and wide it should be",
    "washing": "right so far, but nothing was washed yet",
    "washed_size": "right so far, but nothing was washed yet",
    "fabric": "right so far, but no swatch was weighed",
    "lots": "right so far, but only one lot was measured",
    "skew": "right so far, but nobody looked for a twist",
    "colour": "right so far, but nobody graded the colour",
    "pilling": "right so far, but nobody looked for pills",
    "workmanship": "right so far, but nobody looked the pieces over",
    "wear": "right so far, but nobody wore one",
    "decoration": "right so far, but no test print was washed",
    "delivery": "right so far, but no delivery was looked over",
    "spread": "no two pieces of one size and colour were measured",
    "piece_against_chart": "there is no size chart to compare it with",
    "mix_up": "only one size was measured",
}
_UNSETTLED = {
    "label": "the tags are not shown to be right",
    "piece_against_chart": "a piece lies too near the border for this tape",
    "skew": "the side seams were not measured, so its twist is not known",
    "delivery": "too few pieces of the newest delivery were looked at",
}
"""By check: what is open although more pieces would not settle it."""
