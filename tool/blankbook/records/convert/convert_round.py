"""From a typed tree to a round of samples."""

import datetime

from blankbook.records.amounts import read_area, read_mass
from blankbook.records.convert.convert_grades import (
    to_decorated,
    to_grades,
    to_seam,
    to_workmanship,
    to_worn,
)
from blankbook.records.convert.convert_planned import to_planned_round
from blankbook.records.convert.convert_shared import to_day, to_decision, to_tape
from blankbook.records.convert.tree_values import Faults, to_amount, to_lot, to_readings
from blankbook.records.model import (
    Laundering,
    Photo,
    Piece,
    PlannedRound,
    Round,
    Source,
    Swatch,
    Washed,
)
from blankbook.text.findings import ValuePath
from blankbook.text.yaml_tree import Tree
from blankbook.words.grade_scales import AFTER_WASHING


def to_round(tree: Tree, path: str, faults: Faults) -> Round | PlannedRound:
    """Return one round; without a date its file is a planned round."""
    if "date" not in tree:
        return to_planned_round(tree, path, faults)
    read_with = to_tape(tree["tape"], faults)
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
        lot=to_lot(tree["lot"], tree["date"]),
        tape=read_with,
        pieces=tuple(
            _to_piece(piece, index, tree, read_with.unit, path, faults) for index, piece in pieces
        ),
        bought=to_day(bought.get("date")),
        each=bought.get("each"),
        currency=bought.get("currency", ""),
        laundering=_to_laundering(tree.get("laundering")),
        swatches=tuple(
            _to_swatch(swatch, ("swatches", index), faults) for index, swatch in swatches
        ),
        decision=to_decision(tree.get("decision")),
        photos=tuple(Photo(photo["file"], photo["shows"]) for photo in photos),
        note=tree.get("note", ""),
        decorated=to_decorated(tree.get("decorated", ()), faults),
        planned=to_day(tree.get("planned")),
        how=tree.get("how", {}),
    )


def _to_piece(tree: Tree, index: int, whole: Tree, unit: str, path: str, faults: Faults) -> Piece:
    at = ("pieces", index)
    washed = tuple(
        _to_washed(stage, unit, (*at, "washed", number), faults)
        for number, stage in enumerate(tree.get("washed", ()))
    )
    received = tree.get("received", {})
    return Piece(
        source=Source(path),
        key=tree["piece"],
        size=tree["size"],
        colour=tree["colour"],
        lot=to_lot(tree.get("lot") or whole["lot"], whole["date"]),
        received=to_readings(received, unit, (*at, "received"), faults),
        washed=washed,
        confirmed=tree.get("confirmed", ""),
        note=tree.get("note", ""),
        seam=to_seam(received, unit, (*at, "received"), faults),
        workmanship=to_workmanship(tree.get("workmanship")),
        worn=to_worn(tree.get("worn", ())),
    )


def _to_washed(tree: Tree, unit: str, at: ValuePath, faults: Faults) -> Washed:
    return Washed(
        tree["cycles"],
        to_readings(tree, unit, at, faults),
        to_grades(tree, AFTER_WASHING),
        to_seam(tree, unit, at, faults),
        tree.get("note", ""),
    )


def _to_laundering(tree: Tree | None) -> Laundering | None:
    return Laundering(tree["wash"], tree["dry"], tree.get("note", "")) if tree else None


def _to_swatch(tree: Tree, at: ValuePath, faults: Faults) -> Swatch:
    area = to_amount(read_area, tree["area"], (*at, "area"), faults)
    mass = to_amount(read_mass, tree["mass"], (*at, "mass"), faults)
    return Swatch(area, mass, tree.get("piece", ""), tree.get("note", ""))
