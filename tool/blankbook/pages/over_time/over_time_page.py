"""A blank over time: every lot, point and size on one axis, with the supplier's charts on it.

It is a page of its own: it only grows, and the blank's page should stay light.
"""

from collections.abc import Mapping

from blankbook.history.moved.chart_versions import chart_versions
from blankbook.pages.charts.drawn_history import drawn_panels, drawn_rows, left_out
from blankbook.pages.charts.over_time_charts import (
    DECISION_LETTERS,
    charts_by_point,
    strip_chart,
)
from blankbook.pages.charts.over_time_types import StripData
from blankbook.pages.over_time.chart_version_table import version_table
from blankbook.pages.over_time.earlier_parts import LISTED, earlier_places
from blankbook.pages.over_time.history_types import (
    DecisionRow,
    LotLine,
    OverTimeContext,
    OverTimeLink,
    PointSection,
    SizeCell,
)
from blankbook.pages.page_spec import AnyChart, AnyPage, PageSpec
from blankbook.pages.page_types import SupplierName, chart_image
from blankbook.pages.site_paths import blank_path, earlier_path, over_time_path
from blankbook.pages.value_words import (
    DASH,
    change_text,
    delivery_name,
    length_text,
    point_name,
    sign_of,
    unit_words,
)
from blankbook.records.model import Blank, Shop
from blankbook.results.methods.control_charts import ChartPoint
from blankbook.results.number_words import say_list
from blankbook.results.over_lots.lots_over_time import (
    LotAtPoint,
    LotsOverTime,
    PointOverTime,
    SizeOverTime,
    lots_over_time,
)
from blankbook.results.result_types import Judged
from blankbook.words.answers import Answer


def over_time_page(judged: Judged, shop: Shop) -> PageSpec[OverTimeContext] | None:
    """Return the page of a blank over time; None with fewer than two lots."""
    found, blank = lots_over_time(judged.case), judged.blank
    if found is None:
        return None
    charts, strip = (
        charts_by_point(found, blank.style.key, shop),
        strip_chart(found, blank.style.key, shop),
    )
    rows = drawn_rows(found)
    context = OverTimeContext(
        up="../../../",
        page=blank_path(blank.style.key),
        name=blank.style.name,
        supplier=SupplierName(key=blank.supplier.key, name=blank.supplier.name),
        unit=unit_words(shop.unit),
        lots=len(found.lots),
        first=found.lots[0].chart_day.isoformat(),
        last=found.lots[-1].chart_day.isoformat(),
        left_out=left_out(found),
        earlier=earlier_path(blank.style.key),
        out_of_turn=found.out_of_turn,
        signs=tuple(sign_of(word) for word in (Answer.MEETS, Answer.FAILS, Answer.NOT_SHOWN)),
        points=tuple(_point(judged, found, row, shop.unit, charts.get(row.point)) for row in rows),
        alone=say_list([point_name(point) for point in found.alone]),
        before=say_list([point_name(row.point) for row in found.rows if row not in rows]),
        apart=tuple(f"{point_name(point)} of {delivery_name(key)}" for point, key in found.apart),
        versions=tuple(
            version_table(version, blank.style, shop.unit, found.held_by.count(version.chart.since))
            for version in reversed([*chart_versions(blank.style, shop)])
        ),
        decided=_decided(found, blank),
    )
    title = f"{blank.style.name}: over time"
    every: list[AnyChart] = [*charts.values(), *([strip] if strip else [])]
    return PageSpec(
        over_time_path(blank.style.key), title, "over_time/over_time.html.j2", context, tuple(every)
    )


def over_time_link(page: AnyPage) -> OverTimeLink:
    """Return a blank over time as its supplier's page shows it."""
    strip = next((chart for chart in page.charts if isinstance(chart.data, StripData)), None)
    return OverTimeLink(page=page.path, strip=chart_image(strip) if strip else None)


