"""Where the blanks that differ stand at both versions."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Any

from blankbook.history.moved.blank_status import Standing, standing_of
from blankbook.history.review.read_blanks import Blanks
from blankbook.records.processes import map_in_processes
from blankbook.records.rule_context import RuleContext

FORK_ABOVE = 10
"""From so many judgings on, a second process pays."""


@dataclass(frozen=True, slots=True)
class Side:
    """What the blanks of one version are judged by."""

    known: RuleContext
    taught: Mapping[str, Any]
    """What every blank of the version gives."""


def standings(
    sides: tuple[Side, Side], keys: Collection[str], blanks: Blanks
) -> tuple[dict[str, Standing], dict[str, Standing]]:
    """Return where each blank of *keys* stands at each version, judged by what all of it teaches.

    Every core judges its share.
    """
    learned = [_learned(one, keys) for one in sides]
    asked = [(side, key) for side in (0, 1) for key in sorted(learned[side])]
    found: tuple[dict[str, Standing], dict[str, Standing]] = ({}, {})
    made = _judged(asked, sides, learned, blanks)
    for (side, key), standing in zip(asked, made, strict=True):
        found[side][key] = standing
    return found


def _learned(side: Side, keys: Collection[str]) -> dict[str, Any]:
    """Return what each blank of *keys* that has no fault is handed to be judged by."""
    shop = side.known.shop
    asked = [key for key in keys if key in side.taught]
    if shop is None or not asked:
        return {}
    from blankbook.results.learning.ledger_learning import learn_to_judge

    learned = learn_to_judge(side.taught, shop, side.known.studies)
    return {key: learned[key] for key in asked}


def _judged(
    asked: list[tuple[int, str]],
    sides: tuple[Side, Side],
    learned: list[dict[str, Any]],
    blanks: Blanks,
) -> list[Standing]:
    if not asked:
        return []
    from blankbook.results.judge_blank import judge
    from blankbook.results.learning.ledger_learning import learned_from_data

    def work(at: tuple[int, str]) -> Standing:
        side, key = at
        shop = sides[side].known.shop
        assert shop is not None  # nobody learns anything without the shop's rules
        return standing_of(judge(blanks[at], shop, learned_from_data(learned[side][key])))

    return map_in_processes(asked, work, None, worth=len(asked) > FORK_ABOVE)
