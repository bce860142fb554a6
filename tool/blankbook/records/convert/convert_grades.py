"""From a typed tree to grades: washing, workmanship, wear and decoration; and to twist."""

import re
from collections.abc import Collection, Iterable, Mapping

from blankbook.records.amounts import read_temperature
from blankbook.records.convert.tree_values import Faults, to_amount, to_length
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

_GRADES_BY_TEXT = {text: Grade(value, text) for text, value in GRADES.items()}
_SHIFT = re.compile(r"(.*?)(?: +(left|right))?", re.DOTALL)


def to_grades(tree: Mapping[str, str], parts: Collection[str]) -> dict[str, Grade]:
    """Return the grades of those *parts* that have one, in the order of the vocabulary."""
    return {part: _GRADES_BY_TEXT[tree[part]] for part in parts if part in tree}


def to_seam(tree: Tree, unit: str, at: ValuePath, faults: Faults) -> Seam | None:
    """Return how far the side seam has moved, and its length, where either is written."""
    if "seam_shift" not in tree and "seam_length" not in tree:
        return None
    along = tree.get("seam_length")
    whole = to_length(along, unit, (*at, "seam_length"), faults) if along is not None else None
    return Seam(*_to_shift(str(tree.get("seam_shift", "")), unit, at, faults), whole)


def _to_shift(written: str, unit: str, at: ValuePath, faults: Faults) -> tuple[float, str, str]:
    """Return the shift in millimetres, its text and its side; 0 and empty without one."""
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


def to_workmanship(tree: Tree | None) -> Workmanship | None:
    """Return the grades of workmanship, or None where nobody looked."""
    return Workmanship(to_grades(tree, WORKMANSHIP), tree.get("note", "")) if tree else None


def to_worn(trees: Iterable[Tree]) -> tuple[Worn, ...]:
    """Return the grades of a piece after wear, in order of its days."""
    return tuple(
        Worn(
            tree["days"],
            tree.get("washes", 0),
            to_grades(tree, WEAR),
            tree.get("by", ""),
            tree.get("note", ""),
        )
        for tree in trees
    )


def to_decorated(trees: Iterable[Tree], faults: Faults) -> tuple[Decorated, ...]:
    """Return the decoration tests of a round."""
    return tuple(
        _to_decoration_test(tree, ("decorated", at), faults) for at, tree in enumerate(trees)
    )


def _to_decoration_test(tree: Tree, at: ValuePath, faults: Faults) -> Decorated:
    return Decorated(
        piece=tree["piece"],
        method=tree["method"],
        material=tree.get("material", ""),
        press=_to_heat(tree.get("press"), (*at, "press"), faults),
        dryer=_to_heat(tree.get("dryer"), (*at, "dryer"), faults),
        result=to_grades(tree.get("result", {}), FRESH_PRINT),
        washed=tuple(
            WashedPrint(stage["cycles"], to_grades(stage, WASHED_PRINT), stage.get("note", ""))
            for stage in tree.get("washed", ())
        ),
        note=tree.get("note", ""),
    )


def _to_heat(tree: Tree | None, at: ValuePath, faults: Faults) -> Heat | None:
    if tree is None:
        return None
    text = tree.get("temperature")
    degrees = None
    if text is not None:
        celsius = to_amount(read_temperature, text, (*at, "temperature"), faults)
        degrees = Temperature(celsius, text)
    return Heat(degrees, tree.get("seconds"), tree.get("pressure", ""))
