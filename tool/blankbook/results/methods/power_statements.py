"""What a purchase can show in words, and how many pieces a wanted chance takes."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from blankbook.results.methods import purchase_power
from blankbook.results.methods.planning_grid import QUICK, KnownSpread, PieceCounts
from blankbook.results.methods.proportions import zero_acceptance_pieces
from blankbook.results.number_words import say_counted, say_length, say_share


@dataclass(frozen=True, slots=True)
class Required:
    """What a style must keep at one point of measure, millimetres."""

    name: str
    """As a shop calls it: "half chest"."""
    step: float
    """Charted grade step; 0 where the point does not grow."""
    step_tolerance: float
    tolerance: float


@dataclass(frozen=True, slots=True)
class PowerStatement:
    """One question that a purchase may answer, and the chance that it does."""

    key: str
    """``missing_step``, ``half_size``, ``true_step``, ``sound`` or ``wrong_label``."""
    what: str
    """What may be shown, as the head of a row."""
    chance: float
    enough: int | None
    """The fewest pieces (of each size in each colour; of all, for labels) for the wanted chance."""
    sentence: str
    inside: bool = False
    """Whether it lies inside the tolerance, so that no number of pieces can show it."""


def power_statements(
    known: KnownSpread,
    buy: PieceCounts,
    asked: Required,
    risk: float,
    unit: str,
    wanted: float = 0.9,
) -> tuple[PowerStatement, ...]:
    """Return what the purchase can show at one point of measure.

    Units: *unit* is ``in`` or ``cm``, for the sentences; *wanted* is the chance that would do.
    """
    found = [_sound(known, buy, asked, risk, wanted)]
    if asked.step > 0:
        found.insert(0, _missing_step(known, buy, asked, risk, unit, wanted))
        found.insert(1, _half_size(known, buy, asked, risk, unit, wanted))
        found.append(_true_step(known, buy, asked, risk, wanted))
    return tuple(found)


def wrong_label_statement(pieces: int, share: float, wanted: float = 0.9) -> PowerStatement:
    """Return the chance that *pieces* hold at least one of the wrong labels."""
    chance = purchase_power.chance_wrong_label(pieces, share)
    enough = zero_acceptance_pieces(share, 1 - wanted)
    says = f"{pieces} pieces hold at least one wrong label {say_times(chance)}"
    where = f"where {say_share(share)} are wrong"
    return PowerStatement(
        "wrong_label",
        f"labels: at least one wrong one is among them, {where}",
        chance,
        enough,
        f"{says} {where}; {_takes(enough, pieces, wanted, '')}",
    )


def _missing_step(
    known: KnownSpread, buy: PieceCounts, asked: Required, risk: float, unit: str, wanted: float
) -> PowerStatement:
    def chance_of(bought: PieceCounts) -> float:
        return purchase_power.chance_missing_step(known, bought, asked.step, risk, grid=QUICK)

    step = say_length(asked.step, unit)
    what = f"{asked.name}: a missing step of {step} is found"
    says = f"a {asked.name} step of {step} that is missing is shown to be missing"
    return _showing("missing_step", what, says, chance_of, buy, wanted)


def _half_size(
    known: KnownSpread, buy: PieceCounts, asked: Required, risk: float, unit: str, wanted: float
) -> PowerStatement:
    off = asked.step / 2

    def chance_of(bought: PieceCounts) -> float:
        return purchase_power.chance_fails(
            known, bought, asked.tolerance, risk, off, in_sizes=bought.sizes, grid=QUICK
        )

    far, border = say_length(off, unit), say_length(asked.tolerance, unit)
    what = f"{asked.name}: a style half a size large ({far}) is found"
    says = f"a style that runs half a size large ({far} at the {asked.name})"
    if off <= asked.tolerance:
        none = f"{asked.name}: half a size ({far}) is inside the tolerance ({border})"
        says = f"{says} is inside the {border} tolerance: no number of pieces can show it to fail"
        return PowerStatement("half_size", none, chance_of(buy), None, says, inside=True)
    says = f"{says} is shown to fail in at least one size"
    return _showing("half_size", what, says, chance_of, buy, wanted)


def _sound(
    known: KnownSpread, buy: PieceCounts, asked: Required, risk: float, wanted: float
) -> PowerStatement:
    def chance_of(bought: PieceCounts) -> float:
        return purchase_power.chance_meets(
            known, bought, asked.tolerance, risk, in_sizes=bought.sizes, grid=QUICK
        )

    sizes = "in its one size" if buy.sizes == 1 else f"in all {buy.sizes} sizes"
    what = f"{asked.name}: a style as charted meets, {sizes}"
    says = f"a style just as charted is shown to meet at the {asked.name}, {sizes},"
    return _showing("sound", what, says, chance_of, buy, wanted)


def _true_step(
    known: KnownSpread, buy: PieceCounts, asked: Required, risk: float, wanted: float
) -> PowerStatement:
    allowed, half = asked.step_tolerance, asked.step / 2

    def chance_of(bought: PieceCounts) -> float:
        return purchase_power.chance_step_true(
            known, bought, allowed, risk, under=min(allowed, half), grid=QUICK
        )

    what = f"{asked.name}: a step as charted is shown to be true"
    says = f"a {asked.name} step just as charted is shown to be true"
    return _showing("true_step", what, says, chance_of, buy, wanted)


def _showing(
    key: str,
    what: str,
    says: str,
    chance_of: Callable[[PieceCounts], float],
    buy: PieceCounts,
    wanted: float,
) -> PowerStatement:
    chance = chance_of(buy)
    enough = purchase_power.fewest_pieces(lambda each: chance_of(replace(buy, each=each)), wanted)
    takes = _takes(enough, buy.each, wanted, _of_each(buy))
    return PowerStatement(
        key, what, chance, enough, f"{_with(buy)}, {says} {say_times(chance)}; {takes}"
    )


def _with(buy: PieceCounts) -> str:
    count = say_counted(buy.each, "piece")
    return f"with {count}{_of_each(buy)}"


def _of_each(buy: PieceCounts) -> str:
    return (
        " of each size" if buy.colours == 1 else f" of each size in each of {buy.colours} colours"
    )


def _takes(enough: int | None, now: int, wanted: float, of_each: str) -> str:
    """Return what the wanted chance takes, as the end of a sentence."""
    if enough is None:
        most = f"even {purchase_power.MOST_PIECES} pieces{of_each}"
        return f"{most} would not bring it to {say_times(wanted)}"
    pieces = say_counted(enough, "piece")
    if enough <= now:
        return f"{pieces}{of_each} would be enough for {say_times(wanted)}"
    return f"it takes {pieces}{of_each} for {say_times(wanted)}"


def say_times(chance: float) -> str:
    """Return a chance as so many times in 100, never as always or never.

    >>> say_times(0.974), say_times(0.0101), say_times(0.9999), say_times(0.001)
    ('97 times in 100', 'once in 100', 'over 99 times in 100', 'less than once in 100')
    """
    if chance > 0.99:
        return "over 99 times in 100"
    if chance < 0.01:
        return "less than once in 100"
    count = round(chance * 100)
    return "once in 100" if count == 1 else f"{count} times in 100"


def times_in_100(chance: float) -> str:
    """Return the same without its words, for a column that says "times in 100" over it.

    >>> times_in_100(0.974), times_in_100(0.0101), times_in_100(0.9999), times_in_100(0.001)
    ('97', '1', 'over 99', 'under 1')
    """
    said = say_times(chance).removesuffix(" in 100").removesuffix(" times")
    return {"once": "1", "less than once": "under 1"}.get(said, said)
