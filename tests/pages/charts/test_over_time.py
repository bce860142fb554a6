"""The drawing of a blank over time: what it shows stands where its numbers say."""

import re
import warnings
import xml.etree.ElementTree as ET
from dataclasses import replace
from datetime import date
from itertools import pairwise

import pytest

from blankbook.pages.charts.drawn_history import MOST_LOTS
from blankbook.pages.charts.over_time_charts import charts_by_point
from blankbook.pages.charts.over_time_types import OverTimeData
from blankbook.pages.draw import chart_style
from blankbook.pages.draw.drawings import draw
from blankbook.pages.draw.time_axis import EDGE, GAP, TimeAxis
from blankbook.pages.over_time.over_time_page import over_time_page
from blankbook.pages.page_spec import ChartSpec
from blankbook.records.model import Chart, Decision, Round
from blankbook.results.judge_blank import judge
from blankbook.results.over_lots.lots_over_time import lots_over_time
from made_blanks import blank, chart, measured, piece, readings, shop
from pages.charts.test_draw import boxes

SVG = "{http://www.w3.org/2000/svg}"
Rect = tuple[float, float, float, float]
"""Left, top, right, bottom."""
SIZES = ("S", "M", "L")


def supplied(inches: float, since: date, allowed: str) -> Chart:
    """Return a chart of half chests, the smallest *inches*, with a tolerance."""
    sizes = {size: {"half_chest": str(inches + 2 * n)} for n, size in enumerate(SIZES)}
    limit = readings({"half_chest": allowed})["half_chest"][0]
    return replace(chart(sizes), since=since, tolerance={"half_chest": limit})


def lot(day: date, off: float, decision: str = "") -> Round:
    """Return a lot of two pieces a size, by so much over the first chart."""
    pieces = [
        piece(f"{size}-{n}", size, str(day), half_chest=str(18 + 2 * at + off))
        for at, size in enumerate(SIZES)
        for n in (1, 2)
    ]
    made = measured(*pieces, key=f"{day}-lot", lot=str(day), day=day)
    return replace(made, decision=Decision(decision, day, "rv") if decision else None)


CHARTS = (
    supplied(18, date(2024, 1, 1), "1/2"),
    supplied(18.25, date(2025, 1, 1), "1/4"),
)
LOTS = (lot(date(2024, 2, 1), 0.25, "approved"), lot(date(2026, 2, 1), 0.75, "rejected"))


def drawn(
    *lots: Round, charts: tuple[Chart, ...] = CHARTS
) -> tuple[ChartSpec[OverTimeData], ET.Element]:
    """Return the chart of half chest of a blank with these lots, and that drawn."""
    judged = judge(blank(*lots, charts=charts, sizes=SIZES), shop(deciding_points=("half_chest",)))
    found = lots_over_time(judged.case)
    assert found
    spec = charts_by_point(found, "tarn-thrush/h6", judged.case.shop)["half_chest"]
    return spec, ET.fromstring(draw(spec))


def places(path: str) -> list[list[tuple[float, float]]]:
    """Return the separate lines of a path, each as its places."""
    lines = []
    for part in path.split("M")[1:]:
        numbers = [float(n) for n in re.findall(r"-?[\d.]+", part)]
        lines.append([*zip(numbers[::2], numbers[1::2], strict=True)])
    return lines


def paths(root: ET.Element, *words: str) -> list[list[tuple[float, float]]]:
    """Return all lines whose style has these words, in the order in which they were drawn."""
    return [
        line
        for element in root.iter(f"{SVG}path")
        if all(word in (element.get("style") or "") for word in words)
        for line in places(element.get("d") or "")
    ]


def bands(root: ET.Element) -> list[Rect]:
    """Return what is drawn as allowed."""
    return [_box(line) for line in paths(root, "fill: var(--band)") if len(line) == 4]


def _box(line: list[tuple[float, float]]) -> Rect:
    across, down = [x for x, _ in line], [y for _, y in line]
    return min(across), min(down), max(across), max(down)


def test_limits_stand_where_their_millimetres_are() -> None:
    """Zero, the tolerance and a lot keep their proportions, in the upper panel and in each size.

    The lots are 1/4 in over the first chart and 1/2 in over the second, which allow 1/2 and 1/4.
    """
    spec, root = drawn(*LOTS)
    found = bands(root)
    dots = [line[0] for line in paths(root, "stroke: var(--blue)", "stroke-linecap: round")]
    squares = [_box(line) for line in paths(root, "fill: var(--vermilion)")]

    assert len(found) == 2 + 2 * len(SIZES)
    assert len(dots) == 2 + len(SIZES)  # the first lot is inside everywhere
    assert len(squares) == len(SIZES)  # the second is outside in each, and yet no alarm above
    squares.insert(0, (*dots[1], *dots.pop(1)))
    for first, second in zip(found[::2], found[1::2], strict=True):
        inside = next(dot for dot in dots if first[0] <= dot[0] <= first[2]
                      and abs(dot[1] - (first[1] + first[3]) / 2) < 60)  # fmt: skip
        outside = next(mark for mark in squares if second[0] <= mark[0] and mark[2] <= second[2]
                       and abs(mark[1] - (second[1] + second[3]) / 2) < 60)  # fmt: skip
        zero = (first[1] + first[3]) / 2
        half_inch = zero - first[1]
        assert (second[1] + second[3]) / 2 == pytest.approx(zero, abs=0.02)
        assert zero - second[1] == pytest.approx(half_inch / 2, abs=0.02)
        assert zero - inside[1] == pytest.approx(half_inch / 2, abs=0.05)
        assert zero - (outside[1] + outside[3]) / 2 == pytest.approx(half_inch, abs=0.05)
    assert spec.data.tolerance.mm == pytest.approx(6.35)


