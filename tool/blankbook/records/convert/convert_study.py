"""From a typed tree to a study of the shop's measuring."""

import datetime

from blankbook.records.convert.convert_shared import to_tape
from blankbook.records.convert.tree_values import Faults, to_repeats
from blankbook.records.model import Source, StudiedPiece, Study
from blankbook.text.findings import ValuePath
from blankbook.text.yaml_tree import Tree


def to_study(tree: Tree, path: str, faults: Faults) -> Study:
    """Return one study."""
    read_with = to_tape(tree["tape"], faults)
    return Study(
        source=Source(path),
        key=path.rpartition("/")[2].removesuffix(".yaml"),
        date=datetime.date.fromisoformat(tree["date"]),
        by=tree["by"],
        point=tree["point"],
        tape=read_with,
        pieces=tuple(
            _to_studied_piece(piece, read_with.unit, ("pieces", index), faults)
            for index, piece in enumerate(tree["pieces"])
        ),
        note=tree.get("note", ""),
    )


def _to_studied_piece(tree: Tree, unit: str, at: ValuePath, faults: Faults) -> StudiedPiece:
    read = {
        person: to_repeats(written, unit, (*at, "read", person), faults)
        for person, written in tree["read"].items()
    }
    return StudiedPiece(tree["piece"], read)
