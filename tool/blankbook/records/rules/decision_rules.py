"""Rules of decisions: what each rests on, which sizes it names, and which of them is the newest."""

from collections.abc import Iterable, Iterator

from blankbook.records.model import Round, Style
from blankbook.text.findings import Fault, visible
from blankbook.words.answers import Advice

_APPROVING = {Advice.APPROVED.value, Advice.CONDITIONS.value}


def of_round(round_: Round) -> Iterator[Fault]:
    """Yield an approval of no piece, or without a reason where nothing was measured."""
    decision = round_.decision
    if decision is None or decision.decision not in _APPROVING:
        return
    if not round_.pieces:
        message = f"must not be {decision.decision} where there is no piece"
        remedy = "add the pieces that were looked at, or delete the decision"
        yield Fault(("decision", "decision"), "decision-without-evidence", message, remedy)
    elif decision.reason:
        return
    elif not round_.swatches and not any(piece.received or piece.washed for piece in round_.pieces):
        message = f"must not be {decision.decision} without a reading or a reason"
        remedy = "add what was measured, or reason: and why"
        yield Fault(("decision", "decision"), "decision-without-evidence", message, remedy)


def of_sizes(round_: Round, style: Style) -> Iterator[Fault]:
    """Yield sizes of a decision that the style does not come in."""
    for place, size in enumerate(round_.decision.sizes if round_.decision else ()):
        if size not in style.sizes:
            message = f"{visible(size)} is not a size of the style"
            remedy = f"there are {', '.join(style.sizes)}"
            yield Fault(("decision", "sizes", place), "unknown-size", message, remedy)


def of_day(round_: Round, rounds: Iterable[Round]) -> Iterator[Fault]:
    """Yield a decision on the day of another one on the blank: neither is then the newest.

    *rounds* are all of the blank; the decision in the file that sorts last is the finding.
    """
    made = round_.decision
    if made is None:
        return
    same = sorted(
        other.key
        for other in rounds
        if other.decision and other.decision.date == made.date and other.key < round_.key
    )
    if same:
        message = f"decided on {made.date}, as in {same[-1]}: which of the two is newer?"
        remedy = "correct a day, or take out the one that no longer holds"
        yield Fault(("decision", "date"), "decisions-on-one-day", message, remedy, "warning")
