"""The pages that do not depend on a blank: method, measuring guide, glossary."""

from dataclasses import dataclass

from blankbook.pages.charts import all_charts
from blankbook.pages.page_spec import AnyPage, PageSpec
from blankbook.pages.page_types import ChartImage, chart_image
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


@dataclass(frozen=True, slots=True)
class GuidePoint:
    """One point of measure in the guide."""

    key: str
    name: str
    also: tuple[str, ...]
    direction: str
    where: str
    slip: str
    variants: tuple[str, ...]
    apart: tuple[str, ...]
    """The ways to measure it that are comparable with no other."""
    tolerance: str
    chart: ChartImage


@dataclass(frozen=True, slots=True)
class GradeRow:
    """One grade of a scale."""

    grade: str
    means: str
    difference: str


@dataclass(frozen=True, slots=True)
class ScaleSection:
    """One scale, and the parts that are graded on it."""

    key: str
    title: str
    how: str
    source: str
    least: str
    differences: bool
    """Whether its grades are chips that differ by so much in colour."""
    grades: tuple[GradeRow, ...]
    parts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class GuideContext:
    """All that the measuring guide shows."""

    up: str
    unit: str
    points: tuple[GuidePoint, ...]
    washes: tuple[str, ...]
    dryings: tuple[str, ...]
    caution: str
    faults: tuple[str, ...]
    scales: tuple[ScaleSection, ...]
    skew_limit: str
    methods: tuple[str, ...]
    print_cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class GlossaryEntry:
    """A word, and what it means."""

    word: str
    means: str


@dataclass(frozen=True, slots=True)
class GlossaryContext:
    """All that the glossary shows."""

    up: str
    words: tuple[GlossaryEntry, ...]


def fixed_pages(shop: Shop) -> list[AnyPage]:
    """Return method, measuring guide and glossary, in the order of the navigation."""
    return [method_page(shop), _guide_page(shop), _glossary_page()]


def _guide_page(shop: Shop) -> PageSpec[GuideContext]:
    """Return the measuring guide, with a drawing for each point of measure."""
    charts = {key: all_charts.guide_chart(key) for key in POINTS}
    points = (
        GuidePoint(
            key=point.key,
            name=point.name,
            also=tuple(point.also),
            direction=point.direction,
            where=point.where,
            slip=point.slip,
            variants=tuple(meaning for _, meaning in point.variants),
            apart=tuple(point.variant_meaning(way) for way in point.incomparable),
            tolerance=length_text(shop.tolerance[point.key], shop.unit),
            chart=chart_image(charts[point.key]),
        )
        for point in POINTS.values()
    )
    context = GuideContext(
        up="",
        unit=unit_name(shop.unit),
        points=tuple(points),
        washes=tuple(WASHES.values()),
        dryings=tuple(DRYINGS.values()),
        caution=WASHING_CAUTION,
        faults=tuple(FAULTS.values()),
        scales=tuple(_scale(scale, shop) for scale in GRADE_SCALES.values()),
        skew_limit=f"{shop.skew_limit:g}",
        methods=tuple(method.title for method in METHODS.values()),
        print_cautions=tuple(CAUTIONS.values()),
    )
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


def _scale(scale: Scale, shop: Shop) -> ScaleSection:
    parts = _GRADED[scale.key]
    least = {"change": "colour", "print": "decoration"}.get(scale.key, scale.key)
    return ScaleSection(
        key=scale.key,
        title=scale.title,
        how=scale.how,
        source=scale.source,
        least=nearest_grade(shop.least_grade[least]),
        differences=bool(scale.differences),
        grades=tuple(
            GradeRow(
                grade=grade,
                means=scale.meanings.get(grade, "between the two"),
                difference=f"{scale.differences[grade][0]:g}" if scale.differences else "",
            )
            for grade in GRADES
            if scale.differences or grade in scale.meanings
        ),
        parts=tuple(f"{when}{part.title}: {part.looks}" for when, part in parts),
    )


def _glossary_page() -> PageSpec[GlossaryContext]:
    """Return the page of the words and what they mean."""
    words = (GlossaryEntry(word, means) for word, means in sorted(GLOSSARY.items()))
    context = GlossaryContext(up="", words=tuple(words))
    return PageSpec("glossary.html", "Glossary", "shop/glossary.html.j2", context)
