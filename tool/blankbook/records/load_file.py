"""One file of the ledger: from its bytes to its record, or to what is wrong with it."""

import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from blankbook.records.convert import converters
from blankbook.records.convert.valid_parts import SoundParts, sound_parts
from blankbook.text.decoding import decode, has_byte_order_mark, line_and_column, line_ends
from blankbook.text.findings import Finding, UnreadableError, visible
from blankbook.text.ledger_files import LedgerFile, check_size, read_bytes
from blankbook.text.schema_messages import schema_faults
from blankbook.text.schemas import with_types
from blankbook.text.yaml_tree import ParsedFile, locate_faults, read_tree


@dataclass(frozen=True, slots=True)
class LoadedFile:
    """One file that was read: its record, or what is wrong with it."""

    file: LedgerFile
    parsed: ParsedFile | None = None
    record: Any = None
    findings: tuple[Finding, ...] = ()
    sound: SoundParts | None = None
    """In a faulty file: the record that its sound parts make, for the rules to look at."""


def load_file(root: Path, file: LedgerFile) -> LoadedFile:
    """Return one file of the ledger with its record, or with what is wrong with it."""
    try:
        return load_bytes(file, read_bytes(root, file))
    except UnreadableError as error:
        return LoadedFile(file, findings=(error.finding(visible(file.path, 300)),))
    except FileNotFoundError:
        if file.kind != "shop":
            raise  # the scan saw it a moment ago, so something else went wrong
        remedy = "put it back, or run this in the ledger's folder"
        return LoadedFile(
            file, findings=(Finding(file.path, 1, 1, "missing-file", "no such file", remedy),)
        )


def load_bytes(file: LedgerFile, data: bytes) -> LoadedFile:
    """Return a file with the record that its bytes hold, or with what is wrong with them."""
    try:
        check_size(len(data))
        read = read_tree(visible(file.path, 300), decode(data))
    except UnreadableError as error:
        return LoadedFile(file, findings=(error.finding(visible(file.path, 300)),))
    notes = _form_notes(read, data)
    tree = with_types(read.tree, file.kind)
    faults = schema_faults(tree, file.kind)
    record = None
    if not faults:
        record = converters.CONVERTERS[file.kind](tree, file.path, faults)
    if not faults:
        return LoadedFile(file, read, record, tuple(notes))
    sound = sound_parts(tree, file.kind, file.path, faults)
    found = locate_faults(read, [*faults, *(sound.more if sound else ())])
    return LoadedFile(file, read, None, (*notes, *found), sound)


def _form_notes(read: ParsedFile, data: bytes) -> list[Finding]:
    """Return notes on the form of the file: byte-order mark, line ends, fractions in comments."""
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
    if "#" in read.text and (eaten := _FRACTION_IN_COMMENT.search(read.text)):
        line, column = line_and_column(read.text, eaten.start(1))
        message = f"a comment that looks like a part of a length: {eaten[1]}"
        remedy = "write the fraction before it without the #, or leave a word between"
        found.append(
            Finding(read.path, line, column, "fraction-in-comment", message, remedy, "note")
        )
    return found


_FRACTION_IN_COMMENT = re.compile(r"[0-9] +(# ?[0-9]{1,2}/[0-9]{1,2})\b")
"""A number sign before a fraction: YAML reads the fraction as a comment."""
