"""The table of the simulation: what was promised, what was seen, and whether it holds."""

from collections.abc import Iterator
from typing import Any

from blankbook.trials.scoring import Tally

LEAST_CASES = 200
"""A tenth with fewer cases says nothing about its probability."""
NEAR = 0.03
"""How far a stated probability may be from how often it was right."""

KINDS = {"size": "size against chart", "step": "grade steps", "washing": "washing"}
CHANCES = {"label": "labels", "cause": "causes"}


def rows(everything: Tally, missing: dict[str, Tally]) -> list[dict[str, Any]]:
    """Return the table as data: promise, what was seen, over how many cases, held or not.

    *missing* holds, by purchase, rounds in which one label has another's measure at one point.
    """
    return [
        *_coverage(everything),
        *_wrong(everything),
        *_calibration(everything),
        *(row for purchase, tally in missing.items() for row in _found(purchase, tally)),
    ]


def _row(what: str, promise: str, seen: float, cases: int, held: bool | None) -> dict[str, Any]:
    return {"what": what, "promise": promise, "seen": round(seen, 4), "cases": cases, "held": held}


def _coverage(tally: Tally) -> Iterator[dict[str, Any]]:
    for key, title in KINDS.items():
        seen = tally.share(f"{key} limits held", f"{key} limits")
        cases = tally.counts[f"{key} limits"]
        what = f"95 % limits cover the truth: {title}"
        yield _row(what, "0.94 to 0.96", seen, cases, 0.94 <= seen <= 0.96)


def _wrong(tally: Tally) -> Iterator[dict[str, Any]]:
    for key, title in KINDS.items():
        for state, answer in (("sound", "fails"), ("unsound", "meets")):
            seen = tally.share(f"{key} {state} {answer}", f"{key} {state}")
            cases = tally.counts[f"{key} {state}"]
            what = f"wrongly answers {answer}: {title}"
            yield _row(what, "at most 0.05", seen, cases, seen <= 0.05)


def _calibration(tally: Tally) -> Iterator[dict[str, Any]]:
    for key, title in CHANCES.items():
        for tenth in range(10):
            cases = tally.counts[f"{key} tenth {tenth}"]
            if cases < LEAST_CASES:
                continue
            stated = tally.counts[f"{key} tenth {tenth} stated"] / cases / 1_000_000
            seen = tally.share(f"{key} tenth {tenth} right", f"{key} tenth {tenth}")
            what = f"chances of {title} stated as {tenth / 10:.1f} to {(tenth + 1) / 10:.1f}"
            promise = f"{stated:.3f} within {NEAR}"
            yield _row(what, promise, seen, cases, abs(seen - stated) <= NEAR)


def _found(purchase: str, tally: Tally) -> Iterator[dict[str, Any]]:
    points = ("half_chest", "body_length", "sleeve_length")
    for point in points:
        cases = tally.counts[f"missing {point}"]
        if not cases:
            continue
        name = point.replace("_", " ")
        least = 0.90 if purchase.startswith("1 piece") else 0.97
        for way, label in (
            ("by limits", "its limits show it"),
            ("either way", "that or its cause"),
        ):
            seen = tally.share(f"missing {point} {way}", f"missing {point}")
            what = f"missing step found, {name}, {purchase}: {label}"
            held = seen >= least
            yield _row(what, f"at least {least}", seen, cases, held)
        seen = tally.share(f"missing {point} by cause", f"missing {point}")
        what = f"right cause ranks first, {name}, {purchase}"
        yield _row(what, "at least 0.9", seen, cases, seen >= 0.9)
