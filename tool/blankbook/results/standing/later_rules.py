"""Rules about what came after the decision, or without one after the evidence."""

import datetime
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from blankbook.records.model import Chart, Delivery
from blankbook.results.chart_values import chart_tolerance, charted_length
from blankbook.results.checks.delivery import series_for
from blankbook.results.checks.washing import washed_round
from blankbook.results.evidence import chart_for, newest_sample
from blankbook.results.methods.sampling_tables import Severity
from blankbook.results.over_lots.lot_history import MOVE_MARGIN
from blankbook.results.quantities import Quantity
from blankbook.results.standing.evidence_rules import is_good_round
from blankbook.results.standing.later_lots import LotMove, lot_moves
from blankbook.results.standing.rule_types import RuleFinding
from blankbook.results.standing.size_words import say_day, say_off, say_sizes
from blankbook.results.standing.standing_facts import StandingFacts
from blankbook.words.answers import Answer


def find_newer_chart(facts: StandingFacts) -> Iterator[RuleFinding]:
    """Find charts that are newer than the evidence and move or drop measured sizes.

    A person who decides after a chart's day has seen it: the sizes stay, and it is a condition. A
    chart that moves a size back does not undo the one before: nothing was measured in between.
    """
    style = facts.case.blank.style
    for chart in style.charts:
        moved = _moved_by_chart(facts, chart)
        if not moved or (facts.base_sizes and not set(moved) & set(facts.base_sizes)):
            continue  # it moves nothing, or only what may not be ordered anyway
        seen = facts.decided is not None and facts.decided.made.date > chart.since
        opens = frozenset() if seen else frozenset(moved)
        clause = _say_chart(facts, chart, moved)
        yield RuleFinding(chart.since, style.source.path, clause, opens, (clause,))


def _moved_by_chart(facts: StandingFacts, newer: Chart) -> dict[str, dict[str, float]]:
    """Return, by measured size and deciding point, how far a chart moves it, millimetres.

    Only what matters: by more than a lot may differ from the approved one. A size that the chart
    no longer lists has no points.
    """
    case = facts.case
    found: dict[str, dict[str, float]] = {}
    for size in case.blank.style.sizes:
        for point in case.shop.deciding_points:
            sample = newest_sample(case, size, point)
            if sample is None or sample.round.chart_day >= newer.since:
                continue
            if size not in newer.sizes:
                found.setdefault(size, {})
                continue
            now = charted_length(newer, size, point)
            before = charted_length(chart_for(case, sample.round), size, point)
            matters = chart_tolerance(case.shop, newer, point)
            matters *= 1.0 if before is None else MOVE_MARGIN
            by = 0.0 if now is None else now - (sample.mean if before is None else before)
            if abs(by) > matters:
                found.setdefault(size, {})[point] = by
    return found


def _say_chart(facts: StandingFacts, newer: Chart, moved: dict[str, dict[str, float]]) -> str:
    case, head = facts.case, f"the chart of {say_day(newer.since)}"
    sizes = say_sizes(case.blank.style.sizes, moved)
    gone = [size for size in moved if size not in newer.sizes]
    if gone:
        return f"{head} no longer lists {say_sizes(case.blank.style.sizes, gone)}"
    measured = {p.size for round_ in case.blank.rounds for p in round_.pieces if p.received}
    named = "every size" if set(moved) == measured and len(moved) > 2 else sizes
    told = {
        tuple((point, round(by, 3)) for point, by in points.items()) for points in moved.values()
    }
    first = next(iter(told))
    if len(told) == len(first) == 1:
        ((point, by),) = first
        how = say_off(by, point, case.shop.unit, named).partition(" is ")[2]
        return f"{head} makes {named} {how}"
    return f"{head} moves {named}"


def find_moved_lot(facts: StandingFacts) -> Iterator[RuleFinding]:
    """Find later lots that are shown to be off the approved one, size by size."""
    for move in _newest_moves(facts.lot_moves):
        if move.moved and move.sizes & set(facts.base_sizes):
            clause = _say_lot(facts, move, "is")
            yield RuleFinding(move.day, move.source, clause, move.sizes, (clause,))


