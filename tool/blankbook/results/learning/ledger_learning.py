"""What the whole ledger teaches about one blank: how pieces spread, how steady the hands are, and
how strictly its supplier's deliveries are inspected.

Every blank contributes a little data; what follows from all of it is handed to the judging of each.
How pieces differ is learned from what is left of their readings once sizes, lots and colours are
taken out, so that a ledger that buys one piece of each size and colour learns it too; and for each
supplier by itself, as far as its other blanks say that it is steadier or wilder than the rest.
Until there is enough, the shop's own assumptions hold, and every spread says which of the two it
rests on. What is learned is rounded coarsely, so that one more round does not move every number of
the catalogue.

A further lesson joins `blank_contribution` and `learn`; judging gets it as a field of `Learned`.
Contributions are kept between builds: they are small plain data.
"""

from collections.abc import Iterable, Mapping, Sequence
from math import exp, log
from typing import Any

from blankbook.records.model import Blank, Prior, Shop, Study
from blankbook.results.comparable_lines import on_newest_lines
from blankbook.results.deliveries.severities import delivery_facts, series_by_blank
from blankbook.results.learning.left_over import left_over, lots_apart
from blankbook.results.learning.measuring_studies import between_people, repeat_pool
from blankbook.results.learning.stand_ins import fit_facts, nearest_by_blank
from blankbook.results.make_case import make_case
from blankbook.results.methods.variance_prior import fit_prior, trigamma
from blankbook.results.number_words import say_counted, say_spread
from blankbook.results.ordering.earlier_orders import order_facts
from blankbook.results.piece_spread import (
    Pool,
    coarsest_step,
    moderate,
    pool,
    repeat_groups,
    resolution_uncertainty,
)
from blankbook.results.result_types import NOTHING_LEARNED, Learned
from blankbook.words.points import POINTS

ENOUGH_BLANKS = 8
"""From so many blanks with replicated groups on, a spread is learned (a choice of ours)."""
ENOUGH_FREEDOM = 30
"""And from so many degrees of freedom in all of them together."""
ENOUGH_REPEATS = 10
"""From so many degrees of freedom in repeat readings on, the hand is said to be learned."""
MOST_WORTH = 30
"""What is learned weighs no more than this, in degrees of freedom."""
SUPPLIER_WORTH = 4
"""What it is worth, in degrees of freedom, that suppliers are alike in how their pieces differ."""
WORTH_A_WORD = 1.3
"""A supplier's variance that is less than so many times the usual one is taken as the usual."""
GRAIN = 1.05
"""Learned deviations are rounded to powers of this."""


def blank_contribution(blank: Blank, shop: Shop) -> dict[str, Any]:
    """Return what one blank gives to the ledger: its judging facts, and what it is compared by."""
    return {
        **judging_facts(blank, shop),
        "fit": fit_facts(blank, shop),
        "orders": order_facts(blank),
        "has_orders": bool(blank.orders),
    }


def taught_of(contribution: Mapping[str, Any]) -> dict[str, Any]:
    """Return of what `blank_contribution` gave what `judging_facts` gives."""
    return {name: part for name, part in contribution.items() if name != "fit"}


def judging_facts(blank: Blank, shop: Shop) -> dict[str, Any]:
    """Return what bears on the judging of others: leftovers, repeat readings, deliveries.

    JSON data. A wrong tag, as this blank's own readings show it, teaches nothing.
    """
    posterior = make_case(blank, shop).posterior
    left = {p: left_over(one, posterior.aside) for p, one in posterior.every.items()}
    lots = {p: lots_apart(one, posterior.aside) for p, one in posterior.every.items()}
    hand = pool(repeat_groups(blank.rounds))
    return {
        "step": coarsest_step(blank.rounds),
        "left": {point: [one.squares, one.freedom] for point, one in left.items() if one.freedom},
        "lots": {point: found for point, found in lots.items() if found},
        "hand": [hand.squares, hand.freedom],
        "deliveries": delivery_facts(on_newest_lines(blank), shop),
    }


