"""The sections about a supplier's sizing that moved, in the order that a reviewer needs.

What moved, the grade steps, what was measured and ordered by it, what clients see of it, and the
evidence that was given.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction

from blankbook.history.moved.chart_changes import ChartChange, LengthChange
from blankbook.history.moved.client_changes import ClientCellChange, ClientChartChange
from blankbook.history.moved.tolerance_margins import NOW_OUTSIDE, Margin
from blankbook.history.report.sections import (
    Row,
    Section,
    counted,
    joined_names,
    length_text,
    signed_length,
    table_section,
)
from blankbook.history.review.review_types import BlankReview, Review
from blankbook.history.versions.commit_notes import CommitNote
from blankbook.text.findings import visible
from blankbook.words.points import POINTS

_NOTHING = "–"


def chart_sections(
    blank: BlankReview, review: Review, notes: Sequence[CommitNote]
) -> Iterator[Section]:
    """Yield the sections on every chart of a blank that moved; *notes* are those on its style."""
    unit = review.unit
    for change in blank.charts:
        yield _cells_section(change, unit)
        yield from _step_sections(change, unit)
        yield from _measured_sections(blank, change, unit)
    yield from client_sections(blank)
    for change in blank.charts:
        yield _evidence_section(blank, change, notes, is_committed=bool(review.new.commit))


def _cells_section(change: ChartChange, unit: str) -> Section:
    how = (
        "edited in place" if change.in_place else "new, the one before it still holds for its time"
    )
    lines = [how, *(f"look again: {says}" for says in change.suspicions), *change.not_comparable]
    head = ("size", "measure", "old", "new", "moved", "note")
    rows = [
        (*_length_row(cell, unit), "past the tolerance" if cell.past_tolerance else "")
        for cell in change.cells
    ]
    return table_section(f"{change.style}: size chart from {change.since}", lines, head, rows)


def _length_row(change: LengthChange, unit: str) -> Row:
    return (
        change.size,
        POINTS[change.point].name,
        length_text(change.old, unit),
        length_text(change.new, unit),
        signed_length(change.by),
    )


def _step_sections(change: ChartChange, unit: str) -> Iterator[Section]:
    if change.steps:
        head = ("step", "measure", "old", "new", "moved", "note")
        rows = [(*_length_row(step, unit), _step_note(step)) for step in change.steps]
        title = f"{change.style}: grade steps, chart from {change.since}"
        yield table_section(title, [f"look again: {says}" for says in change.uneven], head, rows)


def _step_note(step: LengthChange) -> str:
    if step.new > 0:
        return ""
    return "reversed" if step.new < 0 else "no step: two labels of one length"


def _measured_sections(blank: BlankReview, change: ChartChange, unit: str) -> Iterator[Section]:
    effects = blank.chart_effects.get(change.since)
    if effects is None:
        return
    lines = [f"judged by it: {joined_names(effects.judged, 'nothing yet')}"]
    if effects.decided:
        lines.append(f"decided on it: {joined_names(effects.decided)}")
    counts = Counter(margin.outcome for margin in effects.margins)
    lines += [
        f"{counted(counts[word], 'measured size')} {word} the tolerance, by the mean of the pieces"
        for word in (NOW_OUTSIDE, "now inside")
        if counts[word]
    ]
    head = ("record", "size", "measure", "old", "new", "moved", "note", "of")
    rows = [_margin_row(margin, unit) for margin in effects.margins]
    title = f"{change.style}: measured rounds and deliveries, chart from {change.since}"
    yield table_section(title, lines, head, rows)


def _margin_row(margin: Margin, unit: str) -> Row:
    by = "" if margin.old is None or margin.new is None else signed_length(margin.new - margin.old)
    lot = f"lot {visible(margin.lot, 60)}, " if margin.lot else ""
    before_and_now = (_room_left(margin.old, unit), _room_left(margin.new, unit))
    pieces = f"{lot}{counted(margin.pieces, 'piece')}"
    name = POINTS[margin.point].name
    return margin.record, margin.size, name, *before_and_now, by, margin.outcome, pieces


def _room_left(margin: Fraction | None, unit: str) -> str:
    """Return the room to the border of the tolerance, in words."""
    if margin is None:
        return "not comparable"
    if not margin:
        return "on the border"
    side = "inside" if margin > 0 else "outside"
    return f"{length_text(abs(margin), unit)} {side}"


def client_sections(blank: BlankReview) -> Iterator[Section]:
    """Yield what changes for clients, or that their chart rests on a chart that moved."""
    clients = blank.clients
    if clients is None or not (clients.differs or blank.charts):
        return
    head = ("size", "measure", "old", "new", "moved")
    title = f"{blank.key}: size chart for clients, {visible(clients.name, 80)}"
    rows = [_client_row(cell) for cell in clients.cells]
    yield table_section(title, list(_client_lines(clients)), head, rows)


def _client_lines(clients: ClientChartChange) -> Iterator[str]:
    if clients.before != clients.after:
        yield (
            "clients see it now, and did not before" if clients.after else "clients see it no more"
        )
    elif not clients.differs:
        yield "it rests on this blank; nothing in it changes"
    elif clients.cells:
        yield f"cells of it that say something else: {len(clients.cells)}"
    yield from clients.other_changes


def _client_row(cell: ClientCellChange) -> Row:
    by = "" if cell.old is None or cell.new is None else signed_length(cell.new - cell.old)
    return (
        cell.size,
        f"{cell.measure}, {cell.stage}",
        *(says or _NOTHING for says in cell.texts),
        by,
    )


def _evidence_section(
    blank: BlankReview, change: ChartChange, notes: Sequence[CommitNote], *, is_committed: bool
) -> Section:
    source = change.source
    lines = [f"look again: {says}" for says in source.missing]
    lines.append(f"source: {visible(source.source, 300)}")
    lines.append(f"date in it: {source.dated or 'none'}; page in it: {source.page or 'none'}")
    lines.append(f"holds from {change.since}")
    lines += [
        f"entered by {visible(note.by, 60)}, {note.day}, commit {note.short}: {note.subject}"
        for note in notes[:3]
    ]
    if not is_committed:
        lines.append("what is not committed yet has nobody's name")
    lines.append(f"photos of what was judged by it: {joined_names(blank.photos)}")
    return Section(f"{change.style}: evidence for the chart from {change.since}", tuple(lines))
