"""What the evidence advises, why, and what to do next."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from blankbook.records.model import Round
from blankbook.results.checks import CHECKS
from blankbook.results.frame import Case, Explanation, Result, Verdict
from blankbook.results.saying import say_list
from blankbook.results.washing import not_worth_yet
from blankbook.words.answers import Advice, Answer

_WORST = ("reversed", "collapsed")
_ORDER = ("label", "grade_steps", "size_against_chart", "mix_up", "washing", "fabric", "spread")


def decide(case: Case, results: Sequence[Result], explanations: Sequence[Explanation]) -> Verdict:
    """Return the advice: the required checks, and nothing else, decide it.

    Any required fail: rejected where two lots show it or the likely cause would come again, else
    hold, because another lot could clear it. All required met: approved, with conditions where a
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
        return _failing(case, results, fails, explanations)
    if open_ or not asked:
        return _open(case, results, open_)
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
) -> Verdict:
    rejected = any(shown_before(case, result) for result in fails)
    advice = Advice.REJECTED if rejected else Advice.HOLD
    reasons = [result.reason for result in fails]
    causes = [one for one in explanations if one.key != "as_charted" and one.odds >= 0.1]
    reasons += [f"likely cause: {one.says}; {one.because}" for one in causes[:2]]
    return Verdict(
        advice,
        _sentence(fails[0].reason),
        tuple(reasons),
        _next_after_fail(case, results, fails, rejected),
        orderable(case, results),
    )


def shown_before(case: Case, result: Result) -> bool:
    """Say whether an older round of another lot had already failed the same check at this place."""
    rounds = case.blank.rounds
    at = next((i for i, one in enumerate(rounds) if one.key == result.round), 0)
    older = tuple(one for one in rounds[:at] if lots_of(one).isdisjoint(lots_of(rounds[at])))
    if not older:
        return False
    check = next(check for check in CHECKS if check.key == result.check)
    before = replace(case, blank=replace(case.blank, rounds=older), round=older[-1])
    return any(_place(one) == _place(result) for one in check.judge(before) if _fails(one))


def _fails(result: Result) -> bool:
    return result.answer == Answer.FAILS


def _place(result: Result) -> tuple[str, str, str]:
    return result.size, result.next_size, result.point


def lots_of(one: Round) -> set[str]:
    """Return the lots that a round's pieces come from."""
    return {piece.lot or one.key for piece in one.pieces}


def _next_after_fail(
    case: Case, results: Sequence[Result], fails: list[Result], rejected: bool
) -> str:
    if rejected:
        return "look for another blank: more than one lot shows it"
    sizes = {r.size for r in fails if r.size} | {r.next_size for r in fails if r.next_size}
    named = [size for size in case.blank.style.sizes if size in sizes]
    what = f"two pieces each of {say_list(named)}" if named else "four pieces"
    wait = not_worth_yet(list(results))
    after = " Washing can wait until then." if wait else ""
    return (
        f"buy {what} from another lot: one lot cannot tell a bad lot from the way it is cut.{after}"
    )


def _open(case: Case, results: Sequence[Result], open_: list[Result]) -> Verdict:
    reasons = tuple(result.reason for result in open_)
    unseen = [r for r in open_ if r.answer == Answer.NOT_TESTED]
    unsettled = [r for r in open_ if r.answer == Answer.NOT_SHOWN]
    first = open_[0].reason if open_ else "nothing was measured yet"
    if unsettled:
        first = unsettled[0].reason
    next_step = _next_while_open(case, unseen, unsettled)
    return Verdict(Advice.HOLD, _sentence(first), reasons, next_step, orderable(case, results))


def _next_while_open(case: Case, unseen: list[Result], unsettled: list[Result]) -> str:
    if case.round is None:
        return "buy samples: your size, one down and one up, in the colours you sell, and measure"
    if step := _next_for_sizes(unseen):
        return step
    if settled := [r for r in unsettled if r.more_pieces]:
        sizes = {r.size for r in settled if r.size} | {r.next_size for r in settled if r.next_size}
        named = say_list([size for size in case.blank.style.sizes if size in sizes])
        more = max(r.more_pieces or 0 for r in settled)
        pieces = "1 more piece" if more == 1 else f"{more} more pieces"
        return f"measure {pieces} of each of {named}" if named else f"wash {pieces}"
    if any(r.check == "washing" for r in unseen):
        return "wash and dry at least four pieces by their label, and measure them again"
    if any(r.check == "fabric" for r in unseen):
        return "cut and weigh two swatches"
    return "decide by hand: more pieces would not settle what is left"


def _next_for_sizes(unseen: list[Result]) -> str:
    """Return what a size that was not tested needs, or "": pieces, or a chart to hold them to."""
    sizes = [r for r in unseen if r.check in {"size_against_chart", "grade_steps"}]
    if any(not r.numbers for r in sizes):
        return "measure your size with its neighbours below and above, two pieces each"
    if sizes:
        return "ask the supplier for a size chart in writing, and copy it into the style's file"
    return ""


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
            _sentence(f"{headline}, but {others[0].reason}"),
            tuple(reasons),
            "write the condition into the decision",
            sizes,
        )
    step = "order, and keep this round as the approved sample"
    return Verdict(Advice.APPROVED, _sentence(headline), tuple(reasons), step, sizes)


def orderable(case: Case, results: Sequence[Result]) -> tuple[str, ...]:
    """Return the sizes that nothing deciding speaks against and something deciding speaks for."""
    sizes = []
    for size in case.blank.style.sizes:
        own = [
            r
            for r in results
            if r.deciding
            and r.check in {"size_against_chart", "grade_steps"}
            and r.check in case.shop.required
            and size in {r.size, r.next_size}
        ]
        if own and all(r.answer == Answer.MEETS for r in own):
            sizes.append(size)
    return tuple(sizes)


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:] + ("" if text.endswith(".") else ".")
