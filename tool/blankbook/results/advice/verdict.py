"""What the evidence advises, why, and what to do next."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from blankbook.records.model import Round
from blankbook.results.advice.next_look import STEPS_AFTER_FAIL
from blankbook.results.advice.next_step import ANOTHER_BLANK, step_after_fail, step_while_open
from blankbook.results.checks.all_checks import CHECKS
from blankbook.results.comparable_lines import NOT_COMPARABLE, line_mismatches
from blankbook.results.evidence import YOUNGER_CHART, is_chart_younger
from blankbook.results.make_case import make_case
from blankbook.results.number_words import first_sentence, say_chance, say_list, say_sentences
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Explanation, Purchase, Result, Verdict
from blankbook.words.answers import Advice, Answer
from blankbook.words.points import POINTS

_WHOLE = {"washing", "fabric", *STEPS_AFTER_FAIL}
"""Checks of the whole style and not of one size."""
NAMED_ODDS = 0.25
"""From these odds on, a cause is worth naming among the reasons."""
_WORST = ("reversed", "collapsed")
"""The words that stand first among the reasons: such sizes cannot be sold as two."""
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

    A required check fails: rejected if an older round of another lot failed it too, else hold,
    because another lot could clear it. All required checks meet, and all sizes and steps are sound
    at once but for the shop's risk: approved, with conditions if another check fails. Anything
    else: hold, and whether something speaks against it.
    """
    asked = [r for r in results if r.check in case.shop.required and r.deciding]
    fails = _ranked(r for r in asked if r.answer == Answer.FAILS)
    open_ = _ranked(r for r in asked if r.answer in {Answer.NOT_SHOWN, Answer.NOT_TESTED})
    others = _ranked(fails_not_required(case, results))
    if fails:
        return _failing(case, results, fails, explanations, purchase)
    if case.round is None:
        nothing = "nothing was measured yet"
        step = step_while_open(case, open_, explanations)
        return Verdict(Advice.HOLD, _sentence(nothing), (nothing,), step)
    together = chance_together(case)
    if open_ or not asked or (together is not None and together < 1 - case.shop.risk):
        return _hold(case, results, open_, explanations, purchase)
    return _all_met(case, asked, others)


def fails_not_required(case: Case, results: Iterable[Result]) -> list[Result]:
    """Return what fails though no approval hangs on it: each is a condition.

    That is everything that is shown as failing: checks that are not required, and points that do
    not decide. What fails after one wash and after five is one condition, and so are a size and
    its pieces. Of deliveries only the newest counts; those before it are history.
    """
    found: dict[tuple[str, ...], Result] = {}
    fails = [result for result in results if _is_fail(result)]
    required = [r for r in fails if r.deciding and r.check in case.shop.required]
    said = {(r.check, r.piece, *_place(r)) for r in required}
    sizes = {(r.size, r.point) for r in fails if r.check == "size_against_chart"}
    for result in fails:
        again = (result.check, result.piece, *_place(result)) in said
        again |= result.check == "piece_against_chart" and (result.size, result.point) in sizes
        history = result.check == "delivery" and not result.deciding
        if not again and not history:
            at = (result.check, result.piece, *_place(result))
            if at not in found or (result.cycles or 0) > (found[at].cycles or 0):
                found[at] = result
    return list(found.values())


def chance_together(case: Case) -> float | None:
    """Return the chance that every size and step that is required is sound, at least, all at once.

    None where none of them is required or was measured.
    """
    kinds = {"size_against_chart": False, "grade_steps": True}
    steps = {kinds[check] for check in case.shop.required if check in kinds}
    asked = {
        point: tuple(target for target in readings.targets if bool(target.next_size) in steps)
        for point, readings in case.posterior.every.items()
        if point in case.shop.deciding_points
    }
    asked = {point: targets for point, targets in asked.items() if targets}
    return case.posterior.together(asked) if asked else None


def _ranked(results: Iterable[Result]) -> list[Result]:
    """Return the results in the order of `_ORDER`, the worst steps before all."""
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
    rejected = any(is_repeated_fail(case, result) for result in fails)
    advice = Advice.REJECTED if rejected else Advice.HOLD
    reasons = [result.reason for result in fails]
    reasons += _causes(explanations)
    return Verdict(
        advice,
        _sentence(_telling_cause(explanations) or first_sentence(fails[0].reason)),
        tuple(reasons),
        ANOTHER_BLANK
        if rejected
        else step_after_fail(case, results, fails, explanations, purchase),
        () if rejected else orderable(case, results),
        chance_together(case),
        against=True,
    )


def is_repeated_fail(case: Case, result: Result) -> bool:
    """Say whether an older round of another lot failed the same check at the same place."""
    rounds = case.blank.rounds
    at = next((i for i, round_ in enumerate(rounds) if round_.key == result.round), 0)
    older = tuple(
        round_
        for round_ in rounds[:at]
        if lots_of_round(round_).isdisjoint(lots_of_round(rounds[at]))
    )
    if not older:
        return False
    check = next(check for check in CHECKS if check.key == result.check)
    before = make_case(replace(case.blank, rounds=older), case.shop, case.learned)
    return any(_place(found) == _place(result) for found in check.judge(before) if _is_fail(found))


def _is_fail(result: Result) -> bool:
    return result.answer == Answer.FAILS


def _place(result: Result) -> tuple[str, ...]:
    way = (result.part, result.method, result.material)
    return result.size, result.next_size, result.point, *way


def lots_of_round(round_: Round) -> set[str]:
    """Return the lots that a round's pieces come from."""
    return {piece.lot or round_.key for piece in round_.pieces}


