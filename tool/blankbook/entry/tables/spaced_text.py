"""A chart whose cells were pasted with one space between them, as pages of print give it.

Where sizes stand across, the line of sizes says how many numbers end each of the other lines, so
``Body width 18 20 1/2 22`` can be cut. Where sizes stand down, nothing is cut: nobody could tell
the words of one heading from those of the next.
"""

import re

from blankbook.entry.charts.size_labels import size_label
from blankbook.entry.tables.table_cells import NoTableError, Table, make_table

_NUMBER = (
    r"(?:[0-9]+/[0-9]+|[0-9]+(?:[.,][0-9]+)?(?:[ -][0-9]+/[0-9]+|[ ]?[½¼¾⅛⅜⅝⅞])?"
    r"|[½¼¾⅛⅜⅝⅞]|[-–])[\"″”*]?"
)
_IS_WORD = re.compile(r"[^\W\d]|\)$")
FEWEST_SIZES = 2


def cut_at_spaces(text: str) -> Table:
    """Return the table; the words of a line are its first cell. Raises: NoTableError."""
    lines = [" ".join(line.split()) for line in text.splitlines()]
    at = next((n for n, line in enumerate(lines) if _sizes(line)), None)
    if at is None:
        raise NoTableError(
            "must be a size chart, found no cells", "give CSV, or cells between tabs"
        )
    sizes = _sizes(lines[at])
    ends = re.compile(rf"(?P<words>.+?) (?P<numbers>{_NUMBER}(?: {_NUMBER}){{{len(sizes) - 1}}})")
    rows = [[line] for line in lines]
    rows[at] = ["Size", *sizes]
    for n, line in enumerate(lines):
        found = ends.fullmatch(line) if n > at else None
        if found and _IS_WORD.search(found["words"].split()[-1]):
            rows[n] = [found["words"], *re.findall(_NUMBER, found["numbers"])]
    return make_table(rows)


def _sizes(line: str) -> list[str]:
    """Return the words of a line that are all size labels, after a first word such as Size."""
    words = line.split()
    words = words[1:] if words and words[0].casefold() in {"size", "sizes"} else words
    labels = [size_label(word, numbers=False) for word in words]
    return words if len(words) >= FEWEST_SIZES and all(labels) else []
