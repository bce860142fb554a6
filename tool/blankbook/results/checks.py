"""The checks, in the order in which a page shows them. A further check is one more line here."""

from blankbook.results import (
    delivery,
    fabric,
    grade_steps,
    labels,
    lots,
    mix_up,
    piece_against_chart,
    size_against_chart,
    spread_between_pieces,
    washed_size,
    washing,
)
from blankbook.results.frame import Check

CHECKS: tuple[Check, ...] = (
    size_against_chart.CHECK,
    grade_steps.CHECK,
    mix_up.CHECK,
    labels.CHECK,
    piece_against_chart.CHECK,
    spread_between_pieces.CHECK,
    washing.CHECK,
    washed_size.CHECK,
    fabric.CHECK,
    lots.CHECK,
    delivery.CHECK,
)
