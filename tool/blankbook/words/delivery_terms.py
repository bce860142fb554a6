"""The words of a delivery: what can be wrong with a piece, and how it is inspected.

Levels and AQLs are those of MIL-STD-105E. The faults are the trade's plain words (common practice,
no source); a colour or a size that is not as ordered is a bad piece too.
"""

FAULTS: dict[str, str] = {
    "hole": "a hole, a cut, or a run in the knit",
    "stain": "a stain, oil, or soil",
    "wrong_label": "a tag that names another size, fibre or maker",
    "seam": "a seam that is open, puckered, or missed the cloth",
    "print_face": "a slub, knot or line where the print would go",
    "colour": "another shade than the others, or than the approved sample",
    "other": "anything else that the shop would not print on; say what in the note",
}
"""What makes a piece bad without a tape."""

INSPECTION_LEVELS: dict[str, str] = {
    "S-1": "special, the fewest pieces",
    "S-2": "special, very few pieces",
    "S-3": "special, few pieces",
    "S-4": "special, the most pieces of the special levels",
    "I": "general, fewer pieces than usual",
    "II": "general, the usual one",
    "III": "general, more pieces than usual",
}
"""Inspection levels, in the order of the standard's table I: how much of a delivery is looked at.
"""

AQLS = (
    0.010, 0.015, 0.025, 0.040, 0.065, 0.10, 0.15, 0.25, 0.40, 0.65, 1.0, 1.5, 2.5, 4.0, 6.5,
    10, 15, 25, 40, 65, 100, 150, 250, 400, 650, 1000,
)  # fmt: skip
"""Acceptable quality levels, per 100 pieces: bad pieces up to 10, faults above that."""

LARGEST_AQL = 10
"""A shop counts bad pieces and not faults, so a larger AQL has no meaning here."""

REDUCED_INSPECTION: dict[str, str] = {
    "never": "a delivery is never looked at with fewer pieces than normal inspection asks for",
    "when_earned": "after ten accepted in a row from a supplier, fewer pieces are looked at",
}

DELIVERY_DECISIONS: dict[str, str] = {
    "accepted": "the delivery is kept",
    "rejected": "the delivery goes back, or is sorted piece by piece",
}
"""What a person may decide on a delivery."""
