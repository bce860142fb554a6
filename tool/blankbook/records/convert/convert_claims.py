"""From a typed tree to a supplier, or to a style with its charts and prices."""

import datetime

from blankbook.records.amounts import read_mass_per_area
from blankbook.records.convert.convert_shared import to_day, to_money
from blankbook.records.convert.tree_values import Faults, to_amount, to_lengths
from blankbook.records.model import (
    Chart,
    ClaimChange,
    Pack,
    Price,
    PriceBreak,
    Source,
    Style,
    Supplier,
    Supply,
)
from blankbook.records.money import exact_amount
from blankbook.text.findings import ValuePath
from blankbook.text.yaml_tree import Tree


def to_supplier(tree: Tree, path: str, _faults: Faults) -> Supplier:
    """Return a supplier."""
    return Supplier(
        source=Source(path),
        key=tree["supplier"],
        name=tree["name"],
        contact=tree.get("contact", ""),
        website=tree.get("website", ""),
        terms=tree.get("terms", ""),
        lead_time_days=tree.get("lead_time_days"),
        sends=tree.get("sends", ""),
        minimum=tree.get("minimum", ""),
        since=to_day(tree.get("since")),
        note=tree.get("note", ""),
        supply=tuple(_to_supply(terms) for terms in tree.get("supply", ())),
    )


def to_style(tree: Tree, path: str, faults: Faults) -> Style:
    """Return one style: what a supplier claims of it."""
    fabric = tree.get("fabric", {})
    mass = fabric.get("mass")
    charts = enumerate(tree.get("charts", ()))
    return Style(
        source=Source(path),
        key=tree["style"],
        supplier=tree["style"].partition("/")[0],
        name=tree["name"],
        sizes=tuple(tree["sizes"]),
        colours=tuple(tree["colours"]),
        fibre=fabric.get("fibre", ""),
        knit=fabric.get("knit", ""),
        mass=to_amount(read_mass_per_area, mass, ("fabric", "mass"), faults) if mass else None,
        mass_written=mass or "",
        construction=tree.get("construction", ""),
        neck_label=tree.get("neck_label", ""),
        wearer=tree.get("wearer", "adult"),
        charts=tuple(_to_chart(chart, ("charts", index), faults) for index, chart in charts),
        prices=tuple(_to_price(price) for price in tree.get("prices", ())),
        uses=tuple(tree.get("uses", ())),
        note=tree.get("note", ""),
        called=tree.get("called", ""),
        supply=tuple(_to_supply(terms) for terms in tree.get("supply", ())),
        changed=tuple(sorted(map(_to_change, tree.get("changed", ())), key=lambda c: c.since)),
    )


def _to_change(tree: Tree) -> ClaimChange:
    since = datetime.date.fromisoformat(tree["since"])
    return ClaimChange(since, tree["what"], tree.get("was", ""), tree.get("source", ""))


def _to_chart(tree: Tree, at: ValuePath, faults: Faults) -> Chart:
    unit = tree["unit"]
    sizes = {
        size: to_lengths(row, unit, (*at, "sizes", size), faults)
        for size, row in tree["sizes"].items()
    }
    allowed = to_lengths(tree.get("tolerance", {}), unit, (*at, "tolerance"), faults)
    since = datetime.date.fromisoformat(tree["since"])
    how, confirmed = tree.get("how", {}), tree.get("confirmed", "")
    return Chart(since, tree["source"], unit, sizes, allowed, how, confirmed)


def _to_price(tree: Tree) -> Price:
    return Price(
        since=datetime.date.fromisoformat(tree["since"]),
        each=tree["each"],
        currency=tree.get("currency", ""),
        sizes=tree.get("sizes", {}),
        extra={size: exact_amount(extra) for size, extra in tree.get("extra", {}).items()},
        breaks=tuple(
            PriceBreak(step["from"], exact_amount(step["each"])) for step in tree.get("breaks", ())
        ),
        together=tree.get("together", ""),
    )


def _to_supply(tree: Tree) -> Supply:
    pack, minimum = tree.get("pack"), tree.get("minimum", {})
    return Supply(
        since=datetime.date.fromisoformat(tree["since"]),
        currency=tree.get("currency", ""),
        pack=Pack(pack["pieces"], pack["holds"] == "any") if pack else None,
        minimum_pieces=minimum.get("pieces"),
        minimum_of=minimum.get("of", "order"),
        minimum_money=to_money(minimum.get("money")),
        freight=to_money(tree.get("freight")),
        free_from=to_money(tree.get("free_from")),
        lead_time_days=tree.get("lead_time_days"),
    )
