"""A review in a few lines for each blank and supplier, for the list of recent changes.

The lines say what moved and what follows. Of everything else they say only that it changed: no
price, no terms, no contact, no note and nobody's name. The list is also a feed, and whoever reads a
feed may pass it on.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from blankbook.history.facts.changed_slips import suspicious_readings
from blankbook.history.facts.file_differences import FactChange, FileChange, FileStatus
from blankbook.history.facts.record_facts import FactPath
from blankbook.history.moved.blank_status import BlankStatus
from blankbook.history.moved.chart_changes import ChartChange
from blankbook.history.report.sections import (
    counted,
    joined,
    length_text,
    path_text,
    signed_length,
)
from blankbook.history.review.review_types import BlankReview, Review
from blankbook.records.model import Delivery, Round
from blankbook.text.findings import visible
from blankbook.words.points import POINTS

MOST_LINES = 7
"""Lines of one summary; the others are counted."""
MOST_VALUES = 3
"""Lengths of a rewritten file that are shown."""
_LONGEST = 300
"""Characters of one line."""


@dataclass(frozen=True, slots=True)
class ChangeSummary:
    """What a change says of one blank, of one supplier, or of the rules for all."""

    kind: str
    """``blank``, ``supplier``, ``shop`` or ``study``."""
    key: str
    lines: tuple[str, ...]


def change_summaries(review: Review) -> list[ChangeSummary]:
    """Return a summary for each blank, those whose standing changes first, and then of the rest."""
    found = [_blank_summary(blank, review) for blank in review.blanks]
    for file in review.files:
        if not file.blank and file.status is not FileStatus.SAME:
            key = file.path.rpartition("/")[2].removesuffix(".yaml")
            lines = _bounded_lines(_file_lines(file, review.unit))
            found.append(ChangeSummary(file.kind, key, lines))
    return [summary for summary in found if summary.lines]


def _blank_summary(blank: BlankReview, review: Review) -> ChangeSummary:
    files = [
        file
        for file in review.files
        if file.blank == blank.key and file.status is not FileStatus.SAME
    ]
    lines = list(_outcome_lines(blank, files))
    lines += [line for chart in blank.charts for line in _chart_lines(blank, chart)]
    lines += [line for file in files for line in _file_lines(file, review.unit)]
    return ChangeSummary("blank", blank.key, _bounded_lines(lines))


def _bounded_lines(lines: Iterable[str]) -> tuple[str, ...]:
    all_lines = [visible(line, _LONGEST) for line in lines]
    if len(all_lines) <= MOST_LINES:
        return tuple(all_lines)
    return (*all_lines[: MOST_LINES - 1], f"{len(all_lines) - MOST_LINES + 1} more changes")


def _outcome_lines(blank: BlankReview, files: list[FileChange]) -> Iterator[str]:
    """Yield what changes in what holds; *files* are those of the blank that changed."""
    old, new = blank.before, blank.after
    status = next((file.status for file in files if file.kind == "style"), None)
    if old is None and new is None:
        yield from ["new"] if status is FileStatus.ADDED else []
        yield from ["removed"] if status is FileStatus.REMOVED else []
    elif old is None and new is not None:
        is_new = status is FileStatus.ADDED
        yield f"{'new' if is_new else 'without a fault again'}: {new.standing}"
        if new.decision:
            yield f"decision: {_nameless(new.decision)}"
    elif new is None:
        is_gone = status is FileStatus.REMOVED
        yield "removed" if is_gone else "has a fault, so nothing is advised"
    elif old is not None and blank.changes_outcome:
        yield from _changed_outcome(old, new)


def _changed_outcome(old: BlankStatus, new: BlankStatus) -> Iterator[str]:
    for name, was, now in (
        ("standing", old.standing, new.standing),
        ("advice", old.advice, new.advice),
        ("decision", _nameless(old.decision), _nameless(new.decision)),
        ("may be ordered", joined(old.orderable), joined(new.orderable)),
    ):
        if was != now:
            yield f"{name}: {was} → {now}"
    if new.sentence != old.sentence:
        yield f"now: {new.sentence}"
    in_either = {**old.answers, **new.answers}
    count = sum(old.answers.get(at) != new.answers.get(at) for at in in_either)
    if count:
        yield f"{counted(count, 'answer')} changed"


def _nameless(decision: str) -> str:
    """Return a decision with its day, and without the person who made it."""
    return decision.partition(", by ")[0] or "none"


def _chart_lines(blank: BlankReview, change: ChartChange) -> Iterator[str]:
    how = "edited in place" if change.in_place else "new"
    most = max(change.cells, key=lambda cell: abs(cell.by), default=None)
    line = f"size chart from {change.since}, {how}"
    if most:
        past = sum(cell.past_tolerance for cell in change.cells)
        line += (
            f": {counted(len(change.cells), 'measure')} moved, {past} past the tolerance, the most "
            f"{most.size} {POINTS[most.point].name} {signed_length(most.by)}"
        )
    yield line
    judged = len(blank.rounds) + len(blank.deliveries)
    if change.in_place and judged == 1:
        yield "1 round or delivery was judged by it"
    elif change.in_place and judged:
        yield f"{judged} rounds or deliveries were judged by it"
    yield from (f"look again: {says}" for says in change.suspicions)


def _file_lines(file: FileChange, unit: str) -> Iterator[str]:
    name = _line_start(file)
    if file.status is FileStatus.UNREADABLE:
        yield f"{name}cannot be compared, it has a fault"
    elif file.status is FileStatus.RENAMED:
        yield f"{name}renamed"
    elif file.status is FileStatus.REMOVED and file.kind != "style":
        yield f"{name}removed"
    elif file.status is FileStatus.ADDED and file.kind != "style":
        yield f"{name}{_added(file)}"
    elif file.status is FileStatus.CHANGED:
        yield from _changed_parts(name, file)
    if file.rewrites:
        yield from _rewrite_lines(name, file, unit)
    yield from (f"look again: {says}" for says in suspicious_readings(file))


def _line_start(file: FileChange) -> str:
    """Return the name that a line begins with; empty where the summary has it already."""
    if not file.blank or file.kind == "style":
        return ""
    day = getattr(file.new or file.old, "date", None)
    stem = file.path.rpartition("/")[2].removesuffix(".yaml")
    return f"{file.kind} of {day.isoformat()}: " if day else f"{stem}: "


def _added(file: FileChange) -> str:
    if isinstance(file.new, Round):
        return f"measured, {counted(len(file.new.pieces), 'piece')}"
    if isinstance(file.new, Delivery):
        return f"came, {counted(sum(file.new.delivered.values()), 'piece')}"
    return "planned" if file.kind == "round" else "added"


def _changed_parts(name: str, file: FileChange) -> Iterator[str]:
    """Yield which parts of a record changed, apart from the past that was rewritten."""
    if isinstance(file.new, Round) and not isinstance(file.old, Round):
        yield f"{name}{_added(file)}"
        return
    past = {*file.rewrites}
    changes = [change for change in file.changes if change not in past]
    yield from (f"{name}{says}" for change in changes if (says := _measured_now(change)))
    keys = [change.path[0] for change in changes if not _measured_now(change)]
    parts = [part for part in dict.fromkeys(keys) if file.kind != "style" or part != "charts"]
    if parts:
        yield f"{name}{joined([part.replace('_', ' ') for part in parts])} changed"


def _measured_now(change: FactChange) -> str:
    """Return along which line a point is now measured; empty where that has not changed."""
    *_, field, point = ("", *change.path)
    if field != "how" or point not in POINTS:
        return ""
    where = f"in the size chart from {change.path[1]}, " if change.path[0] == "charts" else ""
    meaning = POINTS[point].variant_meaning(change.new.text if change.new else "")
    return f"{where}{POINTS[point].name} is now measured {meaning}"


def _rewrite_lines(name: str, file: FileChange, unit: str) -> Iterator[str]:
    if file.status is not FileStatus.REMOVED:
        yield f"{name}the past is rewritten in {counted(len(file.rewrites), 'place')}"
    yield from (f"{name}{says}" for change in file.rewrites if (says := _measured_now(change)))
    shown = [
        _moved_length(change.path, *change.lengths, unit)
        for change in file.rewrites
        if change.lengths and file.kind != "style"
    ]
    yield from shown[:MOST_VALUES]
    yield f"reason: {file.reason}" if file.reason else "no reason is given"


def _moved_length(path: FactPath, old: Fraction, new: Fraction, unit: str) -> str:
    where = path_text([step for step in path if step != "pieces"])
    both = f"{length_text(old, unit)} → {length_text(new, unit)}"
    return f"{where}: {both} ({signed_length(new - old)})"
