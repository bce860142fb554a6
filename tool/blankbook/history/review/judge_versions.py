"""Where the blanks that differ stand at both versions."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Any

from blankbook.history.moved.blank_status import BlankStatus, blank_status
from blankbook.history.review.read_blanks import BlanksBySide
from blankbook.records.model import Shop, Study
from blankbook.records.processes import map_in_processes

FORK_ABOVE_JUDGINGS = 10
"""With more judgings than this, a second process pays."""

Statuses = tuple[Mapping[str, BlankStatus], Mapping[str, BlankStatus]]
"""By ``supplier/style``, of the older version and the newer."""


@dataclass(frozen=True, slots=True)
class JudgingBasis:
    """What the blanks of one version are judged by."""

    shop: Shop | None
    studies: tuple[Study, ...]
    contributions: Mapping[str, Any]
    """What every blank of the version contributes to judging the others."""


def blank_statuses(
    bases: tuple[JudgingBasis, JudgingBasis], keys: Collection[str], blanks: BlanksBySide
) -> Statuses:
    """Return the status of each blank of *keys* at each version. Every core judges its share.

    A blank that has a fault at a version has no status there.
    """
    learned = [_learned(basis, keys) for basis in bases]
    asked = [(side, key) for side in (0, 1) for key in sorted(learned[side])]
    found: tuple[dict[str, BlankStatus], dict[str, BlankStatus]] = ({}, {})
    for (side, key), status in zip(asked, _judged(asked, bases, learned, blanks), strict=True):
        found[side][key] = status
    return found


def _learned(basis: JudgingBasis, keys: Collection[str]) -> dict[str, Any]:
    """Return what the whole ledger teaches about each blank of *keys* that has no fault."""
    asked = [key for key in keys if key in basis.contributions]
    if basis.shop is None or not asked:
        return {}
    from blankbook.results.learning.ledger_learning import learn_to_judge

    learned = learn_to_judge(basis.contributions, basis.shop, basis.studies)
    return {key: learned[key] for key in asked}


def _judged(
    asked: list[tuple[int, str]],
    bases: tuple[JudgingBasis, JudgingBasis],
    learned: list[dict[str, Any]],
    blanks: BlanksBySide,
) -> list[BlankStatus]:
    """Return the status of each blank that is asked for, in order."""
    if not asked:
        return []
    from blankbook.results.judge_blank import judge
    from blankbook.results.learning.ledger_learning import learned_from_data

    def work(at: tuple[int, str]) -> BlankStatus:
        side, key = at
        shop = bases[side].shop
        assert shop is not None  # without the shop's rules, nothing was learned
        return blank_status(judge(blanks[at], shop, learned_from_data(learned[side][key])))

    return map_in_processes(asked, work, None, worth=len(asked) > FORK_ABOVE_JUDGINGS)
