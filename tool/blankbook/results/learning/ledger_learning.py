"""What the whole ledger teaches about one blank: how pieces spread, how steady the hands are, and
how strictly its supplier's deliveries are inspected.

Every blank contributes a little data; what follows from all of it is handed to the judging of each.
Until there is enough, the shop's own assumptions hold, and every spread says which of the two it
rests on. What is learned is rounded coarsely, so that one more round does not move every number of
the catalogue.

A further lesson joins `blank_contribution` and `learn`; judging gets it as a field of `Learned`.
Contributions are kept between builds: they are small plain data.
"""

from collections.abc import Iterable, Mapping, Sequence
from math import log
from typing import Any

from blankbook.records.model import Blank, Prior, Shop, Study
from blankbook.results.comparable_lines import on_newest_lines
from blankbook.results.deliveries.severities import delivery_facts, series_by_blank
from blankbook.results.learning.measuring_studies import between_people, repeat_pool
from blankbook.results.learning.stand_ins import fit_facts, nearest_by_blank
from blankbook.results.methods.variance_prior import fit_prior, usual_variance
from blankbook.results.number_words import say_counted, say_spread
from blankbook.results.ordering.earlier_orders import order_facts
from blankbook.results.piece_spread import (
    Pool,
    coarsest_step,
    moderate,
    piece_pools,
    pool,
    repeat_groups,
    resolution_uncertainty,
    without_outliers,
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


def judging_facts(blank: Blank, shop: Shop) -> dict[str, Any]:
    """Return what bears on other blanks as JSON data: groups, repeat readings, deliveries."""
    step = coarsest_step(blank.rounds)
    points = {
        point: [[group.squares, group.freedom] for group in piece_pools(blank.rounds, point)]
        for point in POINTS
    }
    hand = pool(repeat_groups(blank.rounds))
    return {
        "step": step,
        "groups": {point: groups for point, groups in points.items() if groups},
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
    """Return what the judging of each blank needs, without what could stand in for it.

    JSON data, by key; judging facts are enough for it.
    """
    common = learn_common(contributions, shop, tuple(studies))
    inspected = series_by_blank(contributions, shop)
    return {key: {**common, "inspection": inspected[key]} for key in contributions}


def learned_from_data(data: Mapping[str, Any] | None) -> Learned:
    """Return what `learn` gave for one blank, typed; without data nothing was learned."""
    if not data:
        return NOTHING_LEARNED
    return Learned(
        spread={point: Prior(*prior) for point, prior in data["spread"].items()},
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
    spreads = {point: learn_spread(contributions, shop, point, hand) for point in POINTS}
    return {
        "hand": [rounded_to_grain(hand.deviation), hand.worth],
        "hand_learned": freedom >= ENOUGH_REPEATS,
        "people": [rounded_to_grain(people.deviation), people.worth] if people else None,
        "spread": {
            point: [rounded_to_grain(prior.deviation), prior.worth]
            for point, prior in spreads.items()
            if prior
        },
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
    return Prior(deviation, min(round(freedom), MOST_WORTH)), seen.freedom


def group_variances(
    contributions: Mapping[str, Any], shop: Shop, point: str, hand: Prior
) -> list[tuple[float, int, float]]:
    """Return, for each blank with replicated groups: variance, freedom, and its readings' part.

    Variances are of single readings of single pieces, square millimetres. Groups that no spread
    explains are left out. Where no piece differs, the step of the tape stands for the difference.
    """
    given = [
        contribution
        for _, contribution in sorted(contributions.items())
        if contribution["groups"].get(point)
    ]
    usual = _usual(given, point)
    found = []
    for contribution in given:
        rounding = resolution_uncertainty(contribution["step"]) ** 2
        reading = rounding + hand.deviation**2
        assumed = shop.spread[point]
        expected = max(assumed.deviation**2 + reading, usual)
        pools = [Pool(*group) for group in contribution["groups"][point]]
        kept = sum(without_outliers(pools, Prior(expected**0.5, assumed.worth)), Pool())
        if kept.freedom:
            found.append((max(kept.squares / kept.freedom, rounding), kept.freedom, reading))
    return found


def _usual(given: Sequence[Mapping[str, Any]], point: str) -> float:
    """Return what a group's variance usually is, whatever the shop assumes; 0 without groups."""
    groups = [
        (max(squares / freedom, resolution_uncertainty(contribution["step"]) ** 2), freedom)
        for contribution in given
        for squares, freedom in contribution["groups"][point]
    ]
    return usual_variance(groups) if groups else 0.0


def learn_spread(
    contributions: Mapping[str, Any], shop: Shop, point: str, hand: Prior
) -> Prior | None:
    """Return the spread between pieces that the ledger shows, or None where it has too little."""
    groups = group_variances(contributions, shop, point, hand)
    total = sum(freedom for _, freedom, _ in groups)
    if len(groups) < ENOUGH_BLANKS or total < ENOUGH_FREEDOM:
        return None
    square, worth = fit_prior([(variance, freedom) for variance, freedom, _ in groups])
    reading = sum(freedom * part for _, freedom, part in groups) / total
    between = max(square - reading, square / 10) ** 0.5
    return Prior(between, max(1, round(min(worth, MOST_WORTH))))


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
    groups = group_variances(contributions, shop, point, hand)
    learned = learn_spread(contributions, shop, point, hand)
    freedom = sum(degrees for _, degrees, _ in groups)
    blanks = say_counted(len(groups), "blank")
    rests = f"{blanks}, {freedom} degrees of freedom"
    name = f"{POINTS[point].name}, between pieces"
    if learned:
        return f"{name}: {say_spread(learned.deviation)}, learned ({rests})"
    enough = f"{ENOUGH_BLANKS} and {ENOUGH_FREEDOM} are enough"
    return f"{name}: {say_spread(shop.spread[point].deviation)}, assumed ({rests}; {enough})"
