"""The table of the simulation: what was promised, what was seen, and whether it holds."""

from collections.abc import Iterator, Sequence

from trials.missing import RANKS, WHERE_TOLD, Bought, missing_rows
from trials.rows import Row, row
from trials.scoring import Tally

LEAST_CASES = 200
"""A tenth with fewer cases says nothing about its probability."""
NEAR = 0.03
"""How far a stated probability may be from how often it was right."""

COVERED = "95 % limits cover the truth"
KINDS = {"size": "size against chart", "step": "grade steps", "washing": "washing"}
CHANCES = {"label": "labels", "cause": "causes"}


def rows(everything: Tally, missing: Sequence[Bought]) -> list[Row]:
    """Return the table as data: promise, what was seen, over how many cases, held or not.

    *missing* holds rounds in which one label has another's measure at one point.
    """
    return [
        *_coverage(everything),
        *_wrong(everything),
        *_calibration(everything),
        *_ranking(everything),
        *(row for bought in missing for row in missing_rows(bought)),
    ]


def _coverage(tally: Tally) -> Iterator[Row]:
    for key, title in KINDS.items():
        seen = tally.share(f"{key} limits held", f"{key} limits")
        cases = tally.counts[f"{key} limits"]
        yield row(COVERED, title, "0.94 to 0.96", seen, cases, 0.94 <= seen <= 0.96)


def _wrong(tally: Tally) -> Iterator[Row]:
    for state, answer in (("sound", "fails"), ("unsound", "meets")):
        for key, title in KINDS.items():
            seen = tally.share(f"{key} {state} {answer}", f"{key} {state}")
            cases = tally.counts[f"{key} {state}"]
            yield row(f"wrongly answers {answer}", title, "at most 0.05", seen, cases, seen <= 0.05)


def _calibration(tally: Tally) -> Iterator[Row]:
    for key, title in CHANCES.items():
        for tenth in range(10):
            cases = tally.counts[f"{key} tenth {tenth}"]
            if cases < LEAST_CASES:
                continue
            stated = tally.counts[f"{key} tenth {tenth} stated"] / cases / 1_000_000
            seen = tally.share(f"{key} tenth {tenth} right", f"{key} tenth {tenth}")
            what = f"stated as {tenth / 10:.1f} to {(tenth + 1) / 10:.1f}"
            promise = f"{stated:.3f} within {NEAR}"
            yield row(f"chances of {title}", what, promise, seen, cases, abs(seen - stated) <= NEAR)


def _ranking(tally: Tally) -> Iterator[Row]:
    """Yield how often the right cause ranks first, over all causes as common as believed."""
    whole, told = "cause ranked", "cause first when told"
    best = tally.share(told, whole)
    group = "causes as common as believed"
    what = "the right one ranks first"
    seen = tally.share("cause first", whole)
    yield row(group, what, "no promise", seen, tally.counts[whole], None, bound=best)
    seen = tally.share("cause first both", told)
    yield row(group, WHERE_TOLD, f"at least {RANKS}", seen, tally.counts[told], seen >= RANKS)
