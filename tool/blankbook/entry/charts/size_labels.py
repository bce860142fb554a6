"""Size labels: what a tag says, from the ways in which charts write it."""

import re

from blankbook.entry.charts.chart_headings import without_footnote

_WORDS = {
    "SMALL": "S", "MEDIUM": "M", "MED": "M", "LARGE": "L", "LRG": "L", "SML": "S",
    "EXTRASMALL": "XS", "EXTRALARGE": "XL", "ONESIZE": "OS", "OSFA": "OS",
}  # fmt: skip
_LETTERS = re.compile(r"Y?(?:[2-9]X|10X|X{0,6})[SL]T?|Y?MT?|Y[SML]|[2-9]X|OS|LT|[2-6]T")
_MONTHS = re.compile(r"\d{1,2}(?:-\d{1,2})?M")
_NUMBER = re.compile(r"(\d{1,3}(?:[-/]\d{1,3})?)(?:Y|YR|YRS|YEAR|YEARS)?")
_RANKS = re.compile(r"(?P<youth>Y?)(?:(?P<count>\d{1,2})X|(?P<x>X*))(?P<letter>[SML])(?P<tall>T?)")


def size_label(text: str, *, numbers: bool) -> str:
    """Return the label that a cell holds, or nothing; with *numbers* a number may be a label.

    >>> size_label("2X-Large", numbers=False), size_label("Small (34-36)", numbers=False)
    ('2XL', 'S')
    >>> size_label("9-11 yrs", numbers=True), size_label("20", numbers=False)
    ('9-11', '')
    """
    plain = re.sub(r"\(.*?\)", "", without_footnote(text)).strip().upper().replace("–", "-")
    plain = re.sub(r"^(?:SIZE|ADULT|UNISEX|MENS|MEN'S|WOMENS|WOMEN'S)\s+", "", plain)
    plain = re.sub(r"^(?:YOUTH|KIDS|CHILD)\s+(?=[A-Z])", "Y", plain)
    return "/".join(parts) if all(parts := _parts(plain, numbers=numbers)) else ""


def _parts(plain: str, *, numbers: bool) -> list[str]:
    if numbers and (found := _NUMBER.fullmatch(plain.replace(" ", ""))):
        return [found[1]]
    return [_letters(part) for part in plain.split("/")]


def _letters(plain: str) -> str:
    """Return a letter size in its usual form, or nothing."""
    bare = re.sub(r"[\s.]", "", plain)
    if _MONTHS.fullmatch(bare):
        return bare
    bare = bare.replace("-", "")
    for word, letter in sorted(_WORDS.items(), key=lambda pair: -len(pair[0])):
        bare = re.sub(f"{word}$", letter, bare)
    return bare if _LETTERS.fullmatch(bare) else ""


def size_rank(label: str) -> tuple[bool, bool, int] | None:
    """Return a key to sort letter sizes by, or None where a label is none of them.

    >>> sorted(["XL", "S", "M", "XS"], key=size_rank), size_rank("2XL") == size_rank("XXL")
    (['XS', 'S', 'M', 'XL'], True)
    """
    found = _RANKS.fullmatch(label)
    if found is None:
        return None
    extra = int(found["count"]) if found["count"] else len(found["x"])
    place = {"S": -1 - extra, "M": 0, "L": 1 + extra}[found["letter"]]
    return not found["youth"], bool(found["tall"]), place
