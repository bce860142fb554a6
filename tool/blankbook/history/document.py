"""A review in the order that a reviewer needs it, apart from how it is shown."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from blankbook.history.charts_moved import ChartChange, Moved
from blankbook.history.differences import Change, FileChange, What
from blankbook.history.review import BlankReview, Review
from blankbook.history.slips_moved import suspicions_of
from blankbook.history.standing import Standing
from blankbook.records.lengths import in_centimetres, in_inches
from blankbook.text.findings import visible
from blankbook.words.checks import CHECK_TITLES
from blankbook.words.points import POINTS

MOST_ANSWERS = 12
_PARTS = 32


@dataclass(frozen=True, slots=True)
class Section:
    """One part: a title, sentences, and a table where there is one."""

    title: str
    lines: tuple[str, ...] = ()
    head: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()


def document(one: Review) -> tuple[Section, ...]:
    """Return the parts of a review, the most important first."""
    parts = [verdict(one)]
    parts += [_effect(blank) for blank in one.blanks if blank.flips]
    for blank in one.blanks:
        for chart in blank.charts:
            parts.append(_chart(blank, chart, one.unit))
            parts += _steps(chart, one.unit)
    parts += [_rewrite(file) for file in one.rewritten]
    parts += [_file(one, file) for file in one.files if _has_more(file)]
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
    touched = _many(len(one.blanks), "blank")
    yield f"{touched} touched; what is advised or decided changes for {flips}"
    moved = [cell for blank in one.blanks for chart in blank.charts for cell in chart.cells]
    if moved:
        most = max(moved, key=lambda cell: abs(cell.by))
        past = sum(cell.past for cell in moved)
        yield (
            f"{_many(len(moved), 'measure')} of size charts moved, {past} past the tolerance; "
            f"the most: {most.size} {POINTS[most.point].name} {signed(most.by)}"
        )
    if one.rewritten:
        bare = sum(not file.reason for file in one.rewritten)
        files = _many(len(one.rewritten), "file")
        yield f"the past is rewritten in {files}, {bare} without a reason"
    broken = one.count(What.UNREADABLE)
    if broken:
        yield f"{_many(broken, 'file')} cannot be compared"


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


def _answers(old: Standing, new: Standing) -> Iterator[str]:
    for at in (*new.answers, *(at for at in old.answers if at not in new.answers)):
        was, now = old.answers.get(at, "not asked"), new.answers.get(at, "not asked")
        if was != now:
            about = f", {_words(at[1])}" if at[1] else ""
            yield f"{CHECK_TITLES[at[0]].lower()}{about}: {was} → {now}"


def _chart(blank: BlankReview, one: ChartChange, unit: str) -> Section:
    how = "edited in place" if one.in_place else "new, the one before it still holds for its time"
    lines = [how, f"source: {one.origin}"]
    lines += [f"look again: {says}" for says in one.suspicions]
    if one.in_place:
        touched = [*blank.rounds, *blank.deliveries]
        lines.append(f"judged by it: {', '.join(touched) if touched else 'nothing yet'}")
    rows = tuple(_row(cell, unit) for cell in one.cells)
    head = ("size", "measure", "old", "new", "moved", "") if rows else ()
    return Section(f"{one.style}: size chart from {one.since}", tuple(lines), head, rows)


def _row(cell: Moved, unit: str) -> tuple[str, ...]:
    name = POINTS[cell.point].name
    word = "past the tolerance" if cell.past else ""
    return cell.size, name, plain(cell.old, unit), plain(cell.new, unit), signed(cell.by), word


def _steps(one: ChartChange, unit: str) -> list[Section]:
    if not one.steps:
        return []
    rows = tuple((*_row(step, unit)[:5], "falls" if step.new < 0 else "") for step in one.steps)
    head = ("step", "measure", "old", "new", "moved", "")
    return [Section(f"{one.style}: grade steps, chart from {one.since}", (), head, rows)]


def _rewrite(one: FileChange) -> Section:
    reason = f"reason: {one.reason}" if one.reason else _NO_REASON
    rows = tuple(_change(change) for change in one.rewrites)
    return Section(f"{one.path}: the past is rewritten", (reason,), _HEAD, rows)


_NO_REASON = (
    "no reason is given: add a note to the file, or a line Reason: … to the message of the commit"
)
_HEAD = ("what", "old", "new", "moved")


def _has_more(one: FileChange) -> bool:
    more = len(one.changes) > len(one.rewrites) or any(suspicions_of(one))
    return more or one.what not in {What.SAME, What.CHANGED}


def _file(one: Review, file: FileChange) -> Section:
    what = f"{file.what}, before {file.before}" if file.before else str(file.what)
    lines = [f"{what}: {file.why}"] if file.why else [what]
    lines += [f"look again: {says}" for says in suspicions_of(file)]
    told = one.told.get(file.path, ())
    lines += [f"commit {t.id[:10]}, {t.day}: {t.subject}" for t in told[:3]]
    past = set(file.rewrites)
    rows = tuple(_change(change) for change in file.changes if change not in past)
    return Section(file.path, tuple(lines), _HEAD if rows else (), rows)


def _change(one: Change) -> tuple[str, ...]:
    old, new = (fact.text if fact else "–" for fact in (one.old, one.new))
    by = "" if one.by is None else signed(one.by)
    return " ".join(_words(step) for step in one.way), old, new, by


def _counts(one: Review) -> Iterator[str]:
    same = one.count(What.SAME)
    yield f"{_many(same, 'file')} written otherwise: spelling of a unit, comments, order"
    yield f"{_many(one.unchanged, 'file')} not touched"


def signed(mm: Fraction) -> str:
    """Return a difference in fractions of an inch and in centimetres, signed."""
    sign = "+" if mm > 0 else ""
    return f"{sign}{in_inches(float(mm), _PARTS)} in, {sign}{in_centimetres(float(mm))} cm"


def plain(mm: Fraction, unit: str) -> str:
    """Return a length in the shop's unit."""
    return (
        f"{in_inches(float(mm), _PARTS)} in" if unit == "in" else f"{in_centimetres(float(mm))} cm"
    )


def _many(count: int, word: str) -> str:
    return f"{count} {word}" if count == 1 else f"{count} {word}s"


def _list(parts: tuple[str, ...]) -> str:
    return ", ".join(parts) or "none"


def _words(step: str) -> str:
    return visible(step.replace("_", " "), 120)
