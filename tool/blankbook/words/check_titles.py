"""The keys of the checks that a shop may require, and their titles."""

CHECK_TITLES: dict[str, str] = {
    "size_against_chart": "Size against chart",
    "grade_steps": "Grade steps",
    "mix_up": "Mix-up chance",
    "label": "Labels",
    "piece_against_chart": "Piece by piece",
    "spread": "Spread between pieces",
    "washing": "Washing",
    "washed_size": "Size after washing",
    "skew": "Skew",
    "colour": "Colour",
    "pilling": "Pilling",
    "fabric": "Fabric mass",
    "workmanship": "Workmanship",
    "wear": "Wear",
    "decoration": "Decoration",
    "lots": "Over lots",
    "delivery": "Deliveries",
}
