"""What the charts show is plain data, taken from the results, with the words to match."""

import json
import pickle
import re
import subprocess
import sys
from collections.abc import Iterator, Mapping
from dataclasses import FrozenInstanceError, fields, is_dataclass, replace
from importlib.resources import files
from itertools import pairwise
from math import isfinite
from typing import get_args

import pytest

from blankbook.pages.charts import all_charts
from blankbook.pages.charts.chart_types import ChartData, NextLotData, OperatingData, ScaleBar
from blankbook.pages.charts.guide_chart import SHIRT
from blankbook.pages.charts.lots_chart import day_places
from blankbook.pages.draw.axis_labels import spread_apart, ticks
from blankbook.pages.draw.shirt_outline import PROPORTIONS, outline, tape_length, tape_line
from blankbook.pages.page_spec import AnyChart
from blankbook.results.judge_blank import judge
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Judged
from blankbook.words.points import POINTS
from made_blanks import DAY, blank, measured, piece, shop, washed

INCH = 25.4


def tube() -> Judged:
    """Return two labels of one width and two lengths, one piece each, without a chart."""
    pieces = (
        piece("L-1", "L", half_chest="23", body_length="30 1/2"),
        piece("XL-1", "XL", half_chest="23", body_length="32"),
    )
    return judge(blank(measured(*pieces), charts=(), construction="tube"), shop())


def two_rounds() -> Judged:
    """Return a style that runs 1 in narrow in its second lot, and was washed in its first."""
    first = [
        washed(piece(f"{s}-{n}", s, half_chest=f"{18 + 2 * i} {n}/8", body_length=f"{28 + i}"),
               1, half_chest=f"{17 + 2 * i} {4 + n}/8", body_length=f"{27 + i}")
        for i, s in enumerate(("S", "M")) for n in (1, 2)
    ]  # fmt: skip
    second = [
        piece(f"{s}-{n}", s, "B", half_chest=f"{17 + 2 * i}", body_length=f"{28 + i} {n}/8")
        for i, s in enumerate(("S", "M"))
        for n in (1, 2)
    ]
    later = DAY.replace(year=DAY.year + 1)
    return judge(
        blank(measured(*first), measured(*second, key="2027-01-20-second", lot="B", day=later)),
        shop(),
    )


def leaves(value: object) -> Iterator[object]:
    """Yield every word and number of a chart; all around them is frozen."""
    if is_dataclass(value):
        with pytest.raises(FrozenInstanceError):
            setattr(value, fields(value)[0].name, None)
        for field in fields(value):
            yield from leaves(getattr(value, field.name))
    elif isinstance(value, Mapping):
        for part in value.values():
            yield from leaves(part)
    elif isinstance(value, tuple):
        for part in value:
            yield from leaves(part)
    else:
        yield value


def test_every_chart_is_frozen_words_and_finite_numbers(demo_charts: list[AnyChart]) -> None:
    """A spec goes to the child that draws and comes out unchanged; every number in it is one."""
    for spec in demo_charts:
        assert pickle.loads(pickle.dumps(spec)) == spec, spec.path
        for leaf in leaves(spec.data):
            assert leaf is None or isinstance(leaf, str) or isfinite(leaf), spec.path  # type: ignore[arg-type]
        assert spec.alt.strip()
        assert spec.width <= 360


def test_paths_are_apart_and_say_where_they_belong(demo_charts: list[AnyChart]) -> None:
    """No two charts share a file, and each stands in its blank's folder."""
    paths = [spec.path for spec in demo_charts]

    assert len(set(paths)) == len(paths)
    assert "charts/tarn-thrush/h6.sizes.svg" in paths
    assert "charts/guide/half_chest.svg" in paths


def test_the_demo_shop_has_every_kind(demo_charts: list[AnyChart]) -> None:
    """Each drawing is seen on the example site."""
    assert {type(spec.data) for spec in demo_charts} == set(get_args(ChartData))


