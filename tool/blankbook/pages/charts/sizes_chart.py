"""What the drawing of the sizes over each other shows."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from statistics import fmean

from blankbook.pages.charts.chart_data import (
    CHART_WIDTH,
    blank_chart,
    joined_labels,
    shop_unit,
)
from blankbook.pages.charts.chart_types import (
    DrawnSize,
    ScaleBar,
    SizeGroup,
    SizesData,
    SmallSizesData,
)
from blankbook.pages.charts.panel_types import Lengths
from blankbook.pages.draw.axis_labels import chart_number, short_label
from blankbook.pages.draw.shirt_outline import PROPORTIONS, garment_width, tape_line
from blankbook.pages.page_spec import ChartSpec
from blankbook.pages.value_words import change_text, length_text, point_name, unit_words
from blankbook.results.chart_values import charted_length
from blankbook.results.evidence import Sample, chart_for, measured_sizes, newest_sample
from blankbook.results.number_words import say_counted, say_list
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Judged
from blankbook.words.points import INCH, POINTS

_NEEDED = ("half_chest", "body_length")
"""Without these two there is no outline."""
ABOVE, _BELOW = 8, 46
"""Pixels kept free above the shirts, and below them for the scale bar and the words."""
_SIDE = 6
"""Pixels kept free beside the sleeves."""
_TALLEST = 420
"""Pixels: a long garment is drawn narrower rather than taller."""
LEADER, LETTER = 20, 8
"""Pixels from a hem to its name, and of a letter."""
SCALE_BARS = {"in": ScaleBar(5 * float(INCH), "5 in"), "cm": ScaleBar(100.0, "10 cm")}
_SMALL_SIZE = (72, 64)

_Samples = Mapping[str, Mapping[str, Sample]]
"""By size and point: the pieces that a size is drawn from."""


def drawn_lengths(judged: Judged) -> dict[str, Lengths]:
    """Return the lengths that each measured size is drawn with, by its label, millimetres."""
    samples = _samples(judged.case)
    return {size: drawn.lengths for size, drawn in zip(samples, _drawn(samples), strict=True)}


def sizes_chart(judged: Judged) -> ChartSpec[SizesData] | None:
    """Return the measured sizes laid over each other, to scale, with the charted ones.

    None where no size was measured across and along.
    """
    samples = _samples(judged.case)
    if not samples:
        return None
    sizes = _drawn(samples)
    asked = _asked(judged.case, samples, sizes)
    outlines = [*(size.lengths for size in sizes), *asked]
    longest = max(lengths["body_length"] for lengths in outlines)
    scale = min(_wide_scale(sizes, outlines), _TALLEST / longest)
    assumed = [p for p in PROPORTIONS if not any(p in found for found in samples.values())]
    data = SizesData(
        sizes=sizes,
        charted=asked,
        scale=round(scale, 5),
        bar=SCALE_BARS[shop_unit(judged)],
        spread={p: chart_number(judged.case.spreads[p].deviation) for p in _NEEDED},
        hems=_groups(sizes, scale, _corner),
        sides=tuple(group for group in _groups(sizes, scale, _side) if len(group.places) > 1),
        assumed=bool(assumed),
    )
    height = round(ABOVE + _BELOW + longest * scale)
    return blank_chart(judged, "sizes", data, _alt(judged, samples, data, assumed), height)


def sizes_small_chart(judged: Judged) -> ChartSpec[SmallSizesData] | None:
    """Return the same outlines, small enough for a row of the catalogue."""
    samples = _samples(judged.case)
    if not samples:
        return None
    alt = f"Measured sizes to scale: {joined_labels(list(samples))}."
    wide, high = _SMALL_SIZE
    spec = blank_chart(judged, "small", SmallSizesData(_drawn(samples)), alt, high)
    return replace(spec, width=wide)


def _wide_scale(sizes: Sequence[DrawnSize], outlines: Sequence[Lengths]) -> float:
    """Return the scale that lets the sleeves fit, and the sizes' names beside the hems."""
    most = max(len(size.label) for size in sizes)
    room = CHART_WIDTH / 2 - LEADER - LETTER * min(most, 10)
    hem = max(tape_line("hem_width", size.lengths)[1][0] for size in sizes)
    return min(fitting_scale(outlines, CHART_WIDTH - 2 * _SIDE), room / hem)


def fitting_scale(outlines: Iterable[Lengths], width: float) -> float:
    """Return the pixels in a millimetre that let the widest garment fit."""
    return width / max(garment_width(lengths) for lengths in outlines)


