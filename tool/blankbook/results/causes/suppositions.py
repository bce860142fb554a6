"""The ways in which a round can have come to look as it does.

Each says where every reading should have been, which tags are wrong, and what further pieces would
show. A cause's stated prior is shared out over its ways: which piece, which pair, how far.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import pairwise
from math import exp, log
from typing import TYPE_CHECKING

from blankbook.results.causes.likelihood import PointModel
from blankbook.results.result_types import Case
from blankbook.words.causes import CAUSES, TUBE_FACTOR
from blankbook.words.points import POINTS

if TYPE_CHECKING:
    from blankbook.results.causes.likelihood import Vector

SHIFTS = (-1.25, -1.0, -0.75, -0.5, 0.5, 0.75, 1.0, 1.25)
"""How far a style or a lot is supposed to run, in grade steps."""
_FAR = {
    0.5: "half a size",
    0.75: "three quarters of a size",
    1.0: "a size",
    1.25: "a size and a quarter",
}
TUBE_POINTS = ("half_chest", "hem_width")


@dataclass(frozen=True, slots=True)
class Supposition:
    """One way in which a cause could have come about, with its share of the cause's prior."""

    cause: str
    says: str
    prior: float
    fit: float
    """Log likelihood of all readings."""
    really: Mapping[str, str] = field(default_factory=dict)
    """The pieces that are not of the size on their tag: their size, or "" for none."""
    shifts: Mapping[tuple[str, str], float] = field(default_factory=dict)
    """By size and point: how far further pieces of the lot would be from what is asked, in mm."""


def suppositions(case: Case, models: tuple[PointModel, ...]) -> Iterator[Supposition]:
    """Yield every way of every cause that applies to this blank."""
    sizes = case.blank.style.sizes
    usual = "graded as usual" if case.chart is None else "as charted"
    still = sum(model.still for model in models)
    yield Supposition("as_charted", usual, CAUSES["as_charted"].weight, still)
    yield from _mislabelled(models, sizes)
    yield from _spread_prior("exchanged", list(_exchanged(models, sizes)), models)
    yield from _not_graded(case, models)
    several = len({reading.lot for model in models for reading in model.seen}) > 1
    if case.chart is not None:
        yield from _runs("style_runs", models, "")
    if case.chart is not None or several:
        yield from _runs("lot_off", models, models[0].seen[0].lot)
    yield from _odd(models)


def _labels(models: tuple[PointModel, ...]) -> dict[str, str]:
    return {reading.piece: reading.size for model in models for reading in model.seen}


Shift = Callable[[PointModel], "Vector"]
SupposedWay = tuple[str, Shift, Mapping[str, str]]
"""What it says, where the readings should have been, and which tags are wrong."""


def _spread_prior(
    cause: str, ways: list[SupposedWay], models: tuple[PointModel, ...]
) -> Iterator[Supposition]:
    """Yield each way with an equal share of the cause's prior; one pass over each point."""
    if not ways:
        return
    fits = sum(model.fits([shift(model) for _, shift, _ in ways]) for model in models)
    weight = CAUSES[cause].weight / len(ways)
    for (says, _, really), fit in zip(ways, fits, strict=True):  # type: ignore[arg-type]
        shifts = _as_relabelled(models, really) if cause == "exchanged" else {}
        yield Supposition(cause, says, weight, float(fit), really, shifts)


def _as_relabelled(
    models: tuple[PointModel, ...], really: Mapping[str, str]
) -> dict[tuple[str, str], float]:
    """Return how far further pieces of the lot would be if all their tags were wrong likewise."""
    labels = _labels(models)
    meant = {labels[piece]: size for piece, size in really.items()}
    return {
        (label, model.point): model.expected[size] - model.expected[label]
        for model in models
        for label, size in meant.items()
    }


def _odd(models: tuple[PointModel, ...]) -> Iterator[Supposition]:
    """Yield each piece as a stray at every point that it was measured at."""
    still = [model.still for model in models]
    odd = [model.odd_fits() for model in models]
    pieces = sorted({reading.piece for model in models for reading in model.seen})
    for piece in pieces:
        fit = sum(fits.get(piece, rest) for fits, rest in zip(odd, still, strict=True))
        weight = CAUSES["odd_piece"].weight / len(pieces)
        says = f"{_short(piece)} is odd in itself"
        yield Supposition("odd_piece", says, weight, fit, {piece: ""})


def _moved(model: PointModel, to: Callable[[str, str], str]) -> "Vector":
    """Return the shift if each piece really were of the size ``to(piece, label)``."""
    import numpy as np

    level = model.expected
    return np.array(
        [level[to(reading.piece, reading.size)] - level[reading.size] for reading in model.seen]
    )


