"""The chance that a tag is right, worked out."""

from blankbook.results.causes.explanations import weighted_suppositions
from blankbook.results.checks.label import judge
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Result
from blankbook.results.worked.working_lines import (
    WorkedLine,
    answer_line,
    decimal_text,
    required_number,
)


def tag_lines(case: Case) -> list[WorkedLine]:
    """Return the piece whose tag is least sure, worked out from the causes in which it is wrong."""
    results = [r for r in judge(case) if r.number(Quantity.RIGHT_TAG_CHANCE)]
    result = min(results, key=_right, default=None)
    if result is None:
        return []
    key = f"{result.round}/{result.piece}"
    wrong: dict[str, float] = {}
    for supposition, odds in weighted_suppositions(case):
        if supposition.really.get(key, result.size) != result.size:
            wrong[supposition.cause] = wrong.get(supposition.cause, 0.0) + odds
    taken = "".join(f" − {decimal_text(odds, 4)}" for odds in wrong.values())
    says = f"{result.piece}, tagged {result.size}, is wrong because"
    return [
        *(
            WorkedLine(f"{says} {_BECAUSE[cause]}", decimal_text(odds, 4))
            for cause, odds in wrong.items()
        ),
        WorkedLine("chance that the tag is right", decimal_text(_right(result), 4), f"1{taken}"),
        answer_line(result),
    ]


_BECAUSE = {
    "mislabelled": "it carries another size's tag",
    "exchanged": "the tags of two sizes are exchanged",
    "odd_piece": "it is of none of the sizes",
}


def _right(result: Result) -> float:
    return required_number(result, Quantity.RIGHT_TAG_CHANCE).value