def _hold(
    case: Case,
    results: Sequence[Result],
    open_: list[Result],
    explanations: Sequence[Explanation],
    purchase: Purchase | None,
) -> Verdict:
    unsettled = [r for r in open_ if r.answer == Answer.NOT_SHOWN]
    uncharted = [
        r
        for r in open_
        if r.check == "size_against_chart" and r.answer == Answer.NOT_TESTED and r.numbers
    ]
    first = open_[0].reason if open_ else "nothing was measured yet"
    if unsettled:
        first = first_sentence(max(unsettled, key=lambda r: r.more_pieces or 0).reason)
    elif uncharted:
        first = _no_charts(case, uncharted)[0]
    reasons = [r.reason for r in open_ if r not in uncharted]
    reasons += _no_charts(case, uncharted)
    together = chance_together(case)
    against = _speaks_against(together, open_, explanations)
    leaning = "something speaks against it" if against else "nothing speaks against it yet"
    if together is not None:
        reasons.insert(0, say_together(together))
        first = _telling_cause(explanations) or (first if open_ else say_together(together))
    return Verdict(
        Advice.HOLD,
        _sentence(f"{leaning}: {first}"),
        tuple(reasons + _causes(explanations)),
        step_while_open(case, open_, explanations, purchase),
        orderable(case, results),
        together,
        against,
    )


def _speaks_against(
    together: float | None, open_: Sequence[Result], explanations: Sequence[Explanation]
) -> bool:
    """Say whether something required is likelier off than sound, or what was seen likelier odd."""
    chances = [number.value for r in open_ if (number := r.number(Quantity.SOUND_CHANCE))]
    odd = [cause.odds for cause in explanations if cause.key != "as_charted"]
    return min([*chances, 1.0 if together is None else together]) < 0.5 or max(odd, default=0) > 0.5


def say_together(together: float) -> str:
    """Return the chance that all is sound at once, as the reason that an advice rests on."""
    return f"all sizes and steps at once are as they should be: {say_chance(together)}"


def _telling_cause(explanations: Sequence[Explanation]) -> str:
    """Return a cause that says more than the failed check, if it is as good as certain."""
    first = explanations[0] if explanations else None
    telling = {"mislabelled", "exchanged", "odd_piece"}
    return first.says if first and first.odds >= 0.9 and first.key in telling else ""


def _no_charts(case: Case, uncharted: Sequence[Result]) -> list[str]:
    """Return the reasons for what no chart can judge: another line, or no chart at all."""
    other = list(dict.fromkeys(unlike.says for unlike in line_mismatches(case, uncharted)))
    rest = [result for result in uncharted if result.word != NOT_COMPARABLE]
    return other + ([_no_chart(case, rest)] if rest else [])


def _no_chart(case: Case, uncharted: Sequence[Result]) -> str:
    """Return one reason for all that was measured without a chart."""
    sizes = list(dict.fromkeys(r.size for r in uncharted))
    points = list(dict.fromkeys(POINTS[r.point].name for r in uncharted))
    where = f"{say_list(sizes)} at {say_list(points)}"
    if is_chart_younger(case, case.round):
        return f"{YOUNGER_CHART}, so it does not judge {where}"
    return f"no chart judges {where}"


def _causes(explanations: Sequence[Explanation]) -> list[str]:
    """Return the reasons that name a likely cause, at most two."""
    causes = [e for e in explanations if e.key != "as_charted" and e.odds >= NAMED_ODDS]
    return [say_sentences(f"likely cause: {cause.says}", cause.because) for cause in causes[:2]]


def _all_met(case: Case, asked: list[Result], others: list[Result]) -> Verdict:
    sizes = orderable(case, asked)
    named = say_list(sizes)
    missing = [size for size in case.blank.style.sizes if size not in sizes]
    headline = f"{named} are as charted" if len(sizes) > 1 else f"{named} is as charted"
    if washed := next(
        (r for r in asked if r.check == "washing" and r.point == "body_length"), None
    ):
        headline += f"; {washed.reason.partition(', ')[0]}"
    met = say_list(sorted({r.check.replace("_", " ") for r in asked}))
    reasons = [f"every required check meets: {met}"]
    together = chance_together(case)
    if together is not None:
        reasons.append(say_together(together))
    if missing:
        reasons.append(f"not measured, so not covered: {say_list(missing)}")
    if others:
        reasons += [result.reason for result in others]
        return Verdict(
            Advice.CONDITIONS,
            _sentence(f"{headline}. But {first_sentence(others[0].reason)}"),
            tuple(reasons),
            "write the condition into the decision",
            sizes,
            together,
        )
    step = "order, and keep this round as the approved sample"
    return Verdict(Advice.APPROVED, _sentence(headline), tuple(reasons), step, sizes, together)


def is_against_advice(decision: str, advice: str) -> bool:
    """Say whether a decision accepts what the advice does not, or the other way round."""
    lets_through = {Advice.APPROVED, Advice.CONDITIONS}
    return (decision in lets_through) != (advice in lets_through)


def orderable(case: Case, results: Sequence[Result]) -> tuple[str, ...]:
    """Return the sizes that meet the chart at every deciding point and have no step against them.

    A step that does not meet counts against the end that is off the chart, or against both ends
    where neither is. A fail of the whole style, such as a twist, counts against every size.
    """
    own = [r for r in results if r.deciding and r.check in case.shop.required]
    if any(_is_fail(r) and r.check in _WHOLE for r in own):
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


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:] + ("" if text.endswith(".") else ".")
