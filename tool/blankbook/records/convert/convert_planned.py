"""From a typed tree to a round that is planned: what is to be bought, and nothing measured."""

import datetime

from blankbook.records.convert.convert_shared import day, tape
from blankbook.records.convert.tree_values import Faults
from blankbook.records.model import Piece, PlannedRound, Source
from blankbook.text.findings import Fault, ValuePath
from blankbook.text.yaml_tree import Tree

_OF_PIECE = ("received", "washed", "worn", "workmanship")
_OF_ROUND = ("swatches", "decorated", "decision")
"""What is known only once somebody has looked at a piece."""


def planned_round(tree: Tree, path: str, faults: Faults) -> PlannedRound:
    """Return one planned round; what was measured without a day is a fault."""
    bought = tree.get("bought", {})
    for at in _measured(tree):
        message = f"{at[-1]} is there, but not the day of measuring"
        remedy = f"write date: {tree['planned']}, or whichever day it was"
        faults.append(Fault(at, "no-date", message, remedy, on_key=True))
    return PlannedRound(
        source=Source(path),
        key=path.rpartition("/")[2].removesuffix(".yaml"),
        style=tree["style"],
        planned=datetime.date.fromisoformat(tree["planned"]),
        pieces=tuple(_piece(piece, tree, path) for piece in tree["pieces"]),
        by=tree.get("by", ""),
        lot=tree.get("lot", ""),
        tape=tape(tree["tape"], faults) if "tape" in tree else None,
        bought=day(bought.get("date")),
        each=bought.get("each"),
        currency=bought.get("currency", ""),
        note=tree.get("note", ""),
        how=tree.get("how", {}),
    )


def _measured(tree: Tree) -> list[ValuePath]:
    """Return the ways to the first thing of each kind that only a look at a piece can give."""
    found: list[ValuePath] = [(key,) for key in _OF_ROUND if tree.get(key)]
    for key in _OF_PIECE:
        places = [n for n, piece in enumerate(tree["pieces"]) if piece.get(key)]
        found += [("pieces", place, key) for place in places[:1]]
    return found


def _piece(tree: Tree, whole: Tree, path: str) -> Piece:
    lot = tree.get("lot") or whole.get("lot", "")
    return Piece(
        Source(path),
        tree["piece"],
        tree["size"],
        tree["colour"],
        lot,
        {},
        note=tree.get("note", ""),
    )
