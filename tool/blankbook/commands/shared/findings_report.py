"""Findings as text for a person, as data, and as annotations for a code host; one list for all."""

import json
from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Any

from blankbook.commands.shared.errors import shown
from blankbook.text.findings import FINDING_LEVELS, Finding

SCHEMA = "blankbook/check/1"
MOST_IN_FILE = 20
MOST = 200
MOST_ANNOTATIONS = 10
"""Hosts drop more than this of one kind without a word."""


def as_text(findings: Sequence[Finding], prefix: str = "", every: bool = False) -> str:
    """Return the findings a line each, with what to write instead under it."""
    return "\n".join(_lines(findings, prefix, every))


def _lines(findings: Sequence[Finding], prefix: str, every: bool) -> Iterator[str]:
    left, unlisted = (len(findings) if every else MOST), []
    for path, group in groupby(findings, key=lambda one: one.path):
        here = list(group)
        listed = here if every else here[: min(MOST_IN_FILE, left)]
        left -= len(listed)
        for one in listed:
            yield _line(one, prefix)
        if not listed:
            unlisted += here
        elif len(here) > len(listed):
            yield f"{prefix}{shown(path)}: … and {len(here) - len(listed)} more (--all)"
    if unlisted:
        files = _count(len({one.path for one in unlisted}), "file")
        yield f"… and {len(unlisted)} more in {files} (--all)"


def _line(one: Finding, prefix: str) -> str:
    where = f"{prefix}{shown(one.path)}:{one.line}:{one.column}"
    text = f"{where}: {one.level}: {shown(one.message)}  [{one.rule}]"
    return f"{text}\n    help: {shown(one.help)}" if one.help else text


def summary(findings: Sequence[Finding], files: int) -> str:
    """Return the last line: how many of what, in how many files."""
    counts = [
        _count(sum(one.level == level for one in findings), level) for level in FINDING_LEVELS
    ]
    bad = len({one.path for one in findings})
    said = ", ".join(count for count in counts if count)
    looked = _count(files, "file")
    return f"{said} in {bad} of {looked}" if said else f"nothing found in {looked}"


def _count(number: int, what: str) -> str:
    if not number:
        return "" if what != "file" else "0 files"
    return f"{number} {what}" if number == 1 else f"{number} {what}s"


def as_json(findings: Sequence[Finding], files: int) -> str:
    """Return the findings as one document."""
    data: dict[str, Any] = {
        "schema": SCHEMA,
        "files": files,
        "counts": {level: sum(one.level == level for one in findings) for level in FINDING_LEVELS},
        "findings": [
            {
                "path": one.path,
                "line": one.line,
                "column": one.column,
                "level": one.level,
                "rule": one.rule,
                "message": one.message,
                "help": one.help,
            }
            for one in findings
        ],
    }
    return json.dumps(data, ensure_ascii=False, indent=2, sort_keys=True, allow_nan=False)


def as_annotations(findings: Sequence[Finding], prefix: str = "") -> str:
    """Return the findings as workflow commands of a code host, the gravest first.

    At most ten of a kind, the lines that count the rest among them: those are notices too.
    """
    lines: list[str] = []
    room = MOST_ANNOTATIONS
    for level, name in zip(FINDING_LEVELS, ("error", "warning", "notice"), strict=True):
        here = [one for one in findings if one.level == level]
        most = room if name == "notice" else MOST_ANNOTATIONS
        if len(here) > most:
            most -= name == "notice"
            room -= 1
        lines += [_annotation(name, one, prefix) for one in here[:most]]
        if len(here) > most:
            lines.append(f"::notice::{len(here) - most} more of level {level}")
    return "\n".join(lines)


def _annotation(name: str, one: Finding, prefix: str) -> str:
    text = one.message + (f" (help: {one.help})" if one.help else "")
    where = f"file={_property(prefix + one.path)},line={one.line},col={one.column}"
    return f"::{name} {where},title={_property(one.rule)}::{_escaped(text)}"


def _escaped(text: str) -> str:
    return shown(text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A"))


def _property(text: str) -> str:
    return _escaped(text).replace(":", "%3A").replace(",", "%2C")
