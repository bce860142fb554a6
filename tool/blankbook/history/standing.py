"""What the evidence says of a blank at one version, kept small: advice, decision, answers."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from blankbook.records.fork import in_processes
from blankbook.records.load import Loaded, load_ledger
from blankbook.results.as_data import newest_decision
from blankbook.results.frame import Judged
from blankbook.results.judge import judge
from blankbook.results.learning.learned import contribute, learn, learned_of
from blankbook.words.answers import Advice

FORK_ABOVE = 10
"""From this many blanks on, a second process pays."""


@dataclass(frozen=True, slots=True)
class Standing:
    """Where a blank stands."""

    key: str
    advice: str
    headline: str
    decision: str
    """What a person decided last; empty where nobody did."""
    orderable: tuple[str, ...]
    answers: Mapping[tuple[str, str], str]
    """Of each check that the advice rests on, by its key and what it is about."""


def standing_of(judged: Judged) -> Standing:
    """Return where a judged blank stands."""
    made = newest_decision(judged)
    answers = {
        (one.check, " ".join(part for part in (one.size, one.point, one.lot) if part)): str(
            one.answer
        )
        for one in judged.results
        if one.deciding
    }
    verdict = judged.verdict
    decided = f"{made['decision']}, {made['date']}, by {made['by']}" if made else ""
    key = judged.blank.style.key
    return Standing(key, str(verdict.advice), verdict.headline, decided, verdict.orderable, answers)


def fall(before: Standing | None, after: Standing | None) -> int:
    """Return by how many steps the advice got worse; most where the blank is gone, else 0."""
    order = [str(one) for one in Advice]
    if before is None:
        return 0
    now = order.index(after.advice) if after else len(order)
    return max(0, now - order.index(before.advice))


def load_side(root: Path, keys: Collection[str], *, whole: bool) -> Loaded:
    """Return one version of the ledger with the blanks of *keys* kept.

    With *whole*, the others are read for what they teach; else they are not read at all.
    """
    only = None if whole else keys
    return load_ledger(
        root,
        only=only,
        keep=lambda blank: blank.style.key in keys,
        gather=contribute,
        pictures=False,
    )


def standings(
    loaded: Loaded, taught_by: Mapping[str, Any], keys: Collection[str]
) -> dict[str, Standing]:
    """Return where each blank of *keys* stands, judged by what the whole version teaches.

    Every core judges its share.
    """
    ledger = loaded.ledger
    if ledger is None:
        return {}
    taught = learn(dict(taught_by), ledger.shop, ledger.studies)
    found = sorted(key for key in ledger.blanks if key in keys)

    def work(key: str) -> Standing:
        return standing_of(judge(ledger.blanks[key], ledger.shop, learned_of(taught[key])))

    made = in_processes(found, work, None, worth=len(found) > FORK_ABOVE)
    return {one.key: one for one in made}
