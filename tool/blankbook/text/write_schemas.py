"""Write ``words.schema.json`` from the vocabulary: ``python -m blankbook.text.write_schemas``.

The schemas of the kinds refer to its definitions: an editor offers the words, and each word is
declared once. ``--check`` writes nothing and says whether the file is up to date.
"""

import json
import sys
from pathlib import Path
from typing import Any

from blankbook.text.grade_schema import grade_definitions, seam_properties, word_list
from blankbook.words.answers import SIGNS, Advice
from blankbook.words.check_titles import CHECK_TITLES
from blankbook.words.delivery_terms import (
    AQLS,
    DELIVERY_DECISIONS,
    FAULTS,
    INSPECTION_LEVELS,
    LARGEST_AQL,
    REDUCED_INSPECTION,
)
from blankbook.words.garment_terms import (
    CHANGED_CLAIMS,
    CONSTRUCTIONS,
    NECK_LABELS,
    SHIPPING_WAYS,
    WEARERS,
)
from blankbook.words.points import POINTS
from blankbook.words.wash_procedures import DRYINGS, WASHES


def definitions() -> dict[str, Any]:
    """Return the definitions of words.schema.json by name, in draft-07."""
    points = {key: point.name for key, point in POINTS.items()}
    lists = {
        "advice": {advice.value: SIGNS[advice].meaning for advice in Advice},
        "changed_claim": CHANGED_CLAIMS,
        "check": CHECK_TITLES,
        "construction": CONSTRUCTIONS,
        "delivery_decision": DELIVERY_DECISIONS,
        "dry": DRYINGS,
        "fault": FAULTS,
        "inspection_level": INSPECTION_LEVELS,
        "neck_label": NECK_LABELS,
        "point": points,
        "reduced": REDUCED_INSPECTION,
        "sends": SHIPPING_WAYS,
        "wash": WASHES,
        "wearer": WEARERS,
    }
    found = {name: word_list(name, words) for name, words in lists.items()}
    found["readings"] = _by_point("#/definitions/reading", "One reading, or a list of repeats.")
    found["received"] = _received(found["readings"])
    found["lengths"] = _by_point("#/definitions/length", "One length.")
    what = "A spread, and what it is worth."
    found["priors"] = _by_point("#/definitions/prior", what, {"deviation": "1/8", "worth": 6})
    found["variants"] = _variants()
    found["aql"] = _aql()
    return found | _lengths() | grade_definitions()


def _received(readings: dict[str, Any]) -> dict[str, Any]:
    """Return the readings as received, with the two lengths that a twist is computed from."""
    own = {**readings["properties"], **seam_properties()}
    return {**readings, "properties": own}


def _aql() -> dict[str, Any]:
    return {
        "title": "AQL",
        "description": "Acceptable quality level of MIL-STD-105E, in bad pieces per 100.",
        "examples": [2.5],
        "type": "number",
        "oneOf": [
            {"const": aql, "description": f"{aql:g} bad in 100"}
            for aql in AQLS
            if aql <= LARGEST_AQL
        ],
    }


def _lengths() -> dict[str, Any]:
    length = {
        "title": "length",
        "description": "As read off the tape: 22 1/8, 22-1/8, 22.125, 22 1/8 in, 56.2 cm.",
        "examples": ["22 1/8", "56.2 cm"],
        "type": ["string", "number"],
    }
    reading = {
        "title": "reading",
        "description": "One reading, or a list of repeat readings of the same piece.",
        "examples": ["22 1/8", ["22 1/8", "22"]],
        "type": ["string", "number", "array"],
        "items": {"$ref": "#/definitions/length"},
        "minItems": 1,
    }
    prior = {
        "title": "spread",
        "description": "A standard deviation, and how many degrees of freedom it is worth.",
        "examples": [{"deviation": "1/8", "worth": 6}],
        "type": "object",
        "additionalProperties": False,
        "required": ["deviation", "worth"],
        "properties": {
            "deviation": {"$ref": "#/definitions/length"},
            "worth": {
                "title": "worth",
                "description": "Degrees of freedom that the assumption weighs.",
                "examples": [6],
                "type": "number",
                "minimum": 1,
                "maximum": 1000,
            },
        },
    }
    return {"length": length, "reading": reading, "prior": prior}


def _by_point(ref: str, what: str, example: Any = "22 1/8") -> dict[str, Any]:
    """Return the definition of a mapping by point of measure; *ref* defines each value."""
    return {
        "title": "by point of measure",
        "description": f"Points of measure, each with its value. {what}",
        "examples": [{"half_chest": example}],
        "type": "object",
        "additionalProperties": False,
        "properties": {
            key: {
                "title": point.name,
                "description": point.where,
                "examples": [example],
                "allOf": [{"$ref": ref}],
            }
            for key, point in POINTS.items()
        },
    }


def _variants() -> dict[str, Any]:
    return {
        "title": "how each point was measured",
        "description": "Where houses measure a point in different ways: which way was used.",
        "examples": [{"half_chest": "below_armhole"}],
        "type": "object",
        "additionalProperties": False,
        "properties": {
            key: {
                "title": point.name,
                "description": f"How the {point.name} was measured.",
                "examples": [point.variants[0][0]],
                "type": "string",
                "oneOf": [{"const": word, "description": says} for word, says in point.variants],
            }
            for key, point in POINTS.items()
            if point.variants
        },
    }


def words_schema() -> str:
    """Return the text of words.schema.json."""
    schema = {
        "$schema": "http://json-schema.org/draft-07/schema#",
        "title": "The words of blankbook",
        "description": "Written from the vocabulary by python -m blankbook.text.write_schemas.",
        "definitions": definitions(),
    }
    return json.dumps(schema, ensure_ascii=False, indent=2) + "\n"


def main(arguments: list[str]) -> int:
    """Write the file, or with ``--check`` say whether it is up to date."""
    from importlib.resources import files

    place = Path(str(files("blankbook.schemas"))) / "words.schema.json"
    text = words_schema()
    if "--check" in arguments:
        fresh = place.is_file() and place.read_text(encoding="utf-8") == text
        if not fresh:
            sys.stderr.write("words.schema.json is out of date: run it without --check\n")
        return 0 if fresh else 1
    place.write_text(text, encoding="utf-8", newline="\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
