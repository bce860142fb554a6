"""What a style may claim about itself, and what a shop may use it for."""

CONSTRUCTIONS: dict[str, str] = {
    "tube": "body knitted as a tube, no side seams",
    "side_seamed": "cut and sewn, with side seams",
}

NECK_LABELS: dict[str, str] = {
    "sewn": "sewn in",
    "tear_away": "made to tear away",
    "printed": "printed on the cloth",
    "none": "no neck label",
}

CHANGED_CLAIMS: dict[str, str] = {
    "fabric": "another fibre, knit or mass",
    "construction": "knitted, or cut and sewn, another way",
}
"""What a supplier may change about a style, so that older pieces no longer speak for it."""

WEARERS: dict[str, str] = {
    "adult": "adult sizes",
    "children": "children's sizes",
}

SHIPPING_WAYS: dict[str, str] = {
    "pick_up": "picked up",
    "parcel": "sent by parcel",
    "freight": "sent by freight",
}

CHILDREN_CAUTION = (
    "Children's garments fall under flammability and product-safety law. This record does not "
    "certify anything: ask the supplier for the certificates and follow the law where you sell."
)
CHILDREN_CHART_CAUTION = (
    "Children of one age differ by several sizes: choose by the chest and the length, not by the "
    "age. Children's garments fall under flammability and product-safety law. This chart says how "
    "large they are and certifies nothing. Ask for the certificates, and follow the law where you "
    "sell."
)
LABEL_CAUTION = (
    "A neck label that is removed must be replaced as the law requires where you sell. Usually "
    "that is fibre, origin, and your name or registered number."
)

LOT_NOT_KNOWN = "not known"
"""What stands for a lot that nobody can say. Two of them are never the same lot."""
