"""Blanks beside each other: one page, and a small file for each blank.

The page loads only the files of the blanks that somebody chose, so it does not grow with the
catalogue. Everything in a file is worked out here, lengths in words too; the page's script only
lays it out.
"""

import json
from dataclasses import dataclass
from typing import Any

from blankbook.pages.charts.chart_types import ScaleBar
from blankbook.pages.charts.sizes_chart import SCALE_BARS, drawn_lengths
from blankbook.pages.draw.shirt_outline import outline
from blankbook.pages.page_spec import FileSpec, PageSpec
from blankbook.pages.site_paths import blank_path, compare_path
from blankbook.pages.value_words import (
    DASH,
    change_text,
    length_text,
    point_name,
    sign_of,
    unbroken,
    unit_words,
)
from blankbook.records.model import Shop
from blankbook.results.evidence import newest_sample
from blankbook.results.learning.stand_ins import MOST_OFF, fit_facts
from blankbook.results.number_words import say_percent
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Judged
from blankbook.words.points import POINTS

COMPARE_PAGE = "compare.html"


@dataclass(frozen=True, slots=True)
class CompareContext:
    """All that the page shows before a script lays blanks on it."""

    up: str
    unit: str
    bar: ScaleBar
    """How long a length is in the drawings."""


def compare_page(shop: Shop) -> PageSpec[CompareContext]:
    """Return the page that lays blanks beside each other."""
    context = CompareContext(up="", unit=unit_words(shop.unit), bar=SCALE_BARS[shop.unit])
    return PageSpec(COMPARE_PAGE, "Blanks beside each other", "shop/compare.html.j2", context)


def compare_file(judged: Judged, shop: Shop) -> FileSpec:
    """Return the file of one blank."""
    data = json.dumps(_data(judged, shop), ensure_ascii=True, separators=(",", ":"), sort_keys=True)
    data = data.replace("<", "\\u003c")  # in strings alone: no tag begins or ends in a script
    return FileSpec(compare_path(judged.blank.style.key), f"self.blankbookTake({data});\n")


def _data(judged: Judged, shop: Shop) -> dict[str, Any]:
    style = judged.blank.style
    facts = fit_facts(judged.blank, shop)
    made, standing = judged.decision, sign_of(judged.standing.kind)
    return {
        "key": style.key,
        "name": style.name,
        "path": blank_path(style.key),
        "standing": {"word": standing.word, "shape": standing.shape, "class": standing.css},
        "points": [[point, point_name(point)] for point in POINTS if _is_known(facts, point)],
        "deciding": list(shop.deciding_points),
        "mostOff": MOST_OFF,
        "tolerance": {point: round(shop.tolerance[point], 2) for point in POINTS},
        "sizes": [
            _size(judged, facts, size, shop) for size in style.sizes if size in facts["means"]
        ],
        "facts": [
            ["supplier", judged.blank.supplier.name],
            ["decision", made.decision if made else "none yet"],
            ["may be ordered", ", ".join(judged.standing.sizes) or "no size today"],
            ["fabric", facts["fabric"] or DASH],
            ["mass, g/m2", str(facts["mass"]) if facts["mass"] else DASH],
            *(
                [point_name(p) + ", washed", _percent(facts["washed"][p])]
                for p in shop.deciding_points
            ),
            ["colours", ", ".join(style.colours) or DASH],
            [f"each, {shop.currency}", f"{facts['price']:.2f}" if facts["price"] else DASH],
            ["last round", _last(judged)],
        ],
    }


def _is_known(facts: dict[str, Any], point: str) -> bool:
    return any(point in means for means in facts["means"].values())


def _percent(value: float | None) -> str:
    return DASH if value is None else say_percent(value, signed=True)


def _last(judged: Judged) -> str:
    rounds = judged.blank.rounds
    return rounds[-1].date.isoformat() if rounds else "not measured"


def _size(judged: Judged, facts: dict[str, Any], size: str, shop: Shop) -> dict[str, Any]:
    means: dict[str, float] = facts["means"][size]
    washed = {
        point: round(mm * (1 + facts["washed"][point] / 100), 1)
        for point, mm in means.items()
        if facts["washed"].get(point) is not None
    }
    shape = drawn_lengths(judged).get(size)
    return {
        "label": size,
        "mm": means,
        "says": {point: unbroken(length_text(mm, shop.unit)) for point, mm in means.items()},
        "off": _off(judged, size, shop.unit),
        "washed": washed,
        "saysWashed": {point: unbroken(length_text(mm, shop.unit)) for point, mm in washed.items()},
        "pieces": max(_pieces(judged, size, point) for point in means),
        "outline": [[round(x), round(y)] for x, y in outline(shape)] if shape else [],
    }


def _off(judged: Judged, size: str, unit: str) -> dict[str, str]:
    """Return how far a size is from its chart, in words, by point."""
    return {
        result.point: unbroken(change_text(off.value, unit))
        for result in judged.of("size_against_chart")
        if result.size == size and (off := result.number(Quantity.OFF_THE_CHART))
    }


def _pieces(judged: Judged, size: str, point: str) -> int:
    here = newest_sample(judged.case, size, point)
    return len(here.values) if here else 0