def _samples(case: Case) -> dict[str, dict[str, Sample]]:
    """Return the newest samples of every size whose chest and length are known."""
    found = {}
    for size in measured_sizes(case):
        newest = {point: newest_sample(case, size, point) for point in POINTS}
        measured = {point: sample for point, sample in newest.items() if sample}
        if all(point in measured for point in _NEEDED):
            found[size] = measured
    return found


def _drawn(samples: _Samples) -> tuple[DrawnSize, ...]:
    """Return the sizes with their mean lengths.

    Where only some sizes were measured at a part, the others get it in the proportion of those.
    """
    lengths = [
        {point: chart_number(sample.mean) for point, sample in measured.items()}
        for measured in samples.values()
    ]
    for part, (whole, _) in PROPORTIONS.items():
        shares = [known[part] / known[whole] for known in lengths if part in known]
        for known in lengths:
            if shares and part not in known:
                known[part] = chart_number(fmean(shares) * known[whole])
    return tuple(
        DrawnSize(short_label(size), known) for size, known in zip(samples, lengths, strict=True)
    )


def _asked(case: Case, samples: _Samples, sizes: Sequence[DrawnSize]) -> tuple[Lengths, ...]:
    """Return the charted sizes; a length that the chart does not have is drawn as measured."""
    found = []
    for (size, measured), drawn in zip(samples.items(), sizes, strict=True):
        promised = chart_for(case, measured["half_chest"].round)
        wanted = {point: charted_length(promised, size, point) for point in POINTS}
        lengths = {point: chart_number(mm) for point, mm in wanted.items() if mm is not None}
        if all(point in lengths for point in _NEEDED):
            found.append(_beside(drawn.lengths, lengths))
    return tuple(found)


def _beside(measured: Lengths, asked: Lengths) -> Lengths:
    """Return the charted lengths, and the measured ones that the chart does not have.

    A hem that it does not have keeps its distance from the chest, or the sides would lean.
    """
    lengths = {**measured, **asked}
    if "hem_width" in measured and "hem_width" not in asked:
        wider = asked["half_chest"] - measured["half_chest"]
        lengths["hem_width"] = chart_number(measured["hem_width"] + wider)
    return lengths


def _corner(lengths: Lengths) -> tuple[float, ...]:
    return lengths.get("hem_width", lengths["half_chest"]), lengths["body_length"]


def _side(lengths: Lengths) -> tuple[float, ...]:
    return (lengths["half_chest"],)


def _groups(
    sizes: Sequence[DrawnSize], scale: float, where: Callable[[Lengths], tuple[float, ...]]
) -> tuple[SizeGroup, ...]:
    """Return neighbouring sizes that the eye cannot tell apart: under two pixels, one each side."""
    groups: list[list[int]] = []
    for place, size in enumerate(sizes):
        if groups and _close(where(sizes[groups[-1][-1]].lengths), where(size.lengths), scale):
            groups[-1].append(place)
        else:
            groups.append([place])
    return tuple(
        SizeGroup(", ".join(sizes[place].label for place in places), tuple(places))
        for places in groups
    )


def _close(place: Iterable[float], other: Iterable[float], scale: float) -> bool:
    return all(abs(a - b) * scale < 2.0 for a, b in zip(place, other, strict=True))


def _alt(judged: Judged, samples: _Samples, data: SizesData, assumed: list[str]) -> str:
    unit = shop_unit(judged)
    each = [
        f"{size} {length_text(measured['half_chest'].mean, unit)} by "
        f"{length_text(measured['body_length'].mean, unit)} "
        f"({say_counted(len(measured['half_chest'].values), 'piece')})"
        for size, measured in samples.items()
    ]
    several = say_counted(len(each), "measured size")
    says = [
        f"{several} to scale, half chest by body length in {unit_words(unit)}: {say_list(each)}"
    ]
    says += [
        f"{result.size} and {result.next_size}: {point_name(result.point)} {result.word}, a step "
        f"of {change_text(step.value, unit)}"
        for result in judged.of("grade_steps")
        if result.word in {"collapsed", "reversed"} and (step := result.number(Quantity.STEP))
    ]
    says += [f"{group.label} are drawn with one width" for group in data.sides]
    says += ["The charted sizes are drawn in grey"] if data.charted else []
    if assumed:
        names = say_list([point_name(point) for point in assumed])
        says.append(f"Not measured, drawn in usual proportions: {names}")
    return ". ".join(says) + "."
