"""The page that a planned round is measured with: on a phone, without server or network."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from blankbook.entry.round.expected_lengths import (
    AS_WIDE,
    NARROWER,
    chart_to_expect,
    size_targets,
    targets_as_data,
)
from blankbook.entry.round.filled_round import LONGEST_TEXTS, MOST_MARKS_APART
from blankbook.entry.round.round_template import TemplatePart, template_parts
from blankbook.entry.round.typed_lengths import tape_marks
from blankbook.pages.page_spec import FileSpec, PageSpec
from blankbook.pages.record_sources import RecordSource
from blankbook.pages.site_paths import blank_path, standalone_path, table_data_path, table_path
from blankbook.pages.table.phone_file import (
    StandaloneContext,
    page_scripts,
    page_styles,
    standalone_page,
)
from blankbook.records.chart_remarks import GROWING
from blankbook.records.flat_or_around import MAYBE_AROUND
from blankbook.records.lengths import DENOMINATORS, FINEST_PARTS, MM_PER_UNIT, read_length
from blankbook.records.model import Blank, Delivery, PlannedRound, Shop, Tape
from blankbook.results.checks.delivery import DeliveryResult, delivery_results
from blankbook.results.deliveries.delivery_words import say_plan
from blankbook.results.evidence import points_to_measure
from blankbook.results.result_types import Judged
from blankbook.words.delivery_terms import FAULTS
from blankbook.words.points import INCH, POINTS, TAPE_SLIPS

TAPE_CHOICES = (("in", "1/8"), ("in", "1/16"), ("in", "1/4"), ("in", "1/32"),
         ("cm", "0.1"), ("cm", "0.5"), ("mm", "1"))  # fmt: skip
"""What tapes are marked in (common practice, no source): the unit, and what is read off."""


@dataclass(frozen=True, slots=True)
class TableContext:
    """All that the page shows without its script."""

    up: str
    name: str
    blank: str
    about: str
    tape: str
    points: tuple[str, ...]
    pieces: tuple[str, ...]
    slips: str
    source: RecordSource
    data: str
    """Where the script is that hands over the round."""
    alone: str
    """Where the same page is as one file."""


def table_pages(
    blank: Blank, shop: Shop, sources: Mapping[str, bytes]
) -> list[PageSpec[TableContext]]:
    """Return a page for each planned round; *sources* are the files of the rounds, by path."""
    return [_page(blank, shop, planned, sources[planned.source.path]) for planned in blank.planned]


def delivery_pages(judged: Judged, sources: Mapping[str, bytes]) -> list[PageSpec[TableContext]]:
    """Return a page for each delivery that waits to be looked at; *sources* as in `table_pages`."""
    blank, shop = judged.blank, judged.case.shop
    return [
        _page(blank, shop, as_planned(one.delivery), sources[one.delivery.source.path], _look(one))
        for one in delivery_results(judged.case)
        if waits(one.delivery)
    ]


def waits(delivery: Delivery) -> bool:
    """Say whether a delivery was counted and nobody has looked at it, so that it has a page."""
    return not delivery.inspected and delivery.decision is None and bool(delivery.pieces)


def as_planned(delivery: Delivery) -> PlannedRound:
    """Return a delivery's pieces to measure as those of a planned round."""
    return PlannedRound(
        delivery.source,
        delivery.key,
        delivery.style,
        delivery.date,
        delivery.pieces,
        delivery.by,
        delivery.lot,
        delivery.tape,
        how=delivery.how,
    )


def _look(result: DeliveryResult) -> dict[str, Any]:
    """Return what a page needs to look a delivery over."""
    inspection, came = result.inspection, result.delivery
    return {
        "says": say_plan(came.size, inspection.severity, inspection.asked),
        "asked": inspection.asked.sample_size,
        "reject": inspection.asked.reject,
        "sizes": [size for size, count in came.delivered.items() if count],
        "faults": [[key, words] for key, words in FAULTS.items()],
    }


