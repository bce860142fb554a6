"""What the evidence advises, why, and what to do next."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from blankbook.records.model import Round
from blankbook.results.advice.next_look import AFTER_FAIL
from blankbook.results.advice.next_step import GIVE_UP, after_fail, while_open
from blankbook.results.checks.all_checks import CHECKS
from blankbook.results.comparable_lines import NOT_COMPARABLE, unlike_of
from blankbook.results.number_words import say_list
from blankbook.results.result_types import Case, Explanation, Purchase, Result, Verdict
from blankbook.words.answers import Advice, Answer
from blankbook.words.points import POINTS

_WHOLE = {"washing", "fabric", *AFTER_FAIL}
"""Checks that are about the style and not about one size of it."""
LIKELY = 0.25
"""From these odds on, a cause is worth naming among the reasons."""
_WORST = ("reversed", "collapsed")
_ORDER = (
    "label", "grade_steps", "size_against_chart", "mix_up", "washing", "fabric", "skew",
    "colour", "decoration", "workmanship", "wear", "pilling", "spread",
)  # fmt: skip


def decide(
    case: Case,
    results: Sequence[Result],
    explanations: Sequence[Explanation],
    purchase: Purchase | None = None,
) -> Verdict:
    """Return the advice: the required checks, and nothing else, decide it.

    Any required fail: rejected where an older round of another lot had shown it too, else hold,
    because another lot could clear it. All required met: approved, with conditions where a
    check that is not required fails. Anything else: hold.
    """
    asked = [r for r in results if r.check in case.shop.required and r.deciding]
    fails = _ranked(r for r in asked if r.answer == Answer.FAILS)
    open_ = _ranked(r for r in asked if r.answer in {Answer.NOT_SHOWN, Answer.NOT_TESTED})
    others = _ranked(
        r
        for r in results
        if r.check not in case.shop.required and r.deciding and r.answer == Answer.FAILS
    )
    if fails:
        return _failing(case, results, fails, explanations, purchase)
    if case.round is None:
        nothing = "nothing was measured yet"
        step = while_open(case, open_, explanations)
        return Verdict(Advice.HOLD, _sentence(nothing), (nothing,), step)
    if open_ or not asked:
        return _open(case, results, open_, explanations, purchase)
    return _met(case, asked, others)


def _ranked(results: Iterable[Result]) -> list[Result]:
    """Return the results, what matters most first."""
    return sorted(results, key=_rank)


def _rank(result: Result) -> tuple[bool, int]:
    place = _ORDER.index(result.check) if result.check in _ORDER else len(_ORDER)
    return result.word not in _WORST, place


def _failing(
    case: Case,
    results: Sequence[Result],
    fails: list[Result],
    explanations: Sequence[Explanation],
    purchase: Purchase | None,
) -> Verdict:
    rejected = any(shown_before(case, result) for result in fails)
    advice = Advice.REJECTED if rejected else Advice.HOLD
    reasons = [result.reason for result in fails]
    reasons += _causes(explanations)
    return Verdict(
        advice,
        _sentence(_culprit(explanations) or _short(fails[0])),
        tuple(reasons),
        GIVE_UP if rejected else after_fail(case, results, fails, explanations, purchase),
        () if rejected else orderable(case, results),
    )


def shown_before(case: Case, result: Result) -> bool:
    """Say whether an older round of another lot had already failed the same check at this place."""
    rounds = case.blank.rounds
    at = next((i for i, round_ in enumerate(rounds) if round_.key == result.round), 0)
    older = tuple(
        round_ for round_ in rounds[:at] if lot_names(round_).isdisjoint(lot_names(rounds[at]))
    )
    if not older:
        return False
    check = next(check for check in CHECKS if check.key == result.check)
    before = replace(case, blank=replace(case.blank, rounds=older), round=older[-1], whole=None)
    return any(_place(found) == _place(result) for found in check.judge(before) if _fails(found))


def _fails(result: Result) -> bool:
    return result.answer == Answer.FAILS


def _place(result: Result) -> tuple[str, ...]:
    way = (result.part, result.method, result.material)
    return result.size, result.next_size, result.point, *way


def lot_names(round_: Round) -> set[str]:
    """Return the lots that a round's pieces come from."""
    return {piece.lot or round_.key for piece in round_.pieces}