def find_lot_back_in_line(facts: StandingFacts) -> Iterator[RuleFinding]:
    """Find a lot that was off, where a newer one of the same sizes is not.

    Where nobody has decided, the newest round is what counts, and each lot before it may be off.
    """
    later = facts.lot_moves
    off = {move.lot for move in _newest_moves(later) if move.moved}
    over = [move for move in later if move.moved and move.lot not in off]
    if facts.decided is None and facts.case.round:
        newest = facts.case.round
        earlier = lot_moves(facts.case, newest, datetime.date.min)
        over += [move for move in earlier if move.moved and move.day <= newest.date]
    for move in sorted(over, key=lambda move: (move.day, len(move.sizes)))[-1:]:
        clause = _say_lot(facts, move, "was")
        condition = f"tape every delivery: {clause}"
        says = f"{clause}; a newer one is right"
        yield RuleFinding(move.day, move.source, says, conditions=(condition,), minor=True)


def _newest_moves(moves: Iterable[LotMove]) -> list[LotMove]:
    """Return, for each size and point, what the newest lot that has it shows."""
    newest: dict[tuple[str, str], LotMove] = {}
    for move in moves:
        for size in move.sizes:
            held = newest.get((size, move.point))
            # Within one lot all sizes together, which come first, may show what no size shows
            # alone; where both do, they are one finding.
            if held is None or held.source != move.source or (move.moved and not held.moved):
                newest[size, move.point] = move
    return list(dict.fromkeys(newest.values()))


def _say_lot(facts: StandingFacts, move: LotMove, verb: str) -> str:
    named = say_sizes(facts.case.blank.style.sizes, move.sizes)
    noun = f"lot {move.lot}" if move.whole else f"{named} of lot {move.lot}"
    if not move.whole and len(move.sizes) > 1:
        verb = {"is": "are", "was": "were"}[verb]
    off = say_off(move.by, move.point, facts.case.shop.unit, noun, verb)
    against = f"lot {facts.approved_round.lot}" if facts.approved_round else "the others"
    still = facts.accepted and verb in {"is", "are"}
    return f"{off} than {'the approved ' if still else ''}{against}"


@dataclass(frozen=True, slots=True)
class _Fared:
    """A delivery since the decision, and how it fared."""

    day: datetime.date
    delivery: Delivery
    bad: int
    seen: int
    answer: Answer

    @property
    def decided(self) -> str:
        return self.delivery.decision.decision if self.delivery.decision else ""

    @property
    def good(self) -> bool:
        """Whether it was kept and its plan does not speak against it."""
        met = self.answer == Answer.MEETS
        return (self.decided == "accepted" and self.answer != Answer.FAILS) or (
            not self.decided and met
        )

    @property
    def refused(self) -> bool:
        """Whether it went back, or should by its plan while nobody has decided."""
        return self.decided == "rejected" or (not self.decided and self.answer == Answer.FAILS)

    @property
    def kept_though_bad(self) -> bool:
        return self.decided == "accepted" and self.answer == Answer.FAILS


def _fared(facts: StandingFacts) -> list[_Fared]:
    """Return the deliveries since the decision, or without one all of them, the oldest first."""
    since = facts.decided.made.date if facts.decided else datetime.date.min
    results = {r.delivery: r for r in facts.results if r.check == "delivery" and r.delivery}
    found = []
    for delivery in facts.case.blank.deliveries:
        made = delivery.decision.date if delivery.decision else delivery.date
        day = max(delivery.date, made)
        result = results.get(delivery.key)
        if result and day >= since:
            counts = [result.number(name) for name in (Quantity.BAD, Quantity.INSPECTED)]
            bad, seen = (round(number.value) if number else 0 for number in counts)
            found.append(_Fared(day, delivery, bad, seen, result.answer))
    return sorted(found, key=lambda fared: (fared.day, fared.delivery.key))


def find_refused_delivery(facts: StandingFacts) -> Iterator[RuleFinding]:
    """Find the newest delivery that was refused, where nothing good came since."""
    refused = [fared for fared in _fared(facts) if fared.refused]
    if refused and not _good_since(facts, refused[-1].day):
        last = refused[-1]
        every = frozenset(facts.case.blank.style.sizes)
        clause = _say_delivery(last)
        if off := _say_off_approved(facts, last):
            clause = f"{clause.partition(': ')[0]}: {off}"
        yield RuleFinding(last.day, last.delivery.source.path, clause, every)


