"""Which size, as it was when new, does a washed piece measure like?"""

from dataclasses import dataclass, replace
from statistics import fmean

from blankbook.records.model import Round, Shop
from blankbook.results.checks.washing import washed_round
from blankbook.results.evidence import Sample, is_required, newest_sample, size_sample
from blankbook.results.limits import MOST_MORE, Limits, fewest_more, limits, t_quantile
from blankbook.results.number_words import (
    say_counted,
    say_length,
    say_length_change,
    say_limits,
    say_more,
    say_sentences,
)
from blankbook.results.piece_spread import mean_reading
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Check, Number, Result, Spread
from blankbook.words.answers import Answer
from blankbook.words.check_titles import CHECK_TITLES
from blankbook.words.points import POINTS

KEY = "washed_size"


@dataclass(frozen=True, slots=True)
class SizeWhenNew:
    """A size as received, with the borders halfway to its neighbours; lengths in millimetres."""

    sample: Sample
    low: float
    high: float
    low_weight: float
    """The variance of the lower border, in variances of a single piece."""
    high_weight: float
    apart: bool
    """Whether the size or a neighbour was measured in another round than the washed pieces."""


@dataclass(frozen=True, slots=True)
class WashedPieces:
    """The pieces of one size after their most washes, at one point; millimetres."""

    size: str
    point: str
    cycles: int
    values: tuple[float, ...]


def judge(case: Case) -> list[Result]:
    """Return one answer per size and deciding point that was measured after washing."""
    round_ = washed_round(case)
    found = []
    for point in case.shop.deciding_points if round_ else ():
        assert round_
        places = sizes_when_new(case, round_, point)
        for size in case.blank.style.sizes:
            after = washed_pieces(round_, size, point)
            if after and size in places and len(places) > 1:
                found.append(_judge_size(case, round_, after, places))
    if found or not is_required(case, KEY):
        return found
    reason = "no size was measured after washing beside another as received"
    return [Result(KEY, Answer.NOT_TESTED, reason)]


def washed_pieces(round_: Round, size: str, point: str) -> WashedPieces | None:
    """Return what the pieces of *size* measure after their most washes, if any was washed."""
    stages = [
        (washed.cycles, mean_reading(washed.readings[point]))
        for piece in round_.pieces
        for washed in piece.washed
        if piece.size == size and point in washed.readings
    ]
    if not stages:
        return None
    most = max(cycles for cycles, _ in stages)
    return WashedPieces(
        size, point, most, tuple(value for cycles, value in stages if cycles == most)
    )


def sizes_when_new(case: Case, round_: Round, point: str) -> dict[str, SizeWhenNew]:
    """Return the sizes as received at *point*, each from this round or else the newest."""
    sizes = case.blank.style.sizes
    found = [size_sample(round_, size, point) or newest_sample(case, size, point) for size in sizes]
    samples = sorted((sample for sample in found if sample), key=lambda sample: sample.mean)
    return {sample.size: _place(round_, samples, at) for at, sample in enumerate(samples)}


def _place(round_: Round, samples: list[Sample], at: int) -> SizeWhenNew:
    """Return a size with its borders; the outer border of the last size mirrors its inner one."""
    own = samples[at]
    below = samples[at - 1] if at else None
    above = samples[at + 1] if at + 1 < len(samples) else None
    down = (own.mean - below.mean) / 2 if below else None
    up = (above.mean - own.mean) / 2 if above else None
    return SizeWhenNew(
        own,
        own.mean - (down if down is not None else up or 0.0),
        own.mean + (up if up is not None else down or 0.0),
        _weight(own, below or above, outside=below is None),
        _weight(own, above or below, outside=above is None),
        any(sample.round.key != round_.key for sample in (below, own, above) if sample),
    )


def _weight(own: Sample, other: Sample | None, *, outside: bool) -> float:
    """Return the variance of a border, in variances of a single piece.

    An inner border is the mean of two means, an outer one own + (own - other) / 2.
    """
    if other is None:
        return 1 / len(own.values)
    share = (1.5, 0.5) if outside else (0.5, 0.5)
    return share[0] ** 2 / len(own.values) + share[1] ** 2 / len(other.values)


def washed_spread(new: Spread, length: float, shop: Shop) -> Spread:
    """Return the spread of washed pieces: that of new ones joined with that of their changes.

    Units: *length* is in millimetres.
    """
    shrinking = shop.wash_spread.deviation / 100 * length
    return replace(new, deviation=float((new.deviation**2 + shrinking**2) ** 0.5))


def answer_within_borders(
    case: Case, after: WashedPieces, place: SizeWhenNew
) -> tuple[Answer, float]:
    """Return whether the washed pieces lie within the borders of a size, and by how much.

    The washed pieces are often among those measured as received. Taking both as independent makes
    the limits wider than they need be, never narrower.
    """
    mean = fmean(after.values)
    times = t_quantile(1 - case.shop.risk, case.spreads[after.point].freedom)
    low = times * _error(case, after, place.low_weight, place.apart)
    high = times * _error(case, after, place.high_weight, place.apart)
    margin = min(mean - place.low, place.high - mean)
    if mean - place.low >= low and place.high - mean >= high:
        return Answer.MEETS, margin
    if place.low - mean > low or mean - place.high > high:
        return Answer.FAILS, margin
    return Answer.NOT_SHOWN, margin


