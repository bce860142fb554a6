"""The page on the shop's own measuring: its studies, and what the ledger has learned so far."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from blankbook.pages.page_spec import PageSpec
from blankbook.pages.page_types import AnswerSign
from blankbook.pages.record_sources import RecordSource
from blankbook.pages.value_words import sign_of
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
from blankbook.words.answers import Answer
from blankbook.words.points import POINTS


@dataclass(frozen=True, slots=True)
class LearnedSpread:
    """How much pieces differ at one point, in millimetres: assumed, and learned."""

    point: str
    assumed: str
    blanks: int
    freedom: int
    learned: bool
    spread: str
    worth: str


@dataclass(frozen=True, slots=True)
class StudyWay:
    """A study worked out in one of the two ways, standard deviations in millimetres."""

    way: str
    repeatability: str
    reproducibility: str
    gauge: str
    pieces: str
    share: str
    """Of the tolerance, in percent."""
    categories: str


@dataclass(frozen=True, slots=True)
class StudySection:
    """One measuring study."""

    date: str
    by: str
    point: str
    pieces: int
    people: tuple[str, ...]
    readings: int
    tape: str
    says: str
    interaction: str
    ways: tuple[StudyWay, ...]
    note: str
    source: RecordSource


@dataclass(frozen=True, slots=True)
class MeasuringContext:
    """All that the page shows."""

    up: str
    hand: str
    hand_freedom: int
    hand_learned: bool
    enough_repeats: int
    people: str
    spreads: tuple[LearnedSpread, ...]
    enough_blanks: int
    enough_freedom: int
    studies: tuple[StudySection, ...]
    good: str
    bearable: str
    categories: int
    not_tested: AnswerSign


def measuring_page(
    shop: Shop, studies: Sequence[Study], contributions: Mapping[str, Any]
) -> PageSpec[MeasuringContext]:
    """Return the page; *contributions* are what each blank adds to what the ledger learns."""
    hand, freedom = ledger_repeatability(contributions, shop, studies)
    people = between_people(studies)
    context = MeasuringContext(
        up="",
        hand=say_spread(hand.deviation),
        hand_freedom=freedom,
        hand_learned=freedom >= ENOUGH_REPEATS,
        enough_repeats=ENOUGH_REPEATS,
        people=say_spread(people.deviation) if people else "",
        spreads=tuple(_spread(contributions, shop, point, hand) for point in POINTS),
        enough_blanks=ENOUGH_BLANKS,
        enough_freedom=ENOUGH_FREEDOM,
        studies=tuple(_study(study_result(study, shop), shop) for study in reversed(studies)),
        good=f"{GOOD:g}",
        bearable=f"{BEARABLE:g}",
        categories=ENOUGH_CATEGORIES,
        not_tested=sign_of(Answer.NOT_TESTED),
    )
    return PageSpec(
        "measuring.html",
        "How well we measure",
        "shop/measuring.html.j2",
        context,
        sources=tuple(study.source for study in context.studies),
    )


def _spread(contributions: Mapping[str, Any], shop: Shop, point: str, hand: Prior) -> LearnedSpread:
    groups = group_variances(contributions, point, hand)
    learned = learn_spread(contributions, point, hand)
    return LearnedSpread(
        point=POINTS[point].name,
        assumed=f"{shop.spread[point].deviation:.1f}",
        blanks=len(groups),
        freedom=sum(freedom for _, freedom, _ in groups),
        learned=learned is not None,
        spread=f"{learned.deviation:.1f}" if learned else "",
        worth=f"{learned.worth:g}" if learned else "",
    )


def _study(measured: StudyResult, shop: Shop) -> StudySection:
    study = measured.study
    ways = (
        ("averages and ranges", measured.by_range.gauge),
        ("analysis of variance", measured.by_variance.gauge),
    )
    width = 2 * shop.tolerance[study.point]
    pooled = "" if measured.by_variance.pooled else "not "
    return StudySection(
        date=study.date.isoformat(),
        by=study.by,
        point=POINTS[study.point].name,
        pieces=len(study.pieces),
        people=tuple(study.people),
        readings=len(next(iter(study.pieces[0].read.values()))),
        tape=f"{study.tape.reads_to.written} {study.tape.unit}",
        says=measured.says[:1].upper() + measured.says[1:],
        interaction=f"People and pieces {pooled}taken as independent (p = "
        f"{measured.by_variance.interaction_chance:.2f}).",
        ways=tuple(
            StudyWay(
                way=way,
                repeatability=f"{gauge.repeatability:.2f}",
                reproducibility=f"{gauge.reproducibility:.2f}",
                gauge=f"{gauge.gauge:.2f}",
                pieces=f"{gauge.pieces:.2f}",
                share=f"{gauge.percent_of_tolerance(width):.0f}",
                categories="as the tape" if gauge.categories is None else str(gauge.categories),
            )
            for way, gauge in ways
        ),
        note=study.note,
        source=RecordSource(study.source.path),
    )
