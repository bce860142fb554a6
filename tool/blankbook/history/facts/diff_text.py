"""A record as sorted lines, one fact each, for the differences that git itself shows."""

from decimal import Decimal
from fractions import Fraction
from hashlib import sha256

from blankbook.history.facts.record_facts import Fact, facts
from blankbook.records.convert import converters
from blankbook.records.lengths import in_inches
from blankbook.text.decoding import MOST_RECORD_BYTES, decode
from blankbook.text.findings import visible
from blankbook.text.ledger_files import ledger_file_at
from blankbook.text.schema_messages import schema_faults
from blankbook.text.schemas import with_types
from blankbook.text.yaml_tree import read_tree

_KINDS = {"shop": "shop", "supplier": "supplier", "charts": "style", "study": "study"}


def flat(body: bytes, path: str = "") -> bytes:
    """Return a record's facts as lines, one each. Never fails.

    Whatever is no record comes back as it is; of what is no text, a line that tells it apart.
    """
    if b"\0" in body:
        return f"not a text: {len(body)} bytes, SHA-256 {sha256(body).hexdigest()}\n".encode()
    if len(body) > MOST_RECORD_BYTES:
        return body
    try:
        return _lines(body, path)
    except Exception:  # whatever is wrong with it: git shows the file itself
        return body


def _lines(body: bytes, path: str) -> bytes:
    read = read_tree(path, decode(body))
    named = ledger_file_at(path)
    for kind in [named.kind] if named else _likely(read.tree):
        tree = with_types(read.tree, kind)
        found = schema_faults(tree, kind)
        record = None if found else converters.CONVERTERS[kind](tree, path, found)
        if not found:
            lines = []
            for way, fact in sorted(facts(record).items()):
                line = f"{' / '.join(way)}: {_told(fact)}"
                lines.append(f"{visible(line, len(line))}\n")
            return "".join(lines).encode()
    return body


def _told(fact: Fact) -> str:
    """Return a fact in one form, whatever it was written in: inches rounded, centimetres exact."""
    return ", ".join(map(_both, fact.lengths)) if fact.lengths else fact.text


def _both(mm: Fraction) -> str:
    exact = (Decimal(mm.numerator) / Decimal(mm.denominator) / 10).normalize()
    return f"{in_inches(float(mm), 32)} in ({exact:f} cm)"


def _likely(tree: dict[str, object]) -> list[str]:
    """Return the kinds that a file without its own place may be: git hands over a copy."""
    first = next((kind for key, kind in _KINDS.items() if key in tree), "")
    return [first] if first else ["round", "delivery", "style"]
