"""The published schemas: draft-07 alone, all explained, quick, and judged alike twice."""

import copy
import json
import random
import socket
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from blankbook.text import schemas, write_schemas
from blankbook.text.decoding import decode
from blankbook.text.ledger_files import list_files
from blankbook.text.schema_messages import FAULTS_BY_KEYWORD, schema_faults
from blankbook.text.yaml_tree import read_tree

DRAFT_07 = set(jsonschema.Draft7Validator.VALIDATORS) | {
    "$schema", "$id", "$comment", "title", "description", "examples", "default", "definitions",
    "then", "else",
}  # fmt: skip
"""Keywords of JSON Schema draft-07 (json-schema.org/draft-07, as jsonschema implements it)."""

SILENT = {"$schema", "title", "description", "examples", "definitions"}
"""Keywords that judge nothing."""
STRUCTURE = {"properties", "items", "allOf", "$ref", "const", "if", "else"}
"""Keywords that only lead to others."""


def subschemas(schema: Any, way: str = "") -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield every schema within a schema, with its path."""
    yield way, schema
    for key in ("properties", "definitions"):
        for name, part in schema.get(key, {}).items():
            yield from subschemas(part, f"{way}/{key}/{name}")
    for key in ("items", "additionalProperties"):
        if isinstance(schema.get(key), dict):
            yield from subschemas(schema[key], f"{way}/{key}")
    for key in ("allOf", "oneOf"):
        for number, part in enumerate(schema.get(key, ())):
            yield from subschemas(part, f"{way}/{key}/{number}")


PUBLISHED = {
    f"{name}{way}": part
    for name, schema in schemas.schema_files().items()
    for way, part in subschemas(schema)
}
RESOLVED = {
    f"{kind}{way}": part for kind in schemas.KINDS for way, part in subschemas(schemas.schema(kind))
}


def test_only_keywords_of_draft_07_are_used() -> None:
    """An editor knows every one of them."""
    assert {key for part in PUBLISHED.values() for key in part} <= DRAFT_07


@pytest.mark.parametrize("name", schemas.schema_files())
def test_each_schema_is_valid(name: str) -> None:
    """The draft's own schema accepts it."""
    schema = schemas.schema_files()[name]
    assert schema["$schema"] == "http://json-schema.org/draft-07/schema#"
    jsonschema.Draft7Validator.check_schema(schema)


@pytest.mark.parametrize("kind", schemas.KINDS)
def test_each_resolved_schema_is_valid_and_has_no_reference_left(kind: str) -> None:
    """What the program uses is the same draft, with every reference put in place."""
    jsonschema.Draft7Validator.check_schema(schemas.schema(kind))
    assert '"$ref"' not in json.dumps(schemas.schema(kind))


def test_every_property_has_a_title_a_description_and_an_example() -> None:
    """So that an editor can show them."""
    bare = [
        (way, key)
        for way, part in (PUBLISHED | RESOLVED).items()
        if "/oneOf/" not in way and "/" in way and "$ref" not in part
        for key in ("title", "description", "examples")
        if not part.get(key)
    ]
    assert bare == []


def as_written(example: Any) -> Any:
    """Return an example as the text that it would be in a file."""
    if isinstance(example, dict):
        return {key: as_written(value) for key, value in example.items()}
    if isinstance(example, list):
        return [as_written(value) for value in example]
    return str(example)


@pytest.mark.parametrize("way", [way for way, part in RESOLVED.items() if "examples" in part])
def test_every_example_is_valid(way: str) -> None:
    """As it stands, for an editor; and as text that the program gives its type."""
    part = RESOLVED[way]
    checker = schemas.validator("shop").format_checker
    check = jsonschema.Draft7Validator(part, format_checker=checker)
    typer = schemas._make_typer(part)
    for example in part["examples"]:
        assert list(check.iter_errors(example)) == []
        written = as_written(example)
        assert list(check.iter_errors(typer(written) if typer else written)) == []


def test_closed_mappings_say_so() -> None:
    """No mapping takes keys that nobody knows, unless it says what they hold."""
    assert [
        way
        for way, part in RESOLVED.items()
        if part.get("type") == "object" and "additionalProperties" not in part
    ] == []


def test_every_keyword_has_a_sentence() -> None:
    """A keyword that can find something has words for it."""
    used = {key for part in RESOLVED.values() for key in part} - SILENT - STRUCTURE
    assert used <= set(FAULTS_BY_KEYWORD)


def test_the_words_file_is_up_to_date(capsys: pytest.CaptureFixture[str]) -> None:
    """Its source is the vocabulary."""
    assert write_schemas.main(["--check"]) == 0


