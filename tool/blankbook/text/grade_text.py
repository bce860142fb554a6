"""What is wrong with a text that should be a grade, and what to write instead."""

import re

from blankbook.text.findings import Fault, Path
from blankbook.words.grade_scales import GRADES, neighbouring_grades


def grade_fault(at: Path, name: str, found: str) -> Fault:
    """Return the fault of a text that is no grade; a decimal names those that it lies between."""
    near = _near(found.replace(",", ".").strip())
    remedy = f"write {' or '.join(near)}" if near else "write one of: " + ", ".join(GRADES)
    message = f"{name} must be a grade, from 5 (best) to 1 in half steps, found {found}"
    return Fault(at, "not-a-grade", message, remedy)


def _near(text: str) -> tuple[str, ...]:
    if re.fullmatch(r"[0-9]{1,2}(\.[0-9]{1,4})?", text):
        return neighbouring_grades(min(max(float(text), 1.0), 5.0))
    if pair := re.fullmatch(r"([1-5]) ?[-/–] ?([1-5])", text):
        return tuple(grade for grade in GRADES if set(grade.split("-")) == {pair[1], pair[2]})
    return ()
