"""A review in the few lines that are read before a commit: one for each blank, worst first."""

from collections.abc import Iterator

from blankbook.history.facts.changed_slips import suspicions_of
from blankbook.history.facts.file_differences import FileChange, What
from blankbook.history.moved.blank_status import Standing
from blankbook.history.moved.chart_changes import ChartChange
from blankbook.history.moved.rule_changes import only_words
from blankbook.history.report.review_document import Section, signed, verdict
from blankbook.history.review.review_types import BlankReview, Review

MOST = 10
"""Lines of one kind; the rest is counted."""


def brief(one: Review) -> tuple[Section, ...]:
    """Return the parts of a review that fit on one screen, those without a line left out."""
    parts = [
        verdict(one),
        _few("what changes", [*map(_blank, one.blanks), *map(_shared, _beside(one))]),
        _few("the past, rewritten without a reason", [_rewrite(file) for file in _bare(one)]),
        _few("look again", list(_look_again(one))),
        _few("cannot be compared", [f"{file.path} {file.why}" for file in _unreadable(one)]),
    ]
    return (parts[0], *(part for part in parts[1:] if part.lines))


def _few(title: str, lines: list[str]) -> Section:
    shown = lines if len(lines) <= MOST else [*lines[:MOST], f"and {len(lines) - MOST} more"]
    return Section(title, tuple(shown))


def _blank(one: BlankReview) -> str:
    told = [*_standing(one.before, one.after), *(_chart(one, chart) for chart in one.charts)]
    if one.clients and one.clients.differs:
        told.append(f"clients see another size chart of {one.clients.called}")
    return f"{one.key}: {'; '.join(told) or 'nothing that is advised or decided'}"


def _standing(old: Standing | None, new: Standing | None) -> Iterator[str]:
    if old is None or new is None:
        if new:
            yield f"now {new.advice}; no such blank without a fault before"
        elif old:
            yield f"was {old.advice}; no such blank without a fault now"
        return
    if old.advice != new.advice:
        yield f"advice {old.advice} → {new.advice}"
    if old.decision != new.decision:
        yield f"decision {old.decision or 'none'} → {new.decision or 'none'}"
    both = {*old.answers, *new.answers}
    count = sum(old.answers.get(at) != new.answers.get(at) for at in both)
    if count:
        yield f"{count} answer{'s' if count > 1 else ''} changed"


def _chart(blank: BlankReview, one: ChartChange) -> str:
    how = "edited in place" if one.in_place else "new"
    count = f"{len(one.cells)} measure{'s' if len(one.cells) != 1 else ''} moved"
    touched = blank.touched.get(one.since)
    outside = sum(m.word == "now outside" for m in touched.margins) if touched else 0
    more = f", {outside} measured size{'s' if outside > 1 else ''} now outside" if outside else ""
    return f"chart from {one.since} {how}, {count}{more}"


def _beside(one: Review) -> list[FileChange]:
    """Return the files that differ and belong to no blank: rules, suppliers, studies."""
    left_out = {What.SAME, What.UNREADABLE}
    found = [file for file in one.files if not file.blank and file.what not in left_out]
    return [file for file in found if not only_words(file)]


def _shared(one: FileChange) -> str:
    count = len(one.changes)
    facts = f", {count} fact{'s' if count > 1 else ''}" if count else ""
    return f"{one.path}: {one.what}{facts}"


def _bare(one: Review) -> list[FileChange]:
    return [file for file in one.rewritten if not file.reason]


def _rewrite(one: FileChange) -> str:
    first = one.rewrites[0]
    old, new = (fact.text if fact else "–" for fact in (first.old, first.new))
    moved = f" ({signed(first.by)})" if first.by is not None else ""
    more = f", and {len(one.rewrites) - 1} more" if len(one.rewrites) > 1 else ""
    way = " ".join(step.replace("_", " ") for step in first.way)
    return f"{one.path}: {way}: {old} → {new}{moved}{more}"


def _look_again(one: Review) -> Iterator[str]:
    for blank in one.blanks:
        for chart in blank.charts:
            found = (*chart.whence.missing, *chart.suspicions, *chart.uneven, *chart.ways)
            yield from (f"{blank.key}: {says}" for says in found)
    for file in one.files:
        yield from (f"{file.path}: no source given, chart from {day}" for day in file.sourceless)
        yield from (f"{file.path}: {says}" for says in suspicions_of(file))


def _unreadable(one: Review) -> list[FileChange]:
    return [file for file in one.files if file.what is What.UNREADABLE]
