"""What the lists know of one blank.

The build keeps it, so that an unchanged blank is neither read nor judged for the lists.
"""

from dataclasses import dataclass

from blankbook.pages.blank.history_types import OverTimeLink
from blankbook.pages.blank.lots_table import LotsTable, lots_table
from blankbook.pages.blank.over_time_page import over_time_link
from blankbook.pages.charts import all_charts
from blankbook.pages.clients.client_rows import ClientChart, client_chart
from blankbook.pages.orders.order_rows import OrderRow
from blankbook.pages.page_spec import AnyPage
from blankbook.pages.page_types import AnswerSign, ChartImage, chart_image
from blankbook.pages.shop.delivery_rows import DeliveryRow, delivery_rows
from blankbook.pages.shop.search_words import search_words, uses_of
from blankbook.pages.site_paths import blank_path, table_path
from blankbook.pages.value_words import DASH, sign_of
from blankbook.results.advice.verdict import is_against_advice
from blankbook.results.checks.delivery import series_for
from blankbook.results.checks.fabric import OUNCE
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Judged


@dataclass(frozen=True, slots=True)
class PlannedLink:
    """A planned round, and the page it is measured with."""

    day: str
    table: str


@dataclass(frozen=True, slots=True)
class ListedBlank:
    """One line of the catalogue, or of a supplier's blanks."""

    key: str
    path: str
    name: str
    supplier_name: str
    advice: AnswerSign
    headline: str
    decision: AnswerSign | None
    against: bool
    """Whether the decision goes against the advice."""
    drawing: ChartImage | None
    fabric: str
    mass: float | None
    """g/m2, for the filter."""
    found: str
    claimed: str
    """Mass as it was found, and as it is claimed."""
    colours: tuple[str, ...]
    uses: tuple[str, ...]
    sizes: tuple[str, ...]
    orderable: tuple[str, ...]
    along: str
    across: str
    """The change after the most washes."""
    round: str
    """The day of the newest round."""
    planned: tuple[PlannedLink, ...]
    price: str


@dataclass(frozen=True, slots=True)
class BlankRow:
    """All that the lists need of a blank."""

    supplier: str
    listed: ListedBlank
    words: str
    """Everything written about it, for the search."""
    lots: LotsTable | None
    over_time: OverTimeLink | None
    deliveries: tuple[DeliveryRow, ...]
    then: str
    """How severely the supplier's next delivery is inspected."""
    why: str
    client: ClientChart | None
    orders: tuple[OrderRow, ...] = ()


def blank_row(
    judged: Judged, history: AnyPage | None, orders: tuple[OrderRow, ...] = ()
) -> BlankRow:
    """Return what the lists need of one blank; *history* is its page over time, if it has one."""
    follows = series_for(judged.case)
    return BlankRow(
        supplier=judged.blank.supplier.key,
        listed=_listed(judged),
        words=search_words(judged),
        lots=lots_table(judged, judged.case.shop.unit),
        over_time=over_time_link(history) if history else None,
        deliveries=delivery_rows(judged),
        then=str(follows.then),
        why=follows.why,
        client=client_chart(judged),
        orders=orders,
    )


def _listed(judged: Judged) -> ListedBlank:
    style, made, advice = judged.blank.style, judged.decision, judged.verdict.advice
    small = all_charts.sizes_small_chart(judged)
    fabric = next(iter(judged.of("fabric")), None)
    found = fabric.number(Quantity.MASS) if fabric else None
    newest = judged.blank.rounds[-1] if judged.blank.rounds else None
    return ListedBlank(
        key=style.key,
        path=blank_path(style.key),
        name=style.name,
        supplier_name=judged.blank.supplier.name,
        advice=sign_of(advice),
        headline=judged.verdict.headline,
        decision=sign_of(made.decision) if made else None,
        against=made is not None and is_against_advice(made.decision, advice),
        drawing=chart_image(small) if small else None,
        fabric=", ".join(text for text in (style.fibre, style.knit) if text),
        mass=round((found.value if found else style.mass) or 0, 1) or None,
        found=_both_masses(found.value if found else None),
        claimed=_both_masses(style.mass),
        colours=tuple(style.colours),
        uses=uses_of(judged),
        sizes=tuple(style.sizes),
        orderable=tuple(judged.verdict.orderable),
        along=_most_washed(judged, "body_length"),
        across=_most_washed(judged, "half_chest"),
        round=newest.date.isoformat() if newest else "",
        planned=tuple(
            PlannedLink(planned.planned.isoformat(), table_path(style.key, planned.key))
            for planned in judged.blank.planned
        ),
        price=f"{style.prices[-1].each:.2f}" if style.prices else "",
    )


def _both_masses(mass: float | None) -> str:
    """Return a mass per unit area in g/m2 and oz/yd2."""
    return f"{mass:.0f} ({mass / OUNCE:.1f})" if mass else DASH


def _most_washed(judged: Judged, point: str) -> str:
    """Return the change after the most washes at *point*, in percent."""
    tested = [r for r in judged.of("washing") if r.point == point and r.number(Quantity.CHANGE)]
    change = tested[-1].number(Quantity.CHANGE) if tested else None
    return f"{change.value:+.1f}" if change else DASH
