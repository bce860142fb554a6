"""The deliveries of one supplier over all its blanks, and how its next one is inspected."""

from collections.abc import Sequence
from typing import Any

from blankbook.pages.blank.delivery_tables import plan_sign
from blankbook.records.model import Shop
from blankbook.results.deliveries.plans_by_size import plans_by_size
from blankbook.results.deliveries.severities import NONE_YET
from blankbook.results.methods.sampling_tables import Severity
from blankbook.words.answers import Answer

Row = dict[str, Any]


def supplier_deliveries(rows: Sequence[Row], shop: Shop) -> dict[str, Any]:
    """Return it from the rows of the supplier's blanks; deliveries are the newest first."""
    came = [
        {**delivery, "blank": row["name"], "path": row["path"]}
        for row in rows
        for delivery in row["deliveries"]
    ]
    came.sort(
        key=lambda delivery: (delivery["day"], delivery["path"], delivery["key"]), reverse=True
    )
    then, why = next(((row["then"], row["why"]) for row in rows), ("normal", NONE_YET))
    return {
        "rows": came,
        "counts": [
            {"sign": sign, "count": sum(delivery["answer"] == sign for delivery in came)}
            for sign in map(plan_sign, (Answer.MEETS, Answer.FAILS, Answer.NOT_SHOWN))
        ],
        "then": then,
        "why": why,
        "stopped": then == Severity.STOPPED,
        "level": shop.inspection.level,
        "aql": f"{shop.inspection.aql:g}",
        "plans": [
            {
                "sizes": f"{plan.least} to {plan.most}",
                "pieces": f"{plan.pieces}, or all"
                if plan.least < plan.pieces
                else str(plan.pieces),
                "accept": plan.accept,
                "reject": plan.reject,
            }
            for plan in plans_by_size(shop.inspection, Severity(then))
        ],
    }


def deliveries_summary(rows: Sequence[Row]) -> str:
    """Return how a supplier's deliveries fared, for the list of suppliers; empty without any."""
    came = [delivery for row in rows for delivery in row["deliveries"]]
    if not came:
        return ""
    met = sum(delivery["answer"] == plan_sign(Answer.MEETS) for delivery in came)
    return f"{met} of {len(came)} accepted; next {rows[0]['then']}"
