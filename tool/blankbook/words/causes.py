"""Why a round can look as it does, and how likely each cause is before anything is measured.

The weights are stated beliefs of ours, not published figures; the method page shows them. They are
relative: what applies to a blank is scaled to add up to one.

A further cause also needs its readings in `results.causes.suppositions`, and what to do about it in
`results.advice.next_step`.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Cause:
    """A possible cause."""

    key: str
    title: str
    weight: float
    """How likely it is before the evidence, relative to the others."""
    stays: bool
    """Whether the next lot would show it again."""


CAUSES: dict[str, Cause] = {
    cause.key: cause
    for cause in (
        Cause("as_charted", "as charted, with the usual scatter", 0.58, stays=True),
        Cause("mislabelled", "one piece carries the wrong label", 0.06, stays=False),
        Cause("exchanged", "the labels of two sizes are exchanged", 0.02, stays=False),
        Cause("not_graded", "one point is not graded between two sizes", 0.05, stays=True),
        Cause("size_off", "one size is off by itself", 0.05, stays=True),
        Cause("point_off", "one point is off in every size", 0.04, stays=True),
        Cause("style_runs", "the whole style runs large or small", 0.07, stays=True),
        Cause("lot_off", "one lot is off, others need not be", 0.07, stays=False),
        Cause("colour_off", "one colour measures otherwise than the others", 0.02, stays=True),
        Cause("several_off", "several sizes or lots are off, each by itself", 0.02, stays=True),
        Cause("odd_piece", "one piece is odd in itself", 0.04, stays=False),
    )
}

TUBE_FACTOR = 5.0
"""How much likelier an ungraded width is on a body knitted as a tube: the tube sets the width, so
two sizes cut from one tube share it (common practice, no source)."""
