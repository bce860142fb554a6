"""The page on the shop's own measuring: its studies, and what the ledger has taught so far."""

from collections.abc import Mapping, Sequence
from typing import Any

from blankbook.pages.page_spec import PageSpec
from blankbook.pages.record_sources import source_of
from blankbook.records.model import Prior, Shop, Study
from blankbook.results.learning.ledger_learning import (
    ENOUGH_BLANKS,
    ENOUGH_FREEDOM,
    ENOUGH_REPEATS,
    group_variances,
    learn_spread,
    ledger_repeatability,
)
from blankbook.results.learning.measuring_studies import (
    BEARABLE,
    ENOUGH_CATEGORIES,
    GOOD,
    StudyResult,
    between_people,
    study_result,
)
from blankbook.results.number_words import say_spread
from blankbook.words.points import POINTS


def measuring_page(
    shop: Shop, studies: Sequence[Study], contributions: Mapping[str, Any]
) -> PageSpec:
    """Return the page; *contributions* are what each blank gave to what is learned."""
    hand, freedom = ledger_repeatability(contributions, shop, studies)
    people = between_people(studies)
    context: dict[str, Any] = {
        "up": "",
        "hand": say_spread(hand.deviation),
        "hand_freedom": freedom,
        "hand_learned": freedom >= ENOUGH_REPEATS,
        "enough_repeats": ENOUGH_REPEATS,
        "people": say_spread(people.deviation) if people else "",
        "spreads": [_spread(contributions, shop, point, hand) for point in POINTS],
        "enough_blanks": ENOUGH_BLANKS,
        "enough_freedom": ENOUGH_FREEDOM,
        "studies": [_study(study_result(study, shop), shop) for study in reversed(studies)],
        "good": f"{GOOD:g}",
        "bearable": f"{BEARABLE:g}",
        "categories": ENOUGH_CATEGORIES,
    }
    return PageSpec("measuring.html", "How well we measure", "shop/measuring.html.j2", context)


def _spread(
    contributions: Mapping[str, Any], shop: Shop, point: str, hand: Prior
) -> dict[str, str | int | bool]:
    groups = group_variances(contributions, shop, point, hand)
    learned = learn_spread(contributions, shop, point, hand)
    return {
        "point": POINTS[point].name,
        "assumed": f"{shop.spread[point].deviation:.1f}",
        "blanks": len(groups),
        "freedom": sum(freedom for _, freedom, _ in groups),
        "learned": learned is not None,
        "spread": f"{learned.deviation:.1f}" if learned else "",
        "worth": f"{learned.worth:g}" if learned else "",
    }


def _study(measured: StudyResult, shop: Shop) -> dict[str, Any]:
    study = measured.study
    ways = (
        ("averages and ranges", measured.by_range.gauge),
        ("analysis of variance", measured.by_variance.gauge),
    )
    width = 2 * shop.tolerance[study.point]
    pooled = "" if measured.by_variance.pooled else "not "
    return {
        "key": study.key,
        "date": study.date.isoformat(),
        "by": study.by,
        "point": POINTS[study.point].name,
        "pieces": len(study.pieces),
        "people": list(study.people),
        "readings": len(next(iter(study.pieces[0].read.values()))),
        "tape": f"{study.tape.reads_to.written} {study.tape.unit}",
        "says": measured.says[:1].upper() + measured.says[1:],
        "interaction": f"People and pieces {pooled}taken as independent (p = "
        f"{measured.by_variance.interaction_chance:.2f}).",
        "ways": [
            {
                "way": way,
                "repeatability": f"{gauge.repeatability:.2f}",
                "reproducibility": f"{gauge.reproducibility:.2f}",
                "gauge": f"{gauge.gauge:.2f}",
                "pieces": f"{gauge.pieces:.2f}",
                "share": f"{gauge.percent_of_tolerance(width):.0f}",
                "categories": "as the tape" if gauge.categories is None else str(gauge.categories),
            }
            for way, gauge in ways
        ],
        "note": study.note,
        "source": source_of(study.source.path),
    }