def _point(
    judged: Judged, found: LotsOverTime, row: PointOverTime, unit: str, chart: AnyChart | None
) -> PointSection:
    """Return a point of measure: its tables, its drawing, and in words what they show."""
    places = _places(judged.blank)
    lots = [stand for stand in row.stands if stand.at >= left_out(found)]
    answer = next((r for r in judged.of("lots") if r.point == row.point), None)
    drawn = {panel.size for panel, _ in drawn_panels(found, row)}
    left = [panel.size for panel in row.panels if panel.size not in drawn] if chart else []
    return PointSection(
        key=row.point,
        name=point_name(row.point),
        says=_says(row),
        drawing=chart_image(chart) if chart else None,
        reason=answer.reason if answer else "",
        watched=row.watched,
        rows=tuple(_lot(places, found, row, stand, unit) for stand in reversed(lots)),
        sizes=tuple(panel.size for panel in row.panels),
        undrawn=say_list(left),
    )


def _says(row: PointOverTime) -> str:
    """Return how much so many lots can say."""
    count = f"{len(row.stands)} lots"
    if not row.watched:
        return f"{count}; the shop does not decide by this point, so it raises no alarm"
    return f"{count}: each is held against where those before it let it be expected"


def _lot(
    places: Mapping[str, str],
    found: LotsOverTime,
    row: PointOverTime,
    stand: LotAtPoint,
    unit: str,
) -> LotLine:
    lot = found.lots[stand.at]
    bought = lot.bought is not None and lot.bought != lot.date
    single, average = stand.on_chart.single, stand.on_chart.average
    beyond = (("the lot", single), ("the moving average", average))
    return LotLine(
        day=lot.chart_day.isoformat(),
        measured=lot.date.isoformat() if bought else "",
        lot=lot.lot,
        page=places[lot.source.path],
        chart=held.isoformat() if (held := found.held_by[stand.at]) else DASH,
        pieces=stand.pieces,
        off=change_text(stand.off, unit),
        limits=_ends(single, unit),
        average=DASH if average is None else change_text(average.value, unit),
        averages=_ends(average, unit),
        alarm=stand.on_chart.alarm,
        by=" and ".join(words for words, point in beyond if point is not None and point.signal),
        allowed=_allowed(row, stand.at, unit),
        cells=tuple(_cell(panel, stand.at, unit) for panel in row.panels),
    )


def _places(blank: Blank) -> dict[str, str]:
    """Return the place of each round and delivery with all its readings, by its file.

    A delivery that was measured stands among the lots as a round; its file tells which it is.
    """
    pages, here = earlier_places(blank), blank_path(blank.style.key)
    rounds = {round_.source.path: f"round-{round_.key}" for round_ in blank.rounds}
    deliveries = {one.source.path: f"delivery-{one.key}" for one in blank.deliveries}
    return {
        path: f"{pages.get(path, here)}#{anchor}" for path, anchor in (rounds | deliveries).items()
    }


def _ends(point: ChartPoint | None, unit: str) -> str:
    if point is None:
        return DASH
    return f"{change_text(point.low, unit)} to {change_text(point.high, unit)}"


def _cell(panel: SizeOverTime, at: int, unit: str) -> SizeCell:
    mark = next((mark for mark in panel.marks if mark.at == at), None)
    if mark is None:
        return SizeCell(off=DASH, sign=None)
    return SizeCell(off=change_text(mark.off.mean, unit), sign=sign_of(mark.answer))


def _allowed(row: PointOverTime, at: int, unit: str) -> str:
    """Return the tolerance of the chart that a lot is judged by."""
    marks = (mark for panel in row.panels for mark in panel.marks if mark.at == at)
    return next((length_text(mark.allowed, unit) for mark in marks), DASH)


def _decided(found: LotsOverTime, blank: Blank) -> tuple[DecisionRow, ...]:
    """Return the newest decisions, the newest first."""
    places = _places(blank)
    by_key = {(False, one.key): places[one.source.path] for one in blank.rounds}
    by_key |= {(True, one.key): places[one.source.path] for one in blank.deliveries}
    return tuple(
        DecisionRow(
            day=decided.day.isoformat(),
            letter=DECISION_LETTERS[decided.word],
            sign=sign_of(decided.word),
            by=decided.by,
            on=f"{'delivery' if decided.delivery else 'round'} {delivery_name(decided.of)}",
            page=by_key[decided.delivery, decided.of],
        )
        for decided in list(reversed(found.decided))[:LISTED]
    )
