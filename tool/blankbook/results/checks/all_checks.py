"""All checks, in the order of the pages. A further check is one more line here."""

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
from blankbook.results.result_types import Check

CHECKS: tuple[Check, ...] = (
    size_against_chart.CHECK,
    grade_steps.CHECK,
    mix_up.CHECK,
    label.CHECK,
    piece_against_chart.CHECK,
    spread_between_pieces.CHECK,
    washing.CHECK,
    washed_size.CHECK,
    skew.CHECK,
    colour.CHECK,
    pilling.CHECK,
    fabric.CHECK,
    workmanship.CHECK,
    wear.CHECK,
    decoration.CHECK,
    lots.CHECK,
    delivery.CHECK,
)
