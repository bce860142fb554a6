"""The words of the trade and of the standards, as the site explains them."""

GLOSSARY: dict[str, str] = {
    "acceptance number": "up to so many bad pieces in the sample, a delivery is accepted",
    "AQL": (
        "acceptable quality level. A supplier may send so many bad pieces per 100 all the time, "
        "and most deliveries are still accepted"
    ),
    "delivery": "what came of one style on one day, counted and inspected; one file",
    "inspection, normal, tightened, reduced": (
        "how strictly a supplier's next delivery is looked at, by how its earlier ones fared"
    ),
    "sampling plan": (
        "how many pieces of a delivery to look at, and how many bad ones it may hold (MIL-STD-105E)"
    ),
    "along, across": "the length and the width of the cloth; after washing, how much each changed",
    "assumption": "the part of a spread that was not measured here but taken from the shop's rules",
    "decides": "an answer that the advice rests on: a required check at a deciding point",
    "expected inside": "the share of further pieces that would be within the tolerance",
    "graded": "growing from one size to the next; not graded: two labels share one measure",
    "margin": "how far something may be off before it counts",
    "not comparable": (
        "measured along another line, such as a body length from the centre of the back neck seam. "
        "It is never held against one from the high point of the shoulder"
    ),
    "one deviation": "about two pieces in three are within one deviation of the mean",
    "advice": "what the evidence says about approving a blank; it is computed, never typed",
    "approved sample": "the round that a delivery is compared with",
    "blank": "an undecorated garment sold to be printed",
    "body length": "from the high point of the shoulder straight down to the hem edge",
    "chart": "see size chart",
    "decision": "what a person decided; it stands beside the advice and is never overwritten",
    "degrees of freedom": "how many comparisons a spread rests on, assumptions included",
    "dimensional change": (
        "(after - before) / before, in percent; negative is shrinkage (ISO 5077)"
    ),
    "grade step": "the growth from one size to the next at one point of measure",
    "half chest": "straight across the chest of a garment laid flat: half of its girth",
    "limits": (
        "what the evidence leaves open; each end is wrong at most as often as the stated risk"
    ),
    "lot": "pieces made or shipped together: a dye lot, a carton, an invoice",
    "mass per unit area": "grams per square metre (g/m2, gsm), shown with ounces per square yard",
    "mix-up chance": (
        "how often a piece of the smaller label measures at least as large as one of the larger"
    ),
    "moderated spread": (
        "a standard deviation from few pieces, drawn towards what is usual the fewer they are"
    ),
    "piece": "one physical garment",
    "pilling": "small balls of fibre that rub out of the surface; graded 5 to 1",
    "grade (on a scale)": "what eye or hand makes of a piece: 5 is best, 1 worst; 4-5 is a half",
    "grey scale": (
        "pairs of grey chips that differ by known steps. One is for a change of colour "
        "(ISO 105-A02), one for a stain (ISO 105-A03)"
    ),
    "decoration test": "a print or press on a sample, with its settings, graded cold and washed",
    "discharge ink": "an ink that takes the dye out of the cloth instead of covering it",
    "film transfer": "a print on film, powdered with glue and pressed on",
    "plastisol": "a screen-printing ink that does not dry, and is cured by heat",
    "skew": (
        "how far a body has twisted in the wash. It is the shift of the side seam at the hem, "
        "in percent of the seam's length"
    ),
    "staining": "dye that a washed piece gives off to others",
    "workmanship": "how well a piece is sewn, cut and finished, looked over as received",
    "point of measure": "a named place to measure",
    "round": "one evaluation of samples: pieces of one style measured on one occasion; one file",
    "size chart": "what the supplier publishes, with the date from which it holds",
    "size label": "what the tag says: S, M, L; an ordered list per style, never a number",
    "style": "one blank as the supplier lists it",
    "tolerance": "how far a piece may be from the chart",
    "tube": (
        "a body knitted in the round, without side seams; two sizes from one tube share its width"
    ),
}
