"""A standing as data: what the JSON of `vet` says of what holds today."""

from collections.abc import Iterable
from typing import Any

from blankbook.results.standing.make_standing import say_evidence
from blankbook.results.standing.standing_types import DatedReason, Standing


def standing_data(standing: Standing) -> dict[str, Any]:
    """Return whether a blank may be ordered today, in which sizes, and why."""
    evidence = standing.evidence
    return {
        "standing": str(standing.kind),
        "rule": standing.rule,
        "sizes": list(standing.sizes),
        "sentence": standing.sentence,
        "next": standing.next_step,
        "conditions": list(standing.conditions),
        "reasons": _reasons(standing.reasons),
        "against_decision": _reasons(standing.against),
        "left_out": [{"size": left.size, "why": left.why} for left in standing.left_out],
        "alike": [
            {"offer": pair.offer, "leave": pair.leave, "point": pair.point}
            for pair in standing.alike
        ],
        "washed": standing.washed or None,
        "evidence": evidence
        and {
            "date": evidence.day.isoformat(),
            "lot": evidence.lot,
            "lots": evidence.lots,
            "says": say_evidence(standing),
        },
    }


def _reasons(reasons: Iterable[DatedReason]) -> list[dict[str, Any]]:
    return [
        {"date": reason.day.isoformat(), "says": reason.says, "source": reason.source}
        for reason in reasons
    ]
