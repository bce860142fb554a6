"""What the naive builder holds a file against: frozen, and no part of the program."""

from typing import Any

_TEXT: dict[str, Any] = {"type": "string", "minLength": 1, "maxLength": 200}
_DATE: dict[str, Any] = {"type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"}
_LENGTH: dict[str, Any] = {
    "oneOf": [
        {"type": "number", "exclusiveMinimum": 0, "maximum": 120},
        {"type": "string", "pattern": "^[0-9]+( [0-9]+/[0-9]+)?$"},
    ]
}
_POINTS = (
    "half_chest",
    "body_length",
    "shoulder_width",
    "sleeve_length",
    "sleeve_opening",
    "hem_width",
    "neck_opening",
    "rib_height",
)
_LENGTHS: dict[str, Any] = {point: {"$ref": "#/definitions/length"} for point in _POINTS}


def _object(required: tuple[str, ...], **properties: Any) -> dict[str, Any]:
    return {
        "type": "object",
        "additionalProperties": False,
        "required": list(required),
        "properties": properties,
    }


_TAPE = _object(("unit", "reads_to"), unit={"enum": ["in", "cm"]}, reads_to=_TEXT)
_WASHED = _object(("cycles",), cycles={"type": "integer", "minimum": 1}, **_LENGTHS)
_PIECE = _object(
    ("piece", "size", "colour"),
    piece=_TEXT,
    size=_TEXT,
    colour=_TEXT,
    lot=_TEXT,
    note=_TEXT,
    received=_object((), **_LENGTHS),
    washed={"type": "array", "items": {"$ref": "#/definitions/washed"}},
)
ROUND = _object(
    ("style", "date", "by", "lot", "tape", "pieces"),
    style=_TEXT,
    date=_DATE,
    by=_TEXT,
    lot=_TEXT,
    tape=_TAPE,
    pieces={"type": "array", "items": {"$ref": "#/definitions/piece"}},
    laundering=_object((), wash=_TEXT, dry=_TEXT),
)
STYLE = _object(
    ("style", "name", "sizes"),
    style=_TEXT,
    name=_TEXT,
    fabric=_object((), fibre=_TEXT, knit=_TEXT, mass=_TEXT),
    construction=_TEXT,
    wearer=_TEXT,
    sizes={"type": "array", "items": _TEXT},
    colours={"type": "array", "items": _TEXT},
    charts={
        "type": "array",
        "items": _object(
            ("since", "unit", "sizes"),
            since=_DATE,
            source=_TEXT,
            unit={"enum": ["in", "cm"]},
            sizes={"type": "object", "additionalProperties": _object((), **_LENGTHS)},
        ),
    },
)
OTHER: dict[str, Any] = {"type": "object"}
for _schema in (ROUND, STYLE):
    _schema["$schema"] = "http://json-schema.org/draft-07/schema#"
    _schema["definitions"] = {"length": _LENGTH, "washed": _WASHED, "piece": _PIECE}
