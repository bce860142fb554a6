"""Which decision holds: the newest by its own date, whatever round it stands in."""

from dataclasses import replace
from datetime import date

from blankbook.records.model import Decision, Round
from blankbook.results.standing.newest_decision import newest_decision
from made_blanks import blank, measured, piece


def decided(day: date, word: str, made: date) -> Round:
    """Return a round of a day with a decision of another."""
    round_ = measured(piece("M-1", "M", half_chest="20"), key=f"{day}-x", day=day)
    return replace(round_, decision=Decision(word, made, "rv"))


def test_newest_by_its_own_date_and_not_by_its_round() -> None:
    """A rejection of 1 June in the round of March stands over an approval of 5 April."""
    march = decided(date(2026, 3, 1), "rejected", date(2026, 6, 1))
    april = decided(date(2026, 4, 1), "approved", date(2026, 4, 5))
    newest = newest_decision(blank(march, april))
    assert newest is not None
    assert (newest.made.decision, newest.round.key) == ("rejected", "2026-03-01-x")


def test_stricter_of_two_on_one_day() -> None:
    """Whichever round they stand in."""
    day = date(2026, 4, 5)
    for words in (("hold", "approved"), ("approved", "hold")):
        rounds = [decided(date(2026, 3, n), word, day) for n, word in enumerate(words, 1)]
        newest = newest_decision(blank(*rounds))
        assert newest is not None
        assert newest.made.decision == "hold"


def test_none_without_a_decision() -> None:
    assert newest_decision(blank(measured(piece("M-1", "M", half_chest="20")))) is None
