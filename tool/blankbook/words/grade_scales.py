"""The scales for grading by eye and hand: 5 is best, 1 is worst, with half grades between.

The two grey scales and pilling follow standards; the meanings are in our own words. The scales for
workmanship, wear and prints are ours (common practice, no source).

A further part joins its list, on a scale that is there or a new one. Where it has a new place in
the file, that place is defined in `text.grade_schema` and read in `records.convert.convert_grades`.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

GRADES: dict[str, float] = {
    "5": 5.0, "4-5": 4.5, "4": 4.0, "3-4": 3.5, "3": 3.0, "2-3": 2.5, "2": 2.0, "1-2": 1.5,
    "1": 1.0,
}  # fmt: skip
"""A grade as it is written, and its value; a half grade names its neighbours, never 4.2.

Source: the nine grades of ISO 105-A02:1993 and ISO 105-A03.
"""

HALF_GRADE = 0.5
"""From one grade to the next."""


def nearest_grade(value: float) -> str:
    """Return the grade nearest to a value, as it is written.

    >>> nearest_grade(4.5), nearest_grade(3.0), nearest_grade(4.2)
    ('4-5', '3', '4')
    """
    return min(GRADES, key=lambda grade: abs(GRADES[grade] - value))


def neighbouring_grades(value: float) -> tuple[str, ...]:
    """Return the grade that *value* is, or the two it lies between, as they are written.

    >>> neighbouring_grades(4.5), neighbouring_grades(4.2), neighbouring_grades(7)
    (('4-5',), ('4', '4-5'), ('5',))
    """
    low = [grade for grade, known in GRADES.items() if known <= value]
    high = [grade for grade, known in GRADES.items() if known >= value]
    return tuple(dict.fromkeys([*low[:1], *high[-1:]]))


@dataclass(frozen=True, slots=True)
class Scale:
    """A fixed scale."""

    key: str
    title: str
    how: str
    """How it is used, in one sentence."""
    meanings: Mapping[str, str]
    """What each whole grade means."""
    source: str
    differences: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    """For a grey scale: the CIELAB difference of the pair of chips, and its tolerance."""

    def meaning(self, grade: str) -> str:
        """Return what a grade means; a half grade lies between its neighbours."""
        if grade in self.meanings:
            return self.meanings[grade]
        low, _, high = grade.partition("-")
        return f"between {low} ({self.meanings[low]}) and {high} ({self.meanings[high]})"


GRADE_SCALES: dict[str, Scale] = {
    scale.key: scale
    for scale in (
        Scale(
            "change",
            "change of colour",
            "Hold the piece beside one that was not washed, and the grey scale beside both. Which "
            "pair of chips differs as much?",
            {
                "5": "no change",
                "4": "a slight change",
                "3": "a plain change",
                "2": "a strong change",
                "1": "another colour",
            },
            "grey scale for change in colour, ISO 105-A02:1993; AATCC EP1 is its counterpart",
            {
                "5": (0.0, 0.2),
                "4-5": (0.8, 0.2),
                "4": (1.7, 0.3),
                "3-4": (2.5, 0.35),
                "3": (3.4, 0.4),
                "2-3": (4.8, 0.5),
                "2": (6.8, 0.6),
                "1-2": (9.6, 0.7),
                "1": (13.6, 1.0),
            },
        ),
        Scale(
            "staining",
            "staining of a white cloth",
            "Wash the piece with a white cloth, and hold that beside a new one and the grey scale "
            "for staining.",
            {
                "5": "no stain",
                "4": "a trace",
                "3": "a plain stain",
                "2": "a strong stain",
                "1": "the cloth is dyed",
            },
            "grey scale for staining, ISO 105-A03; AATCC EP2 is its counterpart",
        ),
        Scale(
            "pilling",
            "pilling",
            "Look along the surface, in light from one side, at sides and under the arms.",
            {
                "5": "no change",
                "4": "slightly fuzzy, or first small pills",
                "3": "plainly fuzzy, or pills here and there",
                "2": "many pills, over much of the surface",
                "1": "dense fuzz or pills all over",
            },
            "five grades of the ISO 12945 family, from memory. The shop's own wash and wear in "
            "place of its machines",
        ),
        Scale(
            "workmanship",
            "workmanship",
            "Lay the piece out as received, turn it inside out, and look along every seam.",
            {
                "5": "nothing to find",
                "4": "a small fault that no customer would notice",
                "3": "a fault that a customer who looks would see",
                "2": "a fault that anyone would see or feel",
                "1": "not fit to be sold",
            },
            "ours (common practice, no source)",
        ),
        Scale(
            "wear",
            "wear",
            "After the days that it was worn, hold the piece beside a new one.",
            {
                "5": "as new",
                "4": "changed a little, seen only beside a new one",
                "3": "plainly changed, and still worn gladly",
                "2": "changed so far that it stays in the drawer",
                "1": "worn out",
            },
            "ours (common practice, no source)",
        ),
        Scale(
            "print",
            "decoration",
            "Look at the cold print under the light of the table. Stretch it once by a quarter "
            "of its width.",
            {
                "5": "as it should be; after washing, as when it was new",
                "4": "a little off, seen only from near",
                "3": "off, seen at arm's length",
                "2": "off, seen from across a room",
                "1": "failed: the print is lost",
            },
            "ours (common practice, no source)",
        ),
    )
}


@dataclass(frozen=True, slots=True)
class Part:
    """One thing that is graded."""

    key: str
    title: str
    scale: str
    """A key of `GRADE_SCALES`."""
    looks: str
    """What is looked at."""


def _parts(*parts: Part) -> dict[str, Part]:
    return {part.key: part for part in parts}


AFTER_WASHING: dict[str, Part] = _parts(
    Part("colour", "colour", "change", "How much the colour has changed against a new piece."),
    Part("staining", "staining", "staining", "How much a white cloth in the same wash took on."),
    Part("pilling", "pilling", "pilling", "Fuzz and pills on the surface."),
)
"""Graded on a piece after washing."""

WORKMANSHIP: dict[str, Part] = _parts(
    Part("seams", "seams", "workmanship", "Straight, of even tension, nothing open or skipped."),
    Part("hems", "hems", "workmanship", "Level, of one width, not roped."),
    Part("collar", "collar", "workmanship", "Even rib, flat, closed without a step."),
    Part("knit", "knit", "workmanship", "No holes, ladders, thick yarns or lines."),
    Part("cut", "cut", "workmanship", "Both halves alike, the wales straight down the front."),
    Part("finish", "finish", "workmanship", "Threads trimmed, no oil, no shades, labels straight."),
)
"""Graded on a piece as received."""

WEAR: dict[str, Part] = _parts(
    Part("shape", "shape", "wear", "Whether the body keeps its shape."),
    Part("collar", "collar", "wear", "Whether the collar lies flat and closes again."),
    Part("feel", "feel", "wear", "How the cloth feels in the hand and on the skin."),
    Part("opacity", "opacity", "wear", "How little shows through."),
    Part("surface", "surface", "wear", "Fading, fuzz and rubbed places."),
)
"""Graded on a piece that somebody wore."""

FRESH_PRINT: dict[str, Part] = _parts(
    Part("cover", "cover", "print", "Whether the cloth shows through the print."),
    Part("edge", "edge", "print", "Whether lines and edges are sharp and in place."),
    Part("hand", "hand", "print", "Whether the print is as soft as it should be."),
    Part("scorch", "scorch", "print", "Shine, yellowing, or the mark of the press on the cloth."),
    Part("stretch", "stretch", "print", "Whether it cracks when stretched by a quarter."),
)
"""Graded on a decorated piece once it is cold."""

WASHED_PRINT: dict[str, Part] = _parts(
    Part("cracking", "cracking", "print", "Cracks in the print."),
    Part("peeling", "peeling", "print", "Edges that lift, pieces that are gone."),
    Part("fading", "fading", "print", "How much of the print's colour is left."),
    Part("bleeding", "bleeding", "print", "Dye of the cloth in the print, or of the print around."),
    Part("hand", "hand", "print", "Whether the print feels as it did."),
    Part("colour", "colour", "change", "How much the print has changed, by the grey scale."),
)
"""Graded on a decorated piece after washing."""
