"""From a typed tree to what was graded: washing, workmanship, wear and decoration."""

import re
from collections.abc import Collection, Iterable, Mapping

from blankbook.records.amounts import read_temperature
from blankbook.records.convert.tree_values import Faults, amount, length
from blankbook.records.lengths import LengthError, read_length
from blankbook.records.model import (
    Decorated,
    Grade,
    Heat,
    Seam,
    Temperature,
    WashedPrint,
    Workmanship,
    Worn,
)
from blankbook.text.findings import Fault, ValuePath
from blankbook.text.yaml_tree import Tree
from blankbook.words.grade_scales import FRESH_PRINT, GRADES, WASHED_PRINT, WEAR, WORKMANSHIP

_KNOWN = {text: Grade(value, text) for text, value in GRADES.items()}
_SHIFT = re.compile(r"(.*?)(?: +(left|right))?", re.DOTALL)


def grades(tree: Mapping[str, str], parts: Collection[str]) -> dict[str, Grade]:
    """Return the grades of those *parts* that have one, in the order of the vocabulary."""
    return {part: _KNOWN[tree[part]] for part in parts if part in tree}


def seam(tree: Tree, unit: str, at: ValuePath, faults: Faults) -> Seam | None:
    """Return how far the side seam has moved, and its length, where either is written."""
    if "seam_shift" not in tree and "seam_length" not in tree:
        return None
    along = tree.get("seam_length")
    whole = length(along, unit, (*at, "seam_length"), faults) if along is not None else None
    return Seam(*_shift(str(tree.get("seam_shift", "")), unit, at, faults), whole)


def _shift(written: str, unit: str, at: ValuePath, faults: Faults) -> tuple[float, str, str]:
    """Return millimetres, the text as written and where it went; no text, no shift."""
    if not written:
        return 0.0, "", ""
    shape = _SHIFT.fullmatch(written.strip())
    assert shape
    try:
        return read_length(shape[1], unit).mm, written, shape[2] or ""
    except LengthError as error:
        slip = str(error).startswith("must be a length")
        remedy = "write 3/4, 3/4 left or 2 cm right" if slip else error.instead
        faults.append(Fault((*at, "seam_shift"), "not-a-length", f"seam_shift {error}", remedy))
        return 0.0, written, ""


def workmanship(tree: Tree | None) -> Workmanship | None:
    """Return how a piece was made, if somebody looked it over."""
    return Workmanship(grades(tree, WORKMANSHIP), tree.get("note", "")) if tree else None


def worn(trees: Iterable[Tree]) -> tuple[Worn, ...]:
    """Return how a piece wore."""
    return tuple(
        Worn(
            tree["days"],
            tree.get("washes", 0),
            grades(tree, WEAR),
            tree.get("by", ""),
            tree.get("note", ""),
        )
        for tree in trees
    )


def decorated(trees: Iterable[Tree], faults: Faults) -> tuple[Decorated, ...]:
    """Return the decoration tests of a round."""
    return tuple(_decorated(tree, ("decorated", at), faults) for at, tree in enumerate(trees))


def _decorated(tree: Tree, at: ValuePath, faults: Faults) -> Decorated:
    return Decorated(
        piece=tree["piece"],
        method=tree["method"],
        material=tree.get("material", ""),
        press=_heat(tree.get("press"), (*at, "press"), faults),
        dryer=_heat(tree.get("dryer"), (*at, "dryer"), faults),
        result=grades(tree.get("result", {}), FRESH_PRINT),
        washed=tuple(
            WashedPrint(stage["cycles"], grades(stage, WASHED_PRINT), stage.get("note", ""))
            for stage in tree.get("washed", ())
        ),
        note=tree.get("note", ""),
    )


def _heat(tree: Tree | None, at: ValuePath, faults: Faults) -> Heat | None:
    if tree is None:
        return None
    text = tree.get("temperature")
    degrees = None
    if text is not None:
        celsius = amount(read_temperature, text, (*at, "temperature"), faults)
        degrees = Temperature(celsius, text)
    return Heat(degrees, tree.get("seconds"), tree.get("pressure", ""))
