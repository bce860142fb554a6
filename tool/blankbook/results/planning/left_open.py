"""What good pieces leave open: that none of a few is bad does not mean that none is."""

from dataclasses import dataclass

from blankbook.results.methods.proportions import say_zero_failures, zero_failure_bound
from blankbook.results.result_types import Judged
from blankbook.words.answers import Answer


@dataclass(frozen=True, slots=True)
class LeftOpen:
    """A check that every piece met, and the share of all pieces that may still fail it."""

    pieces: int
    share: float
    says: str


def left_open(judged: Judged, check: str) -> LeftOpen | None:
    """Return what is left open where every piece of the round met *check*; else None.

    Source: the exact zero-failure bound, (1 - p)^n = risk, at the shop's risk.
    """
    results = [r for r in judged.of(check) if r.answer != Answer.NOT_TESTED]
    pieces = {r.piece for r in results}
    if not results or "" in pieces or any(r.answer != Answer.MEETS for r in results):
        return None
    risk = judged.case.shop.risk
    count = len(pieces)
    return LeftOpen(count, zero_failure_bound(count, risk), say_zero_failures(count, risk))
