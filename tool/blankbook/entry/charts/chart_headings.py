"""The headings of a size chart: which point, size or tolerance a supplier means.

The spellings are common practice, no source. A heading that is not among them is never guessed.
A further spelling joins `heading_words`, with a chart in ``tests/entry/charts_corpus``.
"""

import re
from dataclasses import dataclass

from blankbook.entry.charts.heading_words import UNIT_WORDS, heading_words, plain_text
from blankbook.words.points import POINTS

_WORDS_OF_UNITS = "|".join(word for word in UNIT_WORDS if word.isalpha() and word[:3] != "ins")
_UNIT_WORDS = re.compile(
    rf"\b(?!in\b)({_WORDS_OF_UNITS})\b"
    r"|[(\[/,]\s*(in\.?|ins|cm\.?|mm|\"|″|”|'')\s*[)\]]?\s*$"
    r"|[(\[]\s*(in\.?|ins|cm\.?|mm|\"|″|”|'')\s*[)\]]"
    r"|\s(in)\.?\s*$|\bin\s+(inches|cms?|mm)\b"
)
_A_LENGTH = re.compile(r"[\d½¼¾][\d./½¼¾ -]*(?:in(?:ch|ches)?\b\.?|cms?\b|mm\b|\"|″|”|'')")
_FOOTNOTE = re.compile(r"\s*(?:[*†‡§#]+|[¹²³⁴⁵⁶⁷⁸⁹]+|\[\w\]|\(\d\))\s*$")
_CODE = re.compile(r"^\(?(?:[a-z]{1,2}\d?|\d{1,2})\)?\s*[.:)–-]\s+(?=\S{2})")
_TOLERANCE_IN_HEADING = re.compile(r"(?:±|\+\s*/?\s*[-–−])\s*([0-9][0-9 ./½¼¾⅛⅜⅝⅞-]*)")
_TOLERANCE_WORD = r"tol(?:s|l?eran(?:ces?|cias?|z(?:a|e|en)?))?\b"
_TOLERANCE = re.compile(rf"\W*{_TOLERANCE_WORD}[\s.:]*(?P<side>[\s()±+/−–-]*)(?:in|cm|mm)?\W*")
_SIGNS = re.compile(r"[\s()]*(?:±|\+\s*/?\s*[-–−])[\s()]*")
_ONE_INCH = re.compile(r"\b(1|one|2[.,]5|25)\b")

CENTRE_BACK = (
    "measured from the centre back, which is another point than the sleeve length from the "
    "shoulder seam"
)
_NOT_KEPT = "no point that blankbook keeps"
MOST_TOLERANCE_WORDS = 5
"""A heading of a tolerance is short; a sentence that speaks of one is read by a person."""


@dataclass(frozen=True, slots=True)
class Heading:
    """What a heading means."""

    kind: str
    """``point``, ``size``, ``tolerance``, ``left_out``, ``unknown`` or ``empty``."""
    point: str = ""
    around: bool | None = None
    """Whether it says that the tape goes all the way around; None where it does not say."""
    how: str = ""
    """The variant of the point, where the heading names one."""
    unit: str = ""
    allowed: str = ""
    """A tolerance that stands in the heading."""
    why: str = ""
    """Why it is left out; of a tolerance, the side that it gives (``+``, ``-``)."""


def without_footnote(text: str) -> str:
    """Return a text without the marks of footnotes.

    >>> without_footnote("Chest *"), without_footnote("22 1/8¹")
    ('Chest', '22 1/8')
    """
    while (cut := _FOOTNOTE.sub("", text)) != text:
        text = cut
    return text


def unit_in_text(text: str) -> str:
    """Return the unit that a text names, or nothing; the length ``1 inch below`` names none."""
    plain = plain_text(text)
    if plain.strip("()[]") in UNIT_WORDS:
        return UNIT_WORDS[plain.strip("()[]")]
    plain = _A_LENGTH.sub(" ", plain)
    found = {UNIT_WORDS[next(filter(None, groups))] for groups in _UNIT_WORDS.findall(plain)}
    return found.pop() if len(found) == 1 else ""


def read_heading(text: str) -> Heading:
    """Return what a heading means."""
    plain = plain_text(without_footnote(text.strip()))
    if not plain:
        return Heading("empty")
    allowed = _TOLERANCE_IN_HEADING.search(plain)
    if (found := _TOLERANCE.fullmatch(plain)) or _SIGNS.fullmatch(plain):
        side = re.sub(r"[^+−–-]", "", found["side"]) if found else ""
        return Heading("tolerance", why=side if len(side) == 1 else "", unit=unit_in_text(plain))
    rest = plain[: allowed.start()] + plain[allowed.end() :] if allowed else plain
    words = heading_words(_CODE.sub("", rest))
    meant = _meaning(words - {"tolerance"}, rest)
    if "tolerance" in words:
        of_point = meant.kind == "point" and len(words) <= MOST_TOLERANCE_WORDS
        return Heading("tolerance", meant.point) if of_point else Heading("unknown")
    return Heading(
        meant.kind,
        meant.point,
        _is_around(words),
        meant.how,
        unit_in_text(rest),
        allowed[1].strip() if allowed else "",
        meant.why,
    )


_OWN_NAMES = {
    frozenset(heading_words(plain_text(name))): point.key
    for point in POINTS.values()
    for name in (point.name, *point.also)
}
"""By the words of each name that the vocabulary has for a point: the point."""


