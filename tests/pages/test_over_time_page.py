"""The page of a blank over time: the numbers of the results, and words where they say little."""

from dataclasses import replace
from datetime import date

import pytest

from blankbook.pages import all_pages
from blankbook.pages.charts.drawn_history import MOST_LOTS
from blankbook.pages.charts.over_time_types import OverTimeData, StripData
from blankbook.pages.over_time.history_types import OverTimeContext
from blankbook.pages.page_spec import AnyPage, PageSpec
from blankbook.pages.render import render_body
from blankbook.pages.site_paths import over_time_path
from blankbook.pages.value_words import DASH, change_text, length_text, point_name
from blankbook.records.model import Chart, Round
from blankbook.results.judge_blank import judge
from blankbook.results.methods.control_charts import ChartPoint
from blankbook.results.over_lots.lots_over_time import (
    LotAtPoint,
    LotsOverTime,
    PointOverTime,
    has_history,
    lots_over_time,
)
from blankbook.results.result_types import Judged
from made_blanks import CHARTED, blank, chart, measured, piece, readings, shop
from markup import Markup, table_rows

SIZES = ("S", "M", "L")


def lot(day: date, *sizes: str, eighths: int = 0, bought: date | None = None) -> Round:
    """Return a lot of one piece of each size, off by so many eighths of an inch."""
    pieces = [
        piece(f"{size}-1", size, str(day), half_chest=str(18 + 2 * SIZES.index(size) + eighths / 8))
        for size in sizes or SIZES
    ]
    made = measured(*pieces, key=f"{day}-lot", lot=f"lot {day}", day=day)
    return replace(made, bought=bought)


def page_of(*lots: Round, charts: tuple[Chart, ...] = (CHARTED,)) -> Markup:
    """Return the page of these lots, taken apart."""
    page = spec_of(*lots, charts=charts)
    assert page
    return Markup(render_body(page))


def spec_of(
    *lots: Round, charts: tuple[Chart, ...] = (CHARTED,)
) -> PageSpec[OverTimeContext] | None:
    """Return what the page over time of a blank with these lots shows."""
    rules = shop(deciding_points=("half_chest",))
    return all_pages.over_time_page(judge(blank(*lots, charts=charts, sizes=SIZES), rules), rules)


def ends(point: ChartPoint | None, unit: str) -> str:
    """Return limits as the page writes them."""
    return f"{change_text(point.low, unit)} to {change_text(point.high, unit)}" if point else DASH


def _average(stand: LotAtPoint, unit: str) -> str:
    average = stand.on_chart.average
    return change_text(average.value, unit) if average else DASH


def wanted_lots(row: PointOverTime, unit: str) -> list[list[str]]:
    """Return the cells of a point that raises alarms, from the results, without the first two."""
    return [
        [
            str(stand.pieces),
            change_text(stand.off, unit),
            ends(stand.on_chart.single, unit),
            _average(stand, unit),
            ends(stand.on_chart.average, unit),
        ]
        for stand in reversed(row.stands)
    ]


def wanted_sizes(found: LotsOverTime, row: PointOverTime, unit: str) -> list[list[str]]:
    """Return the cells of each size, from the results, without the lot's name."""
    lines = []
    for stand in reversed(row.stands):
        marks = [{m.at: m for m in panel.marks}.get(stand.at) for panel in row.panels]
        cells = [] if row.watched else [str(stand.pieces), change_text(stand.off, unit)]
        cells += [change_text(m.off.mean, unit) if m else DASH for m in marks]
        allowed = next(length_text(m.allowed, unit) for m in marks if m)
        lines.append([*cells, allowed, str(found.held_by[stand.at])])
    return lines


def test_the_numbers_of_the_page_are_those_of_the_results(
    judged_demo: list[Judged], demo_markup: dict[str, Markup]
) -> None:
    """Every lot, size, limit and moving average of every blank, and every alarm by its word."""
    compared = 0
    for judged in judged_demo:
        found, unit = lots_over_time(judged.case), judged.case.shop.unit
        for row in found.rows if found else ():
            assert found
            page = demo_markup[over_time_path(judged.blank.style.key)]
            sizes = table_rows(page, f"{row.point}-sizes")[1:]
            lots = table_rows(page, f"{row.point}-lots")[1:] if row.watched else []
            for both in (sizes, lots) if row.watched else (sizes,):
                for cells, stand in zip(both, reversed(row.stands), strict=True):
                    day = found.lots[stand.at].chart_day.isoformat()
                    assert cells[0].startswith(day)
                    assert found.lots[stand.at].lot in cells[0]
            if row.watched:
                assert [cells[2:] for cells in lots] == wanted_lots(row, unit)
                assert [cells[1] != "none" for cells in lots] == [
                    stand.on_chart.alarm for stand in reversed(row.stands)
                ]
            bare = [[cell.split(" ●")[0].split(" ■")[0].split(" ◐")[0] for cell in cells[1:]]
                    for cells in shortened(sizes)]  # fmt: skip
            assert bare == wanted_sizes(found, row, unit), (judged.blank.style.key, row.point)
            compared += len(sizes)
    assert compared > 60


