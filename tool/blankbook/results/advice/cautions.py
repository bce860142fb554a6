"""The usual cautions that a blank's record calls for: heat, chemicals, children, labels."""

from blankbook.records.model import Blank
from blankbook.words.decoration_methods import CAUTIONS, METHODS
from blankbook.words.decoration_methods import CHILDREN_PRINT_CAUTION as CHILDREN_PRINT
from blankbook.words.garment_terms import CHILDREN_CAUTION, LABEL_CAUTION
from blankbook.words.wash_procedures import WASHING_CAUTION


def cautions(blank: Blank) -> dict[str, str]:
    """Return the cautions by subject; washing is always among them, for every blank is washed."""
    style = blank.style
    found = {"washing": WASHING_CAUTION}
    methods = {test.method for round_ in blank.rounds for test in round_.decorated}
    asked = {key for method in methods for key in METHODS[method].cautions}
    found |= {key: text for key, text in CAUTIONS.items() if key in asked}
    if style.wearer == "children":
        found["children"] = CHILDREN_CAUTION
        if methods:
            found["children_print"] = CHILDREN_PRINT
    if style.neck_label in {"tear_away", "sewn"}:
        found["label"] = LABEL_CAUTION
    return found


def decoration_cautions(blank: Blank) -> list[str]:
    """Return the cautions that stand beside decoration tests."""
    found = cautions(blank)
    return [found[key] for key in (*CAUTIONS, "children_print") if key in found]
