"""What the supplier says of a blank, as its page shows it."""

from dataclasses import dataclass

from blankbook.pages.page_types import FactLine, facts_of
from blankbook.pages.value_words import DASH, point_name
from blankbook.records.chart_remarks import chart_remarks
from blankbook.records.model import Blank, Chart, Price, Style
from blankbook.results.comparable_lines import measuring_line
from blankbook.words.garment_terms import CONSTRUCTIONS, NECK_LABELS, WEARERS
from blankbook.words.points import POINTS


@dataclass(frozen=True, slots=True)
class SizeChartRow:
    """One point of measure of a published chart."""

    head: str
    how: str
    """How it is measured, where the chart says so or it is not comparable."""
    cells: tuple[str, ...]
    tolerance: str


@dataclass(frozen=True, slots=True)
class SizeChartTable:
    """A size chart as it was published."""

    since: str
    origin: str
    unit: str
    sizes: tuple[str, ...]
    tolerances: bool
    rows: tuple[SizeChartRow, ...]
    remarks: tuple[str, ...]
    """What in it is worth a second look."""
    confirmed: str
    """Why sizes that shrink are right."""


def claimed_facts(style: Style) -> tuple[FactLine, ...]:
    """Return what the style claims, as written."""
    pairs = [
        ("clients see it as", style.called),
        ("fibre", style.fibre),
        ("knit", style.knit),
        ("claimed mass", style.mass_written),
        ("body", CONSTRUCTIONS.get(style.construction, "")),
        ("neck label", NECK_LABELS.get(style.neck_label, "")),
        ("cut for", WEARERS.get(style.wearer, "")),
        ("sizes", ", ".join(style.sizes)),
        ("colours", ", ".join(style.colours)),
        ("used for", ", ".join(style.uses)),
        ("price", _say_price(style.prices[-1]) if style.prices else ""),
    ]
    return facts_of(pairs)


def _say_price(price: Price) -> str:
    """Return a price with the sizes that cost something else.

    >>> import datetime
    >>> _say_price(Price(datetime.date(2024, 8, 5), 6.9, "USD", {"2XL": 8.7}))
    '6.90 USD each, 2XL 8.70, since 2024-08-05'
    """
    each = f"{price.each:.2f} {price.currency}".strip()
    others = [f"{size} {price.of_size(size):.2f}" for size in {**price.sizes, **price.extra}]
    others += [f"{step.each:.2f} from {step.pieces} pieces on" for step in price.breaks]
    return ", ".join([f"{each} each", *others, f"since {price.since.isoformat()}"])


def size_charts(blank: Blank) -> tuple[SizeChartTable, ...]:
    """Return the published size charts as they were written, the newest first."""
    return tuple(_chart(blank, chart) for chart in reversed(blank.style.charts))


def _how(blank: Blank, chart: Chart, point: str) -> str:
    """Return how a chart measures a point, and a warning where our readings are not comparable."""
    stated = POINTS[point].variant_meaning(chart.how[point]) if point in chart.how else ""
    if POINTS[point].are_comparable(measuring_line(blank, point), chart.how.get(point, "")):
        return stated
    return f"{stated or POINTS[point].variant_meaning('')}; not comparable with what was measured"


def _chart(blank: Blank, chart: Chart) -> SizeChartTable:
    style = blank.style
    sizes = [size for size in style.sizes if size in chart.sizes]
    points = [p for p in POINTS if any(p in chart.sizes[size] for size in sizes)]
    return SizeChartTable(
        since=chart.since.isoformat(),
        origin=chart.origin,
        unit=chart.unit,
        sizes=tuple(sizes),
        tolerances=bool(chart.tolerance),
        rows=tuple(
            SizeChartRow(
                head=point_name(point),
                how=_how(blank, chart, point),
                cells=tuple(
                    chart.sizes[size][point].written if point in chart.sizes[size] else DASH
                    for size in sizes
                ),
                tolerance=chart.tolerance[point].written if point in chart.tolerance else DASH,
            )
            for point in points
        ),
        remarks=tuple(chart_remarks(chart, style.sizes)),
        confirmed=chart.confirmed,
    )
