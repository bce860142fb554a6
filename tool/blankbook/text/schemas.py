"""The schemas: loaded once, with references resolved; they give each written text its type.

They are draft-07, the draft that editors complete from. A schema says shape, never relations.
"""

import datetime
import json
import re
from functools import cache
from importlib.resources import files
from typing import Any

from blankbook.text.ledger_files import FILE_PATTERNS
from blankbook.text.yaml_tree import Tree

KINDS = tuple(FILE_PATTERNS)
_NUMBER = re.compile(r"-?(0|[1-9][0-9]{0,11})(\.[0-9]{1,9})?")
_INTEGER = re.compile(r"-?(0|[1-9][0-9]{0,11})")
_DATE = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")


@cache
def schema_files() -> dict[str, Any]:
    """Return every schema as it is published, by file name."""
    place = files("blankbook.schemas")
    names = [f"{kind}.schema.json" for kind in (*KINDS, "words")]
    return {name: json.loads((place / name).read_text(encoding="utf-8")) for name in names}


@cache
def schema(kind: str) -> dict[str, Any]:
    """Return the schema of one kind with every reference replaced by its definition."""
    whole: dict[str, Any] = _resolve_references(schema_files()[f"{kind}.schema.json"], kind)
    return whole


def _resolve_references(part: Any, home: str) -> Any:
    """Return a part of a schema without references; *home* is the kind that local ones refer to."""
    if isinstance(part, list):
        return [_resolve_references(item, home) for item in part]
    if not isinstance(part, dict):
        return part
    if "$ref" in part:
        return _definition(part["$ref"], home)
    own = {key: value for key, value in part.items() if key != "allOf"}
    for ref in part.get("allOf", ()):
        # The schemas use allOf only to add a title and an example to a definition.
        own = {**_definition(ref["$ref"], home), **own}
    return {
        key: value if key == "examples" else _resolve_references(value, home)
        for key, value in own.items()
    }


def _definition(ref: str, home: str) -> Any:
    """Return the definition that a local reference names; nothing is ever fetched."""
    name, _, path = ref.partition("#/definitions/")
    home = name.removesuffix(".schema.json") or home
    return _resolve_references(schema_files()[f"{home}.schema.json"]["definitions"][path], home)


@cache
def validator(kind: str) -> Any:
    """Return jsonschema's validator for one kind, with our own idea of a date."""
    import jsonschema

    checker = jsonschema.FormatChecker(formats=())
    checker.checks("date")(is_date)
    extend: Any = jsonschema.validators.extend
    exact = extend(jsonschema.Draft7Validator, {"pattern": _pattern})
    return exact(schema(kind), format_checker=checker)


def _pattern(_validator: Any, pattern: str, text: Any, _schema: Any) -> Any:
    """Yield an error where a text does not fit; ``$`` means the very end of the text.

    Python's own ``$`` also matches before a last line end, and the compiled validator's does not.
    """
    import jsonschema

    if isinstance(text, str) and not re.search(re.sub(r"\$$", r"\\Z", pattern), text):
        yield jsonschema.ValidationError("does not fit the pattern")


@cache
def quick_validator(kind: str) -> Any:
    """Return the compiled validator, which is quick to say "valid"; None if it is missing."""
    try:
        import jsonschema_rs
    except ImportError:
        return None
    return jsonschema_rs.Draft7Validator(
        schema(kind), validate_formats=True, formats={"date": is_date}
    )


def is_date(text: object) -> bool:
    """Say whether *text* is a day of the calendar, written YYYY-MM-DD; no text is not judged.

    A schema's format says nothing of what is no text: its type does.
    """
    if not isinstance(text, str) or not _DATE.fullmatch(text):
        return not isinstance(text, str)
    try:
        datetime.date.fromisoformat(text)
    except ValueError:
        return False
    return True


def with_types(tree: Tree, kind: str) -> Tree:
    """Return the tree with the types that the schema asks for, where the text allows them.

    Lengths, dates and words stay text. Only what must be a number becomes one; a text that is no
    number stays text, and the validator finds it.
    """
    typer = _typer(kind)
    result: Tree = typer(tree) if typer else tree
    return result


@cache
def _typer(kind: str) -> Any:
    return _make_typer(schema(kind))


def _make_typer(part: dict[str, Any]) -> Any:
    """Return a function that types one value, or None where text stays text."""
    kind = part.get("type")
    if kind == "integer":
        return lambda v: int(v) if isinstance(v, str) and _INTEGER.fullmatch(v) else v
    if kind == "number":
        return lambda v: float(v) if isinstance(v, str) and _NUMBER.fullmatch(v) else v
    if kind == "object":
        return _mapping_typer(part)
    if kind == "array":
        each = _make_typer(part["items"])
        if each:
            return lambda v: [each(item) for item in v] if isinstance(v, list) else v
    return None


def _mapping_typer(part: dict[str, Any]) -> Any:
    """Return a function that types the values of a mapping, or None where all stay text."""
    known = {key: _make_typer(prop) for key, prop in part.get("properties", {}).items()}
    typers = {key: typer for key, typer in known.items() if typer}
    rest = part.get("additionalProperties")
    other = _make_typer(rest) if isinstance(rest, dict) else None
    if not typers and not other:
        return None

    def convert(value: Any) -> Any:
        if not isinstance(value, dict):
            return value
        out = dict(value)
        for key in out.keys() & typers.keys():
            out[key] = typers[key](out[key])
        if other:
            for key in out.keys() - known.keys():
                out[key] = other(out[key])
        return out

    return convert
