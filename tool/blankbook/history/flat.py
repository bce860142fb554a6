"""A record as sorted lines, one fact each, for the differences that git itself shows."""

from blankbook.history.facts import facts
from blankbook.history.snapshots import record_at
from blankbook.records import convert
from blankbook.records.lengths import in_centimetres, in_inches
from blankbook.text.bytes import decode
from blankbook.text.schemas import typed
from blankbook.text.tree import read_tree
from blankbook.text.wording import faults as schema_faults

_KINDS = {"shop": "shop", "supplier": "supplier", "charts": "style", "study": "study"}


def flat(body: bytes, path: str = "") -> bytes:
    """Return a record's facts as lines; whatever is no record comes back as it is. Never fails."""
    try:
        return _lines(body, path)
    except Exception:  # whatever is wrong with it: git shows the file itself
        return body


def _lines(body: bytes, path: str) -> bytes:
    read = read_tree(path, decode(body))
    named = record_at(path)
    for kind in [named.kind] if named else _likely(read.tree):
        tree = typed(read.tree, kind)
        found = schema_faults(tree, kind)
        record = None if found else convert.CONVERTERS[kind](tree, path, found)
        if not found:
            lines = []
            for way, fact in sorted(facts(record).items()):
                mm = fact.mm
                more = (
                    ""
                    if mm is None
                    else (f" ({in_inches(float(mm), 32)} in, {in_centimetres(float(mm))} cm)")
                )
                lines.append(f"{' / '.join(way)}: {fact.text}{more}\n")
            return "".join(lines).encode()
    return body


def _likely(tree: dict[str, object]) -> list[str]:
    """Return the kinds that a file without its own place may be: git hands over a copy."""
    first = next((kind for key, kind in _KINDS.items() if key in tree), "")
    return [first] if first else ["round", "delivery", "style"]
