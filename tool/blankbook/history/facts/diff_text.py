"""A record as sorted lines, one fact each, for the differences that git itself shows."""

from decimal import Decimal
from fractions import Fraction
from hashlib import sha256

from blankbook.history.facts.record_facts import Fact, record_facts
from blankbook.records.convert import converters
from blankbook.records.lengths import in_inches
from blankbook.text.decoding import MOST_RECORD_BYTES, decode
from blankbook.text.findings import visible
from blankbook.text.ledger_files import ledger_file_at
from blankbook.text.schema_messages import schema_faults
from blankbook.text.schemas import KINDS, schema_files, with_types
from blankbook.text.yaml_tree import read_tree


def fact_lines(body: bytes, path: str = "") -> bytes:
    """Return a record's facts as sorted lines, one each. Never fails: git would stop there.

    What is no record comes back as it is. Of what is no text, one line with its hash comes back.
    """
    if b"\0" in body:
        return f"not a text: {len(body)} bytes, SHA-256 {sha256(body).hexdigest()}\n".encode()
    if len(body) > MOST_RECORD_BYTES:
        return body
    try:
        return _record_lines(body, path)
    except Exception:  # whatever is wrong with it: git shows the file itself
        return body


def _record_lines(body: bytes, path: str) -> bytes:
    read = read_tree(path, decode(body))
    named = ledger_file_at(path)
    for kind in [named.kind] if named else _likely_kinds(read.tree):
        tree = with_types(read.tree, kind)
        found = schema_faults(tree, kind)
        record = None if found else converters.CONVERTERS[kind](tree, path, found)
        if not found:
            lines = []
            for fact_path, fact in sorted(record_facts(record).items()):
                line = f"{' / '.join(fact_path)}: {_fact_text(fact)}"
                lines.append(f"{visible(line, len(line))}\n")
            return "".join(lines).encode()
    return body


def _fact_text(fact: Fact) -> str:
    """Return a fact in the same form, however it was written: inches rounded, centimetres exact."""
    return ", ".join(map(_in_both_units, fact.lengths)) if fact.lengths else fact.text


def _in_both_units(mm: Fraction) -> str:
    exact = (Decimal(mm.numerator) / Decimal(mm.denominator) / 10).normalize()
    return f"{in_inches(float(mm), 32)} in ({exact:f} cm)"


def _likely_kinds(tree: dict[str, object]) -> list[str]:
    """Return the kinds that a file may be. Git hands over a copy, whose name says nothing."""
    shapes = {kind: schema_files()[f"{kind}.schema.json"] for kind in KINDS}
    return [
        kind
        for kind, shape in shapes.items()
        if set(shape.get("required", ())) <= tree.keys() <= shape["properties"].keys()
    ]
