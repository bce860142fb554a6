"""Ways to decorate a blank, in the trade's words, and the cautions that each calls for."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Method:
    """A way to decorate."""

    key: str
    title: str
    cautions: tuple[str, ...]
    """Keys of `CAUTIONS`."""


METHODS: dict[str, Method] = {
    method.key: method
    for method in (
        Method("screen_plastisol", "screen print, plastisol ink", ("heat", "fumes")),
        Method("screen_water_based", "screen print, water-based ink", ("heat", "fumes")),
        Method("screen_discharge", "screen print, discharge ink", ("heat", "fumes", "chemicals")),
        Method("screen_transfer", "screen-printed transfer", ("heat", "fumes")),
        Method("film_transfer", "film transfer, printed and powdered", ("heat", "fumes")),
        Method("cut_film", "cut film, pressed on", ("heat", "fumes")),
        Method("foil", "foil, pressed on glue", ("heat", "fumes")),
        Method("flock", "flock", ("heat", "fumes", "chemicals")),
        Method("direct_to_garment", "printed straight onto the garment", ("heat", "chemicals")),
        Method("sublimation", "sublimation, for polyester", ("heat", "fumes")),
        Method("embroidery", "embroidery", ("needles",)),
        Method("patch", "patch, sewn on", ("needles",)),
        Method("other", "another way, named in material", ("heat", "chemicals", "needles")),
    )
}

PRESSURES: dict[str, str] = {
    "light": "light: the paper slides when pulled",
    "medium": "medium: the press closes with one hand",
    "firm": "firm: the press closes with the weight of the arm",
}

CAUTIONS: dict[str, str] = {
    "heat": (
        "Presses and dryers burn and pinch, and cloth left in them can catch fire. Follow the "
        "makers' instructions for machine, ink and film, and local codes; leave gas, wiring and "
        "ventilation to licensed people."
    ),
    "fumes": (
        "Hot inks, films and glues give off fumes: draw them off to the open air. Read the "
        "safety data sheet of each."
    ),
    "chemicals": (
        "Pretreatments, discharge agents, glues and cleaners can harm skin, eyes and lungs. Wear "
        "what their safety data sheets ask for, and dispose of them by local codes."
    ),
    "needles": (
        "Needles break and pierce. Keep hands away while the machine runs. Wear eye protection. "
        "Make sure that no piece of a needle stays in the garment."
    ),
}

CHILDREN_PRINT_CAUTION = (
    "Inks, films, glues and anything sewn on a children's garment fall under the law for "
    "children's products too. Ask their makers for the certificates. This record does not certify "
    "anything."
)
