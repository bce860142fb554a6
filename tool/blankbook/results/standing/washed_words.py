"""What washing does, as a buyer feels it: less length, and the size that a shirt has become."""

from collections.abc import Iterable
from statistics import fmean

from blankbook.records.lengths import in_centimetres, in_inches
from blankbook.results.number_words import say_counted
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Result
from blankbook.results.standing.size_words import say_sizes

_AS = {"half_chest": "wide", "body_length": "long"}


def say_less_length(case: Case, results: Iterable[Result]) -> str:
    """Return how much length washing takes or gives: "expect 1 1/4 in less length after 1 wash".

    It is the mean change after the most washes, times the mean length of the measured sizes, to
    the nearest 1/8 in or 0.5 cm. "" where it was not tested or is less than that.
    """
    tested = [
        r
        for r in results
        if r.check == "washing" and r.point == "body_length" and r.number(Quantity.CHANGE)
    ]
    lengths = [
        reading.mm
        for piece in (case.round.pieces if case.round else ())
        for reading in piece.received.get("body_length", ())
    ]
    if not tested or not lengths:
        return ""
    last = max(tested, key=lambda r: r.cycles or 0)
    change = last.number(Quantity.CHANGE)
    assert change
    by = change.value / 100 * fmean(lengths)
    said = f"{in_inches(abs(by), 8)} in"
    if case.shop.unit != "in":
        said = f"{in_centimetres(round(abs(by) / 5) * 5)} cm"
    if said.startswith(("0 ", "0.0 ")):
        return ""
    more = "more" if by > 0 else "less"
    return f"expect {said} {more} length after {say_counted(last.cycles or 0, 'wash')}"


def say_washed_sizes(case: Case, results: Iterable[Result]) -> str:
    """Return which sizes measure like another after washing: "After 5 washes M is as long as S was
    new."; "" where each is still its own.
    """
    own = [r for r in results if r.check == "washed_size" and r.word and r.point in _AS]
    changed = [r for r in own if r.word != f"as {r.size} when new"]
    if not changed:
        return ""
    most = max(r.cycles or 0 for r in changed)
    point = "body_length" if any(r.point == "body_length" for r in changed) else "half_chest"
    last = [r for r in changed if r.point == point and r.cycles == most]
    last = last or [r for r in changed if r.point == point]
    head = f"After {say_counted(last[0].cycles or 0, 'wash')}"
    likes = [
        (r.size, r.word.removeprefix("as ").removesuffix(" when new"))
        for r in last
        if r.word.startswith("as ")
    ]
    if likes:
        first = f"{likes[0][0]} is as {_AS[point]} as {likes[0][1]} was new"
        rest = "".join(f", {size} as {like}" for size, like in likes[1:])
        return f"{head} {first}{rest}."
    sizes = say_sizes(case.blank.style.sizes, {r.size for r in last})
    smaller = last[0].word.startswith("smaller")
    way = {"long": ("shorter", "longer"), "wide": ("narrower", "wider")}[_AS[point]]
    verb = "is" if len(last) == 1 else "are"
    return f"{head} {sizes} {verb} {way[0 if smaller else 1]} by more than half a size."