def test_a_new_chart_changes_the_limits_from_its_day_on() -> None:
    """One band ends and the other begins at the upright, to scale between the two lots."""
    _, root = drawn(*LOTS)
    begun = paths(root, "stroke: var(--ink)", "stroke-dasharray")
    uprights = [line for line in begun if line[0][0] == line[-1][0]]

    for (first, second), upright in zip(pairs(bands(root)), uprights, strict=True):
        assert first[2] == second[0] == upright[0][0]
    first, second = bands(root)[:2]
    left, right = first[0] + EDGE, second[2] - EDGE
    share = (date(2025, 1, 1) - date(2024, 2, 1)).days / (date(2026, 2, 1) - date(2024, 2, 1)).days
    assert (first[2] - left) / (right - left) == pytest.approx(share, abs=0.002)


def pairs(found: list[Rect]) -> list[tuple[Rect, Rect]]:
    """Return two neighbours at a time."""
    return [*zip(found[::2], found[1::2], strict=True)]


def test_the_chart_before_is_a_level_after_its_end_only() -> None:
    """The new chart is 1/4 in larger, so the old one stands 1/4 in below it, on its lower limit."""
    _, root = drawn(*LOTS)
    was = paths(root, "stroke: var(--grey)", "stroke-dasharray")

    assert len(was) == len(SIZES)
    for line, (_, second) in zip(was, pairs(bands(root))[1:], strict=True):
        assert (line[0][0], line[-1][0]) == (second[0], second[2])
        assert line[0][1] == pytest.approx(second[3], abs=0.02)


def test_with_one_chart_nothing_is_dashed() -> None:
    """And there is one band in each panel."""
    _, root = drawn(*LOTS, charts=CHARTS[:1])
    assert len(bands(root)) == 1 + len(SIZES)
    dashed = paths(root, "stroke-dasharray", "stroke-width: 1")
    assert all(line[0][0] != line[-1][0] for line in dashed)


def test_letters_stand_for_decisions() -> None:
    """Under the day on which each was made."""
    _, root = drawn(*LOTS)
    words = {"".join(t.itertext()): float(t.get("x") or 0) for t in root.iter(f"{SVG}text")}
    first, second = bands(root)[:2]
    assert words["A"] == pytest.approx(first[0] + EDGE, abs=0.1)
    assert words["R"] == pytest.approx(second[2] - EDGE, abs=0.1)
    assert "decided" in words


def test_the_axis_keeps_its_order_whatever_is_near() -> None:
    """A chart stands before the lot of its day; lots of one day stand beside each other."""
    axis = TimeAxis([0, 400, 400, 401, 800], [-50, 400], 900, 50.0, 354.0)
    assert axis.charts[0] is None
    order = [axis.lots[0], axis.charts[1], *axis.lots[1:]]
    known = [place for place in order if place is not None]
    assert len(known) == 6
    assert all(after - before >= GAP - 1e-9 for before, after in pairwise(known))
    assert axis.span(0) == (50.0, axis.charts[1])
    assert axis.span(1) == (axis.charts[1], 354.0)
    assert axis.lots[3] < axis.day(500) < axis.lots[4] < axis.day(850)
    assert axis.day(900) == 354.0 - EDGE


def test_days_that_are_far_apart_are_to_scale() -> None:
    """Nothing is moved that need not be."""
    axis = TimeAxis([0, 100, 300], [], 400, 0.0, 400 + 2 * EDGE)
    assert axis.lots == pytest.approx([EDGE, EDGE + 100, EDGE + 300])


def test_many_lots_are_cut_to_the_newest_and_still_read() -> None:
    """Thirty lots, eight sizes: the words keep apart, the file is small, the newest are drawn."""
    many = tuple(f"{n}" for n in range(8))
    charted = chart({size: {"half_chest": str(18 + n)} for n, size in enumerate(many)})
    lots = []
    for number in range(30):
        day = date(2020 + number // 6, 1 + number % 6 * 2, 3)
        pieces = [piece(f"{s}-1", s, f"L{number}", half_chest=str(18 + n + number % 3 / 8))
                  for n, s in enumerate(many)]  # fmt: skip
        made = measured(*pieces, key=f"{day}-lot", lot=f"L{number}", day=day)
        lots.append(replace(made, decision=Decision("approved", day, "rv")))
    since = replace(charted, since=date(2019, 1, 1))
    judged = judge(blank(*lots, charts=(since,), sizes=many), shop())
    page = over_time_page(judged, judged.case.shop)
    assert page
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        made_of = {spec.path: draw(spec) for spec in page.charts}

    assert page.context.left_out == 30 - MOST_LOTS
    for svg in made_of.values():
        assert len(svg) <= 30_000
        found = boxes(svg)
        for n, box in enumerate(found):
            assert box.left >= -0.5
            assert box.right <= 360.5
            for other in found[n + 1 :]:
                apart = box.right <= other.left or other.right <= box.left
                assert apart or box.bottom <= other.top or other.bottom <= box.top, (box, other)
    shown = page.charts[0].data
    assert isinstance(shown, OverTimeData)
    assert len(shown.days.lots) == MOST_LOTS
    assert shown.days.dates[0] == lots[30 - MOST_LOTS].date.isoformat()[:7]


def test_no_colour_alone_says_what_is_outside() -> None:
    """A mark that fails has corners, and its answer stands in the words beside it."""
    spec, root = drawn(*LOTS)
    assert "outside 2026-02-01" in spec.alt
    assert "A new chart began on 2025-01-01" in spec.alt
    assert all(len(line) >= 4 for line in paths(root, "fill: var(--vermilion)"))
    assert chart_style.LIGHT.keys() == chart_style.DARK.keys()