PATTERNS = sorted({part["pattern"] for part in RESOLVED.values() if "pattern" in part})
LONG = [
    c * 50_000 + end for c in ("a", "a-", "-", "/", "a/", "0", "X", " ", "\t", ".", "+") for end in
    ("", "!", " ", "\x00")
]  # fmt: skip


def _may_work_for(seconds: int) -> None:
    import resource

    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds))


def test_no_pattern_tries_again_and_again() -> None:
    """A pattern that backtracks needs many seconds of the processor for 50 kB made for it."""
    pytest.importorskip("resource", reason="only Unix has it")
    code = "import re, sys, json\npatterns, texts = json.load(sys.stdin)\n" + (
        "[re.compile(pattern).search(text) for pattern in patterns for text in texts]"
    )
    subprocess.run(
        [sys.executable, "-c", code],
        input=json.dumps([PATTERNS, LONG]),
        text=True,
        check=True,
        preexec_fn=lambda: _may_work_for(10),
    )


def test_nothing_is_fetched(monkeypatch: pytest.MonkeyPatch, demo_ledger: Path) -> None:
    """Schemas are made and used without a socket."""

    def refuse(*_: object) -> None:
        raise AssertionError("a socket was opened")

    monkeypatch.setattr(socket, "socket", refuse)
    for cached in (
        schemas.schema_files,
        schemas.schema,
        schemas.validator,
        schemas.quick_validator,
    ):
        cached.cache_clear()
    for kind in schemas.KINDS:
        assert schema_faults({"a": "b"}, kind)


VALUES: tuple[Any, ...] = (
    "", " ", "x", "20", "-1", "0", "1e3", "2026-02-30", "2026-02-28", "20260228", "2026-W01-1",
    "2026-02-28\n", "０", "10000000", "x" * 5000, "a/b", "a/b\n", "S", "home_warm", "tube",
    None, [], {}, ["x"], {"x": "y"}, 1, 0, -1, 1.5, 10**12, 1e300, True,
)  # fmt: skip


def container_keys(tree: Any) -> Iterator[tuple[Any, Any]]:
    """Yield every container of a tree with one of its keys or places."""
    for key, value in tree.items() if isinstance(tree, dict) else enumerate(tree):
        yield tree, key
        if isinstance(value, (dict, list)):
            yield from container_keys(value)


def damaged(tree: Any, chance: random.Random) -> Any:
    """Return a copy of *tree* with one value exchanged, taken out or put in."""
    tree = copy.deepcopy(tree)
    holder, key = chance.choice(list(container_keys(tree)))
    kind = chance.randrange(4)
    if kind == 0:
        del holder[key]
    elif kind == 1 and isinstance(holder, dict):
        holder[chance.choice(["x", "note", "half_chest", "cycles", "lot", "date"])] = chance.choice(
            VALUES
        )
    else:
        holder[key] = chance.choice(VALUES)
    return tree


@pytest.mark.parametrize("kind", schemas.KINDS)
def test_both_validators_agree(kind: str, demo_ledger: Path) -> None:
    """On 500 seeded mutations of the demo shop's files of each kind, dates included."""
    quick = schemas.quick_validator(kind)
    if quick is None:
        pytest.skip("jsonschema_rs is not installed")
    careful = schemas.validator(kind)
    chance = random.Random(kind)
    files = [file for file in list_files(demo_ledger) if file.kind == kind]
    told = {True: 0, False: 0}
    for _ in range(500):
        file = chance.choice(files)
        text = decode((demo_ledger / file.path).read_bytes())
        tree = schemas.with_types(damaged(read_tree("x", text).tree, chance), kind)
        valid = careful.is_valid(tree)
        assert quick.is_valid(tree) is valid, [error.message for error in careful.iter_errors(tree)]
        assert (schema_faults(tree, kind) == []) is valid
        told[valid] += 1
    assert min(told.values()) > 20


@pytest.mark.parametrize(
    ("text", "valid"),
    [
        ("2026-02-28", True),
        ("2024-02-29", True),
        ("2026-02-29", False),
        ("2026-13-01", False),
        ("0000-01-01", False),
        ("20260228", False),
        ("2026-W01-1", False),
        ("2026-2-8", False),
        ("２026-02-28", False),
        ("2026-02-28\n", False),
    ],
)
def test_a_date_is_a_day_of_the_calendar(text: str, valid: bool) -> None:
    """Both validators hold it to YYYY-MM-DD, which ISO 8601 calls the extended calendar form."""
    tree = {"supplier": "a", "name": "b", "since": text}
    assert schemas.is_date(text) is valid
    assert schemas.validator("supplier").is_valid(tree) is valid
    if quick := schemas.quick_validator("supplier"):
        assert quick.is_valid(tree) is valid
