"""A supplier's sizing that moved, in the order that a reviewer needs it.

What moved, the grade steps, what was measured and ordered by it, what clients see of it, and the
evidence that was given.
"""

from collections import Counter
from collections.abc import Iterator, Sequence

from blankbook.history.moved.chart_changes import ChartChange, Moved
from blankbook.history.moved.client_changes import CellMoved, ClientsMoved
from blankbook.history.moved.tolerance_margins import BORDER, Margin
from blankbook.history.report.sections import Row, Section, many, named, plain, signed, table
from blankbook.history.review.review_types import BlankReview, Review
from blankbook.history.versions.commit_notes import Told
from blankbook.text.findings import visible
from blankbook.words.points import POINTS

_NOTHING = "–"


def chart_parts(blank: BlankReview, of: Review, told: Sequence[Told]) -> Iterator[Section]:
    """Yield the parts of every chart of a blank that moved; *told* is what commits say of it."""
    unit = of.unit
    for one in blank.charts:
        yield _chart(one, unit)
        yield from _steps(one, unit)
        yield from _measured(blank, one, unit)
    yield from clients_part(blank)
    for one in blank.charts:
        yield _evidence(blank, one, told, is_committed=bool(of.new.commit))


def _chart(one: ChartChange, unit: str) -> Section:
    how = "edited in place" if one.in_place else "new, the one before it still holds for its time"
    lines = [how, *(f"look again: {says}" for says in one.suspicions), *one.ways]
    head = ("size", "measure", "old", "new", "moved", "note")
    rows = [(*_cell(cell, unit), "past the tolerance" if cell.past else "") for cell in one.cells]
    return table(f"{one.style}: size chart from {one.since}", lines, head, rows)


def _cell(cell: Moved, unit: str) -> Row:
    name = POINTS[cell.point].name
    return cell.size, name, plain(cell.old, unit), plain(cell.new, unit), signed(cell.by)


def _steps(one: ChartChange, unit: str) -> Iterator[Section]:
    if one.steps:
        head = ("step", "measure", "old", "new", "moved", "note")
        rows = [(*_cell(step, unit), _step_word(step)) for step in one.steps]
        title = f"{one.style}: grade steps, chart from {one.since}"
        yield table(title, [f"look again: {says}" for says in one.uneven], head, rows)


def _step_word(step: Moved) -> str:
    if step.new > 0:
        return ""
    return "reversed" if step.new < 0 else "no step: two labels of one length"


def _measured(blank: BlankReview, one: ChartChange, unit: str) -> Iterator[Section]:
    touched = blank.touched.get(one.since)
    if touched is None:
        return
    lines = [f"judged by it: {named(touched.judged, 'nothing yet')}"]
    if touched.decided:
        lines.append(f"decided on it: {named(touched.decided)}")
    counts = Counter(margin.word for margin in touched.margins)
    lines += [
        f"{many(counts[word], 'measured size')} {word} the tolerance, by the mean of the pieces"
        for word in ("now outside", "now inside")
        if counts[word]
    ]
    head = ("record", "size", "measure", "old", "new", "moved", "note", "of")
    rows = [_margin(margin, unit) for margin in touched.margins]
    title = f"{one.style}: measured rounds and deliveries, chart from {one.since}"
    yield table(title, lines, head, rows)


def _margin(one: Margin, unit: str) -> Row:
    by = "" if one.old is None or one.new is None else signed(one.new - one.old)
    lot = f"lot {visible(one.lot, 60)}, " if one.lot else ""
    ends = (_left(one.old, unit), _left(one.new, unit))
    of = f"{lot}{many(one.pieces, 'piece')}"
    return one.record, one.size, POINTS[one.point].name, *ends, by, one.word, of


def _left(margin: float | None, unit: str) -> str:
    """Return the room that is left to the border of the tolerance."""
    if margin is None:
        return "not comparable"
    if abs(margin) <= BORDER:
        return "on the border"
    side = "inside" if margin > 0 else "outside"
    return f"{plain(abs(margin), unit)} {side}"


def clients_part(blank: BlankReview) -> Iterator[Section]:
    """Yield what clients see otherwise, or that they see a chart that rests on what moved."""
    one = blank.clients
    if one is None or not (one.differs or blank.charts):
        return
    head = ("size", "measure", "old", "new", "moved")
    title = f"{blank.key}: size chart for clients, {visible(one.called, 80)}"
    yield table(title, list(_of_clients(one)), head, [_seen(cell) for cell in one.cells])


def _of_clients(one: ClientsMoved) -> Iterator[str]:
    if one.before != one.after:
        yield "clients see it now, and did not before" if one.after else "clients see it no more"
    elif not one.differs:
        yield "it rests on this blank; nothing in it changes"
    elif one.cells:
        yield f"cells of it that say something else: {len(one.cells)}"
    yield from one.otherwise


def _seen(one: CellMoved) -> Row:
    by = "" if one.old is None or one.new is None else signed(one.new - one.old)
    return one.size, f"{one.measure}, {one.stage}", *(says or _NOTHING for says in one.shown), by


def _evidence(
    blank: BlankReview, one: ChartChange, told: Sequence[Told], *, is_committed: bool
) -> Section:
    origin = one.whence
    lines = [f"look again: {says}" for says in origin.missing]
    lines.append(f"source: {visible(origin.source, 300)}")
    lines.append(f"date in it: {origin.dated or 'none'}; page in it: {origin.page or 'none'}")
    lines.append(f"holds from {one.since}")
    lines += [
        f"entered by {visible(t.by, 60)}, {t.day}, commit {t.id[:10]}: {t.subject}"
        for t in told[:3]
    ]
    if not is_committed:
        lines.append("what is not committed yet has nobody's name")
    lines.append(f"photos of what was judged by it: {named(blank.photos)}")
    return Section(f"{one.style}: evidence for the chart from {one.since}", tuple(lines))
