"""Rule of decisions: no approval without a reading or a reason."""

from collections.abc import Iterator

from blankbook.records.model import Round
from blankbook.text.findings import Fault
from blankbook.words.answers import Advice

_APPROVING = {Advice.APPROVED.value, Advice.CONDITIONS.value}


def of_round(round_: Round) -> Iterator[Fault]:
    """Yield an approval without a reason of a round in which nothing was measured."""
    decision = round_.decision
    if decision is None or decision.decision not in _APPROVING or decision.reason:
        return
    if not round_.swatches and not any(piece.received or piece.washed for piece in round_.pieces):
        message = f"must not be {decision.decision} without a reading or a reason"
        remedy = "add what was measured, or reason: and why"
        yield Fault(("decision", "decision"), "decision-without-evidence", message, remedy)
