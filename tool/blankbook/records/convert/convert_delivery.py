"""From a typed tree to a delivery that was inspected."""

import datetime

from blankbook.records.convert.convert_shared import to_tape
from blankbook.records.convert.tree_values import Faults, to_lot, to_readings
from blankbook.records.model import Photo, Piece, Source
from blankbook.records.model.delivery_record import Delivery, DeliveryDecision, Flaw
from blankbook.text.yaml_tree import Tree


def to_delivery(tree: Tree, path: str, faults: Faults) -> Delivery:
    """Return one delivery."""
    read_with = to_tape(tree["tape"], faults) if "tape" in tree else None
    measured = tree.get("pieces", ())
    unit = read_with.unit if read_with else "in"  # without one, a rule refuses the pieces
    return Delivery(
        source=Source(path),
        key=path.rpartition("/")[2].removesuffix(".yaml"),
        style=tree["style"],
        date=datetime.date.fromisoformat(tree["date"]),
        by=tree["by"],
        lot=to_lot(tree["lot"], tree["date"]),
        delivered=tree["delivered"],
        inspected=tree["inspected"],
        invoiced=tree.get("invoiced"),
        order=tree.get("order", ""),
        again=tree.get("again", ""),
        changed=tree.get("changed", ""),
        corrected=tree.get("corrected", ""),
        approved=tree.get("approved", ""),
        tape=read_with,
        pieces=tuple(
            _to_piece(piece, index, to_lot(tree["lot"], tree["date"]), unit, path, faults)
            for index, piece in enumerate(measured)
        ),
        flaws=tuple(_to_flaw(flaw) for flaw in tree.get("faults", ())),
        decision=_to_delivery_decision(tree.get("decision")),
        photos=tuple(Photo(photo["file"], photo["shows"]) for photo in tree.get("photos", ())),
        note=tree.get("note", ""),
        how=tree.get("how", {}),
    )


def _to_piece(tree: Tree, index: int, lot: str, unit: str, path: str, faults: Faults) -> Piece:
    at = ("pieces", index, "received")
    return Piece(
        source=Source(path),
        key=tree["piece"],
        size=tree["size"],
        colour=tree["colour"],
        lot=tree.get("lot") or lot,
        received=to_readings(tree.get("received", {}), unit, at, faults),
        confirmed=tree.get("confirmed", ""),
        note=tree.get("note", ""),
    )


def _to_flaw(tree: Tree) -> Flaw:
    return Flaw(
        size=tree["size"],
        fault=tree["fault"],
        count=tree.get("count", 1),
        colour=tree.get("colour", ""),
        piece=tree.get("piece", ""),
        note=tree.get("note", ""),
    )


def _to_delivery_decision(tree: Tree | None) -> DeliveryDecision | None:
    if tree is None:
        return None
    day = datetime.date.fromisoformat(tree["date"])
    return DeliveryDecision(tree["decision"], day, tree["by"], tree.get("reason", ""))
