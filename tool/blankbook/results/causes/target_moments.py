"""What the likely ways say of some sizes and steps at one point: where they lie, and how surely."""

from dataclasses import dataclass

import numpy as np

from blankbook.results.causes.point_likelihood import Places
from blankbook.results.causes.point_readings import Vector
from blankbook.results.causes.weighed_ways import Targets


@dataclass(frozen=True, slots=True)
class TargetMoments:
    """What ways say of some targets at one point, once for all ways that say the same there.

    Shape: such ways, then targets where they come in, then variances of single pieces.
    """

    places: Places
    """Shape: ways. Where among them each way is told."""
    chances: Vector
    single: Vector
    """The variances of single pieces."""
    mean: Vector
    variance: Vector
    weights: Vector
    """The chances of the variances."""

    def inside(self, targets: Targets, pieces: int = 0) -> Vector:
        """Return the chances that targets, or means of so many pieces, lie where they should."""
        from scipy import special

        variance = self.variance + (self.single[:, None] / pieces if pieces else 0.0)
        ends = [np.array([[getattr(t, end)] for t in targets]) for end in ("low", "high")]
        low, high = (special.ndtr((end - self.mean) / variance**0.5) for end in ends)
        return np.asarray(high - low)
