"""An order in a shop's words: the same sentences on the terminal, on the page and in the data."""

from decimal import Decimal

from blankbook.records.money import say_money
from blankbook.results.number_words import say_counted, say_list, times_in_100
from blankbook.results.ordering.order_plan import OrderPlan
from blankbook.results.ordering.order_risk import LEAST_SHOWN, SAYS, RiskPart
from blankbook.results.ordering.weighed_looks import InsteadOffer, WeighedLook

NOT_IN_IT = "The money is the shop's own figures; taxes, contracts and consumer law are not in it."
_COUNTS = {1: "One piece", 2: "Two pieces", 3: "Three pieces", 4: "Four pieces"}


def say_purchase(plan: OrderPlan) -> str:
    """Return what is bought and what it costs."""
    bought, currency = plan.purchase, plan.currency
    freight = "freight is not stated"
    if plan.terms.freight is not None:
        freight = (
            f"with {say_money(bought.freight)} freight" if bought.freight else "free of freight"
        )
    return (
        f"{say_counted(bought.count, 'piece')} cost {say_money(bought.total, currency)}, {freight}."
    )


def say_cheaper(plan: OrderPlan) -> str:
    """Return that a few more pieces cost less; empty where they do not."""
    bought, fewest = plan.purchase, plan.fewest
    if bought.count <= fewest.count or bought.total >= fewest.total:
        return ""
    return (
        f"{say_counted(bought.count - fewest.count, 'more piece')} cost less: {bought.count} for "
        f"{say_money(bought.total)}, {fewest.count} for {say_money(fewest.total)}."
    )


def say_enough(plan: OrderPlan) -> str:
    """Return the chance of enough good shirts, and what it rests on."""
    share, (low, high) = plan.share, plan.spoiled
    basis = f"{share.spoiled} of {share.printed} spoiled in {say_counted(share.orders, 'order')}"
    if share.is_assumed:
        seen = f"; {basis}" if share.orders else ""
        basis = f"mostly assumed: {100 * share.mean:.1f} in 100 spoil{seen}"
    spoils = f"{low} to {high} of {plan.purchase.count} may spoil. {basis[0].upper()}{basis[1:]}"
    if plan.stock:
        return f"{spoils}."
    chance = times_in_100(plan.chance)
    wanted = times_in_100(plan.wanted_chance)
    return f"Enough of every size: {chance} in 100 (wanted: {wanted}). {spoils}."


def say_risk(plan: OrderPlan) -> str:
    """Return what is at risk in all."""
    total = say_money(plan.risk.total, plan.currency)
    return f"The next lot may not be what was approved: {total} is expected to be lost by it."


def say_part(part: RiskPart) -> str:
    """Return one part of the risk without its money."""
    chance = times_in_100(part.chance)
    return f"{part.size} {SAYS[part.cause]}: {chance} in 100"


def shown_parts(plan: OrderPlan, most: int) -> tuple[tuple[RiskPart, ...], Decimal]:
    """Return the parts that cost most, and what all others cost together."""
    parts = sorted(plan.risk.parts, key=lambda part: -part.cost)
    shown = tuple(part for part in parts[:most] if part.cost > LEAST_SHOWN)
    return shown, plan.risk.total - sum((part.cost for part in shown), Decimal(0))


def say_look_only(look: WeighedLook) -> str:
    """Return what a look is, without what it costs and saves."""
    sizes, count = say_list(look.look.sizes), say_counted(look.look.each, "piece")
    each = " each" if len(look.look.sizes) > 1 else ""
    ways = {
        "inspect": "of the delivery, before printing",
        "wash": "washed and measured",
        "coming lot": "from the lot that comes",
        "another lot": "from another lot",
    }
    return f"{count}{each} of {sizes} {ways[look.look.kind]}"


def say_look(look: WeighedLook, currency: str) -> str:
    """Return one look as a sentence."""
    sizes = say_list(look.look.sizes)
    count = _COUNTS.get(look.look.each, f"{look.look.each} pieces")
    each = " each" if len(look.look.sizes) > 1 else ""
    costs, saves = say_money(look.costs), say_money(look.saves, currency)
    took = f" and {say_counted(look.days, 'day')}" if look.days else ""
    cost = f"cost{'s' if look.look.each == 1 and not each else ''} {costs}{took}"
    expected = "are" if look.look.each > 1 or each else "is"
    saving = f"{expected} expected to save {saves} on this order"
    if look.look.kind == "inspect":
        return (
            f"{count}{each} of {sizes}, measured when the delivery is there and before anything is "
            f"printed, {cost}, and {saving}."
        )
    if look.look.kind == "wash":
        return f"{count} of {sizes} washed and measured {cost}, and {saving}."
    lot = "the lot that comes" if look.look.kind == "coming lot" else "another lot"
    return f"{count}{each} of {sizes} from {lot} {cost}, and {saving}."


def say_advice(plan: OrderPlan) -> str:
    """Return the best of the looks in one sentence, or that nothing more is worth measuring."""
    best = plan.best_look
    if best is None:
        left = say_list([offer.size for offer in plan.instead])
        return f"Nothing more is worth measuring: order{f' all but {left}' if left else ''}."
    then = "Order now." if best.look.kind == "inspect" else "Order after that."
    return f"{say_look(best, plan.currency)} {then}"


def say_days(plan: OrderPlan) -> str:
    """Return whether the order arrives in time."""
    days = plan.days
    if days.needed_by is None:
        return "The day on which the blanks are needed is not stated."
    if days.lead is None or days.order_by is None:
        return f"Needed on {days.needed_by}; the lead time is not stated."
    if days.spare is not None and days.spare < 0:
        return (
            f"Too late: needed on {days.needed_by}, and an order of {days.today} arrives on "
            f"{days.arrives}."
        )
    return f"Order by {days.order_by}: {say_counted(days.lead, 'day')} to {days.needed_by}."


def say_instead(offer: InsteadOffer, currency: str) -> str:
    """Return what to offer in place of a size."""
    if not offer.blank and offer.offered:
        return f"{offer.why}: offer only {offer.offered}."
    if not offer.blank:
        return f"{offer.size} should not go out, and no approved blank stands in for it."
    more = ""
    if offer.more is not None:
        side = "more" if offer.more >= 0 else "less"
        more = f", {say_money(abs(offer.more), currency)} {side} a piece"
    return f"{offer.size} should not go out: offer {offer.offered} of {offer.blank}{more}."


def say_unstated(plan: OrderPlan) -> str:
    """Return what nobody has stated; empty where all is."""
    missing = plan.unstated
    return f"Not stated, and in no sum: {say_list(missing)}." if missing else ""
