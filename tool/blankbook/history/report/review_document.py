"""A review in the order that a reviewer needs it, apart from how it is shown."""

from collections.abc import Iterator
from fractions import Fraction

from blankbook.history.facts.changed_slips import suspicions_of
from blankbook.history.facts.file_differences import Change, FileChange, What
from blankbook.history.facts.record_facts import Fact, Way
from blankbook.history.moved.blank_status import Standing
from blankbook.history.moved.chart_changes import grid
from blankbook.history.moved.rule_changes import only_words
from blankbook.history.report.chart_sections import chart_parts, clients_part
from blankbook.history.report.sections import Section, many, named, plain, signed, table, words
from blankbook.history.review.review_types import BlankReview, Review
from blankbook.records.model import Style
from blankbook.words.answers import Answer
from blankbook.words.check_titles import CHECK_TITLES
from blankbook.words.points import POINTS

__all__ = ["Section", "document", "plain", "signed"]

MOST_ANSWERS = 12
MOST_BLANKS = 20
"""Blanks that are told in detail, the ones first where something that is decided changes."""
MOST_FILES = 600
"""Files that are told in detail, rewrites of the past first."""


def document(one: Review) -> tuple[Section, ...]:
    """Return the parts of a review, the most important first; what is left out is counted."""
    parts = [verdict(one)]
    shown = one.blanks[:MOST_BLANKS]
    parts += [_effect(blank) for blank in shown if blank.flips]
    for blank in shown:
        told = one.told.get(f"blanks/{blank.key}/style.yaml", ())
        parts += chart_parts(blank, one, told) if blank.charts else clients_part(blank)
    if left := one.blanks[MOST_BLANKS:]:
        rest = named([blank.key for blank in left])
        parts.append(Section(f"{many(len(left), 'more blank')} touched", (rest,)))
    rewritten = one.rewritten
    parts += [_rewrite(file) for file in rewritten[:MOST_FILES]]
    more = [file for file in one.files if _has_more(file)]
    parts += [_file(one, file) for file in more[:MOST_FILES]]
    cut = len(rewritten[MOST_FILES:]) + len(more[MOST_FILES:])
    if cut:
        parts.append(Section(f"{many(cut, 'more part')} of files left out here"))
    parts.append(Section("no change in meaning", tuple(_counts(one))))
    return tuple(parts)


def verdict(one: Review) -> Section:
    """Return the first part: which versions, and all that differs in a few lines."""
    return Section(f"from {one.old.says} to {one.new.says}", tuple(_verdict(one)))


def _verdict(one: Review) -> Iterator[str]:
    if not one.differs:
        yield "nothing differs in meaning"
        return
    flips = sum(blank.flips for blank in one.blanks)
    touched = many(len(one.blanks), "blank")
    yield f"{touched} touched; what is advised or decided changes for {flips}"
    moved = [cell for blank in one.blanks for chart in blank.charts for cell in chart.cells]
    if moved:
        most = max(moved, key=lambda cell: abs(cell.by))
        past = sum(cell.past for cell in moved)
        yield (
            f"{many(len(moved), 'measure')} of size charts moved, {past} past the tolerance; "
            f"the most: {most.size} {POINTS[most.point].name} {signed(most.by)}"
        )
    yield from _rests(one)
    if one.rewritten:
        bare = sum(not file.reason for file in one.rewritten)
        files = many(len(one.rewritten), "file")
        yield f"the past is rewritten in {files}, {bare} without a reason"
    broken = one.count(What.UNREADABLE)
    if broken:
        yield f"{many(broken, 'file')} cannot be compared"


def _rests(one: Review) -> Iterator[str]:
    """Yield what rests on the charts that moved: measured pieces, clients, and their evidence."""
    margins = [m for blank in one.blanks for on in blank.touched.values() for m in on.margins]
    outside = sum(margin.word == "now outside" for margin in margins)
    if outside:
        yield f"{many(outside, 'measured size')} inside the tolerance before and outside now"
    seen = [blank.clients for blank in one.blanks if blank.clients and blank.clients.differs]
    if seen:
        names = named([clients.called for clients in seen])
        yield (
            f"{many(len(seen), 'size chart')} for clients changes: {names}"
            if len(seen) == 1
            else f"{many(len(seen), 'size chart')} for clients change: {names}"
        )
    charts = [chart for blank in one.blanks for chart in blank.charts]
    bare = sum(any("no source" in says for says in chart.whence.missing) for chart in charts)
    bare += sum(len(file.sourceless) for file in one.files)
    if bare:
        yield f"{many(bare, 'chart')} without a source for what is new in it"


