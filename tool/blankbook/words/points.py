"""Points of measure: where the tape goes, and what is usual there.

Names and definitions are the trade's, in our own words (common practice, no source; the list of
points that a flat garment is measured at is the kind that ISO 18890 standardises).
Default tolerances and steps are common practice, no source, except the 2 in half-chest step, which
follows from the 4 in body-chest step of the US item description A-A-55069.
Spreads between pieces are a working assumption, learned from the ledger as it grows.
"""

from dataclasses import dataclass, field
from fractions import Fraction

INCH = Fraction(254, 10)
"""Millimetres in an inch, exact."""


@dataclass(frozen=True, slots=True)
class Point:
    """A named place to measure. Lengths are millimetres."""

    key: str
    name: str
    also: tuple[str, ...]
    """Other names that houses use."""
    direction: str
    """``along`` the wales (length) or ``across`` them (width)."""
    where: str
    """Where the tape goes, in one sentence."""
    slip: str
    """The common slip of the tape here."""
    tolerance: Fraction
    """How far a piece may be from the chart, when neither chart nor shop says."""
    step: Fraction
    """The usual grade step in adult sizes, when no chart says."""
    step_tolerance: Fraction
    """How far a step may be from the charted one."""
    spread: Fraction
    """Assumed standard deviation between pieces of one size, lot and colour."""
    least: Fraction
    most: Fraction
    """No garment for a person is outside these."""
    variants: tuple[tuple[str, str], ...] = field(default=())
    """Ways of measuring that differ between houses: key and meaning; the first is assumed."""
    incomparable: tuple[str, ...] = ()
    """The variants that run along another line: they differ from the rest by more than the
    tolerance. The others differ by less on a shirt laid flat (common practice, no source).
    """

    def are_comparable(self, variant: str, other: str) -> bool:
        """Say whether lengths that were measured in two ways can be compared.

        An empty variant is the first one: it is assumed where nothing is written.

        >>> POINTS["body_length"].are_comparable("", "high_point_back")
        True
        >>> POINTS["body_length"].are_comparable("high_point_front", "centre_back")
        False
        """
        first = self.variants[0][0] if self.variants else ""
        variant, other = variant or first, other or first
        return variant == other or not {variant, other} & set(self.incomparable)

    def variant_meaning(self, variant: str) -> str:
        """Return what a variant means; an empty one is the first."""
        return dict(self.variants).get(variant or self.variants[0][0], "") if self.variants else ""


@dataclass(frozen=True, slots=True)
class SeamLength:
    """One of the two lengths that a twist is computed from. Lengths are millimetres."""

    name: str
    least: Fraction
    most: Fraction
    """No garment for a person is outside these."""


def _inches(text: str) -> Fraction:
    return Fraction(text) * INCH


