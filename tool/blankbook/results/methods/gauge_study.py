"""How well the shop measures: repeatability and reproducibility of several people and one tape.

Every appraiser reads every piece equally often. What one appraiser reads differently on the same
piece is repeatability (equipment variation, EV). What appraisers differ by is reproducibility
(appraiser variation, AV). Both together are the gauge (GRR), beside the variation of the pieces
(PV). All are standard deviations, in the unit of the readings.
Source: Measurement Systems Analysis, AIAG, 4th edition, chapter III.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import hypot
from statistics import fmean

from blankbook.results.methods.chart_constants import constants, range_divisor

POOLED_ABOVE = 0.25
"""An interaction with a larger p counts as noise and is pooled with the repeat readings."""
TOLERANCE_DEVIATIONS = 6.0
"""So many standard deviations are compared with the whole width of a tolerance."""
ROUNDING = 1e-12
"""What sums of floats may be off by, as a part of the largest of them."""
CATEGORY_WIDTH = 1.41
"""Width of a distinct category in gauge deviations: the square root of two, as printed."""


class UnusableStudyError(ValueError):
    """The readings of a study cannot separate people, pieces and repeats."""


@dataclass(frozen=True, slots=True)
class StudyReading:
    """One reading in a study."""

    appraiser: str
    piece: str
    value: float


@dataclass(frozen=True, slots=True)
class Gauge:
    """The parts of the variation in a study, as standard deviations in the readings' unit."""

    repeatability: float
    reproducibility: float
    pieces: float

    @property
    def gauge(self) -> float:
        """Repeatability and reproducibility together (GRR)."""
        return hypot(self.repeatability, self.reproducibility)

    def percent_of_tolerance(self, width: float) -> float:
        """Return six gauge deviations in percent of a tolerance, *width* from end to end."""
        return 100 * TOLERANCE_DEVIATIONS * self.gauge / width

    @property
    def categories(self) -> int | None:
        """The number of distinct categories, cut to a whole number.

        None where all repeats agree: then the step of the tape limits it, not this study.
        """
        return int(CATEGORY_WIDTH * self.pieces / self.gauge) if self.gauge else None


@dataclass(frozen=True, slots=True)
class RangeStudy:
    """A study by averages and ranges."""

    mean_range: float
    """Mean range of the repeats over all appraisers and pieces."""
    appraiser_range: float
    """Range of the appraisers' averages."""
    piece_range: float
    """Range of the pieces' averages."""
    gauge: Gauge


@dataclass(frozen=True, slots=True)
class VarianceRow:
    """One line of an analysis of variance."""

    squares: float
    """Sum of squares, in the square of the readings' unit."""
    freedom: int

    @property
    def mean_square(self) -> float:
        """The sum of squares over its degrees of freedom."""
        return self.squares / self.freedom


@dataclass(frozen=True, slots=True)
class VarianceStudy:
    """A study by analysis of variance, with its table."""

    pieces: VarianceRow
    appraisers: VarianceRow
    interaction: VarianceRow
    repeats: VarianceRow
    interaction_ratio: float
    """F of the interaction against the repeats; infinite where all repeats agree."""
    interaction_chance: float
    """p of that F."""
    error: VarianceRow
    """The row of repeatability: the repeats, pooled with the interaction where that is noise."""
    gauge: Gauge

    @property
    def pooled(self) -> bool:
        """Whether the interaction was pooled with the repeats as noise."""
        return self.error.freedom != self.repeats.freedom


def average_and_range(readings: Iterable[StudyReading]) -> RangeStudy:
    """Return the study by the average-and-range method.

    Raises: UnusableStudyError unless every appraiser read every piece equally often.
    Source: AIAG MSA, 4th edition; K1 = 1/d2, K2 and K3 = 1/d2* of one range.
    """
    cells = _table(readings)
    people, pieces, repeats = _shape(cells)
    mean_range = fmean(_range(cell) for row in cells for cell in row)
    apart = _range([fmean(value for cell in row for value in cell) for row in cells])
    by_piece = zip(*cells, strict=True)
    piece_range = _range([fmean(value for cell in cells for value in cell) for cells in by_piece])
    repeatability = mean_range / constants(repeats).d2
    between = (apart / range_divisor(people, 1)) ** 2 - repeatability**2 / (pieces * repeats)
    pieces_vary = piece_range / range_divisor(pieces, 1)
    gauge = Gauge(repeatability, max(between, 0.0) ** 0.5, pieces_vary)
    return RangeStudy(mean_range, apart, piece_range, gauge)


