"""Numbers as a shop says them."""

from collections.abc import Sequence

from blankbook.records.lengths import say_length, say_length_change
from blankbook.results.limits import Limits

__all__ = [
    "say_chance",
    "say_counted",
    "say_length",
    "say_length_change",
    "say_limits",
    "say_list",
    "say_more",
    "say_percent",
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


def say_limits(limits: Limits, unit: str) -> str:
    """Return the limits of a difference, such as "between -1/8 in and +3/8 in"."""
    return (
        f"between {say_length_change(limits.low, unit)} and {say_length_change(limits.high, unit)}"
    )


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


def say_more(more: int | None, what: str = "of this size") -> str:
    """Return how many more pieces would settle it, as the end of a sentence."""
    if more is None:
        return "it sits on the border, and even 50 more pieces would not settle it"
    return f"{say_counted(more, 'more piece')} {what} like these would settle it"
