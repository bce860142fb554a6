"""How well the shop measures: what a study of several people, pieces and readings shows.

The study is worked out in both of the usual ways, by averages and ranges and by analysis of
variance; the latter feeds the uncertainty of every reading in the ledger.
Source: Measurement Systems Analysis, AIAG, 4th edition, chapter III (from memory; the numbers of
its worked example are held by a test).
"""

from collections.abc import Iterable
from dataclasses import dataclass

from blankbook.records.model import Prior, Shop, Study
from blankbook.results.methods.gauge_study import (
    RangeStudy,
    StudyReading,
    VarianceStudy,
    analysis_of_variance,
    average_and_range,
)
from blankbook.results.number_words import say_sentences, say_spread
from blankbook.results.piece_spread import Pool, pool, resolution_uncertainty
from blankbook.words.points import POINTS

GOOD, BEARABLE = 10.0, 30.0
"""Percent of the tolerance that measuring may take up (common practice, from memory of AIAG)."""
ENOUGH_CATEGORIES = 5
"""The fewest distinct categories that are wanted (common practice, from memory of AIAG)."""


@dataclass(frozen=True, slots=True)
class StudyResult:
    """What one study shows. Standard deviations in millimetres."""

    study: Study
    by_range: RangeStudy
    by_variance: VarianceStudy
    tape: float
    """What the tape's step brings by itself."""
    share: float
    """Six gauge deviations in percent of the width of the tolerance."""
    word: str
    """``good``, ``bearable`` or ``too much``."""
    says: str
    """One sentence."""


def study_result(study: Study, shop: Shop) -> StudyResult:
    """Return what a study shows, against the shop's tolerance at its point of measure."""
    readings = list(study_readings(study))
    by_range, by_variance = average_and_range(readings), analysis_of_variance(readings)
    width = 2 * shop.tolerance[study.point]
    share = by_variance.gauge.percent_of_tolerance(width)
    word = "good" if share <= GOOD else "bearable" if share <= BEARABLE else "too much"
    tape = resolution_uncertainty(study.tape.reads_to.mm)
    says = _says(study, by_variance, share, word)
    return StudyResult(study, by_range, by_variance, tape, share, word, says)


def study_readings(study: Study) -> Iterable[StudyReading]:
    """Yield every reading of a study, millimetres."""
    for piece in study.pieces:
        for person, readings in piece.read.items():
            for reading in readings:
                yield StudyReading(person, piece.key, reading.mm)


def repeat_pool(study: Study) -> Pool:
    """Return the squares of repeat readings: the same person and piece."""
    return pool(
        [reading.mm for reading in readings]
        for piece in study.pieces
        for readings in piece.read.values()
    )


def between_people(studies: Iterable[Study]) -> Prior | None:
    """Return the reproducibility: what people differ by at the same piece; None without a study.

    Several studies are joined by their degrees of freedom, the number of people less one.
    """
    squares, freedom = 0.0, 0
    for study in studies:
        own = len(study.people) - 1
        gauge = analysis_of_variance(study_readings(study)).gauge
        squares += own * gauge.reproducibility**2
        freedom += own
    return Prior((squares / freedom) ** 0.5, freedom) if freedom else None


def _says(study: Study, found: VarianceStudy, share: float, word: str) -> str:
    gauge = found.gauge
    name = POINTS[study.point].name
    hand = f"one hand differs from itself by {say_spread(gauge.repeatability)}"
    people = f"people from each other by {say_spread(gauge.reproducibility)}"
    if gauge.reproducibility < gauge.repeatability / 10:
        people = "people hardly from each other"
    return say_sentences(
        f"{name}: {hand} (standard deviation), {people}",
        f"together they take up {share:.0f} % of the tolerance, which is {word}",
        f"distinct categories of pieces: {_categories(gauge.categories)}",
    )


def _categories(count: int | None) -> str:
    if count is None:
        return "as many as the tape has marks"
    if count < 2:
        return "none"
    return str(count) if count >= ENOUGH_CATEGORIES else f"{count}, {ENOUGH_CATEGORIES} are wanted"