def test_same_results_give_the_same_spec() -> None:
    """Nothing but the results goes in."""
    assert all_charts.ladder_charts(two_rounds()) == all_charts.ladder_charts(two_rounds())


def test_specs_load_nothing_that_draws() -> None:
    """Making a spec needs no matplotlib."""
    code = (
        "import sys; from blankbook.pages.charts import all_charts as charts\n"
        "charts.guide_chart('half_chest')\n"
        "print([m for m in ('matplotlib',) if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True)

    assert done.stdout.decode().strip() == "[]"


def test_nothing_measured_is_nothing_drawn() -> None:
    """A blank without pieces has no chart of its own."""
    judged = judge(blank(), shop())

    assert all_charts.sizes_chart(judged) is None
    assert all_charts.sizes_small_chart(judged) is None
    assert all_charts.ladder_charts(judged) == ()
    assert all_charts.steps_chart(judged) is None
    assert all_charts.washing_chart(judged) is None
    assert all_charts.lots_chart(judged) is None
    assert all_charts.next_lot_chart(judged) is None


def test_one_round_has_no_chart_of_lots() -> None:
    """There is nothing to compare before the second round."""
    judged = judge(blank(measured(piece("S-1", "S", half_chest="18", body_length="28"))), shop())

    assert all_charts.lots_chart(judged) is None
    assert all_charts.lots_chart(two_rounds()) is not None


def test_two_labels_of_one_width_are_seen_as_one() -> None:
    """The tube of the trade: the sides are named together, the hems apart, and the words say so."""
    spec = all_charts.sizes_chart(tube())
    assert spec

    assert [group.label for group in spec.data.sides] == ["L, XL"]
    assert [group.label for group in spec.data.hems] == ["L", "XL"]
    assert spec.data.charted == ()
    assert "L 23 by 30 1/2 (1 piece) and XL 23 by 32 (1 piece)" in spec.alt
    assert "L and XL: half chest collapsed, a step of 0" in spec.alt


def test_sizes_that_coincide_share_their_name() -> None:
    """Two sizes of the same width and length are one outline with two names."""
    pieces = [piece(f"{s}-1", s, half_chest="20", body_length="29") for s in ("M", "L")]
    spec = all_charts.sizes_chart(judge(blank(measured(*pieces)), shop()))
    assert spec

    assert [group.label for group in spec.data.hems] == ["M, L"]


def test_charted_outlines_stand_where_the_chart_speaks() -> None:
    """The charted sizes are drawn beside the measured ones, by the chart's own lengths."""
    spec = all_charts.sizes_chart(two_rounds())
    assert spec

    asked = [lengths["half_chest"] / INCH for lengths in spec.data.charted]
    seen = [size.lengths["half_chest"] / INCH for size in spec.data.sizes]
    assert asked == pytest.approx([18, 20])
    assert seen == pytest.approx([17, 19])


def test_words_of_a_ladder_hold_its_sizes() -> None:
    """Each size's mean stands beside the charted one, with its washed length, and what is off."""
    chest, length = all_charts.ladder_charts(two_rounds())

    assert "half chest in inches: S 17 (2 pieces, chart 18); M 19 (2 pieces, chart 20)" in chest.alt
    assert "Off the chart, or touching the next size: S and M." in chest.alt
    assert "body length in inches: S 28 3/16 (2 pieces, chart 28)" in length.alt
    assert length.alt.endswith("Off the chart, or touching the next size: none.")


def test_dots_of_a_ladder_are_the_pieces() -> None:
    """Every piece is a dot at its own length, new and washed, with its chart and tolerance."""
    chest, length = (spec.data for spec in all_charts.ladder_charts(two_rounds()))
    small, medium = chest.rungs

    assert (small.label, medium.label) == ("S", "M")
    assert chest.title == "half chest, in"
    assert (small.charted, small.allowed) == pytest.approx((18 * INCH, INCH / 2), abs=0.005)
    assert small.new == pytest.approx([17 * INCH] * 2, abs=0.005)
    assert small.washed == ()  # the pieces that were washed are of the lot before
    assert length.rungs[1].new == pytest.approx([29.125 * INCH, 29.25 * INCH], abs=0.005)
    for rung in (*chest.rungs, *length.rungs):
        assert chest.low < length.high
        assert rung.mean
        assert rung.mean.low < rung.mean.mean < rung.mean.high


def test_washed_pieces_stand_beside_themselves_as_received() -> None:
    """What was washed in the round that is drawn is on its size's rung."""
    pieces = [
        washed(piece(f"S-{n}", "S", half_chest="18", body_length="28"), 1, half_chest=f"17 {n}/8")
        for n in (4, 6)
    ]
    chest, length = all_charts.ladder_charts(judge(blank(measured(*pieces)), shop()))

    # By hand: 17 1/2 and 17 3/4 are 17 5/8 on average.
    assert "S 18 (2 pieces, chart 18, washed 17 5/8)" in chest.alt
    assert chest.data.rungs[0].washed == pytest.approx([17.5 * INCH, 17.75 * INCH], abs=0.005)
    assert length.data.rungs[0].washed == ()


def test_sizes_of_one_width_fail_on_the_ladder() -> None:
    """Two labels whose step is shown to be none are marked, without a chart as well."""
    pieces = [
        piece(f"{s}-{n}", s, half_chest="23", body_length=f"{30 + i} {n}/8")
        for i, s in enumerate(("M", "L"))
        for n in (1, 2, 3)
    ]
    judged = judge(blank(measured(*pieces), charts=()), shop())
    chest, length = all_charts.ladder_charts(judged)

    assert [rung.fails for rung in chest.data.rungs] == [True, True]
    assert [rung.charted for rung in chest.data.rungs] == [None, None]
    assert [rung.fails for rung in length.data.rungs] == [False, False]
    assert all_charts.troubled_points(judged) == ("half_chest",)


def test_washed_shirt_is_that_of_the_same_pieces() -> None:
    """Of the size of which most were washed, and only what was measured both times."""
    pieces = [
        washed(piece("S-1", "S", half_chest="18", body_length="28"), 1, half_chest="17",
               body_length="27"),
        *(washed(piece(f"M-{n}", "M", half_chest="20", body_length="29", sleeve_length="9"), 1,
                 half_chest=f"19 {n}/4", body_length="28") for n in (1, 3)),
        piece("M-4", "M", half_chest="24", body_length="35"),
    ]  # fmt: skip
    spec = all_charts.washed_shirt_chart(judge(blank(measured(*pieces)), shop()))
    assert spec

    assert spec.data.new == pytest.approx({"half_chest": 20 * INCH, "body_length": 29 * INCH})
    assert spec.data.washed == pytest.approx({"half_chest": 19.5 * INCH, "body_length": 28 * INCH})
    assert spec.data.words == ("M new", "after 1 wash")
    assert "2 pieces: half chest 20 becomes 19 1/2 and body length 29 becomes 28" in spec.alt
    assert all_charts.washed_shirt_chart(tube()) is None


def test_small_outlines_are_to_one_scale() -> None:
    """A shirt that is half as long is drawn half as high."""
    from blankbook.pages.draw.drawings import draw

    def tall(long: str) -> float:
        pieces = [piece("S-1", "S", half_chest="12", body_length=long)]
        spec = all_charts.sizes_small_chart(judge(blank(measured(*pieces)), shop()))
        assert spec
        path = re.search(rb'<path d="([^"]+)"[^>]*stroke', draw(spec))
        assert path
        levels = [float(y) for y in re.findall(rb"[ML] ?\S+ (\S+)", path[1])]
        return max(levels) - min(levels)

    assert tall("32") == pytest.approx(2 * tall("16"), rel=0.03)


def test_words_of_the_washing_hold_its_extremes() -> None:
    """Least and most of the pieces' changes stand in the words."""
    spec = all_charts.washing_chart(two_rounds())
    assert spec

    # By hand: S -0.5/18.125, -0.5/18.25; M -0.5/20.125, -0.5/20.25, each times 100.
    assert "half chest -2.6 % after 1 wash (4 pieces, -2.8 to -2.5)" in spec.alt
    assert "body length -3.5 % after 1 wash (4 pieces, -3.6 to -3.4)" in spec.alt


def test_words_of_the_lots_hold_every_round() -> None:
    """Each round is told with the extremes of its sizes."""
    spec = all_charts.lots_chart(two_rounds())
    assert spec

    assert "over 2 rounds" in spec.alt
    assert "half chest: 2026-01-20 +3/16 (M) to +3/16 (S); 2027-01-20 -1 (M) to -1 (S)" in spec.alt


def test_next_lot_stands_beside_the_lots_so_far() -> None:
    """Two lots 3/16 in wide and 1 in narrow; the limits are those of the results, in the words."""
    judged = two_rounds()
    spec = all_charts.next_lot_chart(judged)
    assert spec
    chest, ahead = spec.data.panels[0], judged.of("lots")[0].number(Quantity.NEXT_LOT)
    assert ahead

    assert chest.title == "half chest, in"
    assert chest.lots == pytest.approx([3 / 16 * INCH, -INCH], abs=0.005)
    assert chest.next.mean == pytest.approx(ahead.value, abs=0.005)
    assert chest.next.low < chest.next.mean < chest.next.high
    assert "half chest so far +3/16, -1, next" in spec.alt


def test_operating_curve_runs_through_its_table(demo: dict[str, Judged]) -> None:
    """Each chance is the sum of the binomial terms, added up here; the curve only falls.

    H6's newest delivery is 118 pieces: level II, AQL 2.5, normal inspection looks at 20 and
    accepts up to one bad (MIL-STD-105E, tables I and II-A, letter F).
    """
    spec = all_charts.operating_chart(demo["tarn-thrush/h6"])
    assert spec
    levels = [place.accepted for place in spec.data.curve]

    assert len(spec.data.table) == 7
    for place in spec.data.table:
        good = 1 - place.share
        summed = good**20 + 20 * place.share * good**19
        assert place.accepted == pytest.approx(summed, abs=5e-5)
    assert levels[0] == 1.0
    assert all(a >= b for a, b in pairwise(levels))
    assert "1.8 % bad: 95 in 100" in [mark.words for mark in spec.data.marks]
    assert "95 times in 100 at 1.8 % bad" in spec.alt


def test_blank_that_may_not_be_ordered_has_no_operating_curve(demo: dict[str, Judged]) -> None:
    """Where no delivery is to be expected there is no plan to draw."""
    assert all_charts.operating_chart(demo["wether-teasel/w160"]) is None


def test_charts_of_what_is_to_come_are_light(demo_charts: list[AnyChart]) -> None:
    """Neither weighs more than 6 kB: they stand beside tables, on a page that is heavy enough."""
    from blankbook.pages.draw.drawings import draw

    made = [spec for spec in demo_charts if isinstance(spec.data, NextLotData | OperatingData)]

    assert len(made) > 10
    assert all(len(draw(spec)) <= 6_000 for spec in made)


def test_steps_say_charted_and_usual_apart() -> None:
    """Without a chart a step stands beside the usual one, and the key says so."""
    with_chart, without = all_charts.steps_chart(two_rounds()), all_charts.steps_chart(tube())
    assert with_chart
    assert without

    assert with_chart.data.key == "dashes: charted step"
    assert without.data.key == "dots: usual step (no chart)"
    assert "half chest: L to XL 0" in without.alt


def test_centimetres_are_spoken_to_a_shop_that_works_in_them() -> None:
    """Words and scale bar are in the shop's own unit."""
    pieces = [piece("M-1", "M", half_chest="20", body_length="29")]
    spec = all_charts.sizes_chart(judge(blank(measured(*pieces)), shop(unit="cm")))
    assert spec

    assert "in centimetres: M 50.8 by 73.7" in spec.alt
    assert spec.data.bar == ScaleBar(100.0, "10 cm")


def test_a_number_that_is_none_stays_off_the_chart() -> None:
    """A limit without end is drawn at its mean."""
    judged = two_rounds()
    broken = tuple(
        replace(r, numbers=tuple(replace(n, low=float("nan"), high=float("inf"))
                                 for n in r.numbers))
        for r in judged.results
    )  # fmt: skip
    ladder = all_charts.ladder_charts(replace(judged, results=broken))[0]
    mean = ladder.data.rungs[0].mean
    assert mean

    assert mean.low == mean.high == mean.mean


@pytest.mark.parametrize("point", POINTS)
@pytest.mark.parametrize("scale", [0.5, 1.0, 1.3])
def test_the_tape_on_an_outline_is_as_long_as_it_says(point: str, scale: float) -> None:
    """The drawing is to scale: every measured length is found again on the outline."""
    lengths = {part: scale * length for part, length in SHIRT.items()}

    assert tape_length(tape_line(point, lengths)) == pytest.approx(lengths[point], rel=1e-3)


def test_an_outline_is_the_same_on_both_sides() -> None:
    """Left is right, mirrored, and what was not measured follows the stated shares."""
    corners = outline({"half_chest": 500.0, "body_length": 700.0})

    assert {(-x, y) for x, y in corners} == {(x, y) for x, y in corners} | {(-0.0, 35.0)}
    assert max(y for _, y in corners) == 700.0
    assert (PROPORTIONS["shoulder_width"][1] * 250.0, 40.0) in corners


def test_names_are_spread_apart_and_kept_in_order() -> None:
    """Names that would cover each other move down, and back up from the floor."""
    levels = spread_apart([10.0, 10.0, 11.0, 95.0, 96.0], 12.0, 0.0, 100.0)

    assert all(b - a >= 12.0 for a, b in pairwise(levels))
    assert levels[-1] <= 100.0


def test_a_scale_has_few_marks() -> None:
    """A scale is marked in the finest step that leaves no more than four."""
    marks = ticks(0.0, 60.0, (INCH / 2, INCH, 2 * INCH))

    assert marks == pytest.approx([0.0, 25.4, 50.8], abs=1e-3)


def test_lots_lie_at_their_dates() -> None:
    """Days stand to scale however close two of them are; one day alone stands in the middle."""
    assert day_places([0, 100, 400], 0.0, 200.0) == [0.0, 50.0, 200.0]
    assert day_places([0, 1, 400], 0.0, 200.0) == [0.0, 0.5, 200.0]
    assert day_places([0, 0], 0.0, 200.0) == [100.0, 100.0]
    assert day_places([], 0.0, 200.0) == []


def test_approvals_are_drawn_from_the_trials_that_are_tabled() -> None:
    """Every cell of the printed table is a place of a line; the far end is not approved."""
    rows = json.loads((files("blankbook.pages.shop") / "trials.json").read_text())["operating"]
    spec = all_charts.approval_chart(rows)

    drawn = {(line.name, *chance) for line in spec.data.lines for chance in line.chances}
    assert drawn == {(row["bought"], row["off"], row["approved"]) for row in rows}
    for line in spec.data.lines:
        assert [off for off, _ in line.chances] == sorted({row["off"] for row in rows})
        assert line.chances[-1][1] < 0.05 < line.chances[0][1]
        assert f"{line.name}: 0 off {100 * line.chances[0][1]:.0f}" in spec.alt
