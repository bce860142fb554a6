"""What the drawing of a washed shirt over the new one shows: the same pieces, before and after."""

from statistics import fmean

from blankbook.pages.charts.chart_data import CHART_WIDTH, blank_chart, shop_unit
from blankbook.pages.charts.chart_types import WashedShirtData
from blankbook.pages.charts.panel_types import Lengths
from blankbook.pages.charts.sizes_chart import ABOVE, SCALE_BARS, fitting_scale
from blankbook.pages.draw.axis_labels import chart_number, short_label
from blankbook.pages.page_spec import ChartSpec
from blankbook.pages.value_words import length_text, point_name, unit_words
from blankbook.records.model import Piece, Round
from blankbook.results.checks.washing import washed_round
from blankbook.results.number_words import say_counted, say_list
from blankbook.results.piece_spread import mean_reading
from blankbook.results.result_types import Judged
from blankbook.words.points import POINTS

_NEEDED = {"half_chest", "body_length"}
"""Without these two, new and washed, there is no outline."""
_TALLEST, _BELOW = 300, 46
"""Pixels of a long garment, and below it for the scale bar and the key."""


def washed_shirt_chart(judged: Judged) -> ChartSpec[WashedShirtData] | None:
    """Return the outline of the size of which most pieces were washed, new and after washing.

    None where no piece was measured across and along both times.
    """
    round_ = washed_round(judged.case)
    found = _most_washed(round_, tuple(judged.blank.style.sizes)) if round_ else []
    if not found:
        return None
    size, cycles = found[0].size, found[0].washed[-1].cycles
    new, washed = _both_lengths(found)
    scale = min(
        fitting_scale((new, washed), CHART_WIDTH - 12),
        _TALLEST / max(new["body_length"], washed["body_length"]),
    )
    unit, washes = shop_unit(judged), say_counted(cycles, "wash")
    data = WashedShirtData(
        new=new,
        washed=washed,
        scale=round(scale, 5),
        bar=SCALE_BARS[unit],
        words=(f"{short_label(size, 12)} new", f"after {washes}"),
    )
    changes = [
        f"{point_name(point)} {length_text(mm, unit)} becomes {length_text(washed[point], unit)}"
        for point, mm in new.items()
    ]
    alt = (
        f"{size} new and after {washes}, to scale, in {unit_words(unit)}, the mean of "
        f"{say_counted(len(found), 'piece')}: {say_list(changes)}."
    )
    height = round(ABOVE + _BELOW + max(new["body_length"], washed["body_length"]) * scale)
    return blank_chart(judged, "washed", data, alt, height)


def _most_washed(round_: Round, sizes: tuple[str, ...]) -> list[Piece]:
    """Return the pieces of one size that were washed equally often: the most often, then most."""
    groups: dict[tuple[int, str], list[Piece]] = {}
    for piece in round_.pieces:
        if piece.washed and _measured_twice(piece) >= _NEEDED and piece.size in sizes:
            groups.setdefault((piece.washed[-1].cycles, piece.size), []).append(piece)
    ranked = sorted(groups, key=lambda key: (-key[0], -len(groups[key]), sizes.index(key[1])))
    return groups[ranked[0]] if ranked else []


def _measured_twice(piece: Piece) -> set[str]:
    return {*piece.received} & {*piece.washed[-1].readings}


def _both_lengths(pieces: list[Piece]) -> tuple[Lengths, Lengths]:
    """Return the mean lengths as received and washed, at the points that all have both times."""
    points = [p for p in POINTS if all(p in _measured_twice(piece) for piece in pieces)]
    new = {p: fmean(mean_reading(piece.received[p]) for piece in pieces) for p in points}
    washed = {
        p: fmean(mean_reading(piece.washed[-1].readings[p]) for piece in pieces) for p in points
    }
    return _numbers(new), _numbers(washed)


def _numbers(lengths: Lengths) -> Lengths:
    return {point: chart_number(mm) for point, mm in lengths.items()}
