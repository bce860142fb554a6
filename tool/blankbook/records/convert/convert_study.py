"""From a typed tree to a study of the shop's measuring."""

import datetime

from blankbook.records.convert.convert_shared import tape
from blankbook.records.convert.tree_values import Faults, repeats
from blankbook.records.model import Source, StudiedPiece, Study
from blankbook.text.findings import ValuePath
from blankbook.text.yaml_tree import Tree


def study(tree: Tree, path: str, faults: Faults) -> Study:
    """Return one study."""
    read_with = tape(tree["tape"], faults)
    return Study(
        source=Source(path),
        key=path.rpartition("/")[2].removesuffix(".yaml"),
        date=datetime.date.fromisoformat(tree["date"]),
        by=tree["by"],
        point=tree["point"],
        tape=read_with,
        pieces=tuple(
            _piece(piece, read_with.unit, ("pieces", index), faults)
            for index, piece in enumerate(tree["pieces"])
        ),
        note=tree.get("note", ""),
    )


def _piece(tree: Tree, unit: str, at: ValuePath, faults: Faults) -> StudiedPiece:
    read = {
        person: repeats(written, unit, (*at, "read", person), faults)
        for person, written in tree["read"].items()
    }
    return StudiedPiece(tree["piece"], read)
