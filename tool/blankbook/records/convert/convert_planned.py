"""From a typed tree to a planned round: what to buy, and nothing measured yet.

A round without a date is a plan: the same file, before anything was measured. It is kept out of all
judging.
"""

import datetime

from blankbook.records.convert.convert_shared import to_day, to_tape
from blankbook.records.convert.tree_values import Faults
from blankbook.records.model import Piece, PlannedRound, Source
from blankbook.text.findings import Fault, ValuePath
from blankbook.text.yaml_tree import Tree

_OF_PIECE = ("received", "washed", "worn", "workmanship")
_OF_ROUND = ("swatches", "decorated", "decision")
"""Keys of what is known only once a piece was looked at."""


def to_planned_round(tree: Tree, path: str, faults: Faults) -> PlannedRound:
    """Return one planned round; anything measured in it is a fault, as the date is missing."""
    bought = tree.get("bought", {})
    for at in _measured_paths(tree):
        message = f"{at[-1]} is there, but not the day of measuring"
        remedy = f"write date: {tree['planned']}, or whichever day it was"
        faults.append(Fault(at, "no-date", message, remedy, on_key=True))
    return PlannedRound(
        source=Source(path),
        key=path.rpartition("/")[2].removesuffix(".yaml"),
        style=tree["style"],
        planned=datetime.date.fromisoformat(tree["planned"]),
        pieces=tuple(_to_piece(piece, tree, path) for piece in tree["pieces"]),
        by=tree.get("by", ""),
        lot=tree.get("lot", ""),
        tape=to_tape(tree["tape"], faults) if "tape" in tree else None,
        bought=to_day(bought.get("date")),
        each=bought.get("each"),
        currency=bought.get("currency", ""),
        note=tree.get("note", ""),
        how=tree.get("how", {}),
    )


def _measured_paths(tree: Tree) -> list[ValuePath]:
    """Return the paths of what only a look at a piece can give, the first of each kind."""
    found: list[ValuePath] = [(key,) for key in _OF_ROUND if tree.get(key)]
    for key in _OF_PIECE:
        places = [n for n, piece in enumerate(tree["pieces"]) if piece.get(key)]
        found += [("pieces", place, key) for place in places[:1]]
    return found


def _to_piece(tree: Tree, whole: Tree, path: str) -> Piece:
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