def analysis_of_variance(readings: Iterable[StudyReading]) -> VarianceStudy:
    """Return the study by two-way analysis of variance, appraisers and pieces both random.

    An interaction with p above 0.25 is pooled with the repeats. Variances that come out negative
    are set to zero.
    Raises: UnusableStudyError unless every appraiser read every piece equally often.
    Source: AIAG MSA, 4th edition, chapter III, analysis of variance method.
    """
    from scipy import special

    cells = _table(readings)
    pieces, appraisers, interaction, repeats = _rows(cells)
    ratio = _ratio(interaction, repeats)
    chance = float(special.fdtrc(interaction.freedom, repeats.freedom, ratio))
    error = _joined(interaction, repeats) if chance > POOLED_ABOVE else repeats
    base = error if error is not repeats else interaction
    gauge = _gauge(_shape(cells), (pieces, appraisers, base, error))
    return VarianceStudy(pieces, appraisers, interaction, repeats, ratio, chance, error, gauge)


def _gauge(
    shape: tuple[int, int, int], rows: tuple[VarianceRow, VarianceRow, VarianceRow, VarianceRow]
) -> Gauge:
    """Return the deviations from the mean squares; the third is the error of the main effects."""
    people, count, repeats = shape
    pieces, appraisers, base, error = (row.mean_square for row in rows)
    crossed = max((base - error) / repeats, 0.0)
    between = max((appraisers - base) / (count * repeats), 0.0)
    apart = max((pieces - base) / (people * repeats), 0.0)
    return Gauge(error**0.5, (between + crossed) ** 0.5, apart**0.5)


StudyCells = list[list[list[float]]]
"""Readings by appraiser, then piece, then repeat."""


def _rows(cells: StudyCells) -> tuple[VarianceRow, VarianceRow, VarianceRow, VarianceRow]:
    """Return pieces, appraisers, their interaction and the repeats."""
    people, count, repeats = _shape(cells)
    means = [[fmean(cell) for cell in row] for row in cells]
    by_person = [fmean(row) for row in means]
    by_piece = [fmean(values) for values in zip(*means, strict=True)]
    middle = fmean(by_person)
    pieces = people * repeats * _squares(by_piece)
    appraisers = count * repeats * _squares(by_person)
    crossed = repeats * sum(
        (mean - person - piece + middle) ** 2
        for row, person in zip(means, by_person, strict=True)
        for mean, piece in zip(row, by_piece, strict=True)
    )
    within = sum(_squares(cell) for row in cells for cell in row)
    noise = _noise(cells)
    squares = (found if found > noise else 0.0 for found in (pieces, appraisers, crossed, within))
    freedom = (count - 1, people - 1, (count - 1) * (people - 1), count * people * (repeats - 1))
    rows = [VarianceRow(one, free) for one, free in zip(squares, freedom, strict=True)]
    return rows[0], rows[1], rows[2], rows[3]


def _noise(cells: StudyCells) -> float:
    """Return a sum of squares that the rounding of the sums alone could make.

    Readings that agree exactly would else differ by the last digit of a float, and a study would
    tell quadrillions of groups apart.
    """
    values = [abs(value) for row in cells for cell in row for value in cell]
    return len(values) * (max(values) * ROUNDING) ** 2


def _squares(values: Sequence[float]) -> float:
    mean = fmean(values)
    return sum((value - mean) ** 2 for value in values)


def _range(values: Sequence[float]) -> float:
    return max(values) - min(values)


def _ratio(over: VarianceRow, under: VarianceRow) -> float:
    return over.mean_square / under.mean_square if under.squares else float("inf")


def _joined(first: VarianceRow, second: VarianceRow) -> VarianceRow:
    return VarianceRow(first.squares + second.squares, first.freedom + second.freedom)


def _shape(cells: StudyCells) -> tuple[int, int, int]:
    return len(cells), len(cells[0]), len(cells[0][0])


def _table(readings: Iterable[StudyReading]) -> StudyCells:
    """Return the readings by appraiser and piece, in the order they first appear."""
    found: dict[tuple[str, str], list[float]] = {}
    for reading in readings:
        found.setdefault((reading.appraiser, reading.piece), []).append(reading.value)
    people = list(dict.fromkeys(person for person, _ in found))
    pieces = list(dict.fromkeys(piece for _, piece in found))
    _check_size(people, pieces)
    _check_balance(found, people, pieces)
    return [[found[person, piece] for piece in pieces] for person in people]


def _check_size(people: list[str], pieces: list[str]) -> None:
    if min(len(people), len(pieces)) < 2:
        raise UnusableStudyError(
            f"must be two people and two pieces or more, found {len(people)} and {len(pieces)}"
        )


def _check_balance(
    found: dict[tuple[str, str], list[float]], people: list[str], pieces: list[str]
) -> None:
    wanted = max(2, *(len(values) for values in found.values()))
    for person in people:
        for piece in pieces:
            count = len(found.get((person, piece), ()))
            if count != wanted:
                raise UnusableStudyError(
                    f"must be {wanted} readings of every piece by every person, "
                    f"found {count} of {piece} by {person}"
                )
