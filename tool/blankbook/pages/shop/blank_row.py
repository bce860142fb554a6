"""What the lists know of one blank.

The build keeps it, so that an unchanged blank is neither read nor judged for the lists.
"""

from dataclasses import dataclass

from blankbook.pages.charts import all_charts
from blankbook.pages.clients.client_rows import ClientChart, client_chart
from blankbook.pages.orders.order_rows import OrderRow
from blankbook.pages.over_time.history_types import OverTimeLink
from blankbook.pages.over_time.lots_table import LotsTable, lots_table
from blankbook.pages.over_time.over_time_page import over_time_link
from blankbook.pages.page_spec import AnyPage
from blankbook.pages.page_types import AnswerSign, ChartImage, chart_image
from blankbook.pages.shop.delivery_rows import DeliveryRow, delivery_rows
from blankbook.pages.shop.search_words import search_words, uses_of
from blankbook.pages.site_paths import blank_path, table_path
from blankbook.pages.value_words import DASH, sign_of
from blankbook.results.checks.delivery import series_for
from blankbook.results.checks.fabric import OUNCE
from blankbook.results.number_words import say_counted
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Judged
from blankbook.results.standing.standing_types import Standing
from blankbook.words.answers import Advice, MayOrder


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
    standing: AnswerSign
    rank: int
    """The place of the standing, 0 for the best: what the list is sorted by."""
    sentence: str
    evidence: str
    """The day and the lots that the standing rests on."""
    decision: AnswerSign | None
    decision_rank: int
    """Its place, 0 for an approval; behind all where nobody has decided."""
    against: bool
    """Whether something newer, or the evidence, speaks against the decision."""
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
    style, made, standing = judged.blank.style, judged.decision, judged.standing
    ranks = tuple(Advice)
    small = all_charts.sizes_small_chart(judged)
    fabric = next(iter(judged.of("fabric")), None)
    found = fabric.number(Quantity.MASS) if fabric else None
    return ListedBlank(
        key=style.key,
        path=blank_path(style.key),
        name=style.name,
        supplier_name=judged.blank.supplier.name,
        standing=sign_of(standing.kind),
        rank=tuple(MayOrder).index(standing.kind),
        sentence=standing.sentence,
        evidence=_evidence(standing),
        decision=sign_of(made.decision) if made else None,
        decision_rank=ranks.index(made.decision) if made else len(ranks),
        against=bool(standing.against),
        drawing=chart_image(small) if small else None,
        fabric=", ".join(text for text in (style.fibre, style.knit) if text),
        mass=round((found.value if found else style.mass) or 0, 1) or None,
        found=_both_masses(found.value if found else None),
        claimed=_both_masses(style.mass),
        colours=tuple(style.colours),
        uses=uses_of(judged),
        sizes=tuple(style.sizes),
        orderable=standing.sizes,
        along=_most_washed(judged, "body_length"),
        across=_most_washed(judged, "half_chest"),
        planned=tuple(
            PlannedLink(planned.planned.isoformat(), table_path(style.key, planned.key))
            for planned in judged.blank.planned
        ),
        price=f"{style.prices[-1].each:.2f}" if style.prices else "",
    )


def _evidence(standing: Standing) -> str:
    """Return the day of the evidence, and of how many lots it is."""
    found = standing.evidence
    return f"{found.day.isoformat()}, {say_counted(found.lots, 'lot')}" if found else ""


def _both_masses(mass: float | None) -> str:
    """Return a mass per unit area in g/m2 and oz/yd2."""
    return f"{mass:.0f} ({mass / OUNCE:.1f})" if mass else DASH


def _most_washed(judged: Judged, point: str) -> str:
    """Return the change after the most washes at *point*, in percent."""
    tested = [r for r in judged.of("washing") if r.point == point and r.number(Quantity.CHANGE)]
    change = tested[-1].number(Quantity.CHANGE) if tested else None
    return f"{change.value:+.1f}" if change else DASH
