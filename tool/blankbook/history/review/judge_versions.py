"""Where the blanks that differ stand at both versions: judged anew only where nobody has before."""

import json
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Any

from blankbook.history.moved.blank_status import Standing, standing_of
from blankbook.history.review.read_blanks import Blanks, Both, Entries
from blankbook.history.review.review_cache import Kept
from blankbook.records.processes import in_processes
from blankbook.records.rule_context import Known
from blankbook.text.digests import digest

FORK_ABOVE = 10
"""From so many judgings on, a second process pays."""


@dataclass(frozen=True, slots=True)
class Side:
    """What the blanks of one version are judged by."""

    known: Known
    taught: Mapping[str, Any]
    """What every blank of the version gives."""
    names: Mapping[str, str]
    """By blank: a hash of all that follows from its records, where there is one; by "" that of
    the records that all share."""


def standings(
    both: Both, sides: tuple[Side, Side], keys: Collection[str], blanks: Blanks, kept: Kept
) -> tuple[dict[str, Standing], dict[str, Standing]]:
    """Return where each blank of *keys* stands at each version, judged by what all of it teaches.

    Every core judges its share.
    """
    learned = [_learned(one, keys, kept) for one in sides]
    names = {
        (side, key): digest(name, _canonical(data)) if (name := sides[side].names.get(key)) else ""
        for side in (0, 1)
        for key, data in sorted(learned[side].items())
    }
    missing = [at for at, name in names.items() if not kept.has("standings", name)]
    made = dict(zip(missing, _judged(missing, both, sides, learned, blanks), strict=True))
    found: tuple[dict[str, Standing], dict[str, Standing]] = ({}, {})
    for (side, key), name in names.items():
        one = made.get((side, key)) or Standing.of_data(kept.get("standings", name))
        if (side, key) in made:
            kept.put("standings", name, one.as_data())
        found[side][key] = one
    return found


def _learned(side: Side, keys: Collection[str], kept: Kept) -> dict[str, Any]:
    """Return what each blank of *keys* that has no fault is handed to be judged by."""
    shop = side.known.shop
    if shop is None:
        return {}
    asked = sorted(key for key in keys if key in side.taught)
    name = ""
    if rules := side.names[""]:
        name = digest(rules, _canonical(list(side.taught.items())), *asked)
    if kept.has("taught", name):
        return dict(kept.get("taught", name))
    from blankbook.results.learning.ledger_learning import learn_to_judge

    all_ = learn_to_judge(side.taught, shop, side.known.studies)
    found = {key: all_[key] for key in asked}
    kept.put("taught", name, found)
    return found


def _judged(
    missing: list[tuple[int, str]],
    both: Both,
    sides: tuple[Side, Side],
    learned: list[dict[str, Any]],
    blanks: Blanks,
) -> list[Standing]:
    if not missing:
        return []
    from blankbook.records.load_ledger import blank_of
    from blankbook.results.judge_blank import judge
    from blankbook.results.learning.ledger_learning import learned_from_data

    def work(at: tuple[int, str]) -> Standing:
        side, key = at
        known = sides[side].known
        blank = blanks.get(at)
        if blank is None:
            entries = Entries(both)
            blank = blank_of(known, [entries.of(side, one) for one in both[side].of[key]])[0]
        assert blank is not None  # it taught something
        assert known.shop is not None
        return standing_of(judge(blank, known.shop, learned_from_data(learned[side][key])))

    return in_processes(missing, work, None, worth=len(missing) > FORK_ABOVE)


def _canonical(data: Any) -> str:
    return json.dumps(data, sort_keys=True, ensure_ascii=False)
