"""What a schema finds, in words that a person can act on.

Each keyword that the schemas use has a function here that words it; a test looks for gaps.
"""

import difflib
import re
from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Any

from blankbook.text.findings import Fault, visible
from blankbook.text.grade_fault import grade_fault
from blankbook.text.schemas import quick_validator, validator
from blankbook.text.yaml_tree import Tree
from blankbook.words.grade_scales import GRADES

_NO_SPACE = re.compile(r"([a-z_]+):([^ ].*)", re.DOTALL)
"""A key and a value with no space between them, which YAML reads as one key."""

MOST_FAULTS = 200
"""Enough: a file with more faults has one mistake that is repeated."""


def schema_faults(tree: Tree, kind: str) -> list[Fault]:
    """Return the faults that the schema of *kind* finds in a typed tree; none if it is valid."""
    quick = quick_validator(kind)
    if quick is not None:
        try:
            if quick.is_valid(tree):
                return []
        except ValueError:
            pass  # a value that the compiled validator cannot take; jsonschema says why
    found: list[Fault] = []
    for error in validator(kind).iter_errors(tree):
        if "properties" not in error.schema and not error.absolute_path:
            # An error of a condition has no properties of its own: show the file's keys.
            error.schema = validator(kind).schema
        found += _faults_of_error(error)
        if len(found) >= MOST_FAULTS:
            break
    return _once_per_mistake(found)


def _faults_of_error(error: Any) -> list[Fault]:
    """Return one error of jsonschema as faults."""
    at = tuple(error.absolute_path)
    name = _value_name(at)
    return FAULTS_BY_KEYWORD[error.validator](error, at, name)


def _value_name(at: tuple[Any, ...]) -> str:
    """Return what a person calls the value at *at*: its key, or the key of its list."""
    names = [step for step in at if isinstance(step, str)]
    name = visible(names[-1]) if names else "the file"
    name = name if name[:1].islower() else f"size {name}"
    return f"an entry of {name}" if at and isinstance(at[-1], int) else name


def _found_text(error: Any) -> str:
    """Return what the file has, as it stands after "found" in a message."""
    value = error.instance
    if value is None:
        return "nothing"
    if isinstance(value, dict):
        return "key: value lines"
    if isinstance(value, float):
        return f"{value:.12g}"
    return "a list" if isinstance(value, list) else visible(value) or "nothing"


_TYPES = {
    "object": ("key: value", "write {key: value}"),
    "array": ("a list", "write [one, two]"),
    "string": ("text", "write text, or delete the line"),
    "number": ("a number", "write a plain number such as 4.60"),
    "integer": ("a whole number", "write a whole number such as 6"),
}


def _type(error: Any, at: Any, name: str) -> list[Fault]:
    wanted = error.validator_value
    # Only lengths and readings may be of several types.
    if isinstance(wanted, list):
        remedy = "write a length such as 22 1/8, or delete the line"
        return [
            Fault(at, "wrong-kind", f"{name} must be a length, found {_found_text(error)}", remedy)
        ]
    what, remedy = _TYPES[wanted]
    message = f"{name} must be {what}, found {_found_text(error)}"
    if error.instance is not None:
        remedy = _example_help(error) or remedy
    return [Fault(at, "wrong-kind", message, remedy)]


def _example_help(error: Any) -> str:
    """Return the schema's own example as help; empty where there is none that fits on a line."""
    examples = error.schema.get("examples") if isinstance(error.schema, dict) else None
    if not examples or isinstance(examples[0], list):
        return ""
    return f"write something such as: {_flow(examples[0])}"


def _required(error: Any, at: Any, _name: str) -> list[Fault]:
    missing = [key for key in error.validator_value if key not in error.instance]
    part = error.schema["properties"]
    # jsonschema reports each missing key by itself; its message names it first.
    key = next((key for key in missing if error.message.startswith(repr(key))), missing[0])
    example = part.get(key, {}).get("examples", [""])[0]
    remedy = f"write it, such as {key}: {_flow(example)}" if example != "" else f"write {key}:"
    return [Fault(at, "missing-key", f"{key} is missing", remedy)]


def _flow(example: Any) -> str:
    """Return an example as it would stand in a file."""
    if isinstance(example, dict):
        return "{" + ", ".join(f"{key}: {_flow(value)}" for key, value in example.items()) + "}"
    if isinstance(example, list):
        return "[" + ", ".join(_flow(item) for item in example) + "]"
    return str(example)


def _unknown(error: Any, at: Any, _name: str) -> list[Fault]:
    known = error.schema.get("properties", {})
    found: list[Fault] = []
    before, more = None, 0
    for key, value in error.instance.items():
        if key not in known and len(found) < MOST_FAULTS:
            message = f"unknown key {_spelled(key)}"
            remedy = _comma_help(key, value, before) or _nearest_help(key, known)
            found.append(Fault((*at, key), "unknown-key", message, remedy, on_key=True))
        elif key not in known:
            more += 1
        before = value
    if more:
        last = found[-1]
        found[-1] = replace(last, message=f"{last.message}, and {more} more unknown keys")
    return found


def _comma_help(key: str, value: Any, before: Any) -> str:
    """Return help for a decimal comma within braces: of 22,5 YAML makes a value 22 and a key 5.

    *before* is the value of the key before it.
    """
    # The part behind the comma is a key without a value, right behind the text that it ended.
    if value is not None or not re.match(r"[0-9]+( |$)", key) or not isinstance(before, str):
        return ""
    return f"a comma ends a value: write {visible(before)}.{visible(key)} with a point"


