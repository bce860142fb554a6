"""Fabric: a mass per unit area that a T-shirt can have; outside, a unit or a point has slipped.

From sheer to the heaviest of fleece is 80 to 500 g/m2; the limits here leave room on both sides
(common practice, no source).
"""

from collections.abc import Iterator

from blankbook.records.amounts import OUNCE_PER_SQUARE_YARD
from blankbook.records.model import Round, Style
from blankbook.text.findings import Fault, visible

LEAST, MOST = 50.0, 800.0
"""g/m2."""
_PER_OUNCE = float(OUNCE_PER_SQUARE_YARD)


def of_style(style: Style) -> Iterator[Fault]:
    """Yield a claimed mass that no shirt has."""
    if style.mass is None or LEAST <= style.mass <= MOST:
        return
    message = f"mass must be between {LEAST:g} and {MOST:g} g/m2, found {_said(style)}"
    remedy = "write what the supplier's sheet says, with its unit"
    number = visible(style.mass_written).split(" ")[0]
    if LEAST <= style.mass * _PER_OUNCE <= MOST:
        remedy = f"ounces? write {number} oz/yd2"
    elif LEAST <= style.mass / _PER_OUNCE <= MOST:
        remedy = f"grams? write {number} g/m2"
    yield Fault(("fabric", "mass"), "out-of-range", message, remedy)


def _said(style: Style) -> str:
    written = visible(style.mass_written)
    return written if written.endswith("g/m2") else f"{written}, which is {style.mass:.0f} g/m2"


def of_round(round_: Round) -> Iterator[Fault]:
    """Yield a swatch whose mass and area cannot both be right."""
    for index, swatch in enumerate(round_.swatches):
        mass = 1e6 * swatch.mass / swatch.area
        if not LEAST <= mass <= MOST:
            message = (
                f"a swatch must weigh between {LEAST:g} and {MOST:g} g/m2, found {mass:.4g} g/m2"
            )
            remedy = "look at the unit and the point of area and mass"
            yield Fault(("swatches", index, "mass"), "out-of-range", message, remedy)
