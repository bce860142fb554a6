"""The definitions in words.schema.json that follow from grade scales and decoration methods."""

from collections.abc import Iterable, Mapping
from typing import Any

from blankbook.words.decoration_methods import METHODS, PRESSURES
from blankbook.words.grade_scales import (
    FRESH_PRINT,
    GRADE_SCALES,
    GRADES,
    WASHED_PRINT,
    WEAR,
    WORKMANSHIP,
    Part,
)
from blankbook.words.points import SEAMS

NOTE = {
    "title": "note",
    "description": "Anything worth remembering, in your own words.",
    "examples": ["collar sits flat"],
    "type": "string",
    "minLength": 1,
    "maxLength": 4000,
    "pattern": "[^\\s]",
}
CYCLES = {
    "title": "cycles",
    "description": "How many times it was washed and dried by then.",
    "examples": [5],
    "type": "integer",
    "minimum": 1,
    "maximum": 200,
}
_LONG = {"type": "integer", "minimum": 0, "maximum": 5000}


def grade_definitions() -> dict[str, Any]:
    """Return one definition for each scale, and for each list of parts that are graded."""
    found: dict[str, Any] = {f"{key}_grade": _grade(key) for key in GRADE_SCALES}
    found["grade"] = _any_grade()
    found["method"] = word_list("method", {key: method.title for key, method in METHODS.items()})
    found["workmanship"] = _graded_parts(
        "workmanship", "How the piece is made, looked over as received.", WORKMANSHIP.values()
    )
    found["worn"] = _graded_parts(
        "worn", "How the piece wore.", WEAR.values(), _worn_properties(), required=("days",)
    )
    found["print_result"] = _graded_parts(
        "result", "The print once it is cold, before any wash.", FRESH_PRINT.values(), note=False
    )
    found["print_washed"] = _graded_parts(
        "washed",
        "The print after washing.",
        WASHED_PRINT.values(),
        {"cycles": CYCLES},
        required=("cycles",),
    )
    found["press"] = _heat("press", 600, {"pressure": word_list("pressure", PRESSURES)})
    found["dryer"] = _heat("dryer", 3600, {})
    return found


def seam_properties() -> dict[str, Any]:
    """Return the properties of the two lengths that a twist is computed from."""
    return {
        "seam_shift": {
            "title": SEAMS["seam_shift"].name,
            "description": "How far the side seam or fold has moved at the hem, 0 where it has "
            "not; left or right after it says where the front of the hem went, as worn.",
            "examples": ["3/4", "3/4 left"],
            "type": ["string", "number"],
        },
        "seam_length": {
            "title": SEAMS["seam_length"].name,
            "description": "From the hem to 1 in (2.5 cm) below the armhole.",
            "examples": ["17 1/2"],
            "type": ["string", "number"],
        },
    }


def _grade(key: str) -> dict[str, Any]:
    """Return the definition of a grade on one scale.

    An editor may take 4 for a number, so whole grades are there as text and as number.
    """
    scale = GRADE_SCALES[key]
    choices = [
        {"const": const, "description": scale.meaning(grade)}
        for grade, value in GRADES.items()
        for const in ((grade, int(value)) if "-" not in grade else (grade,))
    ]
    return {
        "title": scale.title,
        "description": f"{scale.how} 5 is best; a half grade is written 4-5.",
        "examples": ["4-5", "4"],
        "oneOf": choices,
    }


def _any_grade() -> dict[str, Any]:
    """Return the definition of a grade on whichever scale."""
    consts = [choice["const"] for choice in _grade("wear")["oneOf"]]
    return {
        "title": "grade",
        "description": "5 is best, 1 is worst; a half grade is written 4-5.",
        "examples": ["3-4", "4"],
        "oneOf": [{"const": const, "description": "a grade"} for const in consts],
    }


def _graded_parts(
    title: str,
    what: str,
    parts: Iterable[Part],
    before: Mapping[str, Any] | None = None,
    required: tuple[str, ...] = (),
    note: bool = True,
) -> dict[str, Any]:
    """Return the definition of graded parts; the properties *before* stand in front of them."""
    graded = {
        part.key: {
            "title": part.title,
            "description": part.looks,
            "examples": ["4-5"],
            "allOf": [{"$ref": f"#/definitions/{part.scale}_grade"}],
        }
        for part in parts
    }
    own = {**(before or {}), **graded, **({"note": NOTE} if note else {})}
    example = {key: own[key]["examples"][0] for key in (*required, next(iter(graded)))}
    return {
        "title": title,
        "description": what,
        "examples": [example],
        "type": "object",
        "additionalProperties": False,
        "required": list(required),
        "minProperties": 1,
        "properties": own,
    }


def _worn_properties() -> dict[str, Any]:
    """Return what is written of a piece that somebody wore, besides its grades."""
    return {
        "days": {
            **_LONG,
            "title": "days",
            "description": "On how many days it was worn by then.",
            "examples": [10],
        },
        "washes": {
            **_LONG,
            "title": "washes",
            "description": "How many times it was washed by then.",
            "examples": [3],
        },
        "by": {
            "title": "by",
            "description": "Who wore it.",
            "examples": ["jt"],
            "type": "string",
            "minLength": 1,
            "maxLength": 60,
            "pattern": "[^\\s]",
        },
    }


def _heat(title: str, most: int, more: Mapping[str, Any]) -> dict[str, Any]:
    """Return the definition of a press's or dryer's settings, of at most *most* seconds."""
    return {
        "title": title,
        "description": f"How the {title} was set.",
        "examples": [{"temperature": "160 C", "seconds": 15}],
        "type": "object",
        "additionalProperties": False,
        "required": [],
        "minProperties": 1,
        "properties": {
            "temperature": {
                "title": "temperature",
                "description": "In C or F, which must be written.",
                "examples": ["160 C", "320 F"],
                "type": "string",
                "minLength": 1,
                "maxLength": 30,
                "pattern": "[^\\s]",
            },
            "seconds": {
                "title": "seconds",
                "description": "How long.",
                "examples": [15],
                "type": "number",
                "minimum": 1,
                "maximum": most,
            },
            **more,
        },
    }


def word_list(key: str, words: Mapping[str, str]) -> dict[str, Any]:
    """Return the definition of a closed list of words: word and meaning."""
    name = key.replace("_", " ")
    return {
        "title": name,
        "description": f"One of the words that blankbook knows for {name}.",
        "examples": [next(iter(words))],
        "type": "string",
        "oneOf": [{"const": word, "description": meaning} for word, meaning in words.items()],
    }
