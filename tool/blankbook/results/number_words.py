"""Numbers as a shop says them."""

from collections.abc import Sequence
from math import ceil, floor

from blankbook.records.lengths import say_length, say_length_change
from blankbook.results.limits import HAIR, Limits
from blankbook.words.points import INCH

__all__ = [
    "first_sentence",
    "say_beside",
    "say_chance",
    "say_counted",
    "say_length",
    "say_length_change",
    "say_limits",
    "say_list",
    "say_more",
    "say_percent",
    "say_sentences",
    "say_share",
    "say_spread",
]


def say_chance(chance: float) -> str:
    """Return a chance as "1 in N".

    >>> say_chance(0.5), say_chance(0.04), say_chance(0.0000001), say_chance(0.97)
    ('1 in 2', '1 in 25', 'less than 1 in 1000', '97 in 100')
    """
    if chance < 0.001:
        return "less than 1 in 1000"
    if chance > 0.55:
        return f"{min(round(chance * 100), 99)} in 100"
    return f"1 in {round(1 / chance)}"


def say_limits(limits: Limits, unit: str, *borders: float) -> str:
    """Return the limits of a difference, such as "between -1/8 in and +3/8 in".

    What is printed stays on the side of each of the *borders* (millimetres) where the limit is: a
    limit past a border is rounded away from it, so that the printed one does not seem to keep it.
    """
    low, high = (say_beside(mm, unit, *borders) for mm in (limits.low, limits.high))
    return f"between {low} and {high}"


def say_beside(mm: float, unit: str, *borders: float) -> str:
    """Return a difference, rounded so that it stays on its side of the borders.

    >>> say_beside(12.8, "in", 12.7), say_beside(12.6, "in", 12.7), say_beside(57.16, "cm", 57.15)
    ('+9/16 in', '+7/16 in', '+5.8 cm')
    """
    grain = float(INCH) / 16 if unit == "in" else 1.0
    shown = round(round(mm / grain, 9)) * grain
    for border in borders:
        if mm > border >= shown - HAIR:
            shown = (floor(border / grain + HAIR) + 1) * grain
        elif mm < border <= shown + HAIR:
            shown = (ceil(border / grain - HAIR) - 1) * grain
    return say_length_change(shown, unit)


def say_spread(mm: float) -> str:
    """Return a standard deviation: in millimetres, which are fine enough for it.

    >>> say_spread(1.5875)
    '1.6 mm'
    """
    return f"{mm:.1f} mm"


def say_percent(value: float, signed: bool = False) -> str:
    """Return a percentage with one decimal."""
    return f"{value:+.1f} %" if signed else f"{value:.1f} %"


def say_share(share: float) -> str:
    """Return a share in percent with two digits, never rounded to nothing or to all.

    >>> say_share(0.631597), say_share(0.0581), say_share(0.0095), say_share(1.0), say_share(0.9987)
    ('63 %', '5.8 %', '0.95 %', '100 %', 'over 99 %')
    """
    percent = share * 100
    if 99 < percent < 100:
        return "over 99 %"
    if percent >= 9.95:
        return f"{percent:.0f} %"
    if percent >= 0.995:
        return f"{percent:.1f} %"
    return f"{percent:.2f} %" if percent >= 0.01 or percent == 0 else "less than 0.01 %"


def say_counted(count: int, noun: str) -> str:
    """Return a count with its noun.

    >>> say_counted(1, "wash"), say_counted(3, "wash"), say_counted(2, "more piece")
    ('1 wash', '3 washes', '2 more pieces')
    """
    if count == 1:
        return f"1 {noun}"
    return f"{count} {noun}{'es' if noun.endswith('sh') else 's'}"


def say_list(words: Sequence[str]) -> str:
    """Return words joined as in a sentence: "S, M and L"."""
    if len(words) < 2:
        return "".join(words)
    return ", ".join(words[:-1]) + " and " + words[-1]


def say_sentences(*sentences: str) -> str:
    """Return sentences as one text, without the last full stop; "" is left out.

    >>> say_sentences("half chest: grows by 2 in", "", "two good ones")
    'half chest: grows by 2 in. Two good ones'
    """
    first, *rest = [sentence for sentence in sentences if sentence]
    return ". ".join([first, *(sentence[0].upper() + sentence[1:] for sentence in rest)])


def first_sentence(text: str) -> str:
    """Return the sentence that says the answer, without its full stop; the rest is evidence.

    >>> first_sentence("half chest: 2.5 in. Two good ones")
    'half chest: 2.5 in'
    """
    return text.partition(". ")[0]


def say_more(more: int | None, what: str = "of this size") -> str:
    """Return how many more pieces would settle it, as a sentence."""
    if more is None:
        return "it sits on the border, and 50 more pieces may not settle it"
    return f"{say_counted(more, 'more piece')} {what} would settle it, 8 times in 10"


def times_in_100(chance: float) -> str:
    """Return a chance as so many times in 100, for a column that says so over it.

    >>> times_in_100(0.974), times_in_100(0.0101), times_in_100(0.9999), times_in_100(0.001)
    ('97', '1', 'over 99', 'under 1')
    """
    if chance > 0.99:
        return "over 99"
    return "under 1" if chance < 0.01 else f"{round(chance * 100)}"
