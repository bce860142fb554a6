"""The pages that do not depend on a blank: method, measuring guide, glossary."""

from typing import Any

from blankbook.pages.blank.blank_page import chart_context
from blankbook.pages.page_spec import PageSpec
from blankbook.pages.shop.method_page import method_page
from blankbook.pages.value_words import length_text, unit_name
from blankbook.records.model import Shop
from blankbook.words.decoration_methods import CAUTIONS, METHODS
from blankbook.words.delivery_terms import FAULTS
from blankbook.words.glossary import GLOSSARY
from blankbook.words.grade_scales import (
    FRESH_PRINT,
    GRADE_SCALES,
    GRADES,
    WASHED_PRINT,
    WEAR,
    WORKMANSHIP,
    Part,
    Scale,
    nearest_grade,
)
from blankbook.words.points import POINTS
from blankbook.words.wash_procedures import DRYINGS, WASHES, WASHING_CAUTION


def fixed_pages(shop: Shop) -> list[PageSpec]:
    """Return them in the order of the navigation."""
    return [method_page(shop), guide_page(shop), glossary_page()]


def guide_page(shop: Shop) -> PageSpec:
    """Return the measuring guide, with a drawing for each point of measure."""
    from blankbook.pages.charts import all_charts

    charts = {key: all_charts.guide_chart(key) for key in POINTS}
    points = [
        {
            "key": point.key,
            "name": point.name,
            "also": list(point.also),
            "direction": point.direction,
            "where": point.where,
            "slip": point.slip,
            "variants": [meaning for _, meaning in point.variants],
            "apart": [point.variant_meaning(way) for way in point.incomparable],
            "tolerance": length_text(shop.tolerance[point.key], shop.unit),
            "chart": chart_context(charts[point.key]),
        }
        for point in POINTS.values()
    ]
    context: dict[str, Any] = {
        "up": "",
        "unit": unit_name(shop.unit),
        "points": points,
        "washes": list(WASHES.values()),
        "dryings": list(DRYINGS.values()),
        "caution": WASHING_CAUTION,
        "faults": list(FAULTS.values()),
        "scales": [_scale(scale, shop) for scale in GRADE_SCALES.values()],
        "least": {key: nearest_grade(grade) for key, grade in shop.least_grade.items()},
        "skew_limit": f"{shop.skew_limit:g}",
        "methods": [method.title for method in METHODS.values()],
        "print_cautions": list(CAUTIONS.values()),
    }
    drawn = tuple(charts.values())
    return PageSpec("guide.html", "Measuring guide", "shop/guide.html.j2", context, drawn)


_GRADED: dict[str, list[tuple[str, Part]]] = {
    "change": [],
    "staining": [],
    "pilling": [],
    "workmanship": [("", part) for part in WORKMANSHIP.values()],
    "wear": [("", part) for part in WEAR.values()],
    "print": [
        *(("cold, ", part) for part in FRESH_PRINT.values()),
        *(("washed, ", part) for part in WASHED_PRINT.values()),
    ],
}
"""The parts that are graded on each scale, for the guide."""


def _scale(scale: Scale, shop: Shop) -> dict[str, Any]:
    parts = _GRADED[scale.key]
    least = {"change": "colour", "print": "decoration"}.get(scale.key, scale.key)
    return {
        "key": scale.key,
        "title": scale.title,
        "how": scale.how,
        "source": scale.source,
        "least": nearest_grade(shop.least_grade[least]),
        "differences": bool(scale.differences),
        "grades": [
            {
                "grade": grade,
                "means": scale.meanings.get(grade, "between the two"),
                "difference": f"{scale.differences[grade][0]:g}" if scale.differences else "",
            }
            for grade in GRADES
            if scale.differences or grade in scale.meanings
        ],
        "parts": [f"{when}{part.title}: {part.looks}" for when, part in parts],
    }


def glossary_page() -> PageSpec:
    """Return the words."""
    words = [{"word": word, "means": means} for word, means in sorted(GLOSSARY.items())]
    context: dict[str, Any] = {"up": "", "words": words}
    return PageSpec("glossary.html", "Glossary", "shop/glossary.html.j2", context)
