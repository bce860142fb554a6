"""What holds today for one blank: the rules put together, the lowest ceiling first."""

from collections.abc import Iterable, Sequence

from blankbook.results.evidence import measured_sizes, rounds_and_deliveries
from blankbook.results.result_types import Case, Explanation, Result, Verdict
from blankbook.results.standing.fail_clauses import clauses_of_fails
from blankbook.results.standing.next_action import next_action
from blankbook.results.standing.rule_types import Rule, RuleFinding
from blankbook.results.standing.size_words import as_sentence, fits, say_day, say_sizes
from blankbook.results.standing.sound_sizes import failing_sizes
from blankbook.results.standing.standing_facts import StandingFacts
from blankbook.results.standing.standing_rules import RULES
from blankbook.results.standing.standing_types import (
    DatedReason,
    EvidenceLots,
    LeftOutSize,
    Standing,
)
from blankbook.results.standing.washed_words import say_less_length, say_washed_sizes
from blankbook.words.answers import Advice, MayOrder

_ORDER = tuple(MayOrder)
Found = tuple[Rule, RuleFinding]


def make_standing(
    case: Case,
    results: Sequence[Result],
    verdict: Verdict,
    explanations: Sequence[Explanation] = (),
) -> Standing:
    """Return what holds today. Pure: same records, same standing."""
    facts = StandingFacts(case, tuple(results), verdict, tuple(explanations))
    found = [(rule, finding) for rule in RULES for finding in rule.find(facts)]
    kind, sizes = _kind_and_sizes(facts, found)
    told = _told_first(found, kind)
    rule, sentence = _headline(facts, kind, sizes, told)
    return Standing(
        kind=kind,
        rule=rule,
        sizes=sizes,
        sentence=sentence,
        next_step=next_action(facts, kind, sizes, rule, told[0][1]),
        accepted=facts.accepted is not None,
        conditions=_conditions(found) if sizes else (),
        reasons=_reasons(facts, found),
        against=_against(facts, found),
        left_out=tuple(_left_out(facts, found, sizes)),
        alike=facts.alike,
        washed=say_washed_sizes(case, results),
        evidence=_evidence(case),
    )


def _kind_and_sizes(
    facts: StandingFacts, found: Iterable[Found]
) -> tuple[MayOrder, tuple[str, ...]]:
    """Return the lowest ceiling, and the sizes that no rule has opened again."""
    every = list(found)
    kind = max((rule.ceiling for rule, _ in every), key=_ORDER.index)
    opened = {size for _, finding in every for size in finding.opens}
    sizes = tuple(size for size in facts.base_sizes if size not in opened)
    if kind in {MayOrder.WAIT, MayOrder.NO}:
        return kind, ()
    return (kind, sizes) if sizes else (MayOrder.WAIT, ())


def _told_first(found: Sequence[Found], kind: MayOrder) -> list[Found]:
    """Return the findings that hold the blank down to its kind, the one to be said first.

    That is the newest, and of one day the first in the table; what is over comes last.
    """
    holding = [pair for pair in found if pair[0].ceiling == kind]
    if kind == MayOrder.WAIT:  # also where no size is left, by rules that each left some
        holding = [pair for pair in found if pair[0].ceiling == kind or pair[1].opens]
    holding.sort(key=lambda pair: pair[0].ceiling != kind)  # on one day the stronger rule first
    holding.sort(key=_day, reverse=True)  # both sorts are stable: the table's order stays
    return sorted(holding, key=lambda pair: (not pair[1].clause, pair[1].minor))


def _day(pair: Found) -> str:
    return pair[1].day.isoformat() if pair[1].day else ""


def _headline(
    facts: StandingFacts, kind: MayOrder, sizes: tuple[str, ...], told: Sequence[Found]
) -> tuple[str, str]:
    """Return the rule that the sentence comes from, and the sentence."""
    if kind in {MayOrder.WAIT, MayOrder.NO}:
        rule, finding = told[0]
        return rule.name, as_sentence(*_shorter(finding.clause))
    charted = "as charted" if _is_charted(facts.case) else "as measured"
    named = say_sizes(facts.case.blank.style.sizes, sizes)
    head = f"{'approved' if facts.accepted else charted} in {named}"
    if kind == MayOrder.YES:
        less = say_less_length(facts.case, facts.results)
        return told[0][0].name, as_sentence(*([f"{head}; {less}"] if less else []), head)
    for rule, finding in told:
        clauses = [finding.clause] if finding.typed else _shorter(finding.clause)
        joined = [f"{head}; {clause}" for clause in clauses]
        if finding.clause and fits(joined[-1]):
            return rule.name, as_sentence(*joined)
        if finding.clause and not finding.typed:
            return rule.name, as_sentence(*clauses)
    return told[0][0].name, as_sentence(f"{head} on conditions", head)


