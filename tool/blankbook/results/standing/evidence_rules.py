"""Rules about evidence beside the decision: what fails in spite of it, and what was found since."""

from collections.abc import Collection, Iterable, Iterator

from blankbook.results.evidence import chart_for
from blankbook.results.result_types import Result
from blankbook.results.standing.base_rules import evidence_clause, fail_clause
from blankbook.results.standing.fail_clauses import clauses_of_fails
from blankbook.results.standing.rule_types import RuleFinding
from blankbook.results.standing.size_words import say_day
from blankbook.results.standing.sound_sizes import failing_sizes
from blankbook.results.standing.standing_facts import StandingFacts
from blankbook.words.answers import Advice, Answer


def find_newer_fails(facts: StandingFacts) -> Iterator[RuleFinding]:
    """Find what a round shows to be off that was measured since the decision."""
    rejected = facts.decided and facts.decided.made.decision == Advice.REJECTED
    if facts.newer_fails and not rejected:
        yield _finding(
            facts,
            facts.newer_fails,
            fail_clause(facts, facts.newer_fails),
            failing_sizes(facts.case, facts.newer_fails, facts.alike),
        )


def find_against_evidence(facts: StandingFacts) -> Iterator[RuleFinding]:
    """Find an approval that goes past what was known: one of its sizes fails, or is not shown."""
    if facts.accepted is None:
        return
    ours = [result for result in facts.known_fails if _is_within(result, facts.decided_sizes)]
    if ours:
        clauses = tuple(clause for clause, _ in clauses_of_fails(facts.case, ours))
        yield _finding(facts, ours, clauses[0], conditions=clauses)
    elif set(facts.decided_sizes) - set(facts.sound) and not facts.fails and _is_open(facts):
        clause = evidence_clause(facts)
        yield _finding(facts, facts.open, clause, conditions=(clause,))


def _is_open(facts: StandingFacts) -> bool:
    """Say whether more is open than a chart that there is not: "no chart" has its own rule."""
    return not _is_uncharted(facts) or any(
        result.check != "size_against_chart" for result in facts.open
    )


def find_left_out_fail(facts: StandingFacts) -> Iterator[RuleFinding]:
    """Find a measured size that is off and that the approval leaves out."""
    known = [r for r in facts.known_fails if not _is_within(r, facts.decided_sizes)]
    if facts.accepted and facts.decided_sizes and known:
        yield _finding(facts, known, fail_clause(facts, known))


def _is_within(result: Result, sizes: Collection[str]) -> bool:
    """Say whether all sizes that a result is about are among *sizes*, or it is about the style."""
    return all(size in sizes for size in (result.size, result.next_size) if size)


def find_other_fails(facts: StandingFacts) -> Iterator[RuleFinding]:
    """Find what fails although no approval hangs on it."""
    for clause, result in clauses_of_fails(facts.case, facts.other_fails):
        yield _finding(facts, [result], clause, conditions=(clause,))


def _is_uncharted(facts: StandingFacts) -> bool:
    """Say whether no chart judges the round that counts, be it that all are younger."""
    round_ = facts.approved_round
    return round_ is not None and chart_for(facts.case, round_) is None


def find_no_chart(facts: StandingFacts) -> Iterator[RuleFinding]:
    """Find a blank that was measured and that no chart speaks of."""
    round_ = facts.approved_round
    if round_ and _is_uncharted(facts):
        day = say_day(round_.date)
        yield RuleFinding(
            round_.date,
            round_.source.path,
            f"its sizes are those measured on {day}",
            conditions=(f"hold every delivery against the round of {day}",),
            minor=True,
        )


def find_expired(facts: StandingFacts) -> Iterator[RuleFinding]:
    """Find evidence that is older than the shop allows."""
    round_ = facts.case.round
    if round_ and facts.case.learned.expired:
        every = frozenset(facts.case.blank.style.sizes)
        clause = f"last measured on {say_day(round_.date)}: measure it again before you order"
        yield RuleFinding(round_.date, round_.source.path, clause, every)


def _finding(
    facts: StandingFacts,
    results: Iterable[Result],
    clause: str,
    opens: frozenset[str] = frozenset(),
    conditions: tuple[str, ...] = (),
) -> RuleFinding:
    """Return a finding of the newest round that the results rest on."""
    rounds = [round_ for result in results if (round_ := facts.round_of(result))]
    newest = max(rounds, key=lambda round_: (round_.date, round_.key), default=facts.case.round)
    day = newest.date if newest else None
    source = newest.source.path if newest else facts.case.blank.style.source.path
    return RuleFinding(day, source, clause, opens, conditions, of_results=True)


def is_good_round(facts: StandingFacts, key: str) -> bool:
    """Say whether a round was measured against a chart and nothing required of it is unmet."""
    sizes = [
        r for r in facts.results if r.check == "size_against_chart" and r.round == key
        and r.deciding
    ]  # fmt: skip
    unmet = [r for r in (*facts.fails, *facts.open) if r.round == key]
    return bool(sizes) and not unmet and all(r.answer == Answer.MEETS for r in sizes)
