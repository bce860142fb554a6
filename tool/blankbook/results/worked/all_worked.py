"""The worked example of every check, by the check's key. A further check is one more line here.

The method page looks them up here, so that no check knows its example: an example is worked out
from the check, and never the other way round.
"""

from collections.abc import Callable, Mapping
from functools import partial

from blankbook.results.checks import (
    colour,
    decoration,
    delivery,
    fabric,
    grade_steps,
    label,
    lots,
    mix_up,
    piece_against_chart,
    pilling,
    size_against_chart,
    skew,
    spread_between_pieces,
    washed_size,
    washing,
    wear,
    workmanship,
)
from blankbook.results.result_types import Case
from blankbook.results.worked.delivery_worked import delivery_lines
from blankbook.results.worked.fabric_worked import mass_lines
from blankbook.results.worked.grade_steps_worked import step_lines
from blankbook.results.worked.grades_worked import graded_lines
from blankbook.results.worked.label_worked import tag_lines
from blankbook.results.worked.lots_worked import lots_lines
from blankbook.results.worked.mix_up_worked import mix_up_lines
from blankbook.results.worked.piece_against_chart_worked import piece_lines
from blankbook.results.worked.size_against_chart_worked import size_lines
from blankbook.results.worked.skew_worked import twist_lines
from blankbook.results.worked.spread_between_pieces_worked import spread_lines
from blankbook.results.worked.washed_size_worked import washed_size_lines
from blankbook.results.worked.washing_worked import washing_lines
from blankbook.results.worked.working_lines import WorkedLine

WORKED: Mapping[str, Callable[[Case], list[WorkedLine]]] = {
    size_against_chart.KEY: size_lines,
    grade_steps.KEY: step_lines,
    mix_up.KEY: mix_up_lines,
    label.KEY: tag_lines,
    piece_against_chart.KEY: piece_lines,
    spread_between_pieces.KEY: spread_lines,
    washing.KEY: washing_lines,
    washed_size.KEY: washed_size_lines,
    skew.KEY: twist_lines,
    colour.KEY: partial(graded_lines, colour.judge),
    pilling.KEY: partial(graded_lines, pilling.judge),
    fabric.KEY: mass_lines,
    workmanship.KEY: partial(graded_lines, workmanship.judge),
    wear.KEY: partial(graded_lines, wear.judge),
    decoration.KEY: partial(graded_lines, decoration.judge),
    lots.KEY: lots_lines,
    delivery.KEY: delivery_lines,
}