def learn(
    contributions: Mapping[str, Any], shop: Shop, studies: Iterable[Study] = ()
) -> dict[str, Any]:
    """Return what each blank is handed, as JSON data, by its key; from all contributions."""
    near = nearest_by_blank(
        {key: contribution["fit"] for key, contribution in contributions.items()}, shop
    )
    learned = learn_to_judge(contributions, shop, studies)
    return {
        key: {**own, "nearest": near[key], **learned_of_orders(key, contributions)}
        for key, own in learned.items()
    }


def learned_of_orders(key: str, contributions: Mapping[str, Any]) -> dict[str, Any]:
    """Return what a blank with orders is handed of all orders, and of prices; else nothing.

    A blank without orders is not made anew where another has one more.
    """
    if not contributions[key].get("has_orders"):
        return {}
    return {
        "orders": [fact for own in contributions.values() for fact in own.get("orders", ())],
        "prices": {name: own["fit"]["price"] for name, own in contributions.items()},
    }


def learn_to_judge(
    contributions: Mapping[str, Any], shop: Shop, studies: Iterable[Study] = ()
) -> dict[str, Any]:
    """Return what the judging of each blank asks for, and not what could stand in for it.

    JSON data, by key; of what `judging_facts` or `blank_contribution` gave.
    """
    common = learn_common(contributions, shop, tuple(studies))
    inspected = series_by_blank(contributions, shop)
    hand = Prior(*common["hand"])
    wild = wildness(contributions, shop, hand)
    lots = lots_pools(contributions, shop, hand)
    found = {}
    for key, given in contributions.items():
        reading = reading_variance(given["step"], hand)
        spread = _scaled(common["spread"], wild[key], shop, reading)
        between = _between_lots(lots, shop, key) if key in lots else common["between_lots"]
        own = {"spread": spread, "between_lots": between, "inspection": inspected[key]}
        found[key] = {**common, **own}
    return found


def learned_from_data(data: Mapping[str, Any] | None) -> Learned:
    """Return what `learn` gave for one blank, typed; nothing was learned without it."""
    if not data:
        return NOTHING_LEARNED
    return Learned(
        spread={point: Prior(*spread) for point, spread in data["spread"].items()},
        between_lots=data["between_lots"],
        hand=Prior(*data["hand"]),
        hand_learned=data["hand_learned"],
        people=Prior(*data["people"]) if data["people"] else None,
        inspection=data["inspection"],
        nearest=data.get("nearest", ()),
        orders=data.get("orders", ()),
        prices=data.get("prices", {}),
    )


def learn_common(
    contributions: Mapping[str, Any], shop: Shop, studies: Sequence[Study]
) -> dict[str, Any]:
    """Return what every blank learns alike."""
    hand, freedom = ledger_repeatability(contributions, shop, studies)
    people = between_people(studies)
    spreads = {point: learn_spread(contributions, point, hand) for point in POINTS}
    return {
        "hand": [rounded_to_grain(hand.deviation), hand.worth],
        "hand_learned": freedom >= ENOUGH_REPEATS,
        "people": [rounded_to_grain(people.deviation), people.worth] if people else None,
        "spread": {
            point: [rounded_to_grain(spread.deviation), spread.worth]
            for point, spread in spreads.items()
            if spread
        },
        "between_lots": _between_lots(lots_pools(contributions, shop, hand), shop),
    }


def ledger_repeatability(
    contributions: Mapping[str, Any], shop: Shop, studies: Sequence[Study]
) -> tuple[Prior, int]:
    """Return the repeatability pooled over ledger and studies, and the freedom that was seen.

    It is moderated towards the shop's assumption, and weighs at most `MOST_WORTH`.
    """
    seen = sum((Pool(*contribution["hand"]) for contribution in contributions.values()), Pool())
    seen += sum((repeat_pool(study) for study in studies), Pool())
    deviation, freedom = moderate(shop.repeatability, seen)
    return Prior(deviation, min(round(freedom), MOST_WORTH)), round(seen.freedom)


