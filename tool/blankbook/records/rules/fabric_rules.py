"""Rules of fabric: a mass per unit area that a T-shirt can have; else a unit or point slipped.

From sheer to the heaviest of fleece is 80 to 500 g/m2; the limits here leave room on both sides
(common practice, no source).
"""

from collections.abc import Iterator

from blankbook.records.amounts import OUNCE_PER_SQUARE_YARD
from blankbook.records.model import Round, Style
from blankbook.text.findings import Fault, visible

LEAST_MASS, MOST_MASS = 50.0, 800.0
"""g/m2."""
_PER_OUNCE = float(OUNCE_PER_SQUARE_YARD)


def of_style(style: Style) -> Iterator[Fault]:
    """Yield a claimed mass that no T-shirt has, with a guess at the unit."""
    if style.mass is None or LEAST_MASS <= style.mass <= MOST_MASS:
        return
    message = (
        f"mass must be between {LEAST_MASS:g} and {MOST_MASS:g} g/m2, found {_mass_text(style)}"
    )
    remedy = "write what the supplier's sheet says, with its unit"
    number = visible(style.mass_written).split(" ")[0]
    if LEAST_MASS <= style.mass * _PER_OUNCE <= MOST_MASS:
        remedy = f"ounces? write {number} oz/yd2"
    elif LEAST_MASS <= style.mass / _PER_OUNCE <= MOST_MASS:
        remedy = f"grams? write {number} g/m2"
    yield Fault(("fabric", "mass"), "out-of-range", message, remedy)


def _mass_text(style: Style) -> str:
    written = visible(style.mass_written)
    return written if written.endswith("g/m2") else f"{written}, which is {style.mass:.0f} g/m2"


def of_round(round_: Round) -> Iterator[Fault]:
    """Yield a swatch whose mass and area cannot both be right."""
    for index, swatch in enumerate(round_.swatches):
        mass = 1e6 * swatch.mass / swatch.area
        if not LEAST_MASS <= mass <= MOST_MASS:
            bounds = f"between {LEAST_MASS:g} and {MOST_MASS:g} g/m2"
            message = f"a swatch must weigh {bounds}, found {mass:.4g} g/m2"
            remedy = "look at the unit and the point of area and mass"
            yield Fault(("swatches", index, "mass"), "out-of-range", message, remedy)
