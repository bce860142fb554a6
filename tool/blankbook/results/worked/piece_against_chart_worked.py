"""One reading against its tolerance with a guard band, worked out."""

from blankbook.results.checks.piece_against_chart import judge
from blankbook.results.limits import normal_quantile
from blankbook.results.methods.conformity import guard_band
from blankbook.results.piece_spread import mean_reading
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case
from blankbook.results.worked.working_lines import (
    CHANCE_FIGURES,
    WorkedLine,
    answer_line,
    decimal_text,
    length_figures,
    mean_sum,
    read_line,
    required_number,
)
from blankbook.words.points import POINTS


def piece_lines(case: Case) -> list[WorkedLine]:
    """Return the piece that is nearest to the border, worked out."""
    results = [r for r in judge(case) if r.number(Quantity.OFF_THE_CHART)]
    result = max(
        results, key=lambda r: abs(required_number(r, Quantity.OFF_THE_CHART).value), default=None
    )
    if result is None or case.round is None:
        return []
    piece = next(piece for piece in case.round.pieces if piece.key == result.piece)
    readings = [reading.mm for reading in piece.received[result.point]]
    figures = length_figures(case.shop.unit)
    off, allowed = (
        required_number(result, Quantity.OFF_THE_CHART),
        required_number(result, Quantity.TOLERANCE),
    )
    error = required_number(result, Quantity.READING_UNCERTAINTY)
    target = mean_reading(piece.received[result.point]) - off.value
    tape = case.round.tape.reads_to.mm
    hand = next(iter(case.spreads.values())).hand
    reading = f"√({figures.bare(tape)}² / 12 + {figures.bare(hand, 1)}² / {len(readings)})"
    u = figures.bare(error.value, 1)
    z = decimal_text(normal_quantile(1 - case.shop.risk), 3)
    ends = [
        f"Φ(({figures.put(end)} − {figures.put(off.value)}) / {u})"
        for end in (allowed.value, -allowed.value)
    ]
    mean = mean_sum(readings, figures)
    conforms = required_number(result, Quantity.CONFORMANCE).value
    return [
        read_line(f"{piece.key} {POINTS[result.point].name}", readings, figures),
        WorkedLine("off the chart", figures.full(off.value), f"{mean} − {figures.bare(target)}"),
        WorkedLine("uncertainty u of the reading", figures.full(error.value, 1), reading),
        WorkedLine("z", z, f"z({1 - case.shop.risk:.4g})"),
        WorkedLine(
            "guard band", figures.full(guard_band(error.value, case.shop.risk), 1), f"{z} × {u}"
        ),
        WorkedLine("chance that it is inside", CHANCE_FIGURES.full(conforms), " − ".join(ends)),
        answer_line(result),
    ]