def _mislabelled(models: tuple[PointModel, ...], sizes: tuple[str, ...]) -> Iterator[Supposition]:
    """Yield each piece with each size that its tag does not say."""
    import numpy as np

    labels = dict(sorted(_labels(models).items()))
    row = {piece: place for place, piece in enumerate(labels)}
    fits = np.zeros((len(labels), len(sizes)))
    for model in models:
        level = np.array([model.expected[size] for size in sizes])
        tagged = np.array([model.expected[reading.size] for reading in model.seen])
        here = np.full(fits.shape, model.still)
        here[[row[reading.piece] for reading in model.seen]] = model.moved_fits(
            level - tagged[:, None]
        )
        fits += here
    weight = CAUSES["mislabelled"].weight / max(1, len(labels) * (len(sizes) - 1))
    for piece, label in labels.items():
        for size, fit in zip(sizes, fits[row[piece]], strict=True):
            if size != label:
                says = f"{_short(piece)} is tagged {label} and measures as {size}"
                yield Supposition("mislabelled", says, weight, float(fit), {piece: size})


def _exchanged(models: tuple[PointModel, ...], sizes: tuple[str, ...]) -> Iterator[SupposedWay]:
    seen = {reading.size for model in models for reading in model.seen}
    measured = [size for size in sizes if size in seen]
    for small, large in pairwise(measured):
        swap = {small: large, large: small}
        really = {p: swap[label] for p, label in _labels(models).items() if label in swap}
        yield f"the labels {small} and {large} are exchanged", _swapped(swap), really


def _swapped(swap: dict[str, str]) -> Shift:
    return lambda model: _moved(model, lambda _, label: swap.get(label, label))


def _not_graded(case: Case, models: tuple[PointModel, ...]) -> Iterator[Supposition]:
    """Yield one point shared by two neighbouring labels: both small, both large, or between.

    Where a chart holds, a point that it leaves out promises no step that could be missing.
    """
    sizes = case.blank.style.sizes
    tube = case.blank.style.construction == "tube"
    seen = {reading.size for model in models for reading in model.seen}
    both = [pair for pair in pairwise(sizes) if seen.issuperset(pair)]
    still = {model.point: model.still for model in models}
    rest = sum(still.values())
    told = [model for model in models if _promised(case, model.point)]
    weight = CAUSES["not_graded"].weight / max(1, len(both) * len(told))
    for small, large in both:
        for model in told:
            shared = [_shared(model, small, large, part) for part in (0.0, 0.5, 1.0)]
            fit = _mean_fit(model, shared) + rest - still[model.point]
            factor = TUBE_FACTOR if tube and model.point in TUBE_POINTS else 1.0
            says = f"{POINTS[model.point].name} is not graded between {small} and {large}"
            shifts = _halfway(model, small, large)
            yield Supposition("not_graded", says, weight * factor, fit, shifts=shifts)


def _halfway(model: PointModel, small: str, large: str) -> dict[tuple[str, str], float]:
    """Return what a shared measure would mean for further pieces, taken midway."""
    half = (model.expected[large] - model.expected[small]) / 2
    return {(small, model.point): half, (large, model.point): -half}


def _promised(case: Case, point: str) -> bool:
    return case.chart is None or any(point in row for row in case.chart.sizes.values())


def _shared(model: PointModel, small: str, large: str, part: float) -> "Vector":
    """Return the shift if both labels measured alike, *part* of the way from small to large."""
    import numpy as np

    step = model.expected[large] - model.expected[small]
    moves = {small: part * step, large: (part - 1) * step}
    return np.array([moves.get(reading.size, 0.0) for reading in model.seen])


def _mean_fit(model: PointModel, shifts: "list[Vector]") -> float:
    fits = model.fits(shifts)
    best = float(fits.max())
    return best + log(sum(exp(float(fit) - best) for fit in fits) / len(shifts))


def _runs(cause: str, models: tuple[PointModel, ...], lot: str) -> Iterator[Supposition]:
    """Yield the whole style, or the newest lot alone, moved by parts of a grade step."""
    import numpy as np

    what = f"lot {lot}" if lot else "the style"
    fits = np.zeros(len(SHIFTS))
    for model in models:
        moves = np.array([1.0 if not lot or reading.lot == lot else 0.0 for reading in model.seen])
        fits = fits + model.fits([moves * model.step * part for part in SHIFTS])
    for part, fit in zip(SHIFTS, fits, strict=True):
        says = f"{what} runs {_FAR[abs(part)]} {'large' if part > 0 else 'small'}"
        shifts = {(size, m.point): part * m.step for m in models for size in m.expected}
        weight = CAUSES[cause].weight / len(SHIFTS)
        yield Supposition(cause, says, weight, float(fit), shifts=shifts)


def _short(piece: str) -> str:
    return piece.rpartition("/")[2]