def _say_off_approved(facts: StandingFacts, fared: _Fared) -> str:
    """Return how far the taped pieces of a delivery lie off the approved lot, if they do."""
    source, unit = fared.delivery.source.path, facts.case.shop.unit
    moved = [m for m in _newest_moves(facts.lot_moves) if m.source == source and m.moved]
    most = max(moved, key=lambda move: (len(move.sizes), abs(move.by)), default=None)
    if most is None:
        return ""
    if most.whole:
        return say_off(most.by, most.point, unit, "it")
    verb = "is" if len(most.sizes) == 1 else "are"
    return say_off(
        most.by, most.point, unit, say_sizes(facts.case.blank.style.sizes, most.sizes), verb
    )


def find_trouble_over(facts: StandingFacts) -> Iterator[RuleFinding]:
    """Find a delivery that was kept though bad, or was refused and followed by a good one."""
    fared = _fared(facts)
    over = [one for one in fared if one.refused and _good_since(facts, one.day)]
    for last in sorted([*over, *(one for one in fared if one.kept_though_bad)], key=_day)[-1:]:
        day = say_day(last.delivery.date)
        yield RuleFinding(
            last.day,
            last.delivery.source.path,
            _say_delivery(last),
            conditions=(f"look over every delivery: that of {day} had {last.bad} bad",),
            minor=True,
        )


def _day(fared: _Fared) -> datetime.date:
    return fared.day


def _good_since(facts: StandingFacts, day: datetime.date) -> bool:
    """Say whether a good delivery or a good round came after a day."""
    came = any(fared.good and fared.day > day for fared in _fared(facts))
    return came or any(
        round_.date > day and is_good_round(facts, round_.key) for round_ in facts.case.blank.rounds
    )


def _say_delivery(fared: _Fared) -> str:
    head = f"the delivery of {say_day(fared.delivery.date)}"
    counts = f"{fared.bad} of {fared.seen} were bad"
    if fared.kept_though_bad:
        return f"{head} was kept though {counts}"
    if fared.decided == "rejected":
        return f"{head} was rejected: {counts}" if fared.bad else f"{head} was rejected"
    return f"{head} fails its plan: {counts}"


def find_good_since_held(facts: StandingFacts) -> Iterator[RuleFinding]:
    """Find something good that came after a person held the blank back: decide again."""
    if facts.decided is None or facts.accepted:
        return
    good = [fared for fared in _fared(facts) if fared.good]
    if good:
        last = good[-1]
        clause = f"the delivery of {say_day(last.delivery.date)} was good: decide again"
        yield RuleFinding(last.day, last.delivery.source.path, clause)
    rounds = {round_.key: round_ for round_ in facts.case.blank.rounds}
    for key in sorted(facts.newer_rounds):
        if is_good_round(facts, key):
            clause = f"the round of {say_day(rounds[key].date)} is good: decide again"
            yield RuleFinding(rounds[key].date, rounds[key].source.path, clause)


def find_stopped(facts: StandingFacts) -> Iterator[RuleFinding]:
    """Find a supplier from whom nothing is accepted until it has put the cause right."""
    if series_for(facts.case).then == Severity.STOPPED:
        supplier = facts.case.blank.supplier
        clause = f"nothing is accepted from {supplier.name} until the cause is put right"
        day = max((d.date for d in facts.case.blank.deliveries), default=facts.since)
        yield RuleFinding(day, supplier.source.path, clause)


def find_changed_claim(facts: StandingFacts) -> Iterator[RuleFinding]:
    """Find a claim that the supplier has changed since the pieces were bought.

    What was measured of later pieces speaks for its own sizes. Another cloth is another one in the
    wash, so it takes a washed round to speak for it.
    """
    case, style = facts.case, facts.case.blank.style
    for change in style.changed:
        sizes = _bought_before(facts, change.since)
        washed = washed_round(case)
        if change.what == "fabric" and (washed is None or washed.chart_day < change.since):
            sizes = frozenset(style.sizes)
        if case.round is None or not sizes:
            continue
        seen = facts.decided is not None and facts.decided.made.date > change.since
        clause = f"the {change.what} changed on {say_day(change.since)}: measure and wash it again"
        condition = f"the {change.what} is another one since {say_day(change.since)}"
        opens = frozenset() if seen else sizes
        yield RuleFinding(change.since, style.source.path, clause, opens, (condition,))


def _bought_before(facts: StandingFacts, day: datetime.date) -> frozenset[str]:
    """Return the sizes whose newest pieces were bought before a day."""
    newest: dict[str, datetime.date] = {}
    for round_ in facts.case.blank.rounds:
        for piece in round_.pieces:
            newest[piece.size] = max(round_.chart_day, newest.get(piece.size, round_.chart_day))
    return frozenset(size for size, bought in newest.items() if bought < day)
