"""Histories of one blank, told by a choice for each thing that can happen to it.

Each is dated: measured on 20 January, decided on 25 January, a chart of 1 March, a lot of April,
deliveries of May and June, a claim of 1 July, decided again on 1 August.
"""

import datetime
from collections.abc import Mapping
from dataclasses import replace

from blankbook.records.model import (
    Blank,
    Chart,
    ClaimChange,
    Decision,
    Delivery,
    DeliveryDecision,
    Flaw,
    Piece,
    PlannedRound,
    Round,
    Source,
)
from blankbook.results.judge_blank import judge
from blankbook.results.result_types import Judged, Learned
from made_blanks import CHARTED, blank, chart, measured, piece, shop, washed

SIZES = ("S", "M", "L", "XL")
FACTORS: dict[str, tuple[str, ...]] = {
    "samples": ("right", "XL narrow", "not washed", "XL as wide as L"),
    "chart": ("same", "none newer", "L wider", "all narrower"),
    "lot": ("none", "as approved", "M narrow", "all narrow", "narrow, then right"),
    "delivery": ("none", "good", "rejected", "rejected, then good", "kept though bad"),
    "claim": ("same", "other cloth"),
    "plan": ("none", "planned"),
}
"""Without the decision: the matrix has the pairs of these for each."""
DECISIONS = ("nobody", "approved", "approved with conditions", "hold", "rejected")


def day(month: int, number: int) -> datetime.date:
    """Return a day of 2026."""
    return datetime.date(2026, month, number)


MEASURED, DECIDED, AGAIN = day(1, 20), day(1, 25), day(8, 1)


def pieces(lot: str, narrower: Mapping[str, float], *, wash: bool = True) -> list[Piece]:
    """Return two pieces of each size as charted, but so many inches narrower, and washed."""
    made = [
        piece(
            f"{size}-{n}",
            size,
            lot,
            half_chest=f"{18 + 2 * i - narrower.get(size, 0.0):.3f}",
            body_length=f"{28 + i + n / 8 - 1 / 8}",
        )
        for i, size in enumerate(SIZES)
        for n in (1, 2)
    ]
    if not wash:
        return made
    shrunk = {"half_chest": 0.25, "body_length": 1.125}
    return [
        washed(p, 1, **{at: f"{p.received[at][0].mm / 25.4 - by:.3f}" for at, by in shrunk.items()})
        for p in made
    ]


def every(inches: float) -> dict[str, float]:
    """Return the same for each size."""
    return dict.fromkeys(SIZES, inches)


def lot_round(month: int, lot: str, narrower: Mapping[str, float]) -> Round:
    """Return a round of another lot, unwashed."""
    key = f"2026-{month:02}-10-lot-{lot.lower()}"
    made = pieces(lot, narrower, wash=False)
    return measured(*made, key=key, lot=lot, day=day(month, 10))


def came(month: int, bad: int, decision: str) -> Delivery:
    """Return a delivery of 144 with 20 looked at, of which one bad is accepted."""
    on = day(month, 15)
    return Delivery(
        Source(f"{on}-delivery.yaml"),
        f"{on}-delivery",
        "a/b",
        on,
        "rv",
        f"D{month}",
        {"M": 144},
        20,
        flaws=(Flaw("M", "hole", count=bad),) if bad else (),
        decision=DeliveryDecision(decision, on, "rv") if decision else None,
    )


def newer_chart(wider: Mapping[str, float]) -> Chart:
    """Return a chart of 1 March whose half chests are so many inches wider."""
    made = chart(
        {
            size: {
                "half_chest": f"{18 + 2 * i + wider.get(size, 0.0):.3f}",
                "body_length": f"{28 + i}",
            }
            for i, size in enumerate(SIZES)
        }
    )
    return replace(made, since=day(3, 1))


SAMPLES = {
    "right": pieces("A", {}),
    "XL narrow": pieces("A", {"XL": 1.0}),
    "not washed": pieces("A", {}, wash=False),
    "XL as wide as L": pieces("A", {"XL": 2.0}),
}
CHARTS = {
    "none newer": (CHARTED,),
    "same": (CHARTED, newer_chart({})),
    "L wider": (CHARTED, newer_chart({"L": 1.0})),
    "all narrower": (CHARTED, newer_chart(every(-1.0))),
}
LOTS: dict[str, tuple[Round, ...]] = {
    "none": (),
    "as approved": (lot_round(4, "B", {}),),
    "M narrow": (lot_round(4, "B", {"M": 1.0}),),
    "all narrow": (lot_round(4, "B", every(1.0)),),
    "narrow, then right": (lot_round(4, "B", every(1.0)), lot_round(5, "C", {})),
}
DELIVERIES: dict[str, tuple[Delivery, ...]] = {
    "none": (),
    "good": (came(5, 0, "accepted"),),
    "rejected": (came(5, 5, "rejected"),),
    "rejected, then good": (came(5, 5, "rejected"), came(6, 0, "accepted")),
    "kept though bad": (came(5, 5, "accepted"),),
}
PLANNED = PlannedRound(
    Source("2026-07-20-sample.yaml"),
    "2026-07-20-sample",
    "a/b",
    day(7, 20),
    (piece("M-9", "M", ""), piece("L-9", "L", "")),
)


def decision(word: str, on: datetime.date, sizes: tuple[str, ...] = ()) -> Decision | None:
    """Return what rv decided, or None for nobody."""
    if word == "nobody":
        return None
    conditions = ("not for children",) if word == "approved with conditions" else ()
    return Decision(word, on, "rv", "as we saw it", sizes=sizes, conditions=conditions)


def history(
    decided: str,
    samples: str = "right",
    chart: str = "none newer",
    lot: str = "none",
    delivery: str = "none",
    claim: str = "same",
    plan: str = "none",
    again: str = "",
) -> Blank:
    """Return a blank with its history; *again* is what was decided on 1 August, in the same round.

    Rounds of other lots were bought on the day they were measured, and so by the chart of it.
    """
    made = decision(again, AGAIN) if again else decision(decided, DECIDED)
    first = replace(measured(*SAMPLES[samples], day=MEASURED), decision=made)
    changed = (ClaimChange(day(7, 1), "fabric"),) if claim == "other cloth" else ()
    found = blank(first, *LOTS[lot], charts=CHARTS[chart], changed=changed)
    planned = (PLANNED,) if plan == "planned" else ()
    return replace(found, deliveries=DELIVERIES[delivery], planned=planned)


def standing_of(told: Blank, *, expired: bool = False) -> Judged:
    """Return the blank judged by the shop of the tests."""
    return judge(told, shop(), Learned(expired=expired))