def shortened(rows: list[list[str]]) -> list[list[str]]:
    """Return cells with a blank before each sign: the page puts it onto a line of its own."""
    signs = str.maketrans({sign: f" {sign}" for sign in "●■◐"})
    return [[cell.translate(signs) for cell in row] for row in rows]


def test_each_size_says_its_answer_in_a_word(
    judged_demo: list[Judged], demo_markup: dict[str, Markup]
) -> None:
    """No shape or colour alone: as many words as marks, the same ones."""
    judged = next(
        candidate for candidate in judged_demo if candidate.blank.style.key == "dabchick/d50"
    )
    found = lots_over_time(judged.case)
    assert found
    page = demo_markup[over_time_path("dabchick/d50")]
    signs = [span.text for span in page.all("span") if span.text.endswith("shown")]
    assert any(sign.endswith("not\N{NO-BREAK SPACE}shown") for sign in signs), "on one line"
    for row in found.rows:
        text = " ".join(
            cell for line in table_rows(page, f"{row.point}-sizes")[1:] for cell in line
        ).replace("\N{NO-BREAK SPACE}", " ")
        answers = [str(mark.answer) for panel in row.panels for mark in panel.marks]
        for word in ("meets", "fails", "not shown"):
            assert text.count(word) == answers.count(word), (row.point, word)


def test_a_blank_has_the_page_when_it_has_two_lots(
    judged_demo: list[Judged], demo_markup: dict[str, Markup]
) -> None:
    """Then its own page leads there, and only then."""
    having = 0
    for judged in judged_demo:
        key = judged.blank.style.key
        there = over_time_path(key) in demo_markup
        assert there == has_history(judged.case)
        links = {link.get("href") for link in demo_markup[f"blanks/{key}.html"].all("a")}
        assert (f"{key.partition('/')[2]}/over-time.html" in links) == there
        having += there
    assert 5 < having < len(judged_demo)
    assert spec_of(lot(date(2024, 3, 1))) is None


def test_one_lot_of_a_point_or_size_is_a_sentence() -> None:
    """No panel is drawn of what is no trend."""
    first = lot(date(2024, 3, 1))
    second = lot(date(2024, 9, 1), "M", "L")
    page = page_of(first, second)
    assert "Measured in one lot only, so without a panel: S." in page.text
    third = [lot(date(2024, 3, 1), "S"), lot(date(2024, 9, 1), "M")]
    spec = spec_of(*third)
    assert spec
    assert isinstance(spec.charts[0].data, OverTimeData)
    assert spec.charts[0].data.panels == ()
    assert "so without a panel: S and M." in Markup(render_body(spec)).text
    odd = piece("M-9", "M", "A", body_length="29")
    page = page_of(replace(first, pieces=(*first.pieces, odd)), second)
    assert "Measured in one lot only, which is no history: body length." in page.text


@pytest.mark.parametrize(("off", "drawn"), [(0.125, False), (2, True), (-2, True)])
def test_a_point_that_decides_nothing_is_drawn_where_it_is_outside(off: float, drawn: bool) -> None:
    """It has its tables always; within its tolerance they say that there is no drawing, and why."""
    lots = [
        replace(
            bought,
            pieces=tuple(
                replace(
                    each,
                    received={
                        **each.received,
                        **readings({"body_length": f"{28 + SIZES.index(each.size) + off}"}),
                    },
                )
                for each in bought.pieces
            ),
        )
        for bought in (lot(date(2024, 3, 1)), lot(date(2024, 9, 1)))
    ]
    spec = spec_of(*lots)
    assert spec
    paths = [chart.path for chart in spec.charts if isinstance(chart.data, OverTimeData)]
    assert any("half_chest" in path for path in paths)
    assert any("body_length" in path for path in paths) == drawn
    page = Markup(render_body(spec))
    assert ("body_length" in str([img.get("src") for img in page.all("img")])) == drawn
    assert ("shown to be outside its tolerance, so there is no drawing" in page.text) != drawn
    assert not any(caption.get("id") == "body_length-lots" for caption in page.all("caption"))
    rows = table_rows(page, "body_length-sizes")
    assert rows[0][:3] == ["lot", "pieces", "all sizes"]
    assert len(rows) == 1 + len(lots)


