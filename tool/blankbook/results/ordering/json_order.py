"""An order as data."""

from typing import Any

from blankbook.records.model import Line
from blankbook.records.money import say_money
from blankbook.results.ordering.order_plan import OrderPlan
from blankbook.results.ordering.order_words import (
    NOT_IN_IT,
    say_advice,
    say_days,
    say_instead,
    say_look,
)


def order_data(plan: OrderPlan) -> dict[str, Any]:
    """Return everything that follows for one order; money as text with two decimals."""
    days, bought, share = plan.days, plan.purchase, plan.share
    return {
        "blank": plan.order.style,
        "currency": plan.currency,
        "needed": _nested(plan.good),
        "buy": _nested(bought.pieces),
        "cost": {
            "goods": say_money(bought.goods),
            "freight": say_money(bought.freight),
            "total": say_money(bought.total),
            "fewest": {"pieces": plan.fewest.count, "total": say_money(plan.fewest.total)},
        },
        "enough": {"chance": round(plan.chance, 4), "wanted": plan.wanted_chance},
        "spoiled": {
            "share": round(share.mean, 5),
            "low": plan.spoiled[0],
            "high": plan.spoiled[1],
            "orders": share.orders,
            "assumed": share.is_assumed,
        },
        "stock": [
            {
                "colour": colour,
                "size": size,
                "expected": round(line.expected, 2),
                "low": line.low,
                "high": line.high,
                "fractile": round(line.fractile, 4),
            }
            for (colour, size), line in plan.stock.items()
        ],
        "risk": {
            "total": say_money(plan.risk.total),
            "parts": [
                {
                    "size": part.size,
                    "cause": part.cause,
                    "chance": round(part.chance, 5),
                    "pieces": part.pieces,
                    "cost": say_money(part.cost),
                    "check": part.check,
                    "finding": part.finding,
                }
                for part in plan.risk.parts
            ],
        },
        "looks": [
            {
                "kind": look.look.kind,
                "sizes": list(look.look.sizes),
                "each": look.look.each,
                "saves": say_money(look.saves),
                "costs": say_money(look.costs),
                "days": look.days,
                "fits": look.fits,
                "says": say_look(look, plan.currency),
            }
            for look in plan.looks
        ],
        "advice": say_advice(plan),
        "instead": [say_instead(offer, plan.currency) for offer in plan.instead],
        "days": {
            "order_by": days.order_by and days.order_by.isoformat(),
            "arrives": days.arrives and days.arrives.isoformat(),
            "needed_by": days.needed_by and days.needed_by.isoformat(),
            "says": say_days(plan),
        },
        "unstated": list(plan.unstated),
        "note": NOT_IN_IT,
    }


def _nested(pieces: "dict[Line, int] | Any") -> dict[str, dict[str, int]]:
    found: dict[str, dict[str, int]] = {}
    for (colour, size), count in pieces.items():
        found.setdefault(colour, {})[size] = count
    return found