POINTS: dict[str, Point] = {
    point.key: point
    for point in (
        Point(
            "half_chest",
            "half chest",
            ("pit to pit", "chest width", "1/2 chest"),
            "across",
            "Straight across from armhole to armhole, where the side meets the sleeve.",
            "Pulling the cloth flat stretches it: smooth it, do not pull.",
            _inches("1/2"),
            _inches("2"),
            _inches("1/2"),
            _inches("1/8"),
            _inches("6"),
            _inches("45"),
            (
                ("at_armhole", "at the armhole"),
                ("below_armhole", "1 in (2.5 cm) below the armhole"),
            ),
        ),
        Point(
            "body_length",
            "body length",
            ("length from the high point of the shoulder",),
            "along",
            "From the high point of the shoulder, at the neck seam, straight down to the hem edge.",
            "Starting at the rib or the collar edge adds its height.",
            _inches("1/2"),
            _inches("1"),
            _inches("1/2"),
            _inches("3/16"),
            _inches("8"),
            _inches("60"),
            (
                ("high_point_front", "front, from the high point of the shoulder"),
                ("high_point_back", "back, from the high point of the shoulder"),
                ("centre_back", "from the centre of the back neck seam"),
            ),
            ("centre_back",),
        ),
        Point(
            "shoulder_width",
            "shoulder width",
            ("across shoulder", "shoulder to shoulder"),
            "across",
            "Straight across the back between the two meetings of shoulder and armhole seam.",
            "Following the slope of the shoulder reads long.",
            _inches("3/8"),
            _inches("1"),
            _inches("3/8"),
            _inches("1/8"),
            _inches("5"),
            _inches("40"),
            (
                ("straight", "straight from point to point"),
                ("over_neck_seam", "from point to point over the centre of the back neck seam"),
            ),
            ("over_neck_seam",),
        ),
        Point(
            "sleeve_length",
            "sleeve length",
            ("sleeve from the shoulder seam",),
            "along",
            "From the top of the armhole seam along the upper fold of the sleeve to its hem edge.",
            "On a raglan or dropped shoulder there is no such seam: measure from the centre back.",
            _inches("3/8"),
            _inches("1/2"),
            _inches("3/8"),
            _inches("1/8"),
            _inches("1"),
            _inches("40"),
            (
                ("shoulder_seam", "from the shoulder seam"),
                ("centre_back", "from the centre back neck"),
            ),
            ("centre_back",),
        ),
        Point(
            "sleeve_opening",
            "sleeve opening",
            ("cuff width", "1/2 sleeve hem"),
            "across",
            "Straight across the sleeve at its hem edge.",
            "A sleeve hem that has flared reads wide: lay it closed.",
            _inches("1/4"),
            _inches("3/8"),
            _inches("1/4"),
            _inches("1/12"),
            _inches("1"),
            _inches("20"),
            (("at_edge", "at the hem edge"), ("above_hem", "just above the hem's stitches")),
        ),
        Point(
            "hem_width",
            "hem width",
            ("sweep", "bottom width", "1/2 hem"),
            "across",
            "Straight across the bottom edge from side to side.",
            "A hem that has twisted hides a fold: align the side seams or folds first.",
            _inches("1/2"),
            _inches("2"),
            _inches("1/2"),
            _inches("5/32"),
            _inches("6"),
            _inches("50"),
            (("at_edge", "at the hem edge"), ("above_hem", "just above the hem's stitches")),
        ),
        Point(
            "neck_opening",
            "neck opening",
            ("neck width",),
            "across",
            "Straight across the neck between the two shoulder points.",
            "Seam to seam and edge to edge differ by twice the rib: say which.",
            _inches("1/4"),
            _inches("1/4"),
            _inches("1/4"),
            _inches("1/12"),
            _inches("2"),
            _inches("20"),
            (("seam_to_seam", "from seam to seam"), ("edge_to_edge", "from rib edge to rib edge")),
            ("edge_to_edge",),
        ),
        Point(
            "rib_height",
            "rib height",
            ("collar rib", "neck rib"),
            "along",
            "From the neck seam to the edge of the rib, at the centre front.",
            "A rib that stands up reads short: press it flat with a finger.",
            _inches("1/8"),
            _inches("0"),
            _inches("1/8"),
            _inches("1/32"),
            _inches("1/4"),
            _inches("6"),
            (("centre_front", "at the centre front"), ("centre_back", "at the centre back")),
        ),
    )
}
"""In the order in which a shop measures and a page lists them."""

_USUAL_SPANS = {
    "half_chest": (("14", "34"), ("8", "20")),
    "body_length": (("20", "38"), ("10", "28")),
    "shoulder_width": (("12", "28"), ("7", "18")),
    "sleeve_length": (("4", "13"), ("2", "9")),
    "sleeve_opening": (("4", "11"), ("3", "8")),
    "hem_width": (("14", "34"), ("8", "20")),
    "neck_opening": (("5", "10"), ("4", "8")),
    "rib_height": (("0.375", "2.5"), ("0.375", "2")),
}


def usual_span(point: str, wearer: str) -> tuple[Fraction, Fraction]:
    """Return between which lengths nearly every short-sleeved T-shirt lies, in millimetres.

    *wearer* is ``adult`` or ``children``. It is for a reading that nothing else can be held
    against: what lies outside is asked about, and may be a long sleeve (common practice, no
    source).
    """
    low, high = _USUAL_SPANS[point][wearer == "children"]
    return _inches(low), _inches(high)


TAPE_SLIPS = (
    "Smooth it, do not pull it; lengths begin at the neck seam, not at the rib. Lay sleeve and hem "
    "closed, side seams or folds in line. Write the fraction as it was read."
)
"""The common slips in one line, for a person who has no hand free to read more."""

SEAMS: dict[str, SeamLength] = {
    "seam_shift": SeamLength("shift of the side seam", Fraction(0), _inches("12")),
    "seam_length": SeamLength("length of the side seam", _inches("4"), _inches("40")),
}
"""Bounds: common practice, no source."""