def _is_around(words: set[str]) -> bool | None:
    """Say whether words mean all the way around or flat; None for neither, and for both."""
    around = "around" in words
    flat = bool(words & {"half", "flat", "width", "pit", "across"})
    return around if around != flat else None


def _meaning(words: set[str], text: str) -> Heading:
    """Return what a heading means by its words.

    The order matters: a sleeve has a length and a width of its own, a hem is on both.
    """
    if {"size", "around"} <= words:  # in French, the size of the wearer's waist
        return Heading("left_out", why=_NOT_KEPT)
    if words & {"size", "age"} and not words & {"chart", "table", "guide", "chest", "length"}:
        return Heading("size")
    if "fit" in words:
        return Heading("left_out", why="a measure of the wearer, not of the garment")
    for find in (_own_name, _sleeve, _length, _chest, _hem, _neck, _shoulder, _width):
        if found := find(words, text):
            return found
    if words & _OTHER:
        return Heading("left_out", why=_NOT_KEPT)
    return Heading("unknown")


_OTHER = {
    "armhole", "bicep", "muscle", "waist", "hip", "hips", "inseam", "drop", "slope", "weight",
    "mass", "gsm", "pack", "case", "carton", "price", "pocket", "hood", "placket", "height", "code",
    "ref", "pom", "description", "how", "grade", "grading", "sku", "note", "notes", "colour",
    "across", "fabric", "remark", "remarks", "comment", "comments",
}  # fmt: skip


def _own_name(words: set[str], _text: str) -> Heading | None:
    """Return the point that the vocabulary calls so, or None."""
    own = _OWN_NAMES.get(frozenset(words))
    return Heading("point", own) if own else None


def _sleeve(words: set[str], _text: str) -> Heading | None:
    """Return what a heading about sleeves and cuffs means, or None for another."""
    if "cuff" in words and not words & {"height", "rib", "drop"}:
        return Heading("point", "sleeve_opening")
    if "sleeve" not in words:
        return None
    if words & {"opening", "hem"}:
        return Heading("point", "sleeve_opening")
    if words & {"center", "back", "neck"}:
        return Heading("left_out", "sleeve_length", how="centre_back", why=CENTRE_BACK)
    if words & {"width", "bicep", "muscle", "upper", "around", "drop"}:
        return Heading("left_out", why=_NOT_KEPT)
    return Heading("point", "sleeve_length")


def _length(words: set[str], _text: str) -> Heading | None:
    """Return what a heading about the body length means, or None for another."""
    if "hps" not in words and "length" not in words and not {"shoulder", "hem"} <= words:
        return None
    if words & {"neck", "collar", "rib", "inseam", "placket", "drop"} and not words & {
        *("hem", "body", "back", "from")
    }:
        return Heading("left_out", why=_NOT_KEPT)
    if "shoulder" in words and not words & {"from", "to", "hem", "high", "point", "body"}:
        return Heading("left_out", why=_NOT_KEPT)
    return Heading("point", "body_length", how=_length_from(words))


def _length_from(words: set[str]) -> str:
    """Return the variant of the body length that the words name, or nothing."""
    if "front" in words:
        return "high_point_front"
    if "back" not in words:
        return ""
    if words & {"hps", "high", "shoulder"}:
        return "high_point_back"
    return "centre_back" if words & {"center", "neck", "collar"} else ""


def _chest(words: set[str], text: str) -> Heading | None:
    """Return what a heading about the chest means, or None for another."""
    below = "below" in words and bool(words & {"armhole", "pit", "chest"})
    across = words & {"width", "body", "half"} and "armhole" in words
    if not (words & {"chest", "pit"} or (below and across)) or "drop" in words:
        return None
    # The variant lies 1 in (2.5 cm) below the armhole; other distances have none of their own.
    far = bool(_ONE_INCH.search(text))
    return Heading("point", "half_chest", how="below_armhole" if below and far else "")


def _hem(words: set[str], _text: str) -> Heading | None:
    """Return what a heading about the hem means, or None for another."""
    if "hem" not in words or words & {"height", "drop", "length"}:
        return None
    return Heading("point", "hem_width")


def _neck(words: set[str], _text: str) -> Heading | None:
    """Return what a heading about the neck and its rib means, or None for another."""
    if "rib" in words or ({"collar", "height"} <= words):
        return Heading("point", "rib_height")
    if "neck" not in words:
        return None
    if words & {"drop", "around", "height"}:
        return Heading("left_out", why=_NOT_KEPT)
    return Heading("point", "neck_opening")


def _shoulder(words: set[str], _text: str) -> Heading | None:
    """Return what a heading about the shoulders means, or None for another."""
    if "shoulder" not in words:
        return None
    if words & {"drop", "slope", "seam"} and "to" not in words and "across" not in words:
        return Heading("left_out", why=_NOT_KEPT)
    return Heading("point", "shoulder_width")


def _width(words: set[str], _text: str) -> Heading | None:
    """Return what a heading about a width without a name means, or None for another."""
    if "width" in words and words <= {"width", "body", "garment", "flat", "half", *_SMALL}:
        return Heading("point", "half_chest")
    return None


_SMALL = {"a", "b", "c", "d", "e", "in", "inch", "inches", "cm", "cms", "mm", "of", "the"}


def known_point(key: str) -> str:
    """Return the point of a key or a name, or nothing."""
    plain = key.strip().casefold().replace(" ", "_").replace("-", "_")
    return plain if plain in POINTS else ""
