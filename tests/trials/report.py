"""The table of the simulation: what was promised, what was seen, and whether it holds."""

from collections.abc import Iterator, Mapping
from itertools import pairwise
from typing import Any

from blankbook.words.causes import CAUSES
from trials.scoring import BINS, SCALE, Tally

Row = dict[str, Any]
LEAST_CASES = 300
"""A bin with fewer cases says nothing about its chances."""
NEAR, NEAR_SHARE = 0.02, 0.2
"""How far a stated chance may be from how often it came true: whichever is more."""
RANKED = 0.9
"""How often the right cause must come first, of the rounds in which one told the spread puts it."""
DRAWN = ", spread drawn"
"""Ends the name of what was approved with a spread drawn as it is believed."""
KINDS = {"size": "size against chart", "step": "grade steps", "washing": "washing"}
CHANCES = {
    "cause": "causes",
    "tag": "tags",
    "size": "a size is sound",
    "step": "a step is sound",
    "inside": "share of pieces inside",
}


def row(group: str, what: str, promise: str, seen: float, cases: int, held: bool | None) -> Row:
    """Return a row as data; rows of one *group* stand together, and *held* is None unpromised."""
    return {
        "group": group,
        "what": what,
        "promise": promise,
        "seen": round(seen, 4),
        "cases": cases,
        "held": held,
    }


def rows(believed: Tally, outside: Mapping[str, Tally], approvals: Mapping[str, Tally],
         bad: Mapping[str, Tally]) -> list[Row]:  # fmt: skip
    """Return the table as data.

    *believed* holds styles with every cause by its weight, *outside* the same in other worlds;
    *approvals* sound styles by what was bought, and *bad* styles that must not be approved.
    """
    return [
        *_approved(approvals, bad),
        *_coverage(believed, outside),
        *_wrong(believed),
        *_calibration(believed),
        *_ranking(believed),
    ]


def operating(
    approvals: Mapping[str, Tally],
    bad: Mapping[str, Tally],
    between: Mapping[tuple[float, str], Tally],
) -> list[Row]:
    """Return the operating characteristic of the whole rule.

    That is how often a style is approved of which one size is off its chart at the body length by
    so many tolerances, by what was bought; its spread is drawn as it is believed.
    """
    found = [(0.0, name.removesuffix(DRAWN), tally) for name, tally in approvals.items()
             if name.endswith(DRAWN)]  # fmt: skip
    for what, off in (("size on the border: ", 1.0), ("size off by 1.5 tolerances: ", 1.5)):
        found += [(off, name.removeprefix(what), tally) for name, tally in bad.items()
                  if name.startswith(what)]  # fmt: skip
    found += [(off, name, tally) for (off, name), tally in between.items()]
    return [
        {"bought": name, "off": off, "approved": round(_share_approved(tally), 4),
         "cases": tally.counts["rounds"]}
        for off, name, tally in sorted(found, key=lambda row: (row[1], row[0]))
    ]  # fmt: skip


def _share_approved(tally: Tally) -> float:
    approved = tally.counts["style sound approved"] + tally.counts["style unsound approved"]
    return approved / tally.counts["rounds"]


def _approved(approvals: Mapping[str, Tally], bad: Mapping[str, Tally]) -> Iterator[Row]:
    for name, tally in approvals.items():
        seen = tally.share("style sound approved", "style sound")
        cases = tally.counts["style sound"]
        yield row(
            "approved, as it should be: just as charted", name, "no promise", seen, cases, None
        )
    for name, tally in bad.items():
        seen, cases = _share_approved(tally), tally.counts["rounds"]
        group = "approved, though it should not be"
        most = 0.1 if "border" in name else 0.01
        yield row(group, name, f"at most {most:g}", seen, cases, seen <= most)


def _coverage(believed: Tally, outside: Mapping[str, Tally]) -> Iterator[Row]:
    group = "one-sided 95 % limits that miss the truth"
    for name, tally, most in (
        ("as believed", believed, 0.06),
        *((name, tally, 0.09) for name, tally in outside.items()),
    ):
        for kind, title in KINDS.items():
            if cases := tally.counts[f"{kind} limits"]:
                seen = 1 - tally.share(f"{kind} limits held", f"{kind} limits")
                yield row(group, f"{title}, {name}", f"at most {most}", seen, cases, seen <= most)


def _wrong(tally: Tally) -> Iterator[Row]:
    sound = tally.counts["style sound"]
    seen = tally.share("style sound with a wrong fail", "style sound")
    yield row(
        "wrong answers", "any fails on a sound style", "at most 0.03", seen, sound, seen <= 0.03
    )
    untrue = sum(tally.counts[f"{kind} sound fails"] for kind in ("size", "step"))
    fails = untrue + sum(tally.counts[f"{kind} unsound fails"] for kind in ("size", "step"))
    seen = untrue / fails if fails else 0.0
    yield row("wrong answers", "of all fails, untrue", "at most 0.1", seen, fails, seen <= 0.1)
    for kind in ("size", "step"):
        seen, cases = (
            tally.share(f"{kind} unsound meets", f"{kind} unsound"),
            tally.counts[f"{kind} unsound"],
        )
        what = f"meets, though not sound: {KINDS[kind]}"
        yield row("wrong answers", what, "at most 0.1", seen, cases, seen <= 0.1)
    seen, cases = tally.share("tag wrong meets", "tag wrong"), tally.counts["tag wrong"]
    yield row("wrong answers", "meets, though the tag is wrong", "no promise", seen, cases, None)


def _calibration(tally: Tally) -> Iterator[Row]:
    for kind, title in CHANCES.items():
        for place, (low, high) in enumerate(pairwise(BINS)):
            cases = tally.counts[f"{kind} bin {place}"]
            if cases >= LEAST_CASES:
                stated = tally.counts[f"{kind} bin {place} stated"] / cases / SCALE
                seen = tally.counts[f"{kind} bin {place} came"] / cases / SCALE
                off = max(NEAR, NEAR_SHARE * min(stated, 1 - stated))
                what, promise = f"{low:g} to {high:g}", f"{stated:.3f} within {off:.3f}"
                held = abs(seen - stated) <= off
                yield row(f"chances as stated: {title}", what, promise, seen, cases, held)


def _ranking(tally: Tally) -> Iterator[Row]:
    for key, cause in CAUSES.items():
        told, cases = tally.counts[f"cause {key} told"], tally.counts[f"cause {key}"]
        if told >= 20:
            seen = tally.share(f"cause {key} first of told", f"cause {key} told")
            what = f"{cause.title}: told first in {told} of {cases}"
            group = "right cause first, where one told the spread puts it first"
            yield row(group, what, f"at least {RANKED}", seen, told, seen >= RANKED)
