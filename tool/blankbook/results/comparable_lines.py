"""Which lengths may be compared: those that were measured along the same line.

Suppliers measure some points along different lines: a body length from the centre of the back neck
seam is another length than one from the high point of the shoulder. Each chart, round and delivery
says in ``how`` which line it took; without a word it is the first of the vocabulary. Before a blank
is judged, the line of its newest readings is chosen for each point, and what was measured along
another line is left out of every check.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from blankbook.records.comparable import Variants, chart_without, is_comparable
from blankbook.records.model import Blank, Delivery, Piece, Round, Washed
from blankbook.results.result_types import Case, Result
from blankbook.words.points import POINTS

NOT_COMPARABLE = "not comparable"
"""The word of a result whose chart runs along another line."""


@dataclass(frozen=True, slots=True)
class LineMismatch:
    """A point where chart and readings run along different lines."""

    point: str
    charted: str
    """The chart's line, in words."""
    measured: str
    """The line of the readings, in words."""

    @property
    def says(self) -> str:
        """Why the point is not judged, in words."""
        name = POINTS[self.point].name
        return (
            f"{name} is charted {self.charted} and was measured {self.measured}: "
            "the two are not comparable"
        )


def on_newest_lines(blank: Blank) -> Blank:
    """Return a blank with only what runs along the line of its newest readings, point by point.

    It is the same object where everything can be compared.
    """
    odd = {
        point
        for how in _hows(blank)
        for point, way in how.items()
        if way in POINTS[point].incomparable
    }
    if not odd:
        return blank
    chosen = {point: way for point in odd if (way := _newest_line(blank, point)) is not None}
    style = blank.style
    charts = tuple(
        chart_without(chart, _points_unlike(chart.how, chosen)) for chart in style.charts
    )
    return replace(
        blank,
        style=replace(style, charts=charts),
        rounds=tuple(
            _round_without(round_, _points_unlike(round_.how, chosen)) for round_ in blank.rounds
        ),
        deliveries=tuple(
            _delivery_without(delivery, _points_unlike(delivery.how, chosen))
            for delivery in blank.deliveries
        ),
    )


def measuring_line(blank: Blank, point: str) -> str:
    """Return the line of a point's newest readings, else of its newest chart, else ""."""
    way = _newest_line(blank, point)
    charts = [
        chart for chart in blank.style.charts if any(point in row for row in chart.sizes.values())
    ]
    own = charts[-1].how.get(point, "") if charts else ""
    if way is None or (not way and POINTS[point].are_comparable(way, own)):
        return own  # a chart may say finer than a round how its own line runs
    return way


def is_on_guide_line(blank: Blank, point: str) -> bool:
    """Say whether a point's newest readings run along the line of the measuring guide."""
    return POINTS[point].are_comparable("", _newest_line(blank, point) or "")


def with_all_lines(case: Case) -> Case:
    """Return the case with all that was measured: a percentage holds along any line."""
    return replace(case, blank=case.whole) if case.whole else case


def line_mismatch(case: Case, record: Round | Delivery, point: str) -> LineMismatch | None:
    """Return why readings of a round or delivery cannot be compared with the chart of their day."""
    if case.whole is None:
        return None
    day = record.chart_day if isinstance(record, Round) else record.date
    chart = case.whole.style.chart_on(day)
    if chart is None or is_comparable(point, chart.how, record.how):
        return None
    records: tuple[Round | Delivery, ...] = (*case.whole.rounds, *case.whole.deliveries)
    pieces = next((record.pieces for record in records if record.key == record.key), ())
    if not any(point in row for row in chart.sizes.values()):
        return None
    if not any(point in piece.received for piece in pieces):
        return None
    words = POINTS[point].variant_meaning
    return LineMismatch(point, words(chart.how.get(point, "")), words(record.how.get(point, "")))


def line_mismatches(case: Case, results: Iterable[Result]) -> list[LineMismatch]:
    """Return the mismatches behind the results that are not comparable, each once."""
    rounds = {round_.key: round_ for round_ in case.blank.rounds}
    found = (
        line_mismatch(case, rounds[result.round], result.point)
        for result in results
        if result.word == NOT_COMPARABLE
    )
    return list(dict.fromkeys(unlike for unlike in found if unlike))


def step_for_mismatch(unlike: LineMismatch) -> str:
    """Return what to do where chart and readings run along different lines."""
    name = POINTS[unlike.point].name
    key = next(key for key, says in POINTS[unlike.point].variants if says == unlike.charted)
    return (
        f"ask the supplier for the {name} {unlike.measured}; or measure it as the chart does, "
        f"{unlike.charted}, and write how: {{{unlike.point}: {key}}} into that round"
    )


def _hows(blank: Blank) -> Iterator[Variants]:
    yield from (chart.how for chart in blank.style.charts)
    yield from (round_.how for round_ in blank.rounds)
    yield from (delivery.how for delivery in blank.deliveries)


def _newest_line(blank: Blank, point: str) -> str | None:
    """Return the line of the newest round with the point, else delivery; None without readings."""
    records: tuple[Round | Delivery, ...] = (*blank.deliveries, *blank.rounds)
    for record in reversed(records):
        if any(point in piece.received for piece in record.pieces):
            return record.how.get(point, "")
    return None


def _points_unlike(how: Variants, chosen: Mapping[str, str]) -> set[str]:
    return {point for point in chosen if not is_comparable(point, how, chosen)}


def _round_without(round_: Round, points: set[str]) -> Round:
    return replace(round_, pieces=_pieces_without(round_.pieces, points)) if points else round_


def _delivery_without(delivery: Delivery, points: set[str]) -> Delivery:
    return (
        replace(delivery, pieces=_pieces_without(delivery.pieces, points)) if points else delivery
    )


def _pieces_without(pieces: tuple[Piece, ...], points: set[str]) -> tuple[Piece, ...]:
    return tuple(
        replace(
            piece,
            received={p: r for p, r in piece.received.items() if p not in points},
            washed=tuple(_stage_without(stage, points) for stage in piece.washed),
        )
        for piece in pieces
    )


def _stage_without(washed: Washed, points: set[str]) -> Washed:
    return replace(washed, readings={p: r for p, r in washed.readings.items() if p not in points})
