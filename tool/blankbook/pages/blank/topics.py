"""The checks of a blank's page as its reader asks for them: topics, open or folded to a line."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from blankbook.pages.blank.check_types import CheckSection, GridReason
from blankbook.pages.page_types import AnswerCount, ChartImage

_SIZES, _PIECES, _WASHING = "Sizes", "Labels and single pieces", "Washing"
JOINED = {
    "size_against_chart": _SIZES,
    "grade_steps": _SIZES,
    "mix_up": _SIZES,
    "label": _PIECES,
    "piece_against_chart": _PIECES,
    "spread": _PIECES,
    "washing": _WASHING,
    "washed_size": _WASHING,
    "skew": _WASHING,
}
"""The checks that share a topic, and its title; every other check is a topic of its own."""
MOST_SAID = {True: 2, False: 1}
"""Sentences that a topic shows unfolded, required or not; the rest stand with its numbers."""


@dataclass(frozen=True, slots=True)
class Topic:
    """One heading of a blank's page, with the checks below it."""

    key: str
    """That of its first check: what links lead to."""
    title: str
    required: bool
    """Whether the shop requires one of its checks."""
    counts: tuple[AnswerCount, ...]
    """The answers that there are, the worst first."""
    unfolded: bool
    """Whether something in it fails, or is required and still open."""
    says: tuple[GridReason, ...]
    """What fails, then what is open."""
    more: int
    """How many sentences are left out of that."""
    charts: tuple[ChartImage, ...]
    """What shows what fails or is open."""
    further: tuple[ChartImage, ...]
    """What shows the rest, beside its numbers."""
    checks: tuple[CheckSection, ...]


@dataclass(frozen=True, slots=True)
class CheckCharts:
    """The charts of a check."""

    telling: tuple[ChartImage, ...] = ()
    """What shows its trouble."""
    further: tuple[ChartImage, ...] = ()


def topics(checks: Sequence[CheckSection], charts: Mapping[str, CheckCharts]) -> tuple[Topic, ...]:
    """Return the topics of all checks that show something: those that are unfolded first."""
    together: dict[str, list[CheckSection]] = {}
    for check in checks:
        if check.shown:
            together.setdefault(JOINED.get(check.key, check.title), []).append(check)
    found = [_topic(title, own, charts) for title, own in together.items()]
    return tuple(sorted(found, key=lambda topic: not topic.unfolded))


def _topic(title: str, checks: Sequence[CheckSection], charts: Mapping[str, CheckCharts]) -> Topic:
    says = [line for check in checks for line in check.troubles]
    own = [(check, charts.get(check.key, CheckCharts())) for check in checks]
    telling = dict.fromkeys(
        chart for check, drawn in own if check.troubles for chart in drawn.telling
    )
    required = any(check.required for check in checks)
    most = MOST_SAID[required]
    return Topic(
        key=checks[0].key,
        title=title,
        required=required,
        counts=_counts(checks),
        unfolded=bool(says),
        says=tuple(says[:most]),
        more=len(says[most:]),
        charts=tuple(telling),
        further=tuple(
            dict.fromkeys(
                chart
                for _, drawn in own
                for chart in (*drawn.telling, *drawn.further)
                if chart not in telling
            )
        ),
        checks=tuple(checks),
    )


def _counts(checks: Sequence[CheckSection]) -> tuple[AnswerCount, ...]:
    """Return the answers of all *checks* together, without those that nobody gave."""
    sums = (
        AnswerCount(both[0].sign, sum(count.count for count in both))
        for both in zip(*(check.counts for check in checks), strict=True)
    )
    return tuple(count for count in sums if count.count)
