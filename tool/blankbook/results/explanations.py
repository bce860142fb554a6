"""Why does it look like this? Possible causes, weighed by how likely they make the readings.

Each cause says where every reading should have been. Its weight is its stated prior times the
marginal likelihood of the readings (averaged over which piece, which pair, how far), scaled so that
all add up to one. Where one lot cannot separate two causes, they keep their prior odds, and the
text says so.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import pairwise
from math import exp, log
from typing import TYPE_CHECKING

from blankbook.results.frame import Case, Explanation
from blankbook.results.likelihood import PointModel, point_models
from blankbook.results.saying import say_chance
from blankbook.words.causes import CAUSES, TUBE_FACTOR
from blankbook.words.points import POINTS

if TYPE_CHECKING:
    from blankbook.results.likelihood import Vector

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


def explain(case: Case) -> tuple[Explanation, ...]:
    """Return the causes, the likeliest first, with their odds; empty where nothing was measured."""
    models = point_models(case)
    grouped: dict[str, list[tuple[Supposition, float]]] = {}
    for one, odds in weigh(case, models):
        grouped.setdefault(one.cause, []).append((one, odds))
    found = []
    for cause, ones in grouped.items():
        likeliest, _ = max(ones, key=lambda pair: pair[1])
        odds = sum(share for _, share in ones)
        found.append(Explanation(cause, likeliest.says, odds, _because(case, cause, models)))
    return tuple(sorted(found, key=lambda one: (-one.odds, one.key)))


def weigh(case: Case, models: tuple[PointModel, ...]) -> list[tuple[Supposition, float]]:
    """Return every supposition with its posterior chance; together they make one."""
    if not models:
        return []
    supposed = list(_suppositions(case, models))
    best = max(one.fit for one in supposed)
    weights = [one.prior * exp(one.fit - best) for one in supposed]
    total = sum(weights)
    return [(one, weight / total) for one, weight in zip(supposed, weights, strict=True)]


def lots_seen(models: tuple[PointModel, ...]) -> int:
    """Return how many lots the readings come from."""
    return len({one.lot for model in models for one in model.seen})


def _because(case: Case, cause: str, models: tuple[PointModel, ...]) -> str:
    single = lots_seen(models) == 1
    if cause == "not_graded" and case.blank.style.construction == "tube":
        return "the body is knitted as a tube, and two sizes cut from one tube share its width"
    if cause in {"style_runs", "lot_off"} and single:
        return "one lot cannot tell these two apart; pieces from another lot would"
    if CAUSES[cause].stays:
        return "the next lot would show it again"
    return "the next lot need not show it"


def _suppositions(case: Case, models: tuple[PointModel, ...]) -> Iterator[Supposition]:
    sizes = case.blank.style.sizes
    usual = "graded as usual" if case.chart is None else "as charted"
    yield from _spread_prior("as_charted", [(usual, _still, {})], models)
    yield from _spread_prior("mislabelled", list(_mislabelled(models, sizes)), models)
    yield from _spread_prior("exchanged", list(_exchanged(models, sizes)), models)
    yield from _not_graded(case, models)
    several = lots_seen(models) > 1
    if case.chart is not None:
        yield from _runs("style_runs", models, "")
    if case.chart is not None or several:
        yield from _runs("lot_off", models, models[0].seen[0].lot)
    yield from _odd(models)


def _labels(models: tuple[PointModel, ...]) -> dict[str, str]:
    return {one.piece: one.size for model in models for one in model.seen}


Shift = Callable[[PointModel], "Vector"]
Way = tuple[str, Shift, Mapping[str, str]]
"""What it says, where the readings should have been, and which tags are wrong."""


def _spread_prior(
    cause: str, ways: list[Way], models: tuple[PointModel, ...]
) -> Iterator[Supposition]:
    """Yield each way with an equal share of the cause's prior; one pass over each point."""
    if not ways:
        return
    fits = sum(model.fits([shift(model) for _, shift, _ in ways]) for model in models)
    for (says, _, really), fit in zip(ways, fits, strict=True):  # type: ignore[arg-type]
        yield Supposition(cause, says, CAUSES[cause].weight / len(ways), float(fit), really)