def _page(
    blank: Blank,
    shop: Shop,
    planned: PlannedRound,
    source: bytes,
    look: dict[str, Any] | None = None,
) -> PageSpec[TableContext]:
    key, tape = blank.style.key, planned.tape or shop.tape
    data = FileSpec(table_data_path(key, planned.key), _data(blank, shop, planned, source, look))
    title = f"At the table: {blank.style.name}"
    context = TableContext(
        up="../../../",
        name=blank.style.name,
        blank=blank_path(key),
        about=f"{'Came' if look else 'Planned'} on {planned.planned.isoformat()}",
        tape=f"{tape.reads_to.written} {tape.unit}",
        points=tuple(POINTS[point].name for point in points_to_measure(blank, shop)),
        pieces=tuple(piece.key for piece in planned.pieces),
        slips=TAPE_SLIPS,
        source=RecordSource(planned.source.path),
        data=data.path,
        alone=standalone_path(key, planned.key),
    )
    alone = StandaloneContext(
        title=title,
        shop=shop.name,
        about=context.about,
        tape=context.tape,
        points=context.points,
        pieces=context.pieces,
        slips=context.slips,
        styles=page_styles(),
        scripts=page_scripts(data.text),
    )
    files = (data, FileSpec(context.alone, standalone_page(alone)))
    path = table_path(key, planned.key)
    return PageSpec(
        path, title, "table/table.html.j2", context, files=files, sources=(context.source,)
    )


def _data(
    blank: Blank,
    shop: Shop,
    planned: PlannedRound,
    source: bytes,
    look: dict[str, Any] | None,
) -> str:
    """Return the script that hands the round to the page's own script."""
    points, tape = points_to_measure(blank, shop), planned.tape or shop.tape
    chart = chart_to_expect(blank.style, planned.bought or planned.planned)
    others = [Tape(unit, read_length(step, unit)) for unit, step in TAPE_CHOICES]
    differ = [other for other in others if _is_other(other, tape)]
    data = {
        "shop": shop.name,
        "round": f"{blank.style.key}/{planned.key}",
        "file": f"{planned.key}.yaml",
        "head": {
            "date": planned.planned.isoformat() if look else "",
            "by": planned.by,
            "lot": planned.lot,
        },
        "tapes": [_tape(each) for each in (tape, *differ)],
        "hint": TAPE_SLIPS.partition(";")[0] + ".",
        "repeats": MOST_MARKS_APART,
        "most": LONGEST_TEXTS["confirmed"],
        "points": [_point(point) for point in points],
        "sizes": [*blank.style.sizes],
        "pieces": [[piece.key, piece.size, piece.colour] for piece in planned.pieces],
        "targets": targets_as_data(size_targets(blank.style, chart, shop, points, planned.how)),
        "look": look,
        "parts": [_short(part) for part in template_parts(source, tape)],
    }
    text = json.dumps(data, ensure_ascii=True, separators=(",", ":"), sort_keys=True)
    text = text.replace("<", "\\u003c")  # in strings alone: no tag begins or ends in a script
    return f"self.blankbookRound={text};\n"


def _short(part: TemplatePart) -> TemplatePart:
    """Return a part without what is empty: a round of many pieces has many gaps."""
    return part if isinstance(part, str) else {key: text for key, text in part.items() if text}


def _is_other(other: Tape, tape: Tape) -> bool:
    return (other.unit, other.reads_to.exact) != (tape.unit, tape.reads_to.exact)


def _tape(tape: Tape) -> dict[str, Any]:
    """Return the marks of a tape: its unit and a mark, and how many marks a unit has."""
    width, parts = tape_marks(tape)
    return {
        "unit": tape.unit,
        "whole": int(MM_PER_UNIT[tape.unit] * FINEST_PARTS),
        "says": tape.reads_to.written,
        "step": int(tape.reads_to.exact * FINEST_PARTS),
        "width": width,
        "parts": parts,
        "marks": tape.unit == "in" and parts in DENOMINATORS,
    }


def _point(key: str) -> dict[str, Any]:
    point = POINTS[key]
    return {
        "key": key,
        "name": point.name,
        "least": int(point.least * FINEST_PARTS),
        "most": int(point.most * FINEST_PARTS),
        "around": key in MAYBE_AROUND,
        "grows": [AS_WIDE[key], NARROWER[key], GROWING[key]] if key in GROWING else None,
        "between": [f"{float(end / INCH):g}" for end in (point.least, point.most)],
    }
