"""The fault of a text that should be a grade, and what to write instead."""

import re

from blankbook.text.findings import Fault, ValuePath
from blankbook.words.grade_scales import GRADES, neighbouring_grades


def grade_fault(at: ValuePath, name: str, found: str) -> Fault:
    """Return the fault of a text that is no grade; for a decimal, help names its neighbours."""
    near = _near(found.replace(",", ".").strip())
    remedy = f"write {' or '.join(near)}" if near else "write one of: " + ", ".join(GRADES)
    message = f"{name} must be a grade, from 5 (best) to 1 in half steps, found {found}"
    return Fault(at, "not-a-grade", message, remedy)


def _near(text: str) -> tuple[str, ...]:
    """Return the grades that a decimal such as 4.2, or a pair such as 5-4, may mean."""
    if re.fullmatch(r"[0-9]{1,2}(\.[0-9]{1,4})?", text):
        return neighbouring_grades(min(max(float(text), 1.0), 5.0))
    if pair := re.fullmatch(r"([1-5]) ?[-/–] ?([1-5])", text):
        return tuple(grade for grade in GRADES if set(grade.split("-")) == {pair[1], pair[2]})
    return ()
