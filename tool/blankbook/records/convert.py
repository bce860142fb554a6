"""From a valid, typed tree to records. What the schema cannot see in a text is found here.

Every function returns the record, or None where a fault was added to ``faults``.
"""

import datetime
from collections.abc import Callable, Mapping
from typing import Any

from blankbook.records import defaults
from blankbook.records.amounts import read_area, read_mass, read_mass_per_area
from blankbook.records.model import (
    Chart,
    Decision,
    Laundering,
    Photo,
    Piece,
    Price,
    Prior,
    Round,
    Shop,
    Source,
    Style,
    Supplier,
    Swatch,
    Tape,
    Washed,
)
from blankbook.records.written import Faults, amount, length, lengths, readings
from blankbook.text.findings import Path
from blankbook.text.tree import Tree


def _day(text: str | None) -> datetime.date | None:
    return datetime.date.fromisoformat(text) if text else None


def _tape(tree: Tree, faults: Faults) -> Tape:
    unit = tree["unit"]
    return Tape(unit, length(tree["reads_to"], unit, ("tape", "reads_to"), faults))


def shop(tree: Tree, path: str, faults: Faults) -> Shop:
    """Return the shop's rules; what shop.yaml leaves out has its usual value."""
    unit = tree["units"]

    def by_point(key: str, usual: Mapping[str, float]) -> dict[str, float]:
        written = lengths(tree.get(key, {}), unit, (key,), faults)
        return {**usual, **{point: one.mm for point, one in written.items()}}

    return Shop(
        source=Source(path),
        name=tree["shop"],
        unit=unit,
        currency=tree["currency"],
        tape=_tape(tree["tape"], faults),
        repeatability=_length_prior(
            tree.get("repeatability"), unit, ("repeatability",), defaults.REPEATABILITY, faults
        ),
        tolerance=by_point("tolerance", defaults.TOLERANCE),
        step=by_point("step", defaults.STEP),
        step_tolerance=by_point("step_tolerance", defaults.STEP_TOLERANCE),
        spread={
            **defaults.SPREAD,
            **{
                point: _length_prior(one, unit, ("spread", point), defaults.SPREAD[point], faults)
                for point, one in tree.get("spread", {}).items()
            },
        },
        lot_spread=tree.get("lot_spread", defaults.LOT_SPREAD),
        wash_limit={**defaults.WASH_LIMIT, **tree.get("wash_limit", {})},
        wash_spread=_prior(tree.get("wash_spread"), defaults.WASH_SPREAD),
        mass_tolerance=tree.get("mass_tolerance", defaults.MASS_TOLERANCE),
        mass_spread=_prior(tree.get("mass_spread"), defaults.MASS_SPREAD),
        mix_up_limit=tree.get("mix_up_limit", defaults.MIX_UP_LIMIT),
        risk=tree.get("risk", defaults.RISK),
        deciding_points=tuple(tree.get("deciding_points", defaults.DECIDING_POINTS)),
        required=tuple(tree.get("required", defaults.REQUIRED)),
        note=tree.get("note", ""),
    )


def _length_prior(tree: Tree | None, unit: str, at: Path, usual: Prior, faults: Faults) -> Prior:
    if tree is None:
        return usual
    deviation = length(tree["deviation"], unit, (*at, "deviation"), faults)
    return Prior(deviation.mm, tree["worth"])


def _prior(tree: Tree | None, usual: Prior) -> Prior:
    return usual if tree is None else Prior(tree["deviation"], tree["worth"])


def supplier(tree: Tree, path: str, _faults: Faults) -> Supplier:
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
        since=_day(tree.get("since")),
        note=tree.get("note", ""),
    )


