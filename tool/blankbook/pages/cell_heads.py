"""The head of its column on every cell of a table, for a window too narrow for columns.

There the style sheet sets each row as lines of its own, and writes `data-h` before each value.
"""

import re

_TABLE = re.compile(r"<table(?P<look>[^>]*)>.*?</table>", re.DOTALL)
_HEADS = re.compile(r"<thead.*?</thead>", re.DOTALL)
_HEAD = re.compile(r"<th\b[^>]*>(.*?)</th>", re.DOTALL)
_ROW = re.compile(r"(?<=<tr)(?P<look>[^>]*)>(?P<cells>.*?)(?=</tr>)", re.DOTALL)
_CELL = re.compile(r"<(?P<tag>t[dh])(?P<look>[^>]*)>")
_TAG = re.compile(r"<[^>]*>")
_ANSWER = "answer"
"""The head of cells whose word and shape say what they are."""
_AS_COLUMNS = re.compile(r'class="[^"]*\b(?:catalogue|kept|sheet)\b')
"""Tables that stay columns however narrow the window is, or name their heads themselves."""


def with_cell_heads(html: str) -> str:
    """Return a page in which each cell of a table, but those that say so, names its column.

    What a person typed is escaped by now, so whatever looks like a tag is one.

    >>> head = "<table><thead><tr><th>size</th><th>off</th></tr></thead>"
    >>> with_cell_heads(head + "<tr><th>S</th><td>1</td></tr></table>").removeprefix(head)
    '<tr><th>S</th><td data-h="off">1</td></tr></table>'
    """
    return _TABLE.sub(_named_table, html)


def _named_table(table: re.Match[str]) -> str:
    text = table[0]
    heads = _HEADS.search(text)
    if not heads or _AS_COLUMNS.search(table["look"]):
        return text
    words = [" ".join(_TAG.sub(" ", head).split()) for head in _HEAD.findall(heads[0])]
    body = text[heads.end() :]
    return text[: heads.end()] + _ROW.sub(lambda row: _named_row(row, words), body)


def _named_row(row: re.Match[str], words: list[str]) -> str:
    """Return a row whose cells name their columns; one that spans columns has a head of its own."""
    if "colspan" in row["cells"]:
        return row[0]
    place = -1

    def named(cell: re.Match[str]) -> str:
        nonlocal place
        place += 1
        head = words[place]
        if cell["tag"] == "th" or head == _ANSWER:
            return cell[0]
        return f'<td data-h="{head}"{cell["look"]}>'

    return f"{row['look']}>{_CELL.sub(named, row['cells'])}"