def _is_charted(case: Case) -> bool:
    """Say whether a size that meets all that is required is as its chart says."""
    return bool(case.blank.style.charts) and "size_against_chart" in case.shop.required


def _shorter(clause: str) -> list[str]:
    """Return a clause, and without what bears it out: numbers, or what was asked instead."""
    found = [clause]
    for end in (": ", ", not "):
        found.append(found[-1].partition(end)[0])
    return found


def _conditions(found: Iterable[Found]) -> tuple[str, ...]:
    """Return all conditions, each once, those that a person wrote first."""
    every = [text for _, finding in found for text in finding.conditions]
    return tuple(dict.fromkeys(every))


def _reasons(facts: StandingFacts, found: Iterable[Found]) -> tuple[DatedReason, ...]:
    """Return what the standing follows from, the newest first: findings, decision, evidence."""
    reasons = [
        DatedReason(finding.day, finding.clause, finding.source)
        for _, finding in found
        if finding.day and finding.clause and not (finding.known or finding.of_results)
    ]
    if facts.decided:
        made, source = facts.decided.made, facts.decided.round.source.path
        words = f"{made.decision} by {made.by}" + (f": {made.reason}" if made.reason else "")
        reasons.append(DatedReason(made.date, words, source))
    if round_ := facts.case.round:
        says = dict.fromkeys((*facts.verdict.reasons, *(r.reason for r in facts.other_fails)))
        reasons += [DatedReason(round_.date, text, round_.source.path) for text in says]
    return tuple(sorted(reasons, key=lambda reason: reason.day, reverse=True))


def _against(facts: StandingFacts, found: Iterable[Found]) -> tuple[DatedReason, ...]:
    """Return what speaks against the decision that governs, the newest first."""
    if facts.decided is None:
        return ()
    if not facts.accepted:
        fine = facts.verdict.advice in {Advice.APPROVED, Advice.CONDITIONS}
        round_ = facts.case.round
        if not (fine and round_):
            return ()
        return (DatedReason(round_.date, facts.verdict.reasons[0], round_.source.path),)
    ours = [
        DatedReason(finding.day, finding.clause, finding.source)
        for rule, finding in found
        if finding.day and not finding.known and (finding.opens or rule.name in _CONTRADICTING)
    ]
    return tuple(sorted(ours, key=lambda reason: reason.day, reverse=True))


_CONTRADICTING = {"approved against the evidence", "evidence rejects", "supplier stopped"}


def _left_out(
    facts: StandingFacts, found: Iterable[Found], sizes: tuple[str, ...]
) -> Iterable[LeftOutSize]:
    """Yield the sizes that may not be ordered although others may, with why not."""
    if not sizes:
        return
    opened = {size: finding.clause for _, finding in found for size in finding.opens}
    measured, off = measured_sizes(facts.case), failing_sizes(facts.case, facts.fails, facts.alike)
    alike = {pair.leave: pair.offer for pair in facts.alike}
    for size in facts.case.blank.style.sizes:
        if size in sizes:
            continue
        own = [r for r in facts.fails if size in {r.size, r.next_size} and size in off]
        if size in opened:
            yield LeftOutSize(size, opened[size])
        elif size in alike:
            yield LeftOutSize(size, f"cannot be told from {alike[size]}")
        elif own:
            yield LeftOutSize(size, clauses_of_fails(facts.case, own)[0][0])
        elif size not in measured:
            yield LeftOutSize(size, "not measured")
        elif facts.accepted:
            yield LeftOutSize(size, "not in the decision")
        else:
            yield LeftOutSize(size, "not shown yet")


def _evidence(case: Case) -> EvidenceLots | None:
    """Return the day and lot of the newest round with readings, and how many lots were measured."""
    if case.round is None:
        return None
    lots = {
        piece.lot or round_.lot
        for round_ in rounds_and_deliveries(case.blank)
        for piece in round_.pieces
        if piece.received or piece.washed
    }
    return EvidenceLots(case.round.date, case.round.lot, len(lots))


def say_evidence(standing: Standing) -> str:
    """Return what a standing rests on: its day and lot, and how many lots there are."""
    if standing.evidence is None:
        return ""
    found = standing.evidence
    head = f"Measured {say_day(found.day)}, lot {found.lot}"
    if found.lots == 1:
        return f"{head}. One lot so far; the next may differ."
    return f"{head}; {found.lots} lots in all."
