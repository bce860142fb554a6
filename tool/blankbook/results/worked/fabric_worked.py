"""The mass of the cloth, swatch by swatch, worked out."""

from blankbook.results.checks.fabric import judge, mass_per_area
from blankbook.results.piece_spread import moderate, pool
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case
from blankbook.results.worked.working_lines import (
    PERCENT_FIGURES,
    WorkedLine,
    answer_line,
    decimal_text,
    error_line,
    first_with,
    limit_lines,
    mean_line,
    required_number,
)


def mass_lines(case: Case) -> list[WorkedLine]:
    """Return the swatches, one by one, worked out."""
    result = first_with(judge(case), Quantity.OFF_THE_CLAIM)
    round_ = next((round_ for round_ in reversed(case.blank.rounds) if round_.swatches), None)
    if result is None or round_ is None:
        return []
    claimed, off = (
        required_number(result, Quantity.CLAIMED).value,
        required_number(result, Quantity.OFF_THE_CLAIM),
    )
    masses = [mass_per_area(swatch) for swatch in round_.swatches]
    percents = [100 * (mass - claimed) / claimed for mass in masses]
    deviation, freedom = moderate(case.shop.mass_spread, pool([percents]))
    lines = []
    for at, (swatch, mass, percent) in enumerate(
        zip(round_.swatches, masses, percents, strict=True)
    ):
        weighed = f"{swatch.mass:g} / {swatch.area / 1e6:g}"
        claim = f"100 × ({decimal_text(mass, 2)} − {claimed:g}) / {claimed:g}"
        lines.append(WorkedLine(f"swatch {at + 1}", f"{decimal_text(mass, 2)} g/m2", weighed))
        lines.append(WorkedLine("off the claim", PERCENT_FIGURES.full(percent), claim))
    return [
        *lines,
        mean_line("mean", percents, PERCENT_FIGURES),
        error_line(deviation, len(masses), PERCENT_FIGURES),
        *limit_lines(off, deviation / len(masses) ** 0.5, freedom, case.shop.risk, PERCENT_FIGURES),
        answer_line(result),
    ]
