"""One file of the ledger: from its place to its record, or to what is wrong with it."""

import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from blankbook.records.convert import converters
from blankbook.records.convert.valid_parts import Rest, rest_of
from blankbook.text.decoding import decode, has_byte_order_mark, line_and_column, line_ends
from blankbook.text.findings import Finding, UnreadableError, visible
from blankbook.text.ledger_files import LedgerFile, check_size, read_bytes
from blankbook.text.schema_messages import schema_faults
from blankbook.text.schemas import with_types
from blankbook.text.yaml_tree import ParsedFile, locate_faults, read_tree


@dataclass(frozen=True, slots=True)
class Entry:
    """One file, read: its record, or what is wrong with it."""

    file: LedgerFile
    read: ParsedFile | None = None
    record: Any = None
    findings: tuple[Finding, ...] = ()
    rest: Rest | None = None
    """With faults: the record that its sound parts make, to go on looking."""


def read_entry(root: Path, file: LedgerFile) -> Entry:
    """Return one file as a record, or with what is wrong with it."""
    try:
        return entry_of(file, read_bytes(root, file))
    except UnreadableError as error:
        return Entry(file, findings=(error.finding(visible(file.path, 300)),))
    except FileNotFoundError:
        if file.kind != "shop":
            raise  # it was there a moment ago
        remedy = "put it back, or run this in the ledger's folder"
        return Entry(
            file, findings=(Finding(file.path, 1, 1, "missing-file", "no such file", remedy),)
        )


def entry_of(file: LedgerFile, data: bytes) -> Entry:
    """Return what the bytes of a file hold as a record, or with what is wrong with them."""
    try:
        check_size(len(data))
        read = read_tree(visible(file.path, 300), decode(data))
    except UnreadableError as error:
        return Entry(file, findings=(error.finding(visible(file.path, 300)),))
    notes = _notes(read, data)
    tree = with_types(read.tree, file.kind)
    faults = schema_faults(tree, file.kind)
    record = None
    if not faults:
        record = converters.CONVERTERS[file.kind](tree, file.path, faults)
    if not faults:
        return Entry(file, read, record, tuple(notes))
    rest = rest_of(tree, file.kind, file.path, faults)
    found = locate_faults(read, [*faults, *(rest.more if rest else ())])
    return Entry(file, read, None, (*notes, *found), rest)


def _notes(read: ParsedFile, data: bytes) -> list[Finding]:
    """Return what is worth knowing of the file's own form."""
    found = []
    if has_byte_order_mark(data):
        message = "the file begins with a byte-order mark"
        found.append(
            Finding(read.path, 1, 1, "byte-order-mark", message, "it does no harm", "note")
        )
    if b"\r" in data and len(kinds := line_ends(data)) > 1:
        message = "the file mixes line ends: " + ", ".join(sorted(kinds))
        found.append(
            Finding(read.path, 1, 1, "mixed-line-ends", message, "it does no harm", "note")
        )
    if "#" in read.text and (eaten := _EATEN.search(read.text)):
        line, column = line_and_column(read.text, eaten.start(1))
        message = f"a comment that looks like a part of a length: {eaten[1]}"
        remedy = "write the fraction before it without the #, or leave a word between"
        found.append(
            Finding(read.path, line, column, "fraction-in-comment", message, remedy, "note")
        )
    return found


_EATEN = re.compile(r"[0-9] +(# ?[0-9]{1,2}/[0-9]{1,2})\b")
"""A sign that turns the fraction after it into a comment."""