def _effect(one: BlankReview) -> Section:
    lines = []
    if one.before is None or one.after is None:
        stands = one.after or one.before
        lines.append(_came_or_went(one, stands))
        return Section(f"{one.key}: advice and decisions", tuple(lines))
    old, new = one.before, one.after
    for name, was, now in (
        ("advice", old.advice, new.advice),
        ("decision", old.decision or "none", new.decision or "none"),
        ("sizes that may be ordered", _list(old.orderable), _list(new.orderable)),
    ):
        if was != now:
            lines.append(f"{name}: {was} → {now}")
    if new.headline != old.headline:
        lines.append(f"now: {new.headline}")
    answers = list(_answers(old, new))
    lines += answers[:MOST_ANSWERS]
    if len(answers) > MOST_ANSWERS:
        lines.append(f"{len(answers) - MOST_ANSWERS} more answers changed")
    return Section(f"{one.key}: advice and decisions", tuple(lines))


def _came_or_went(one: BlankReview, stands: Standing | None) -> str:
    when = "now" if one.before is None else "before"
    other = "before" if one.before is None else "now"
    advice = stands.advice if stands else "nothing"
    return f"{when}: {advice}; {other} there is no such blank without a fault"


_WORST_FIRST = (
    Answer.FAILS,
    Answer.NOT_SHOWN,
    Answer.NOT_TESTED,
    Answer.NOTED,
    "not asked",
    Answer.MEETS,
)


def _answers(old: Standing, new: Standing) -> Iterator[str]:
    """Yield every answer that changed, by what it is now, the worst first."""
    found = []
    for at in (*new.answers, *(at for at in old.answers if at not in new.answers)):
        was, now = old.answers.get(at, "not asked"), new.answers.get(at, "not asked")
        if was != now:
            about = f", {words(at[1])}" if at[1] else ""
            line = f"{CHECK_TITLES[at[0]].lower()}{about}: {was} → {now}"
            found.append((_WORST_FIRST.index(now), line))
    yield from (line for _, line in sorted(found, key=lambda one: one[0]))


def _rewrite(one: FileChange) -> Section:
    reason = f"reason: {one.reason}" if one.reason else _NO_REASON
    rows = tuple(_change(change) for change in one.rewrites)
    return table(f"{one.path}: the past is rewritten", (reason,), _HEAD, rows)


_NO_REASON = (
    "no reason is given: add a note to the file, or a line Reason: … to the message of the commit"
)
_HEAD = ("what", "old", "new", "moved")


def _has_more(one: FileChange) -> bool:
    if only_words(one):
        return False
    more = len(one.changes) > len(one.rewrites) or any(suspicions_of(one))
    return more or one.what not in {What.SAME, What.CHANGED}


def _file(one: Review, file: FileChange) -> Section:
    what = f"{file.what}, before {file.before}" if file.before else str(file.what)
    lines = [f"{what}: {file.why}"] if file.why else [what]
    lines += [f"look again: no source given for the chart from {day}" for day in file.sourceless]
    lines += [f"look again: {says}" for says in suspicions_of(file)]
    told = one.told.get(file.path, ())
    lines += [f"commit {t.id[:10]}, {t.day}: {t.subject}" for t in told[:3]]
    past = set(file.rewrites)
    more = [change for change in file.changes if change not in past]
    charts = _new_charts(one, file)
    moved = [c for c in more if c.way in charts and charts[c.way] is None]
    same = [c for c in more if c.new and charts.get(c.way) == c.new.mm is not None]
    if moved or same:
        counts = f"{many(len(moved), 'measure')} told above, {len(same)} as in the chart before"
        lines.append(f"of what is new in its charts: {counts}")
    left = {*moved, *same}
    return table(file.path, lines, _HEAD, tuple(_change(c) for c in more if c not in left))


def _new_charts(one: Review, file: FileChange) -> dict[Way, Fraction | None]:
    """Return the cells of charts that came, by their way: None where it is told that they moved.

    Of the others what they were in the chart before.
    """
    blank = next((blank for blank in one.blanks[:MOST_BLANKS] if blank.key == file.blank), None)
    if blank is None or not isinstance(file.new, Style):
        return {}
    found: dict[Way, Fraction | None] = {}
    for came in (chart for chart in blank.charts if not chart.in_place):
        days = [str(chart.since) for chart in file.new.charts]
        before = file.new.charts[days.index(came.since) - 1]
        at = ("charts", came.since, "sizes")
        found |= {(*at, *cell): mm for cell, mm in grid(before).items()}
        found |= {(*at, cell.size, cell.point): None for cell in came.cells}
    return found


def _change(one: Change) -> tuple[str, ...]:
    old, new = (_fact(fact) for fact in (one.old, one.new))
    by = "" if one.by is None else signed(one.by)
    return " ".join(words(step) for step in one.way), old, new, by


def _fact(one: Fact | None) -> str:
    return one.text if one else "–"


def _counts(one: Review) -> Iterator[str]:
    same = one.count(What.SAME)
    words_only = [file for file in one.files if only_words(file)]
    for file in words_only:
        told = (f"{words(c.way[-1])}: {_fact(c.old)} → {_fact(c.new)}" for c in file.changes)
        yield f"{file.path}: nothing follows from what changed: {named(list(told))}"
    yield f"{many(same, 'file')} written otherwise: spelling of a unit, comments, order"
    yield f"{many(one.unchanged, 'file')} not touched"


def _list(parts: tuple[str, ...]) -> str:
    return ", ".join(parts) or "none"