def group_variances(
    contributions: Mapping[str, Any], point: str, hand: Prior
) -> list[tuple[float, int, float]]:
    """Return, for each blank with second pieces: variance, freedom, and its readings' part.

    Variances are of single readings of single pieces, square millimetres. Where nothing differs,
    pieces are taken to differ by what the tape cannot see.
    """
    found = []
    for _, contribution in sorted(contributions.items()):
        if left := contribution["left"].get(point):
            rounding = resolution_uncertainty(contribution["step"]) ** 2
            variance = max(left[0] / left[1], rounding)
            found.append((variance, left[1], reading_variance(contribution["step"], hand)))
    return found


def learn_spread(contributions: Mapping[str, Any], point: str, hand: Prior) -> Prior | None:
    """Return the spread between pieces that the ledger shows, or None where it has too little."""
    groups = group_variances(contributions, point, hand)
    total = sum(freedom for _, freedom, _ in groups)
    if len(groups) < ENOUGH_BLANKS or total < ENOUGH_FREEDOM:
        return None
    square, worth = fit_prior([(variance, freedom) for variance, freedom, _ in groups])
    reading = sum(freedom * part for _, freedom, part in groups) / total
    between = max(square - reading, square / 10) ** 0.5
    return Prior(between, max(1, round(min(worth, MOST_WORTH))))


def lots_pools(
    contributions: Mapping[str, Any], shop: Shop, hand: Prior
) -> dict[str, dict[str, Pool]]:
    """Return the squares that lots add beyond what pieces bring, by blank and point.

    Source: fitting constants, Henderson 1953 (method 3).
    """
    found: dict[str, dict[str, Pool]] = {}
    for key, given in sorted(contributions.items()):
        for point, (squares, freedom, factor) in given["lots"].items():
            assumed = shop.spread[point]
            usual = assumed.deviation**2 + reading_variance(given["step"], hand)
            left = Pool(*given["left"].get(point, (0.0, 0)))
            within = moderate(Prior(usual**0.5, assumed.worth), left)[0] ** 2
            own = Pool(freedom * (squares - freedom * within) / factor, freedom)
            found.setdefault(key, {})[point] = own
    return found


def _between_lots(
    pools: Mapping[str, Mapping[str, Pool]], shop: Shop, apart_from: str = ""
) -> dict[str, float]:
    """Return how far lots of one style differ, one deviation, where styles have two.

    It is drawn towards what the shop states, by as much as that is worth. A blank's own lots are
    left out, for they count when it is judged.
    """
    found = {}
    for point in POINTS:
        every = (own[point] for key, own in pools.items() if key != apart_from and point in own)
        seen = sum(every, Pool())
        if seen.freedom:
            stated = Prior(shop.lot_spread * shop.spread[point].deviation, shop.spread[point].worth)
            apart = moderate(stated, Pool(max(seen.squares, 0.0), seen.freedom))[0]
            found[point] = rounded_to_grain(apart)
    return found


