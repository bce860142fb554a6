"""A review as sections in the order that a reviewer needs, whatever form shows them."""

from collections.abc import Iterator
from fractions import Fraction

from blankbook.history.facts.changed_slips import suspicious_readings
from blankbook.history.facts.file_differences import FactChange, FileChange, FileStatus
from blankbook.history.facts.record_facts import Fact, FactPath
from blankbook.history.moved.blank_status import BlankStatus
from blankbook.history.moved.chart_grid import chart_grid
from blankbook.history.moved.rule_changes import is_words_only
from blankbook.history.moved.tolerance_margins import NOW_OUTSIDE
from blankbook.history.report.chart_sections import chart_sections, client_sections
from blankbook.history.report.sections import (
    Section,
    counted,
    joined,
    joined_names,
    key_text,
    path_text,
    signed_length,
    table_section,
)
from blankbook.history.review.review_types import BlankReview, Review
from blankbook.records.model import Style
from blankbook.words.answers import Answer
from blankbook.words.check_titles import CHECK_TITLES
from blankbook.words.points import POINTS

MOST_ANSWERS = 12
"""Changed answers that are told of one blank; the others are counted."""
MOST_BLANKS = 20
"""Blanks that are told in detail; the others are named."""
MOST_FILES = 600
"""Files that are told in detail; the others are counted."""
_WORST_FIRST = (
    Answer.FAILS,
    Answer.NOT_SHOWN,
    Answer.NOT_TESTED,
    Answer.NOTED,
    "not asked",
    Answer.MEETS,
)
_NO_REASON = (
    "no reason is given: add a note to the file, or a line Reason: … to the message of the commit"
)
_HEAD = ("what", "old", "new", "moved")


def review_sections(review: Review) -> tuple[Section, ...]:
    """Return the sections of a review, the most important first; what is left out is counted."""
    sections = [summary_section(review)]
    shown = review.blanks[:MOST_BLANKS]
    sections += [_outcome_section(blank) for blank in shown if blank.changes_outcome]
    for blank in shown:
        notes = review.notes.get(f"blanks/{blank.key}/style.yaml", ())
        sections += chart_sections(blank, review, notes) if blank.charts else client_sections(blank)
    if left := review.blanks[MOST_BLANKS:]:
        names = joined_names([blank.key for blank in left])
        sections.append(Section(f"{counted(len(left), 'more blank')} touched", (names,)))
    rewritten = review.rewritten
    sections += [_rewrite_section(file) for file in rewritten[:MOST_FILES]]
    more = [file for file in review.files if _has_more(file)]
    sections += [_file_section(review, file) for file in more[:MOST_FILES]]
    left_out = len(rewritten[MOST_FILES:]) + len(more[MOST_FILES:])
    if left_out:
        sections.append(Section(f"{counted(left_out, 'more part')} of files left out here"))
    sections.append(Section("no change in meaning", tuple(_unchanged_lines(review))))
    return tuple(sections)


def summary_section(review: Review) -> Section:
    """Return the first section: which versions, and all that differs in a few lines."""
    title = f"from {review.old.in_words} to {review.new.in_words}"
    return Section(title, tuple(_summary_lines(review)))


def _summary_lines(review: Review) -> Iterator[str]:
    if not review.differs:
        yield "nothing differs in meaning"
        return
    changing = sum(blank.changes_outcome for blank in review.blanks)
    touched = counted(len(review.blanks), "blank")
    yield f"{touched} touched; what is advised or decided changes for {changing}"
    moved = [cell for blank in review.blanks for chart in blank.charts for cell in chart.cells]
    if moved:
        most = max(moved, key=lambda cell: abs(cell.by))
        past = sum(cell.past_tolerance for cell in moved)
        yield (
            f"{counted(len(moved), 'measure')} of size charts moved, {past} past the tolerance; "
            f"the most: {most.size} {POINTS[most.point].name} {signed_length(most.by)}"
        )
    yield from _effect_lines(review)
    if review.rewritten:
        without_reason = sum(not file.reason for file in review.rewritten)
        files = counted(len(review.rewritten), "file")
        yield f"the past is rewritten in {files}, {without_reason} without a reason"
    unreadable = review.count(FileStatus.UNREADABLE)
    if unreadable:
        yield f"{counted(unreadable, 'file')} cannot be compared"


def _effect_lines(review: Review) -> Iterator[str]:
    """Yield what rests on the charts that moved: measured pieces, clients, and their evidence."""
    outside = sum(
        margin.outcome == NOW_OUTSIDE
        for blank in review.blanks
        for effects in blank.chart_effects.values()
        for margin in effects.margins
    )
    if outside:
        yield f"{counted(outside, 'measured size')} inside the tolerance before and outside now"
    clients = [blank.clients for blank in review.blanks if blank.clients and blank.clients.differs]
    if clients:
        verb = "changes" if len(clients) == 1 else "change"
        names = joined_names([chart.name for chart in clients])
        yield f"{counted(len(clients), 'size chart')} for clients {verb}: {names}"
    charts = [chart for blank in review.blanks for chart in blank.charts]
    no_source = sum(any("no source" in says for says in chart.source.missing) for chart in charts)
    no_source += sum(len(file.charts_without_source) for file in review.files)
    if no_source:
        yield f"{counted(no_source, 'chart')} without a source for what is new in it"


