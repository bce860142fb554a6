"""Rules of graded pieces and prints: known pieces, stages in order, possible temperatures, twists.

The ranges leave room on both sides of what presses, dryers and shirts do (common practice, no
source); outside, a unit has slipped.
"""

import difflib
from collections.abc import Iterator, Sequence
from itertools import pairwise

from blankbook.records.model import Decorated, Heat, Piece, Round, Seam
from blankbook.text.findings import Fault, ValuePath, visible

RANGES = {"press": (90.0, 230.0), "dryer": (50.0, 260.0)}
"""Degrees Celsius."""
MOST_TWIST = 0.3
"""As a share of the side seam's length, or of the body length where the seam was not measured."""


def of_round(round_: Round) -> Iterator[Fault]:
    """Yield what is wrong with what was graded in a round."""
    for index, piece in enumerate(round_.pieces):
        yield from _in_order([worn.days for worn in piece.worn], "days", ("pieces", index, "worn"))
        if not piece.confirmed:
            yield from _twists(piece, ("pieces", index))
    names = sorted({piece.key for piece in round_.pieces})
    for index, test in enumerate(round_.decorated):
        yield from _decorated(test, names, ("decorated", index))
    # Washed pieces have this fault already, from the rules of pieces.
    told_of_pieces = any(piece.washed for piece in round_.pieces)
    if round_.laundering is None and not told_of_pieces and any(t.washed for t in round_.decorated):
        message = "a print was washed, but not how"
        remedy = "write laundering: {wash: home_warm, dry: tumble_low}"
        yield Fault(("decorated",), "no-laundering", message, remedy, on_key=True)


def _in_order(counts: Sequence[int], what: str, at: ValuePath) -> Iterator[Fault]:
    """Yield stages whose count does not grow: *what* is ``days`` or ``cycles``."""
    for index, (before, after) in enumerate(pairwise(counts)):
        if after <= before:
            message = f"{what} must grow, found {after} after {before}"
            yield Fault(
                (*at, index + 1, what), f"{what}-backwards", message, f"put the fewest {what} first"
            )


def _decorated(test: Decorated, names: Sequence[str], at: ValuePath) -> Iterator[Fault]:
    """Yield what is wrong with one decoration test."""
    if test.piece not in names:
        near = difflib.get_close_matches(test.piece, names, n=1)
        remedy = f"did you mean {near[0]}?" if near else "write a piece of this round"
        message = f"no piece is called {visible(test.piece)}"
        yield Fault((*at, "piece"), "unknown-piece", message, remedy)
    if test.method == "other" and not test.material:
        message = "method is other, and material does not say which"
        yield Fault(
            (*at, "method"), "no-material", message, "write material: and the way it was done"
        )
    yield from _in_order([stage.cycles for stage in test.washed], "cycles", (*at, "washed"))
    for name, heat in (("press", test.press), ("dryer", test.dryer)):
        if heat:
            yield from _temperature(heat, name, (*at, name, "temperature"))


def _temperature(heat: Heat, name: str, at: ValuePath) -> Iterator[Fault]:
    """Yield a temperature that a press or dryer is not set to, with a guess at the unit."""
    if heat.temperature is None:
        return
    least, most = RANGES[name]
    celsius, written = heat.temperature.celsius, visible(heat.temperature.written)
    if least <= celsius <= most:
        return
    fahrenheit = f"{least * 1.8 + 32:.0f} and {most * 1.8 + 32:.0f} F"
    message = (
        f"temperature of the {name} must be between {least:.0f} and {most:.0f} C "
        f"({fahrenheit}), found {written}"
    )
    number = written.rstrip(" °CF℃℉")
    remedy = "write what the display says, with its unit"
    if written.endswith(("C", "℃")) and least <= (celsius - 32) / 1.8 <= most:
        remedy = f"Fahrenheit? write {number} F"
    elif written.endswith(("F", "℉")) and least <= celsius * 1.8 + 32 <= most:
        remedy = f"Celsius? write {number} C"
    yield Fault(at, "out-of-range", message, remedy)


def _twists(piece: Piece, at: ValuePath) -> Iterator[Fault]:
    """Yield shifts of the side seam that are more than a shirt can twist."""
    stages: list[tuple[ValuePath, Seam | None]] = [((*at, "received"), piece.seam)]
    stages += [((*at, "washed", n), stage.seam) for n, stage in enumerate(piece.washed)]
    body = piece.received.get("body_length")
    for where, seam in stages:
        whole = seam.length if seam and seam.length else body[0] if body else None
        if seam and whole and seam.shift > MOST_TWIST * whole.mm:
            message = (
                f"seam_shift {visible(seam.written)} is more than 30 % of {visible(whole.written)}"
            )
            remedy = "measure it again; if it is right, add confirmed: and why"
            yield Fault((*where, "seam_shift"), "twisted-far", message, remedy, "warning")