def _spelled(key: str) -> str:
    """Return a key for a message; it names characters that only look like plain letters."""
    odd = [c for c in key if not c.isascii()]
    codes = ", ".join(f"U+{ord(c):04X}" for c in odd[:3])
    if _NO_SPACE.fullmatch(key):
        return f"{visible(key)}: there is no space after the colon"
    return f"{visible(key)} (with {codes})" if odd else visible(key) or '""'


def _nearest_help(word: str, known: Iterable[str]) -> str:
    """Return help that names the known word most like *word*, or lists the first of them."""
    words = list(known)
    joined = _NO_SPACE.fullmatch(word)
    if joined and joined[1] in words:
        return f"write {joined[1]}: {visible(joined[2])}"
    lowered = {candidate.lower(): candidate for candidate in reversed(words)}
    near = difflib.get_close_matches(word.lower(), lowered, n=1, cutoff=0.6)
    if near:
        return f"did you mean {lowered[near[0]]}?"
    return "write one of: " + ", ".join(words[:12]) + (", …" if len(words) > 12 else "")


def _one_of(error: Any, at: Any, name: str) -> list[Fault]:
    words = [
        choice["const"] for choice in error.validator_value if isinstance(choice["const"], str)
    ]
    # A grade gets its own words: for a decimal, they name its neighbours.
    if words == list(GRADES):
        return [grade_fault(at, name, _found_text(error))]
    if error.schema.get("type") == "number":
        return _one_of_numbers(error, at, name)
    message = f"{name} must be one of the known words, found {_found_text(error)}"
    return [Fault(at, "unknown-word", message, _nearest_help(str(error.instance), words))]


def _one_of_numbers(error: Any, at: Any, name: str) -> list[Fault]:
    numbers = [choice["const"] for choice in error.validator_value]
    if not isinstance(error.instance, int | float):
        return []  # that it is no number is a finding already
    message = f"{name} must be one of the known numbers, found {_found_text(error)}"
    near = sorted(sorted(numbers, key=lambda number: abs(number - error.instance))[:3])
    remedy = "write one of: " + ", ".join(f"{number:g}" for number in near) + ", …"
    return [Fault(at, "unknown-number", message, remedy)]


def _pattern(error: Any, at: Any, name: str) -> list[Fault]:
    if not error.instance.strip():
        remedy = "write text, or delete the line"
        return [Fault(at, "wrong-form", f"{name} must not be empty", remedy)]
    like = (error.schema.get("examples") or ["a word"])[0]
    message = f"{name} must be written like {like}, found {_found_text(error)}"
    return [Fault(at, "wrong-form", message, _example_help(error))]


def _format(error: Any, at: Any, name: str) -> list[Fault]:
    text = str(error.instance)
    # What has the form of a date is a day that does not exist; anything else is no date.
    if len(text) == 10 and text[4:5] == text[7:8] == "-":
        return [
            Fault(
                at, "no-such-date", f"{name}: there is no day {visible(text)}", _example_help(error)
            )
        ]
    message = f"{name} must be a date, found {visible(text)}"
    return [Fault(at, "not-a-date", message, "write YYYY-MM-DD, such as 2026-03-14")]


def _bound(side: str) -> Callable[[Any, Any, str], list[Fault]]:
    """Return what words a number that is too small or too large; *side* is least or most."""

    def word(error: Any, at: Any, name: str) -> list[Fault]:
        bound = error.validator_value
        message = f"{name} must be at {side} {bound:g}, found {_found_text(error)}"
        return [Fault(at, "out-of-range", message, _example_help(error))]

    return word


def _count(side: str, what: str) -> Callable[[Any, Any, str], list[Fault]]:
    """Return what words a list or a text with too few or too many *what*."""

    def word(error: Any, at: Any, name: str) -> list[Fault]:
        bound, found = error.validator_value, len(error.instance)
        message = f"{name} must hold at {side} {bound} {what}, found {found}"
        remedy = "leave something out" if side == "most" else _example_help(error)
        if not found:
            message = f"{name} must not be empty"
            remedy = _TYPES["string"][1] if what == "characters" else _example_help(error)
        return [Fault(at, "wrong-count", message, remedy)]

    return word


FAULTS_BY_KEYWORD: dict[str, Callable[[Any, Any, str], list[Fault]]] = {
    "type": _type,
    "required": _required,
    "additionalProperties": _unknown,
    "oneOf": _one_of,
    "pattern": _pattern,
    "format": _format,
    "minimum": _bound("least"),
    "maximum": _bound("most"),
    "minLength": _count("least", "characters"),
    "maxLength": _count("most", "characters"),
    "minItems": _count("least", "entries"),
    "maxItems": _count("most", "entries"),
    "minProperties": _count("least", "entries"),
}


def _once_per_mistake(found: list[Fault]) -> list[Fault]:
    """Return the faults, one for each mistake.

    A missing key and an unknown key that is spelled alike are one slip of the pen. A value of the
    wrong kind gets no second fault for not being a known word.
    """
    missing = {
        (fault.at, fault.message.split(" ", 1)[0]) for fault in found if fault.rule == "missing-key"
    }
    meant = set()
    for fault in found:
        near = re.match(r"did you mean (.*)\?|write ([a-z_]+): ", fault.help)
        if fault.rule == "unknown-key" and near:
            meant.add((fault.at[:-1], near[1] or near[2]))
    slips = missing & meant
    wrong = {fault.at for fault in found if fault.rule == "wrong-kind"}
    empty = {fault.at for fault in found if fault.rule == "wrong-count"}
    return [
        fault
        for fault in found
        if not (fault.rule == "missing-key" and (fault.at, fault.message.split(" ", 1)[0]) in slips)
        and not (fault.rule in {"unknown-word", "wrong-form", "wrong-count"} and fault.at in wrong)
        and not (fault.rule == "wrong-form" and fault.at in empty)
    ]