def _outcome_section(blank: BlankReview) -> Section:
    """Return what changes in standing, advice, decision, sizes and answers."""
    title = f"{blank.key}: standing and decisions"
    if blank.before is None or blank.after is None:
        return Section(title, (_came_or_went(blank),))
    return Section(title, tuple(_outcome_lines(blank.before, blank.after)))


def _outcome_lines(old: BlankStatus, new: BlankStatus) -> Iterator[str]:
    for name, was, now in (
        ("standing", old.standing, new.standing),
        ("advice", old.advice, new.advice),
        ("decision", old.decision or "none", new.decision or "none"),
        ("sizes that may be ordered", joined(old.orderable), joined(new.orderable)),
    ):
        if was != now:
            yield f"{name}: {was} → {now}"
    if new.sentence != old.sentence:
        yield f"now: {new.sentence}"
    answers = list(_changed_answers(old, new))
    yield from answers[:MOST_ANSWERS]
    if len(answers) > MOST_ANSWERS:
        yield f"{len(answers) - MOST_ANSWERS} more answers changed"


def _came_or_went(blank: BlankReview) -> str:
    status = blank.after or blank.before
    when, other = ("now", "before") if blank.before is None else ("before", "now")
    standing = status.standing if status else "nothing"
    return f"{when}: {standing}; {other} there is no such blank without a fault"


def _changed_answers(old: BlankStatus, new: BlankStatus) -> Iterator[str]:
    """Yield every answer that changed. The worst of the new answers come first."""
    found = []
    for at in (*new.answers, *(at for at in old.answers if at not in new.answers)):
        was, now = old.answers.get(at, "not asked"), new.answers.get(at, "not asked")
        if was != now:
            about = f", {key_text(at[1])}" if at[1] else ""
            line = f"{CHECK_TITLES[at[0]].lower()}{about}: {was} → {now}"
            found.append((_WORST_FIRST.index(now), line))
    yield from (line for _, line in sorted(found, key=lambda answer: answer[0]))


def _rewrite_section(file: FileChange) -> Section:
    reason = f"reason: {file.reason}" if file.reason else _NO_REASON
    rows = tuple(_change_row(change) for change in file.rewrites)
    return table_section(f"{file.path}: the past is rewritten", (reason,), _HEAD, rows)


def _has_more(file: FileChange) -> bool:
    """Say whether there is more to tell of a file than its rewrites."""
    if is_words_only(file):
        return False
    more = len(file.changes) > len(file.rewrites) or any(suspicious_readings(file))
    return more or file.status not in {FileStatus.SAME, FileStatus.CHANGED}


def _file_section(review: Review, file: FileChange) -> Section:
    what = f"{file.status}, before {file.old_path}" if file.old_path else str(file.status)
    lines = [f"{what}: {file.fault}"] if file.fault else [what]
    lines += [
        f"look again: no source given for the chart from {day}"
        for day in file.charts_without_source
    ]
    lines += [f"look again: {says}" for says in suspicious_readings(file)]
    notes = review.notes.get(file.path, ())[:3]
    lines += [f"commit {note.short}, {note.day}: {note.subject}" for note in notes]
    past = set(file.rewrites)
    more = [change for change in file.changes if change not in past]
    charts = _new_charts(review, file)
    moved = [change for change in more if charts.get(change.path, 0) is None]
    same = [
        change
        for change in more
        if change.new and charts.get(change.path) == change.new.mm is not None
    ]
    if moved or same:
        counts = f"{counted(len(moved), 'measure')} told above, {len(same)} as in the chart before"
        lines.append(f"of what is new in its charts: {counts}")
    told_above = {*moved, *same}
    rows = tuple(_change_row(change) for change in more if change not in told_above)
    return table_section(file.path, lines, _HEAD, rows)


def _new_charts(review: Review, file: FileChange) -> dict[FactPath, Fraction | None]:
    """Return the cells of a style's new charts, by their path.

    With each comes what it was in the chart before; None where its own section tells that it moved.
    """
    blank = next((blank for blank in review.blanks[:MOST_BLANKS] if blank.key == file.blank), None)
    if blank is None or not isinstance(file.new, Style):
        return {}
    found: dict[FactPath, Fraction | None] = {}
    for added in (chart for chart in blank.charts if not chart.in_place):
        days = [str(chart.since) for chart in file.new.charts]
        before = file.new.charts[days.index(added.since) - 1]
        at = ("charts", added.since, "sizes")
        found |= {(*at, *cell): mm for cell, mm in chart_grid(before).items()}
        found |= {(*at, cell.size, cell.point): None for cell in added.cells}
    return found


def _change_row(change: FactChange) -> tuple[str, ...]:
    old, new = (_fact_text(fact) for fact in (change.old, change.new))
    by = "" if change.by is None else signed_length(change.by)
    return path_text(change.path), old, new, by


def _fact_text(fact: Fact | None) -> str:
    return fact.text if fact else "–"


def _unchanged_lines(review: Review) -> Iterator[str]:
    """Yield the changes that nothing follows from, and how many files say the same as before."""
    same = review.count(FileStatus.SAME)
    for file in review.files:
        if is_words_only(file):
            changes = [
                f"{key_text(change.path[-1])}: {_fact_text(change.old)} → {_fact_text(change.new)}"
                for change in file.changes
            ]
            yield f"{file.path}: nothing follows from what changed: {joined_names(changes)}"
    if same:
        yield f"{counted(same, 'file')} reformatted: spelling of a unit, comments, order"
    yield f"{counted(review.unchanged, 'file')} not touched"
