"""An order on one screen: at most 80 characters wide and 40 lines."""

import textwrap
from collections.abc import Iterator
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from blankbook.records.model import Line
    from blankbook.results.ordering.order_plan import OrderPlan

WIDTH = 79
MOST_PARTS = 5
MOST_LOOKS = 2


def order_screen(plan: "OrderPlan", name: str, standing: str) -> str:
    """Return what follows for an order."""
    return "\n".join(_lines(plan, name, standing))


def _lines(plan: "OrderPlan", name: str, standing: str) -> Iterator[str]:
    from blankbook.results.ordering import order_words as words

    yield from _wrapped(f"{plan.order.style}  {name}, for {plan.order.client}")
    yield from _wrapped(f"today: {standing}")
    yield ""
    yield from _table(plan)
    yield from _wrapped(words.say_purchase(plan))
    yield from _wrapped(words.say_cheaper(plan))
    yield from _wrapped(words.say_enough(plan))
    yield ""
    yield from _wrapped(words.say_risk(plan))
    parts, rest = words.shown_parts(plan, MOST_PARTS)
    for part in parts:
        yield from _wrapped(f"  - {part.cost:>8}  {words.say_part(part)}", 14)
    if rest:
        yield f"  - {rest:>8}  the rest"
    for offer in plan.instead:
        yield from _wrapped(words.say_instead(offer, plan.currency))
    yield ""
    yield from _wrapped(words.say_advice(plan))
    best = plan.best_look
    others = [look for look in plan.looks if look is not best and look.look.kind != "another lot"]
    kinds = {best.look.kind} if best else set()
    for look in others:
        if look.look.kind not in kinds and len(kinds) <= MOST_LOOKS:
            kinds.add(look.look.kind)
            late = "" if look.fits else " It no longer fits."
            yield from _wrapped(f"  - {words.say_look(look, plan.currency)}{late}", 4)
    yield from _wrapped(words.say_days(plan))
    yield from _wrapped(words.say_unstated(plan))
    yield from _wrapped(words.NOT_IN_IT)


def _wrapped(text: str, indent: int = 0) -> list[str]:
    return textwrap.wrap(text, WIDTH, subsequent_indent=" " * indent)


def _table(plan: "OrderPlan") -> Iterator[str]:
    """Yield by colour what is wanted and what to buy, a column for each size."""
    bought: dict[Line, int] = dict(plan.purchase.pieces)
    sizes = list(dict.fromkeys(size for _, size in bought))
    sizes.sort(key=plan.lot.measures.sizes.index)
    wide = max(len(colour) for colour, _ in bought) + 2
    yield f"{'':{wide + 8}}" + "".join(f"{size:>6}" for size in sizes) + "   all"
    for colour in dict.fromkeys(colour for colour, _ in bought):
        for what, counts in (("wanted", plan.good), ("buy", bought)):
            row = [counts.get((colour, size), 0) for size in sizes]
            cells = "".join(f"{count or '':>6}" for count in row)
            yield f"{colour:{wide}}{what:8}{cells}{sum(row):>6}"
