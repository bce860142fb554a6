"""What a person decided last on a blank."""

from dataclasses import dataclass

from blankbook.records.model import Blank, Decision, Round
from blankbook.words.answers import Advice

STRICTNESS = {advice.value: place for place, advice in enumerate(Advice)}
"""The decisions from the most to the least generous."""


@dataclass(frozen=True, slots=True)
class Decided:
    """A decision, and the round in whose file it stands."""

    made: Decision
    round: Round


def newest_decision(blank: Blank) -> Decided | None:
    """Return the newest decision on a blank, whichever round it stands in; None without any.

    Its own date counts: a rejection may be written into an old round. Of two on one day, which
    `check` asks about, the stricter one counts.
    """
    decided = [Decided(round_.decision, round_) for round_ in blank.rounds if round_.decision]
    return max(decided, key=_turn, default=None)


def _turn(decided: Decided) -> tuple[str, int, str]:
    made = decided.made
    return made.date.isoformat(), STRICTNESS[made.decision], decided.round.key
