"""From a typed tree to a round of samples."""

import datetime

from blankbook.records.amounts import read_area, read_mass
from blankbook.records.convert.convert_grades import decorated, grades, seam, workmanship, worn
from blankbook.records.convert.convert_planned import planned_round
from blankbook.records.convert.convert_shared import day, decision, tape
from blankbook.records.convert.tree_values import Faults, amount, readings
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


def round_(tree: Tree, path: str, faults: Faults) -> Round | PlannedRound:
    """Return one round, or the plan of one: its file is the same, and has no date yet."""
    if "date" not in tree:
        return planned_round(tree, path, faults)
    read_with = tape(tree["tape"], faults)
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
        tape=read_with,
        pieces=tuple(
            _piece(piece, index, tree, read_with.unit, path, faults) for index, piece in pieces
        ),
        bought=day(bought.get("date")),
        each=bought.get("each"),
        currency=bought.get("currency", ""),
        laundering=_laundering(tree.get("laundering")),
        swatches=tuple(_swatch(swatch, ("swatches", index), faults) for index, swatch in swatches),
        decision=decision(tree.get("decision")),
        photos=tuple(Photo(photo["file"], photo["shows"]) for photo in photos),
        note=tree.get("note", ""),
        decorated=decorated(tree.get("decorated", ()), faults),
        planned=day(tree.get("planned")),
        how=tree.get("how", {}),
    )


def _piece(tree: Tree, index: int, whole: Tree, unit: str, path: str, faults: Faults) -> Piece:
    at = ("pieces", index)
    washed = tuple(
        _stage(stage, unit, (*at, "washed", number), faults)
        for number, stage in enumerate(tree.get("washed", ()))
    )
    received = tree.get("received", {})
    return Piece(
        source=Source(path),
        key=tree["piece"],
        size=tree["size"],
        colour=tree["colour"],
        lot=tree.get("lot") or whole["lot"],
        received=readings(received, unit, (*at, "received"), faults),
        washed=washed,
        confirmed=tree.get("confirmed", ""),
        note=tree.get("note", ""),
        seam=seam(received, unit, (*at, "received"), faults),
        workmanship=workmanship(tree.get("workmanship")),
        worn=worn(tree.get("worn", ())),
    )


def _stage(tree: Tree, unit: str, at: ValuePath, faults: Faults) -> Washed:
    return Washed(
        tree["cycles"],
        readings(tree, unit, at, faults),
        grades(tree, AFTER_WASHING),
        seam(tree, unit, at, faults),
        tree.get("note", ""),
    )


def _laundering(tree: Tree | None) -> Laundering | None:
    return Laundering(tree["wash"], tree["dry"], tree.get("note", "")) if tree else None


def _swatch(tree: Tree, at: ValuePath, faults: Faults) -> Swatch:
    area = amount(read_area, tree["area"], (*at, "area"), faults)
    mass = amount(read_mass, tree["mass"], (*at, "mass"), faults)
    return Swatch(area, mass, tree.get("piece", ""), tree.get("note", ""))
