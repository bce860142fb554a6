"""The rows on a missing step: how often it was found, and how often it could have been at all."""

from collections.abc import Iterator
from dataclasses import dataclass

from blankbook.records.model import shop_defaults
from blankbook.results.checks.grade_steps import sound_steps
from blankbook.results.number_words import say_length
from blankbook.words.causes import CAUSES
from blankbook.words.points import POINTS as WORDS
from trials import bounds
from trials.bounds import Setting
from trials.plans import POINTS, READING, SIZES, Plan, charted, cut_spread, lot_spread
from trials.rows import Row, row
from trials.scoring import Tally

WHERE_TOLD = "the same, of those where one told the spread ranks it first"
RANKS = 0.9
"""How often the right cause must rank first, where the readings can tell it."""


@dataclass(frozen=True, slots=True)
class Bought:
    """One purchase, and what came of it over rounds with a missing step."""

    name: str
    plan: Plan
    target: float
    """How often the step must be found."""
    tally: Tally


def setting(plan: Plan, point: str) -> Setting:
    """Return what the bound rests on: the very numbers that the trials draw from."""
    step = charted(SIZES[1], point) - charted(SIZES[0], point)
    return Setting(
        step=step,
        least=sound_steps(step, shop_defaults.STEP_TOLERANCE[point])[0],
        tolerance=shop_defaults.TOLERANCE[point],
        cut=cut_spread(point),
        lot=lot_spread(point),
        spread=shop_defaults.SPREAD[point],
        hand=shop_defaults.REPEATABILITY.deviation,
        reading=READING,
        pieces=plan.each * plan.colours,
        sizes=len(plan.sizes),
    )


def missing_rows(bought: Bought) -> Iterator[Row]:
    """Yield the rows of one purchase, point by point."""
    for point in POINTS:
        if bought.tally.counts[f"missing {point} ranked"]:
            at_point = setting(bought.plan, point)
            yield _step(bought, point, at_point)
            yield _size(bought, point, at_point)
            yield _either(bought, point, at_point)
            yield from _cause(bought, point)


def _found(
    bought: Bought, point: str, what: str, keys: tuple[str, str], bound: float, why: str
) -> Row:
    """Return a row on how often the first of *keys* was counted among the second."""
    key, whole = (f"missing {point} {counted}" for counted in keys)
    seen = bought.tally.share(key, whole)
    held = seen >= bought.target
    lost = bound - seen
    return row(
        _group(bought, point),
        what,
        f"at least {bought.target}",
        seen,
        bought.tally.counts[whole],
        held,
        bound=bound,
        why="" if held else why.format(short=f"{lost:.2f}" if lost >= 0.01 else "under 0.01"),
    )


def _group(bought: Bought, point: str) -> str:
    return f"missing step at the {WORDS[point].name}, {bought.name}"


def _step(bought: Bought, point: str, setting: Setting) -> Row:
    bound = bounds.step_bound(setting, shop_defaults.RISK)
    bare = bounds.bare_share(setting, shop_defaults.RISK)
    alone = f"who assumes nothing of the spread finds {bare:.2f} at best"
    why = f"{_border(setting, setting.least, bound, bought.target, 2)}; {alone}"
    return _found(bought, point, "the step is shown to fail", ("shown", "ranked"), bound, why)


def _size(bought: Bought, point: str, setting: Setting) -> Row:
    bound = bounds.size_bound(setting, shop_defaults.RISK)
    why = _border(setting, setting.step - setting.tolerance, bound, bought.target, 1)
    what = "the size that is off is shown to fail"
    return _found(bought, point, what, ("off shown", "off"), bound, why)


def _border(setting: Setting, distance: float, bound: float, target: float, groups: int) -> str:
    """Return why no method can find more, from the distance to the border and the error."""
    typical = (setting.spread.deviation**2 + setting.reading**2) ** 0.5
    error = typical * (groups / setting.pieces) ** 0.5
    reach = "no method reaches this" if bound < target else "within reach of who knew the spread"
    what = "the mean" if groups == 1 else "the difference of two means"
    of = "1 piece" if setting.pieces == 1 else f"{setting.pieces} pieces"
    past = say_length(distance, "in")
    return (
        f"{reach}: what is missing lies {past} past what is sound, and {what} of {of} strays by "
        f"{error / 25.4:.2f} in; told the true spread, the best test finds {bound:.2f}; this one, "
        f"which must judge it, falls {{short}} short of that"
    )


def _either(bought: Bought, point: str, setting: Setting) -> Row:
    bound = bounds.believing_share(setting, shop_defaults.RISK)
    total = sum(cause.weight for cause in CAUSES.values())
    places = (len(bought.plan.sizes) - 1) * len(POINTS)
    missing = CAUSES["not_graded"].weight / total / places
    false = bounds.false_finds(
        bound, shop_defaults.RISK, missing, CAUSES["as_charted"].weight / total
    )
    why = (
        f"a rule that trusts its beliefs could find {bound:.2f} and be wrong about "
        f"{100 * shop_defaults.RISK:.0f} in 100 steps that are as charted; missing steps are "
        f"believed to be so rare that {100 * false:.0f} in 100 that it calls missing would be "
        f"sound, so it is not used; that loses {{short}}"
    )
    what = "one of these fails, or its cause ranks first"
    return _found(bought, point, what, ("either way", "ranked"), bound, why)


def _cause(bought: Bought, point: str) -> Iterator[Row]:
    key = f"missing {point}"
    tally = bought.tally
    told = tally.share(f"{key} first when told", f"{key} ranked")
    yield row(
        _group(bought, point),
        "its cause ranks first",
        "no promise",
        tally.share(f"{key} first", f"{key} ranked"),
        tally.counts[f"{key} ranked"],
        None,
        bound=told,
    )
    seen = tally.share(f"{key} first both", f"{key} first when told")
    why = "all that this one was not told is the spread, which so few pieces do not tell"
    promised = bought.plan.each * bought.plan.colours > 1
    held = seen >= RANKS if promised else None
    yield row(
        _group(bought, point),
        WHERE_TOLD,
        f"at least {RANKS}" if promised else "no promise",
        seen,
        tally.counts[f"{key} first when told"],
        held,
        why=why if held is False else "",
    )
