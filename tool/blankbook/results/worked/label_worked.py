"""The chance that a tag is right, worked out."""

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
    for way in case.posterior.weighed:
        if (size := way.really(case.posterior.labels).get(key, result.size)) != result.size:
            why = _BECAUSE[size == "", key in way.tags]
            wrong[why] = wrong.get(why, 0.0) + way.chance
    taken = "".join(f" − {decimal_text(chance, 4)}" for chance in wrong.values())
    says = f"{result.piece}, tagged {result.size}, is wrong because"
    return [
        *(WorkedLine(f"{says} {why}", decimal_text(chance, 4)) for why, chance in wrong.items()),
        WorkedLine("chance that the tag is right", decimal_text(_right(result), 4), f"1{taken}"),
        answer_line(result),
    ]


_BECAUSE = {
    (False, True): "it carries another size's tag",
    (False, False): "the tags of two sizes are exchanged",
    (True, True): "it is of none of the sizes",
}
"""By whether it is a stray, and whether its tag alone is wrong."""


def _right(result: Result) -> float:
    return required_number(result, Quantity.RIGHT_TAG_CHANCE).value
