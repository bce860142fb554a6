"""A review in the few lines that a person reads before a commit: one for each blank."""

from collections.abc import Iterator

from blankbook.history.facts.changed_slips import suspicious_readings
from blankbook.history.facts.file_differences import FileChange, FileStatus
from blankbook.history.moved.blank_status import BlankStatus
from blankbook.history.moved.chart_changes import ChartChange
from blankbook.history.moved.rule_changes import is_words_only
from blankbook.history.moved.tolerance_margins import NOW_OUTSIDE
from blankbook.history.report.review_document import summary_section
from blankbook.history.report.sections import Section, counted, path_text, signed_length
from blankbook.history.review.review_types import BlankReview, Review

MOST_SHORT_LINES = 10
"""Lines of one section; the others are counted."""


def short_sections(review: Review) -> tuple[Section, ...]:
    """Return the sections of a review that fit on one screen, those without a line left out."""
    bare = [file for file in review.rewritten if not file.reason]
    unreadable = [file for file in review.files if file.status is FileStatus.UNREADABLE]
    sections = [
        _short_section(
            "what changes",
            [*map(_blank_line, review.blanks), *map(_shared_line, _shared_files(review))],
        ),
        _short_section("the past, rewritten without a reason", [*map(_rewrite_line, bare)]),
        _short_section("look again", list(_look_again(review))),
        _short_section("cannot be compared", [f"{file.path} {file.fault}" for file in unreadable]),
    ]
    return (summary_section(review), *(section for section in sections if section.lines))


def _short_section(title: str, lines: list[str]) -> Section:
    left = len(lines) - MOST_SHORT_LINES
    more = (f"and {left} more",) if left > 0 else ()
    return Section(title, (*lines[:MOST_SHORT_LINES], *more))


def _blank_line(blank: BlankReview) -> str:
    changes = [
        *_outcome(blank.before, blank.after),
        *(_chart_text(blank, chart) for chart in blank.charts),
    ]
    if blank.clients and blank.clients.differs:
        changes.append(f"clients see another size chart of {blank.clients.name}")
    return f"{blank.key}: {'; '.join(changes) or 'nothing that is advised or decided'}"


def _outcome(old: BlankStatus | None, new: BlankStatus | None) -> Iterator[str]:
    if old is None or new is None:
        if new:
            yield f"now: {new.standing}; no such blank without a fault before"
        elif old:
            yield f"was: {old.standing}; no such blank without a fault now"
        return
    if old.standing != new.standing:
        yield f"{old.standing} → {new.standing}"
    if old.advice != new.advice:
        yield f"advice {old.advice} → {new.advice}"
    if old.decision != new.decision:
        yield f"decision {old.decision or 'none'} → {new.decision or 'none'}"
    in_either = {*old.answers, *new.answers}
    count = sum(old.answers.get(at) != new.answers.get(at) for at in in_either)
    if count:
        yield f"{counted(count, 'answer')} changed"


def _chart_text(blank: BlankReview, change: ChartChange) -> str:
    how = "edited in place" if change.in_place else "new"
    effects = blank.chart_effects.get(change.since)
    margins = effects.margins if effects else ()
    outside = sum(margin.outcome == NOW_OUTSIDE for margin in margins)
    more = f", {counted(outside, 'measured size')} now outside" if outside else ""
    return f"chart from {change.since} {how}, {counted(len(change.cells), 'measure')} moved{more}"


def _shared_files(review: Review) -> list[FileChange]:
    """Return the files that differ and belong to no blank: rules, suppliers, studies."""
    left_out = {FileStatus.SAME, FileStatus.UNREADABLE}
    found = [file for file in review.files if not file.blank and file.status not in left_out]
    return [file for file in found if not is_words_only(file)]


def _shared_line(file: FileChange) -> str:
    facts = f", {counted(len(file.changes), 'fact')}" if file.changes else ""
    return f"{file.path}: {file.status}{facts}"


def _rewrite_line(file: FileChange) -> str:
    first = file.rewrites[0]
    old, new = (fact.text if fact else "–" for fact in (first.old, first.new))
    moved = f" ({signed_length(first.by)})" if first.by is not None else ""
    more = f", and {len(file.rewrites) - 1} more" if len(file.rewrites) > 1 else ""
    where = path_text(first.path)
    return f"{file.path}: {where}: {old} → {new}{moved}{more}"


def _look_again(review: Review) -> Iterator[str]:
    for blank in review.blanks:
        for chart in blank.charts:
            found = (*chart.source.missing, *chart.suspicions, *chart.uneven, *chart.not_comparable)
            yield from (f"{blank.key}: {says}" for says in found)
    for file in review.files:
        yield from (
            f"{file.path}: no source given, chart from {day}" for day in file.charts_without_source
        )
        yield from (f"{file.path}: {says}" for says in suspicious_readings(file))
