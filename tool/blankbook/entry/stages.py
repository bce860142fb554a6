"""When a piece is looked at, and where in the round's file what is seen then belongs."""

from dataclasses import dataclass
from typing import Any

from blankbook.text.findings import Path
from blankbook.text.writing.edits import CannotEdit, Value, add_item, remove, set_value
from blankbook.text.writing.scalars import listed, plain
from blankbook.text.writing.spans import Text
from blankbook.words.grades import AFTER_WASHING, FRESH, GRADES, WEAR, WORKMANSHIP
from blankbook.words.points import POINTS


@dataclass(frozen=True, slots=True)
class Stage:
    """One look at the pieces of a round."""

    name: str
    """``as received``, ``after 5 washes``, …"""
    block: str
    """The key below a piece, or ``decorated`` of the round itself."""
    mark: tuple[str, str] | None = None
    """Key and text by which an entry of a list is known: ``cycles``, ``5``."""

    @property
    def grades(self) -> dict[str, str]:
        """What can be graded at this stage: key and title."""
        parts = {"washed": AFTER_WASHING, "workmanship": WORKMANSHIP, "worn": WEAR,
                 "decorated": FRESH}.get(self.block, {})  # fmt: skip
        return {key: part.title for key, part in parts.items()}

    @property
    def takes_lengths(self) -> bool:
        """Whether a tape is used at this stage."""
        return self.block in {"received", "washed"}


RECEIVED = Stage("as received", "received")
WORKMANSHIP_SEEN = Stage("workmanship", "workmanship")


def washed(cycles: int) -> Stage:
    """Return the stage after so many washes."""
    return Stage(
        f"after {cycles} wash{'' if cycles == 1 else 'es'}", "washed", ("cycles", str(cycles))
    )


def worn(days: int) -> Stage:
    """Return the stage after so many days of wear."""
    return Stage(f"worn on {days} day{'' if days == 1 else 's'}", "worn", ("days", str(days)))


def decorated(method: str) -> Stage:
    """Return the stage of a print or transfer that is cold."""
    return Stage(f"decorated: {method}", "decorated", ("method", method))


def is_grade(text: str) -> bool:
    """Say whether a text is a grade: 1 to 5, or a half step such as 3-4."""
    return text in GRADES


def piece_at(tree: dict[str, Any], piece: str) -> int:
    """Return where a piece stands in the list.

    Raises: KeyError.
    """
    for place, one in enumerate(tree["pieces"]):
        if one["piece"] == piece:
            return place
    raise KeyError(piece)


def way_of(tree: dict[str, Any], stage: Stage, piece: str, key: str) -> Path | None:
    """Return the way to a value, or None where its entry of a list is not there yet."""
    at = piece_at(tree, piece)
    if stage.mark is None:
        return ("pieces", at, stage.block, key)
    above, entries = _entries(tree, stage, at)
    for place, one in enumerate(entries):
        if one.get(stage.mark[0]) == stage.mark[1] and one.get("piece", piece) == piece:
            inner = ("result",) if stage.block == "decorated" else ()
            return (*above, place, *inner, key)
    return None


def _entries(tree: dict[str, Any], stage: Stage, at: int) -> tuple[Path, list[dict[str, Any]]]:
    if stage.block == "decorated":
        return ("decorated",), tree.get("decorated") or []
    return ("pieces", at, stage.block), tree["pieces"][at].get(stage.block) or []


def value_at(tree: dict[str, Any], stage: Stage, piece: str, key: str) -> Value | None:
    """Return what the file holds there."""
    way = way_of(tree, stage, piece, key)
    node: Any = tree
    for step in way or ():
        if isinstance(node, dict):
            node = node.get(str(step))
        elif isinstance(node, list) and isinstance(step, int) and step < len(node):
            node = node[step]
        else:
            return None
    return node if way else None


def fill(source: bytes, stage: Stage, piece: str, key: str, value: Value) -> bytes:
    """Return the file with a value of one piece at one stage.

    Raises: CannotEdit, UnreadableText, KeyError for an unknown piece.
    """
    tree = Text(source).tree
    way = way_of(tree, stage, piece, key)
    if way is not None:
        return set_value(source, way, value)
    assert stage.mark
    name, mark = stage.mark
    above, entries = _entries(tree, stage, piece_at(tree, piece))
    if name != "method" and any(int(one.get(name) or 0) > int(mark) for one in entries):
        raise CannotEdit(f"a later {name} is there already, and the fewest come first")
    text = plain(value) if isinstance(value, str) else listed(list(value))
    if stage.block == "decorated":
        item = f"{{piece: {plain(piece)}, method: {plain(mark)}, result: {{{key}: {text}}}}}"
    else:
        item = f"{{{name}: {mark}, {key}: {text}}}"
    return add_item(source, above, item)


def clear(source: bytes, stage: Stage, piece: str, key: str) -> bytes:
    """Return the file without that value; an entry that it leaves empty goes with it.

    Raises: CannotEdit, UnreadableText, KeyError.
    """
    way = way_of(Text(source).tree, stage, piece, key)
    if way is None:
        raise CannotEdit("there is nothing to take back")
    try:
        return remove(source, way)
    except CannotEdit:
        return remove(source, way[:-1])


def title_of(key: str) -> str:
    """Return what a person calls a point of measure or a grade."""
    if key in POINTS:
        return POINTS[key].name
    for parts in (AFTER_WASHING, WORKMANSHIP, WEAR, FRESH):
        if key in parts:
            return parts[key].title
    return key.replace("_", " ")
