"""What a standing follows from: the evidence, the newest decision, and what is dated after them."""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from blankbook.records.model import Round
from blankbook.results.advice.verdict import fails_not_required
from blankbook.results.result_types import Case, Explanation, Result, Verdict
from blankbook.results.standing.fail_clauses import is_fail
from blankbook.results.standing.later_lots import LotMove, lot_moves, sizes_off
from blankbook.results.standing.newest_decision import Decided, newest_decision
from blankbook.results.standing.sound_sizes import (
    alike_sizes,
    failing_sizes,
    required_results,
    sound_sizes,
)
from blankbook.results.standing.standing_types import AlikeSizes
from blankbook.words.answers import Advice, Answer

ACCEPTING = frozenset({Advice.APPROVED, Advice.CONDITIONS})


@dataclass(frozen=True)
class StandingFacts:
    """One blank, judged, as the rules look at it."""

    case: Case
    results: tuple[Result, ...]
    verdict: Verdict
    explanations: tuple[Explanation, ...]

    @cached_property
    def decided(self) -> Decided | None:
        """The newest decision of a person."""
        return newest_decision(self.case.blank)

    @property
    def accepted(self) -> Decided | None:
        """The newest decision, where it lets the blank through."""
        decided = self.decided
        return decided if decided and decided.made.decision in ACCEPTING else None

    @property
    def advice_counts(self) -> bool:
        """Whether nobody has decided anything, so that the evidence alone says what holds."""
        return self.decided is None

    @cached_property
    def newer_rounds(self) -> frozenset[str]:
        """The rounds that nobody has decided on: measured on the day of the decision or later."""
        decided = self.decided
        if decided is None:
            return frozenset()
        return frozenset(
            round_.key
            for round_ in self.case.blank.rounds
            if round_.key != decided.round.key
            and round_.date >= decided.made.date
            and (round_.pieces or round_.swatches)
        )

    @cached_property
    def since(self) -> datetime.date | None:
        """The day from which on facts were not known to who decided, else to the evidence."""
        if self.decided:
            return self.decided.made.date
        return self.case.round.date if self.case.round else None

    @cached_property
    def fails(self) -> tuple[Result, ...]:
        """What is required and shown to be wrong."""
        return tuple(r for r in required_results(self.case, self.results) if is_fail(r))

    @cached_property
    def open(self) -> tuple[Result, ...]:
        """What is required, and neither met nor wrong."""
        own = required_results(self.case, self.results)
        return tuple(r for r in own if r.answer not in {Answer.MEETS, Answer.FAILS})

    @cached_property
    def newer_fails(self) -> tuple[Result, ...]:
        """The fails that nobody has decided on."""
        return tuple(r for r in self.fails if r.round in self.newer_rounds)

    @cached_property
    def known_fails(self) -> tuple[Result, ...]:
        """The fails that were there when the decision was made, or without one."""
        return tuple(r for r in self.fails if r not in self.newer_fails)

    @cached_property
    def other_fails(self) -> tuple[Result, ...]:
        """What fails without being required; later lots and deliveries have rules of their own."""
        return tuple(
            r
            for r in fails_not_required(self.case, self.results)
            if r.check not in {"lots", "delivery"} or not self._is_later(r)
        )

    def _is_later(self, result: Result) -> bool:
        records = {delivery.key: delivery.date for delivery in self.case.blank.deliveries}
        records |= {round_.key: round_.date for round_ in self.case.blank.rounds}
        day = records.get(result.delivery or result.round)
        own = self.decided.round.key if self.decided else None
        return (
            day is not None
            and self.since is not None
            and day >= self.since
            and (result.round != own)
        )

    @cached_property
    def sound(self) -> tuple[str, ...]:
        """The sizes that meet all that is required."""
        return sound_sizes(self.case, self.results, self.alike)

    @cached_property
    def lot_moves(self) -> tuple[LotMove, ...]:
        """What each lot since the approved round shows against it, the oldest first."""
        round_, since = self.approved_round, self.since
        if round_ is None or since is None or (self.decided and not self.accepted):
            return ()
        return tuple(lot_moves(self.case, round_, since))

    @cached_property
    def alike(self) -> tuple[AlikeSizes, ...]:
        """The neighbours that cannot be told apart."""
        return alike_sizes(self.results, sizes_off(self.lot_moves))

    @cached_property
    def decided_sizes(self) -> tuple[str, ...]:
        """The sizes that the accepting decision is about: named, or measured by then and not off.

        What failed since is no part of this: it opens them again by a rule of its own.
        """
        if self.accepted is None:
            return ()
        made = self.accepted.made
        known = tuple(r for r in self.results if r.round not in self.newer_rounds)
        named = set(made.sizes) or (
            _measured_by(self.case.blank.rounds, made.date)
            - failing_sizes(self.case, known, self.alike)
        )
        return tuple(size for size in self.case.blank.style.sizes if size in named)

    @property
    def base_sizes(self) -> tuple[str, ...]:
        """The sizes that may be ordered before anything that came later is looked at."""
        return self.decided_sizes if self.decided else self.sound

    @property
    def approved_round(self) -> Round | None:
        """The round that later lots are compared with: the approved one, else the judged one."""
        if self.accepted and any(piece.received for piece in self.accepted.round.pieces):
            return self.accepted.round
        return self.case.round

    def round_of(self, result: Result) -> Round | None:
        """Return the round that a result rests on, else the judged one."""
        rounds: Sequence[Round] = self.case.blank.rounds
        return next((r for r in rounds if r.key == result.round), self.case.round)


def _measured_by(rounds: Sequence[Round], day: datetime.date) -> set[str]:
    return {
        piece.size
        for round_ in rounds
        if round_.date <= day
        for piece in round_.pieces
        if piece.received or piece.washed
    }