def style(tree: Tree, path: str, faults: Faults) -> Style:
    """Return what a supplier claims of one blank."""
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
        mass=amount(read_mass_per_area, mass, ("fabric", "mass"), faults) if mass else None,
        mass_written=mass or "",
        construction=tree.get("construction", ""),
        neck_label=tree.get("neck_label", ""),
        wearer=tree.get("wearer", "adult"),
        charts=tuple(_chart(one, ("charts", index), faults) for index, one in charts),
        prices=tuple(_price(one) for one in tree.get("prices", ())),
        uses=tuple(tree.get("uses", ())),
        note=tree.get("note", ""),
    )


def _chart(tree: Tree, at: Path, faults: Faults) -> Chart:
    unit = tree["unit"]
    sizes = {
        size: lengths(row, unit, (*at, "sizes", size), faults)
        for size, row in tree["sizes"].items()
    }
    allowed = lengths(tree.get("tolerance", {}), unit, (*at, "tolerance"), faults)
    since = datetime.date.fromisoformat(tree["since"])
    return Chart(since, tree["source"], unit, sizes, allowed, tree.get("how", {}))


def _price(tree: Tree) -> Price:
    since = datetime.date.fromisoformat(tree["since"])
    return Price(since, tree["each"], tree.get("currency", ""), tree.get("sizes", {}))


def round_(tree: Tree, path: str, faults: Faults) -> Round:
    """Return one round."""
    tape = _tape(tree["tape"], faults)
    bought = tree.get("bought", {})
    pieces = enumerate(tree["pieces"])
    swatches = enumerate(tree.get("swatches", ()))
    photos = tree.get("photos", ())
    return Round(
        source=Source(path),
        key=path.rpartition("/")[2].removesuffix(".yaml"),
        style=tree["style"],
        date=datetime.date.fromisoformat(tree["date"]),
        by=tree["by"],
        lot=tree["lot"],
        tape=tape,
        pieces=tuple(_piece(one, index, tree, tape.unit, path, faults) for index, one in pieces),
        bought=_day(bought.get("date")),
        each=bought.get("each"),
        currency=bought.get("currency", ""),
        laundering=_laundering(tree.get("laundering")),
        swatches=tuple(_swatch(one, ("swatches", index), faults) for index, one in swatches),
        decision=_decision(tree.get("decision")),
        photos=tuple(Photo(one["file"], one["shows"]) for one in photos),
        note=tree.get("note", ""),
    )


def _piece(tree: Tree, index: int, whole: Tree, unit: str, path: str, faults: Faults) -> Piece:
    at = ("pieces", index)
    washed = tuple(
        Washed(stage["cycles"], readings(stage, unit, (*at, "washed", number), faults))
        for number, stage in enumerate(tree.get("washed", ()))
    )
    return Piece(
        source=Source(path),
        key=tree["piece"],
        size=tree["size"],
        colour=tree["colour"],
        lot=tree.get("lot") or whole["lot"],
        received=readings(tree.get("received", {}), unit, (*at, "received"), faults),
        washed=washed,
        confirmed=tree.get("confirmed", ""),
        note=tree.get("note", ""),
    )


def _laundering(tree: Tree | None) -> Laundering | None:
    return Laundering(tree["wash"], tree["dry"], tree.get("note", "")) if tree else None


def _swatch(tree: Tree, at: Path, faults: Faults) -> Swatch:
    area = amount(read_area, tree["area"], (*at, "area"), faults)
    mass = amount(read_mass, tree["mass"], (*at, "mass"), faults)
    return Swatch(area, mass, tree.get("piece", ""), tree.get("note", ""))


def _decision(tree: Tree | None) -> Decision | None:
    if tree is None:
        return None
    return Decision(
        decision=tree["decision"],
        date=datetime.date.fromisoformat(tree["date"]),
        by=tree["by"],
        reason=tree.get("reason", ""),
        uses=tuple(tree.get("uses", ())),
        conditions=tuple(tree.get("conditions", ())),
    )


CONVERTERS: dict[str, Callable[[Tree, str, Faults], Any]] = {
    "shop": shop,
    "supplier": supplier,
    "style": style,
    "round": round_,
}
