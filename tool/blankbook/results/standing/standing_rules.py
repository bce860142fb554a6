"""The table of rules that a standing follows from, one row each; the method page prints it.

A blank may be ordered no more freely than the lowest row that finds something allows. So nothing
that speaks against a blank can ever make its standing better.

A further rule is a row here, with the function that finds it in `base_rules`, `evidence_rules` or
`later_rules`, and a row in ``tests/results/test_standing_rules.py``. A new kind of event is a
factor of ``tests/made_histories.py``. Whatever shows what holds today shows `Judged.standing`, and
never reads advice or decision for itself.
"""

from blankbook.results.standing import base_rules, evidence_rules, later_rules
from blankbook.results.standing.rule_types import Rule
from blankbook.words.answers import Advice, MayOrder

YES, CONDITIONS, WAIT, NO = MayOrder

RULES: tuple[Rule, ...] = (
    Rule(
        "nothing measured",
        "nothing was measured, and nobody has decided",
        WAIT,
        "",
        "Nothing was measured yet.",
        base_rules.find_nothing_measured,
    ),
    Rule(
        "rejected",
        "the newest decision rejects it",
        NO,
        "",
        "Rejected by rv on 8 December 2025, though nothing required fails.",
        base_rules.find_decision(Advice.REJECTED),
    ),
    Rule(
        "held back",
        "the newest decision holds it back",
        WAIT,
        "",
        "Held back by rv on 3 November 2025.",
        base_rules.find_decision(Advice.HOLD),
    ),
    Rule(
        "approved on conditions",
        "the newest decision approves it on conditions",
        CONDITIONS,
        "",
        "Approved in S to XL; quote it to clients as 4.2 oz.",
        base_rules.find_decision(Advice.CONDITIONS),
    ),
    Rule(
        "approved",
        "the newest decision approves it",
        YES,
        "",
        "Approved in S to XL; expect 1 1/4 in less length after 1 wash.",
        base_rules.find_decision(Advice.APPROVED),
    ),
    Rule(
        "approved without a size",
        "the newest decision approves it, every measured size is off, and it names none",
        WAIT,
        "",
        "Approved by rv, but no size is shown to be right.",
        base_rules.find_no_size_approved,
    ),
    Rule(
        "evidence rejects",
        "nobody has decided since, and two lots fail alike at something required",
        NO,
        "",
        "XL is no wider than L: 24 1/4 in both.",
        base_rules.find_evidence(Advice.REJECTED),
    ),
    Rule(
        "evidence holds",
        "nobody has decided, and something required fails or is open",
        WAIT,
        "",
        "Right so far, but nothing was washed yet.",
        base_rules.find_all_held,
    ),
    Rule(
        "evidence bears out some sizes",
        "nobody has decided; some sizes meet all that is required, nothing speaks against others",
        CONDITIONS,
        "",
        "As charted in S to XL; too few pieces yet.",
        base_rules.find_some_sizes,
    ),
    Rule(
        "evidence approves on conditions",
        "nobody has decided; all that is required is met, something else fails",
        CONDITIONS,
        "",
        "As charted in S to XL; the cloth is 8 % lighter than claimed.",
        base_rules.find_evidence(Advice.CONDITIONS),
    ),
    Rule(
        "evidence approves",
        "nobody has decided; all that is required is met, and nothing fails",
        YES,
        "",
        "As charted in S to XL; expect 1 1/4 in less length after 1 wash.",
        base_rules.find_evidence(Advice.APPROVED),
    ),
    Rule(
        "newer round fails",
        "a round since the decision shows something required to be off",
        CONDITIONS,
        "those that fail; all, where the whole style does",
        "M is 3/4 in narrower than the chart.",
        evidence_rules.find_newer_fails,
    ),
    Rule(
        "approved against the evidence",
        "the approval goes past what was known: one of its sizes fails, or is not shown",
        CONDITIONS,
        "",
        "Approved in S to 2XL; S to 2XL are 1 in wider than the chart.",
        evidence_rules.find_against_evidence,
    ),
    Rule(
        "a size left out fails",
        "a measured size is off, and the approval leaves it out",
        CONDITIONS,
        "",
        "Approved in S to XL; 2XL is only 1 in wider than XL.",
        evidence_rules.find_left_out_fail,
    ),
    Rule(
        "something else fails",
        "something fails that is not required",
        CONDITIONS,
        "",
        "Approved in S to XL; the body twists by 10.5 % after 5 washes.",
        evidence_rules.find_other_fails,
    ),
    Rule(
        "newer chart",
        "a newer chart moves measured sizes by more than half the tolerance, or drops them",
        CONDITIONS,
        "those that it moves or drops, unless a person decided after its day",
        "The chart of 24 November 2026 makes every size 1 in narrower.",
        later_rules.find_newer_chart,
    ),
    Rule(
        "moved lot",
        "a later lot lies off the approved one by more than half the tolerance, charted or not",
        CONDITIONS,
        "those that moved, until a newer lot has them right",
        "Lot B is 3/4 in narrower than the approved lot A.",
        later_rules.find_moved_lot,
    ),
    Rule(
        "lot back in line",
        "a lot was off that a person has not decided on since, and a newer one is not",
        CONDITIONS,
        "",
        "Lot B was 3/4 in narrower than lot A; a newer one is right.",
        later_rules.find_lot_back_in_line,
    ),
    Rule(
        "refused delivery",
        "a delivery since was rejected, or fails its plan undecided, and nothing good came after",
        WAIT,
        "all",
        "The delivery of 30 June 2026 was rejected: 3 of 20 were bad.",
        later_rules.find_refused_delivery,
    ),
    Rule(
        "delivery trouble over",
        "a delivery since was kept though bad, or was refused and followed by a good one",
        CONDITIONS,
        "",
        "The delivery of 11 August 2026 was kept though 2 of 20 were bad.",
        later_rules.find_trouble_over,
    ),
    Rule(
        "good since it was held",
        "a good delivery or round came after it was held back: a person has to decide again",
        WAIT,
        "",
        "The delivery of 14 July 2026 was good: decide again.",
        later_rules.find_good_since_held,
    ),
    Rule(
        "supplier stopped",
        "no delivery of the supplier is accepted until it has put the cause right",
        WAIT,
        "",
        "Nothing is accepted from Sedge & Hollow until the cause is put right.",
        later_rules.find_stopped,
    ),
    Rule(
        "claim changed",
        "the supplier has changed the fabric or the construction since the pieces were bought",
        CONDITIONS,
        "all, unless a person decided after that day",
        "The fabric changed on 1 April 2026: measure and wash it again.",
        later_rules.find_changed_claim,
    ),
    Rule(
        "evidence too old",
        "nothing was measured for longer than the shop allows",
        WAIT,
        "all",
        "Last measured on 13 November 2023: measure it again before you order.",
        evidence_rules.find_expired,
    ),
    Rule(
        "no chart",
        "no chart speaks of it: its sizes are those of its own round",
        CONDITIONS,
        "",
        "Approved in S to XL; its sizes are those measured on 20 October 2025.",
        evidence_rules.find_no_chart,
    ),
)