def test_a_point_says_how_its_limits_come_about() -> None:
    """A first lot has nothing before it, and no limits."""
    lots = [lot(date(2024, month + 1, 1), eighths=month % 2) for month in range(3)]
    page = page_of(*lots)
    assert "3 lots: each is held against where those before it let it be expected" in page.text
    rows = table_rows(page, "half_chest-lots")[1:]
    assert [row[4] == DASH for row in rows] == [False, False, True]


def test_a_lot_bought_before_the_new_chart_is_shown_under_the_old_one() -> None:
    """Its row names the chart that held; the history of charts counts it there."""
    newer = chart({size: {"half_chest": str(19 + 2 * n)} for n, size in enumerate(SIZES)})
    charts = (CHARTED, replace(newer, since=date(2025, 1, 1), origin="new sheet"))
    page = page_of(
        lot(date(2024, 3, 1)),
        lot(date(2025, 1, 20), bought=date(2024, 12, 20)),
        lot(date(2025, 3, 1)),
        charts=charts,
    )
    rows = table_rows(page, "half_chest-sizes")[1:]
    assert [(row[0][:10], row[-1]) for row in rows] == [
        ("2025-03-01", "2025-01-01"),
        ("2024-12-20", "2024-01-01"),
        ("2024-03-01", "2024-01-01"),
    ]
    assert "new sheet. 1 of the lots here is judged by it." in page.text
    assert "sheet. 2 of the lots here are judged by it." in page.text
    moved = table_rows(page, "moved-2025-01-01")
    assert moved[0] == ["point", "S", "M", "L"]
    assert moved[1][:2] == ["half chest", "+1past the tolerance"]
    gone = next(row for row in moved if row[0] == "body length")
    assert gone[1:] == ["left out"] * 3


def test_a_point_that_only_old_lots_have_is_named() -> None:
    """Where its lots are left out there is nothing to draw, and the page is made all the same."""
    lots = [lot(date(2024 + month // 12, month % 12 + 1, 1)) for month in range(MOST_LOTS + 3)]
    for at in (0, 1):
        odd = piece("M-9", "M", "A", body_length="29")
        lots[at] = replace(lots[at], pieces=(*lots[at].pieces, odd))
    page = page_of(*lots)
    assert "Measured only in lots that are left out here: body length." in page.text
    assert f"The newest {MOST_LOTS} are drawn" in page.text
    assert len(table_rows(page, "half_chest-lots")) == 1 + MOST_LOTS


def test_lots_out_of_turn_are_told() -> None:
    """The moving average follows the days of measuring, the axis those of buying."""
    first = lot(date(2024, 9, 1), bought=date(2024, 8, 1))
    assert "not measured in the order" not in page_of(first, lot(date(2024, 10, 1))).text
    second = lot(date(2024, 10, 1), bought=date(2024, 2, 1))
    assert "not measured in the order in which they were bought" in page_of(first, second).text


def test_the_suppliers_page_shows_the_same_in_short(
    judged_demo: list[Judged], demo_pages: list[AnyPage], demo_markup: dict[str, Markup]
) -> None:
    """A strip for each blank with a history, which a page of the site brings along."""
    brought = {chart.path: chart for page in demo_pages for chart in page.charts}
    shown = 0
    for judged in judged_demo:
        key, supplier = judged.blank.style.key, judged.blank.supplier.key
        page = demo_markup[f"suppliers/{supplier}.html"]
        strips = {img.get("src").removeprefix("../"): img for img in page.all("img")}
        path = f"charts/{key}.strip.svg"
        found = lots_over_time(judged.case)
        assert (path in strips) == bool(found and any(row.watched for row in found.rows))
        if found and path in strips:
            data = brought[path].data
            assert isinstance(data, StripData)
            assert strips[path].get("alt") == brought[path].alt
            rows = [row for row in found.rows if row.watched]
            assert [strip.title for strip in data.strips] == [point_name(r.point) for r in rows]
            for strip, row in zip(data.strips, rows, strict=True):
                assert [s.off for s in strip.stands] == [round(s.off, 2) for s in row.stands]
                assert [s.alarm for s in strip.stands] == [s.on_chart.alarm for s in row.stands]
            assert f"../{over_time_path(key)}" in {link.get("href") for link in page.all("a")}
            shown += 1
    assert shown > 5