def _odd(models: tuple[PointModel, ...]) -> Iterator[Supposition]:
    """Yield each piece as a stray at every point that it was measured at."""
    still = [float(model.fits([_still(model)])[0]) for model in models]
    odd = [model.odd_fits() for model in models]
    pieces = sorted({one.piece for model in models for one in model.seen})
    for piece in pieces:
        fit = sum(fits.get(piece, rest) for fits, rest in zip(odd, still, strict=True))
        weight = CAUSES["odd_piece"].weight / len(pieces)
        says = f"{_short(piece)} is odd in itself"
        yield Supposition("odd_piece", says, weight, fit, {piece: ""})


def _still(model: PointModel) -> "Vector":
    import numpy as np

    return np.zeros(len(model.seen))


def _moved(model: PointModel, to: Callable[[str, str], str]) -> "Vector":
    """Return the shift if each piece really were of the size ``to(piece, label)``."""
    import numpy as np

    level = model.expected
    return np.array([level[to(one.piece, one.size)] - level[one.size] for one in model.seen])


def _mislabelled(models: tuple[PointModel, ...], sizes: tuple[str, ...]) -> Iterator[Way]:
    for piece, label in sorted(_labels(models).items()):
        for size in sizes:
            if size != label:
                says = f"{_short(piece)} is tagged {label} and measures as {size}"
                yield says, _relabel(piece, size), {piece: size}


def _relabel(piece: str, size: str) -> Shift:
    return lambda model: _moved(model, lambda one, label: size if one == piece else label)


def _exchanged(models: tuple[PointModel, ...], sizes: tuple[str, ...]) -> Iterator[Way]:
    seen = {one.size for model in models for one in model.seen}
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
    seen = {one.size for model in models for one in model.seen}
    both = [pair for pair in pairwise(sizes) if seen.issuperset(pair)]
    still = {model.point: float(model.fits([_still(model)])[0]) for model in models}
    rest = sum(still.values())
    told = [model for model in models if _promised(case, model.point)]
    weight = CAUSES["not_graded"].weight / max(1, len(both) * len(told))
    for small, large in both:
        for model in told:
            shared = [_shared(model, small, large, part) for part in (0.0, 0.5, 1.0)]
            fit = _mean_fit(model, shared) + rest - still[model.point]
            factor = TUBE_FACTOR if tube and model.point in TUBE_POINTS else 1.0
            says = f"{POINTS[model.point].name} is not graded between {small} and {large}"
            yield Supposition("not_graded", says, weight * factor, fit)


def _promised(case: Case, point: str) -> bool:
    return case.chart is None or any(point in row for row in case.chart.sizes.values())


def _shared(model: PointModel, small: str, large: str, part: float) -> "Vector":
    """Return the shift if both labels measured alike, *part* of the way from small to large."""
    import numpy as np

    step = model.expected[large] - model.expected[small]
    moves = {small: part * step, large: (part - 1) * step}
    return np.array([moves.get(one.size, 0.0) for one in model.seen])


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
        moves = np.array([1.0 if not lot or one.lot == lot else 0.0 for one in model.seen])
        fits = fits + model.fits([moves * model.step * part for part in SHIFTS])
    for part, fit in zip(SHIFTS, fits, strict=True):
        says = f"{what} runs {_FAR[abs(part)]} {'large' if part > 0 else 'small'}"
        yield Supposition(cause, says, CAUSES[cause].weight / len(SHIFTS), float(fit))


def _short(piece: str) -> str:
    return piece.rpartition("/")[2]


def say_explanation(one: Explanation) -> str:
    """Return an explanation as one line of text."""
    return f"{one.says} ({say_chance(one.odds)}): {one.because}"
