"""A review in a few lines for each blank and supplier: what a list of changes says of them.

It says what moved and what follows, and of everything else only that it changed: no price, no
terms, no contact, no note and nobody's name. A reader program may carry a list further than a page.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from blankbook.history.facts.changed_slips import suspicions_of
from blankbook.history.facts.file_differences import Change, FileChange, What
from blankbook.history.moved.chart_changes import ChartChange
from blankbook.history.report.review_document import plain, signed
from blankbook.history.review.review_types import BlankReview, Review
from blankbook.records.model import Delivery, Round
from blankbook.text.findings import visible
from blankbook.words.points import POINTS

MOST_LINES = 7
"""Of one part; the rest are counted."""
MOST_VALUES = 3
"""Lengths of a rewritten file that are shown; the rest are counted."""
_LONGEST = 300


@dataclass(frozen=True, slots=True)
class Part:
    """What a change says of one blank, of one supplier, or of the rules for all."""

    kind: str
    """``blank``, ``supplier``, ``shop`` or ``study``."""
    key: str
    lines: tuple[str, ...]


def in_short(one: Review) -> list[Part]:
    """Return the parts of a review: blanks first, those whose advice changes before the others."""
    found = [_of_blank(blank, one) for blank in one.blanks]
    for file in one.files:
        if not file.blank and file.what is not What.SAME:
            key = file.path.rpartition("/")[2].removesuffix(".yaml")
            found.append(Part(file.kind, key, _cut(_of_file(file, one.unit))))
    return [part for part in found if part.lines]


def _of_blank(blank: BlankReview, one: Review) -> Part:
    files = [file for file in one.files if file.blank == blank.key and file.what is not What.SAME]
    lines = list(_effect(blank, files))
    lines += [line for chart in blank.charts for line in _of_chart(blank, chart)]
    lines += [line for file in files for line in _of_file(file, one.unit)]
    return Part("blank", blank.key, _cut(lines))


def _cut(lines: Iterable[str]) -> tuple[str, ...]:
    all_lines = [visible(line, _LONGEST) for line in lines]
    if len(all_lines) <= MOST_LINES:
        return tuple(all_lines)
    return (*all_lines[: MOST_LINES - 1], f"{len(all_lines) - MOST_LINES + 1} more changes")


def _effect(blank: BlankReview, files: list[FileChange]) -> Iterator[str]:
    old, new = blank.before, blank.after
    style = next((file for file in files if file.kind == "style"), None)
    if old is None and new is None and style is not None:
        yield from (["new"] if style.what is What.ADDED else [])
        yield from (["removed"] if style.what is What.REMOVED else [])
    if old is None and new is not None:
        began = style is not None and style.what is What.ADDED
        yield f"{'new' if began else 'without a fault again'}; advice: {new.advice}"
        if new.decision:
            yield f"decision: {_nameless(new.decision)}"
    elif new is None and old is not None:
        gone = style is not None and style.what is What.REMOVED
        yield "removed" if gone else "has a fault, so nothing is advised"
    elif old is not None and new is not None and blank.flips:
        for name, was, now in (
            ("advice", old.advice, new.advice),
            ("decision", _nameless(old.decision), _nameless(new.decision)),
            ("may be ordered", _list(old.orderable), _list(new.orderable)),
        ):
            if was != now:
                yield f"{name}: {was} → {now}"
        if new.headline != old.headline:
            yield f"now: {new.headline}"
        count = sum(
            old.answers.get(at) != new.answers.get(at) for at in {**old.answers, **new.answers}
        )
        if count:
            yield f"{_many(count, 'answer')} changed"


def _nameless(decision: str) -> str:
    """Return a decision with its day, and without the person who made it."""
    return decision.partition(", by ")[0] or "none"


def _of_chart(blank: BlankReview, one: ChartChange) -> Iterator[str]:
    how = "edited in place" if one.in_place else "new"
    most = max(one.cells, key=lambda cell: abs(cell.by), default=None)
    says = f"size chart from {one.since}, {how}"
    if most:
        past = sum(cell.past for cell in one.cells)
        says += (
            f": {_many(len(one.cells), 'measure')} moved, {past} past the tolerance, the most "
            f"{most.size} {POINTS[most.point].name} {signed(most.by)}"
        )
    yield says
    judged = len(blank.rounds) + len(blank.deliveries)
    if one.in_place and judged:
        yield (
            f"{_many(judged, 'round')} or deliveries were judged by it"
            if judged > 1
            else ("1 round or delivery was judged by it")
        )
    yield from (f"look again: {says}" for says in one.suspicions)


def _of_file(file: FileChange, unit: str) -> Iterator[str]:
    name = _name(file)
    if file.what is What.UNREADABLE:
        yield f"{name}cannot be compared, it has a fault"
    elif file.what is What.RENAMED:
        yield f"{name}renamed"
    elif file.what is What.REMOVED and file.kind != "style":
        yield f"{name}removed"
    elif file.what is What.ADDED and file.kind != "style":
        yield f"{name}{_added(file)}"
    elif file.what is What.CHANGED:
        yield from _changed(name, file)
    if file.rewrites:
        yield from _rewritten(name, file, unit)
    yield from (f"look again: {says}" for says in suspicions_of(file))


def _name(file: FileChange) -> str:
    """Return what a line begins with: the part itself has the name of what stands alone."""
    if file.blank:
        return f"{file.path.rpartition('/')[2].removesuffix('.yaml')}: "
    return ""


def _added(file: FileChange) -> str:
    if isinstance(file.new, Round):
        return f"measured, {_many(len(file.new.pieces), 'piece')}"
    if isinstance(file.new, Delivery):
        return f"came, {_many(sum(file.new.delivered.values()), 'piece')}"
    return "planned" if file.kind == "round" else "added"


def _changed(name: str, file: FileChange) -> Iterator[str]:
    """Yield which parts of a record changed, apart from the past that was rewritten."""
    past = {*file.rewrites}
    seen = [c.way[0] for c in file.changes if c not in past]
    parts = [part for part in dict.fromkeys(seen) if file.kind != "style" or part != "charts"]
    if isinstance(file.new, Round) and not isinstance(file.old, Round):
        yield f"{name}{_added(file)}"
    elif parts:
        yield f"{name}changed: {', '.join(part.replace('_', ' ') for part in parts)}"


def _rewritten(name: str, file: FileChange, unit: str) -> Iterator[str]:
    if file.what is not What.REMOVED:
        yield f"{name}the past is rewritten in {_many(len(file.rewrites), 'place')}"
    shown = [one for one in file.rewrites if one.by is not None and file.kind != "style"]
    yield from (_moved(one, unit) for one in shown[:MOST_VALUES])
    yield f"reason: {file.reason}" if file.reason else "no reason is given"


def _moved(one: Change, unit: str) -> str:
    assert one.old is not None and one.new is not None and one.by is not None  # noqa: PT018 - lengths
    assert one.old.mm is not None and one.new.mm is not None  # noqa: PT018
    where = " ".join(step.replace("_", " ") for step in one.way if step != "pieces")
    return f"{where}: {plain(one.old.mm, unit)} → {plain(one.new.mm, unit)} ({signed(one.by)})"


def _list(parts: tuple[str, ...]) -> str:
    return ", ".join(parts) or "none"


def _many(count: int, word: str) -> str:
    return f"{count} {word}" if count == 1 else f"{count} {word}s"
