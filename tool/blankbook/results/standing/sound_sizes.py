"""Which sizes the evidence lets be ordered, which it shows to be off, and which are alike."""

from collections.abc import Collection, Iterable, Sequence

from blankbook.results.result_types import Case, Result
from blankbook.results.standing.fail_clauses import is_fail
from blankbook.results.standing.standing_types import AlikeSizes
from blankbook.words.answers import Answer

_OF_SIZES = {"size_against_chart", "grade_steps", "mix_up", "label", "piece_against_chart"}
"""Checks whose answers are about a size or two; a fail of any other is about the whole style."""
_OPEN_OR_FAILING = frozenset(Answer) - {Answer.MEETS}


def required_results(case: Case, results: Iterable[Result]) -> list[Result]:
    """Return the answers that an approval hangs on."""
    return [r for r in results if r.check in case.shop.required and r.deciding]


def is_about_sizes(result: Result) -> bool:
    """Say whether a result counts against the sizes that it names, and not against the style."""
    return result.check in _OF_SIZES and bool(result.size)


def sound_sizes(
    case: Case, results: Sequence[Result], alike: Iterable[AlikeSizes]
) -> tuple[str, ...]:
    """Return the sizes that meet all that is required, smallest first.

    What is required of the whole style, such as washing, must be met, else no size is sound: what
    nobody has washed may not be ordered. Of two sizes that are alike one is left.
    """
    own = required_results(case, results)
    if any(r.answer != Answer.MEETS for r in own if not is_about_sizes(r)):
        return ()
    measured = {p.size for round_ in case.blank.rounds for p in round_.pieces if p.received}
    good = measured - {r.size for r in own if not r.next_size and r.answer != Answer.MEETS}
    bad = _off_by_steps(own, good, alike, _OPEN_OR_FAILING)
    return tuple(size for size in case.blank.style.sizes if size in good - bad)


def failing_sizes(
    case: Case, results: Sequence[Result], alike: Iterable[AlikeSizes]
) -> frozenset[str]:
    """Return the sizes that required checks show to be off; all where the whole style fails."""
    every = frozenset(case.blank.style.sizes)
    fails = [r for r in required_results(case, results) if is_fail(r)]
    if not all(is_about_sizes(r) for r in fails):
        return every
    alone = frozenset(r.size for r in fails if not r.next_size)
    by_steps = _off_by_steps(fails, every - alone, alike, {Answer.FAILS})
    return alone | by_steps


def _off_by_steps(
    own: Iterable[Result],
    good: Collection[str],
    alike: Iterable[AlikeSizes],
    answers: Collection[Answer],
) -> frozenset[str]:
    """Return the sizes that steps count against.

    Of two that are alike that is the one to leave. Else it is the end that is off by itself, or
    both ends where neither is.
    """
    leave = {frozenset({pair.offer, pair.leave}): pair.leave for pair in alike}
    bad: set[str] = set()
    for step in own:
        if not step.next_size or step.answer not in answers:
            continue
        ends = frozenset({step.size, step.next_size})
        bad |= {leave[ends]} if ends in leave else ends - set(good) or ends
    return frozenset(bad)


def alike_sizes(results: Iterable[Result], off: Collection[str] = ()) -> tuple[AlikeSizes, ...]:
    """Return the neighbours that cannot be told apart at a deciding point, and which to offer.

    That is the one that is as charted, and not among those that lie *off* the approved lot. Where
    both are, or neither, it is the one whose step to its other neighbour is sound, else the
    smaller.
    """
    found: dict[tuple[str, str], AlikeSizes] = {}
    every = [result for result in results if result.deciding and is_fail(result)]
    for result in every:
        if result.word in {"collapsed", "reversed"} or result.check == "mix_up":
            pair = (result.size, result.next_size)
            offer, leave = sorted(pair, key=lambda size: (size in off, *_faults(every, size, pair)))
            found.setdefault(pair, AlikeSizes(offer, leave, result.point))
    return tuple(found.values())


def _faults(fails: Iterable[Result], size: str, pair: tuple[str, str]) -> tuple[int, int, int]:
    """Return how much speaks against a size: off its chart, off its other neighbour, the larger."""
    off = steps = 0
    for result in fails:
        if result.check == "size_against_chart" and result.size == size:
            off += 1
        ends = (result.size, result.next_size)
        if result.check == "grade_steps" and size in ends and ends != pair:
            steps += 1
    return off, steps, pair.index(size)