def _error(case: Case, after: WashedPieces, weight: float, apart: bool, more: int = 0) -> float:
    """Return the standard error of washed pieces against a border of *weight*.

    A border measured *apart*, in another round, may come from another person's hand.
    """
    new = case.spreads[after.point]
    washed = washed_spread(new, fmean(after.values), case.shop).deviation
    square = washed**2 / (len(after.values) + more) + new.deviation**2 * weight
    return float((square + (2 * new.people**2 if apart else 0.0)) ** 0.5)


def _judge_size(
    case: Case, round_: Round, after: WashedPieces, places: dict[str, SizeWhenNew]
) -> Result:
    found = {size: answer_within_borders(case, after, place) for size, place in places.items()}
    shown, _ = found[after.size]
    nearest = places[max(found, key=lambda size: found[size][1])]
    like = next((places[size] for size in found if found[size][0] == Answer.MEETS), None)
    more = _more(case, after, places[after.size]) if shown == Answer.NOT_SHOWN else None
    own, off = places[after.size].sample, _off(case, after, places[after.size])
    near = _off(case, after, nearest)
    required = is_required(case, KEY)
    # Cotton that shrinks within the shop's own limits may well be another size by its length. That
    # is for the buyer to know, and no fault unless the shop says so.
    answer = Answer.NOTED if shown == Answer.FAILS and not required else shown
    return Result(
        KEY,
        answer,
        _reason(case, after, places[after.size], like or nearest, shown, like is not None, more),
        word=_word(after, places, like, shown),
        size=after.size,
        point=after.point,
        lot=round_.lot,
        cycles=after.cycles,
        round=round_.key,
        numbers=(
            Number(Quantity.WASHED, fmean(after.values), "mm"),
            Number(Quantity.OWN_SIZE_WHEN_NEW, own.mean, "mm"),
            Number(Quantity.OFF_ITS_OWN_SIZE, off.mean, "mm", off.low, off.high),
            Number(Quantity.NEAREST_SIZE_WHEN_NEW, nearest.sample.mean, "mm"),
            Number(Quantity.OFF_THE_NEAREST_SIZE, near.mean, "mm", near.low, near.high),
            Number(Quantity.PIECES, len(after.values), "pieces"),
        ),
        more_pieces=more,
        deciding=required,
    )


def _more(case: Case, after: WashedPieces, place: SizeWhenNew) -> int | None:
    """Return how many more washed pieces would settle it; the borders stay as they are."""
    spread, mean = case.spreads[after.point], fmean(after.values)
    to_low, to_high = mean - place.low, place.high - mean
    margin, weight = min((abs(to_low), place.low_weight), (abs(to_high), place.high_weight))

    def settles(more: int) -> bool:
        times = t_quantile(1 - case.shop.risk, spread.freedom + more)
        return bool(times * _error(case, after, weight, place.apart, more) < margin)

    return fewest_more(settles, MOST_MORE)


def _off(case: Case, after: WashedPieces, place: SizeWhenNew) -> Limits:
    """Return how far the washed pieces are from a size as received, millimetres; + is larger."""
    new = place.sample
    error = _error(case, after, 1 / len(new.values), place.apart)
    freedom = case.spreads[after.point].freedom
    return limits(fmean(after.values) - new.mean, error, freedom, case.shop.risk)


def _word(
    after: WashedPieces, places: dict[str, SizeWhenNew], like: SizeWhenNew | None, answer: Answer
) -> str:
    if like:
        return f"as {like.sample.size} when new"
    if answer != Answer.FAILS:
        return ""
    smaller = fmean(after.values) < places[after.size].low
    return f"{'smaller' if smaller else 'larger'} than {after.size} when new"


def _reason(
    case: Case,
    after: WashedPieces,
    own: SizeWhenNew,
    near: SizeWhenNew,
    answer: Answer,
    shown: bool,
    more: int | None,
) -> str:
    unit, new = case.shop.unit, near.sample
    off = _off(case, after, near)
    whose = "it" if new.size == after.size else new.size
    says = (
        f"{after.size} {POINTS[after.point].name} after {say_counted(after.cycles, 'wash')} is "
        f"{say_length(fmean(after.values), unit)}"
    )
    beside = say_sentences(
        f"new, {whose} measured {say_length(new.mean, unit)}",
        f"the difference is {say_length_change(off.mean, unit)}, {say_limits(off, unit)}",
    )
    if shown:
        still = "still " if new.size == after.size else ""
        return say_sentences(f"{says}: it {still}measures as {new.size} did when new", beside)
    if answer == Answer.FAILS:
        way = "smaller" if fmean(after.values) < own.low else "larger"
        nearest = "" if new.size == after.size else f", and nearest to {new.size}"
        return say_sentences(f"{says}: {way} than {after.size} was when new{nearest}", beside)
    nearest = f"{says}, nearest to {new.size} when new"
    return say_sentences(nearest, beside, say_more(more, "washed"))


CHECK = Check(
    KEY,
    CHECK_TITLES[KEY],
    "Which size, as it was when new, does a washed piece measure like?",
    "The mean of the washed pieces of a size is held against the borders halfway between the means "
    "of neighbouring sizes as received, beyond the last size as far as on its other side: wholly "
    "within the borders of its own size it meets. Wholly outside it fails where the shop requires "
    "the check, and is noted where it does not. The limits carry the spread of the washed pieces, "
    "which differ by how they shrank too, and of those that the borders come from.",
    "two one-sided tests, Schuirmann 1987; the halfway border is ours",
    judge,
    "border = (mean of the size when new + mean of its neighbour when new) / 2\n"
    "inside by at least t(1 − risk; ν) × √(s_w²/n + s²/4 × (1/n₁ + 1/n₂)), s of new pieces, s_w of "
    "washed ones",
)