def wildness(contributions: Mapping[str, Any], shop: Shop, hand: Prior) -> dict[str, float]:
    """Return how many times the usual variance pieces of each blank's supplier have, by the others.

    It is drawn towards one; a blank's own pieces are left out, for they count when it is judged.
    Source: the logs of sample variances and their moments, as in Smyth 2004, one level up; a mean
    of logs lets a few strange blanks move it little.
    """
    from scipy import special

    usual = {p: learn_spread(contributions, p, hand) or shop.spread[p] for p in POINTS}
    said: dict[str, Pool] = {}
    of: dict[str, Pool] = {}
    for key, given in contributions.items():
        for point, (squares, freedom) in given["left"].items():
            reading = reading_variance(given["step"], hand)
            ratio = max(squares / freedom, reading) / (usual[point].deviation ** 2 + reading)
            halves = freedom / 2, usual[point].worth / 2
            middle = [float(special.psi(half)) - log(half) for half in halves]
            weight = 1 / sum(trigamma(half) for half in halves)
            own = Pool(weight * (log(ratio) - middle[0] + middle[1]), weight)
            said[key] = said.get(key, Pool()) + own
            of[_supplier(key)] = of.get(_supplier(key), Pool()) + own
    found = {}
    for key in contributions:
        own, every = said.get(key, Pool()), of.get(_supplier(key), Pool())
        others = Pool(every.squares - own.squares, every.freedom - own.freedom)
        found[key] = exp(others.squares / (others.freedom + 1 / trigamma(SUPPLIER_WORTH / 2)))
    return found


def _supplier(key: str) -> str:
    return key.partition("/")[0]


def _scaled(
    learned: Mapping[str, Sequence[float]], wild: float, shop: Shop, reading: float
) -> dict[str, Sequence[float]]:
    """Return the spreads with a supplier's own variance, where it is worth a word."""
    if abs(log(wild)) < log(WORTH_A_WORD):
        return dict(learned)
    found: dict[str, Sequence[float]] = {}
    for point in POINTS:
        usual = Prior(*learned[point]) if point in learned else shop.spread[point]
        between = usual.deviation**2
        own = max(wild * (between + reading) - reading, between / 10)
        found[point] = [rounded_to_grain(own**0.5), usual.worth]
    return found


def reading_variance(step: float, hand: Prior) -> float:
    """Return the variance that one reading brings, with a tape read to *step*."""
    return resolution_uncertainty(step) ** 2 + hand.deviation**2


def rounded_to_grain(deviation: float) -> float:
    """Return a deviation rounded to a power of `GRAIN`; none stays none.

    >>> rounded_to_grain(3.1), rounded_to_grain(3.15), rounded_to_grain(0.0)
    (3.0715, 3.2251, 0.0)
    """
    if deviation <= 0:
        return 0.0
    power = round(log(deviation) / log(GRAIN))
    return float(round(GRAIN**power, 4))


def learned_lines(
    contributions: Mapping[str, Any], shop: Shop, studies: Sequence[Study]
) -> list[str]:
    """Return what was learned as sentences, with what each rests on."""
    hand, freedom = ledger_repeatability(contributions, shop, studies)
    people = between_people(studies)
    lines = [f"one hand, again: {say_spread(hand.deviation)}, {_repeats(freedom)}"]
    if people:
        lines.append(f"between people: {say_spread(people.deviation)}, from measuring studies")
    else:
        lines.append("between people: not known, because there is no measuring study")
    return lines + [_piece_line(contributions, shop, point, hand) for point in POINTS]


def _repeats(freedom: int) -> str:
    if freedom >= ENOUGH_REPEATS:
        return f"from {freedom} comparisons of repeat readings"
    return f"mostly assumed: {freedom} comparisons of repeat readings, {ENOUGH_REPEATS} are enough"


def _piece_line(contributions: Mapping[str, Any], shop: Shop, point: str, hand: Prior) -> str:
    groups = group_variances(contributions, point, hand)
    learned = learn_spread(contributions, point, hand)
    freedom = sum(degrees for _, degrees, _ in groups)
    blanks = say_counted(len(groups), "blank")
    rests = f"{blanks}, {freedom} degrees of freedom"
    name = f"{POINTS[point].name}, between pieces"
    if learned:
        return f"{name}: {say_spread(learned.deviation)}, learned ({rests})"
    enough = f"{ENOUGH_BLANKS} and {ENOUGH_FREEDOM} are enough"
    return f"{name}: {say_spread(shop.spread[point].deviation)}, assumed ({rests}; {enough})"
