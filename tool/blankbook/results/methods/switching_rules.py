"""How strictly a supplier's deliveries are inspected, from the outcomes of the earlier ones.

Source: MIL-STD-105E, 4.7 and 4.8. Inspection starts normal. Two rejected out of five or fewer in a
row make it tightened, five accepted in a row make it normal again, and a fifth rejected one while
tightened stops acceptance until the supplier has put the cause right. After ten accepted in a row
it may be reduced. Only deliveries on their first inspection count; a series starts anew with every
change. The limit on the count of bad pieces over those ten (table VIII) is left out: ANSI/ASQ Z1.4
lets the two sides agree on that, so the shop must say that it wants reduced inspection.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from blankbook.results.methods.sampling_plans import Outcome
from blankbook.results.methods.sampling_tables import Severity

WINDOW = 5
"""Two rejected among so many in a row make inspection tightened."""
REJECTED_TO_TIGHTEN = 2
ACCEPTED_TO_LOOSEN = 5
REJECTED_TO_STOP = 5
ACCEPTED_TO_REDUCE = 10


@dataclass(frozen=True, slots=True)
class InspectedDelivery:
    """The inspection of one delivery, as far as it bears on the next."""

    outcome: Outcome
    first_inspection: bool = True
    """False for a delivery that was rejected, sorted and handed in again."""
    steady: bool = True
    """Whether the supplier's making went on steadily, without a break or a change."""
    corrected: bool = False
    """Whether, before this delivery, the supplier put right what had stopped acceptance."""


@dataclass(frozen=True, slots=True)
class SwitchingState:
    """Where a series stands before a delivery comes."""

    severity: Severity = Severity.NORMAL
    run: tuple[InspectedDelivery, ...] = ()
    """The deliveries that count since the last change."""


_Change = tuple[Severity, str] | None


def state_at_arrival(state: SwitchingState, corrected: bool) -> SwitchingState:
    """Return the state in which a delivery is inspected; one that follows a repair ends the stop.

    Between it and `state_after` the outcome is found, which depends on the severity itself.
    """
    stopped = state.severity == Severity.STOPPED
    return SwitchingState(Severity.TIGHTENED) if stopped and corrected else state


def state_after(
    state: SwitchingState, delivery: InspectedDelivery, reduced_wanted: bool
) -> tuple[SwitchingState, str]:
    """Return the state that a delivery leaves behind, and why it changes or stays."""
    if state.severity == Severity.STOPPED:
        return state, "acceptance stays stopped: the supplier has not put the cause right"
    if not delivery.first_inspection:
        return state, "handed in again after a rejection: it does not count"
    run = (*state.run, delivery)
    change = _change(state.severity, run, reduced_wanted)
    if change is None:
        return SwitchingState(state.severity, run), _stays(state.severity, run)
    return SwitchingState(change[0]), change[1]


def _change(
    severity: Severity, run: tuple[InspectedDelivery, ...], reduced_wanted: bool
) -> _Change:
    if severity == Severity.REDUCED:
        return _from_reduced(run[-1])
    if severity == Severity.TIGHTENED:
        return _from_tightened(run)
    return _to_tightened(run) or (_to_reduced(run) if reduced_wanted else None)


def _to_tightened(run: tuple[InspectedDelivery, ...]) -> _Change:
    last = run[-WINDOW:]
    if _rejected(last) < REJECTED_TO_TIGHTEN:
        return None
    return Severity.TIGHTENED, f"tightened: 2 of the last {len(last)} deliveries were rejected"


def _to_reduced(run: tuple[InspectedDelivery, ...]) -> _Change:
    last = run[-ACCEPTED_TO_REDUCE:]
    if len(last) < ACCEPTED_TO_REDUCE or _rejected(last) or not all(d.steady for d in last):
        return None
    return (
        Severity.REDUCED,
        "reduced: the last 10 deliveries were accepted, and the making is steady",
    )


def _from_tightened(run: tuple[InspectedDelivery, ...]) -> _Change:
    if _rejected(run) >= REJECTED_TO_STOP:
        return Severity.STOPPED, "stopped: 5 deliveries were rejected on tightened inspection"
    if _accepted_in_a_row(run) >= ACCEPTED_TO_LOOSEN:
        return Severity.NORMAL, "normal again: 5 deliveries in a row were accepted"
    return None


def _from_reduced(delivery: InspectedDelivery) -> _Change:
    if delivery.outcome == Outcome.REJECTED:
        return Severity.NORMAL, "normal again: a delivery was rejected on reduced inspection"
    if delivery.outcome == Outcome.BETWEEN:
        between = "this delivery is accepted between the acceptance and the rejection number"
        return Severity.NORMAL, f"normal again: {between}"
    if not delivery.steady:
        return Severity.NORMAL, "normal again: the making is no longer steady"
    return None


def _stays(severity: Severity, run: tuple[InspectedDelivery, ...]) -> str:
    """Return why nothing changes, with the count that the next change waits for."""
    if severity == Severity.REDUCED:
        return "stays reduced: accepted"
    if severity == Severity.TIGHTENED:
        row, rejected = _accepted_in_a_row(run), _rejected(run)
        return f"stays tightened: {row} of 5 accepted in a row, {rejected} of 5 rejected"
    last = run[-WINDOW:]
    rejected = _rejected(last)
    if len(last) == 1:
        return f"stays normal: the only one was {'rejected' if rejected else 'accepted'}"
    return f"stays normal: {rejected or 'none'} of the last {len(last)} rejected"


def _rejected(run: Iterable[InspectedDelivery]) -> int:
    return sum(delivery.outcome == Outcome.REJECTED for delivery in run)


def _accepted_in_a_row(run: tuple[InspectedDelivery, ...]) -> int:
    """Return how many of the latest deliveries were accepted without a rejected one between."""
    count = 0
    for delivery in reversed(run):
        if delivery.outcome == Outcome.REJECTED:
            break
        count += 1
    return count