def _open(
    case: Case,
    results: Sequence[Result],
    open_: list[Result],
    explanations: Sequence[Explanation],
    purchase: Purchase | None,
) -> Verdict:
    unsettled = [r for r in open_ if r.answer == Answer.NOT_SHOWN]
    uncharted = [r for r in open_ if r.answer == Answer.NOT_TESTED and r.numbers]
    first = open_[0].reason if open_ else "nothing was measured yet"
    if unsettled:
        first = max(unsettled, key=lambda r: r.more_pieces or 0).reason
    elif uncharted:
        first = _no_charts(case, uncharted)[0]
    reasons = [r.reason for r in open_ if r not in uncharted]
    reasons += _no_charts(case, uncharted)
    return Verdict(
        Advice.HOLD,
        _sentence(first),
        tuple(reasons + _causes(explanations)),
        while_open(case, open_, explanations, purchase),
        orderable(case, results),
    )


def _culprit(explanations: Sequence[Explanation]) -> str:
    """Return the cause that says more than what it made fail, where it is as good as certain."""
    first = explanations[0] if explanations else None
    telling = {"mislabelled", "exchanged", "odd_piece"}
    return first.says if first and first.odds >= 0.9 and first.key in telling else ""


def _no_charts(case: Case, uncharted: Sequence[Result]) -> list[str]:
    """Return a line for what is charted along another line, and one for what no chart speaks of."""
    other = list(dict.fromkeys(unlike.says for unlike in unlike_of(case, uncharted)))
    rest = [result for result in uncharted if result.word != NOT_COMPARABLE]
    return other + ([_no_chart(rest)] if rest else [])


def _no_chart(uncharted: Sequence[Result]) -> str:
    """Return one line for all that was measured with no chart to hold it against."""
    sizes = list(dict.fromkeys(r.size for r in uncharted))
    points = list(dict.fromkeys(POINTS[r.point].name for r in uncharted))
    return f"no chart to hold {say_list(sizes)} against, at {say_list(points)}"


def _causes(explanations: Sequence[Explanation]) -> list[str]:
    """Return the causes worth naming, as lines of the reasons."""
    causes = [e for e in explanations if e.key != "as_charted" and e.odds >= LIKELY]
    return [f"likely cause: {cause.says}; {cause.because}" for cause in causes[:2]]


def _met(case: Case, asked: list[Result], others: list[Result]) -> Verdict:
    sizes = orderable(case, asked)
    named = say_list(sizes)
    missing = [size for size in case.blank.style.sizes if size not in sizes]
    headline = f"{named} are as charted" if len(sizes) > 1 else f"{named} is as charted"
    if washed := next(
        (r for r in asked if r.check == "washing" and r.point == "body_length"), None
    ):
        headline += f"; {washed.reason.split(' (', maxsplit=1)[0]}"
    reasons = [f"every required check meets: {say_list(sorted({r.check for r in asked}))}"]
    reasons = [reasons[0].replace("_", " ")]
    if missing:
        reasons.append(f"not measured, so not covered: {say_list(missing)}")
    if others:
        reasons += [result.reason for result in others]
        return Verdict(
            Advice.CONDITIONS,
            _sentence(f"{headline}, but {_short(others[0])}"),
            tuple(reasons),
            "write the condition into the decision",
            sizes,
        )
    step = "order, and keep this round as the approved sample"
    return Verdict(Advice.APPROVED, _sentence(headline), tuple(reasons), step, sizes)


def goes_against(decision: str, advice: str) -> bool:
    """Say whether a decision lets through what the advice would not, or the other way round."""
    lets_through = {Advice.APPROVED, Advice.CONDITIONS}
    return (decision in lets_through) != (advice in lets_through)


def orderable(case: Case, results: Sequence[Result]) -> tuple[str, ...]:
    """Return the sizes that something deciding speaks for and nothing speaks against.

    A step that is off speaks against the end of it that does not meet the chart, and against both
    ends where both do. What fails for the whole style, such as a twist, speaks against every size.
    """
    own = [r for r in results if r.deciding and r.check in case.shop.required]
    if any(_fails(r) and r.check in _WHOLE for r in own):
        return ()
    alone = [r for r in own if r.check == "size_against_chart" and r.size]
    good = {size for size in case.blank.style.sizes if _all_meet(alone, size)}
    bad = set()
    for step in own:
        if step.check == "grade_steps" and step.answer != Answer.MEETS:
            ends = {step.size, step.next_size}
            bad |= ends - good or ends
    return tuple(size for size in case.blank.style.sizes if size in good - bad)


def _all_meet(alone: Sequence[Result], size: str) -> bool:
    here = [r.answer == Answer.MEETS for r in alone if r.size == size]
    return bool(here) and all(here)


def _short(result: Result) -> str:
    """Return a reason without the one piece that is worst: a headline is about the style."""
    return result.reason.partition("; worst ")[0]


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:] + ("" if text.endswith(".") else ".")
