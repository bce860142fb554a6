"""The size charts that clients get: which of them a change touches, and what changes in them."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from blankbook.records.lengths import in_centimetres, in_inches
from blankbook.words.points import POINTS

if TYPE_CHECKING:
    from blankbook.results.result_types import Judged

BODY = "body chest"
Seen = Mapping[str, Any]
"""What clients see of a blank, as JSON data: what it is called, its cells, and how it is measured.

A cell is under ``size / measure / stage``: millimetres, inches and centimetres as the chart rounds
them, and where known from.
"""


@dataclass(frozen=True, slots=True)
class CellMoved:
    """One cell of a chart for clients; millimetres."""

    size: str
    measure: str
    stage: str
    old: float | None
    new: float | None
    shown: tuple[str, str]
    """What the chart says before and now, in both units; empty where it said nothing."""


@dataclass(frozen=True, slots=True)
class ClientsMoved:
    """One chart for clients before and now."""

    called: str
    before: bool
    """Whether clients saw it before."""
    after: bool
    cells: tuple[CellMoved, ...]
    """What they see otherwise, the farthest first."""
    otherwise: tuple[str, ...]
    """What else they see otherwise, in words."""

    @property
    def differs(self) -> bool:
        """Whether clients see anything otherwise."""
        return self.before != self.after or bool(self.cells or self.otherwise)


def seen_by_clients(judged: "Judged") -> dict[str, Any] | None:
    """Return what clients see of a blank; None where they see nothing of it."""
    from blankbook.results import client_sizes as shown
    from blankbook.results.comparable_lines import measuring_line

    if not shown.may_be_shown(judged):
        return None
    known, shop = shown.client_sizes(judged), judged.case.shop
    parts, step = shown.client_rounding(shop)
    cells: dict[str, list[Any]] = {}

    def put(at: tuple[str, str, str], mm: float, shown: tuple[str, str], from_: str) -> None:
        cells[" / ".join(at)] = [round(mm, 2), *shown, from_]

    def rounded(mm: float) -> tuple[str, str]:
        return in_inches(mm, parts), in_centimetres(round(mm / step) * step)

    for one in known.measures:
        name, from_ = POINTS[one.point].name, "measured" if one.pieces else "the maker's claim"
        put((one.size, name, "as received"), one.mm, rounded(one.mm), from_)
        if one.washed is not None:
            put((one.size, name, "washed"), one.washed, rounded(one.washed), from_)
    for size in known.sizes:
        chest = known.at(size, "half_chest")
        if chest and (body := shown.body_chest(chest.mm, shop.ease)):
            put((size, BODY, "suits about"), body, (in_inches(body, 2), f"{body / 10:.0f}"), "")
    ways = {point: measuring_line(judged.blank, point) for point in known.points}
    return {
        "called": shown.client_name(judged.blank.style),
        "cells": cells,
        "allowed": {POINTS[p].name: in_inches(known.tolerance[p]) for p in known.points},
        "how": {POINTS[p].name: POINTS[p].variant_meaning(way) for p, way in ways.items() if way},
    }


def clients_moved(old: Seen | None, new: Seen | None) -> ClientsMoved | None:
    """Return what changes of a chart for clients; None where they never saw one."""
    shown = new or old
    if shown is None:
        return None
    if old is None or new is None:
        return ClientsMoved(shown["called"], old is not None, new is not None, (), ())
    cells = []
    for at in (*new["cells"], *(at for at in old["cells"] if at not in new["cells"])):
        was, now = old["cells"].get(at), new["cells"].get(at)
        if was is None or now is None or was[1:3] != now[1:3]:
            size, measure, stage = at.split(" / ")
            ends = [None if one is None else one[0] for one in (was, now)]
            texts = [f"{one[1]} in ({one[2]} cm)" if one else "" for one in (was, now)]
            cells.append(CellMoved(size, measure, stage, ends[0], ends[1], (texts[0], texts[1])))
    cells.sort(key=_nearness)
    return ClientsMoved(shown["called"], True, True, tuple(cells), tuple(_otherwise(old, new)))


def _nearness(one: CellMoved) -> float:
    """Return less for what moved farther; what came or went stands first."""
    return float("-inf") if one.old is None or one.new is None else -abs(one.new - one.old)


def _otherwise(old: Seen, new: Seen) -> list[str]:
    found = []
    if old["called"] != new["called"]:
        found.append(f"called {new['called']}, before {old['called']}")
    for name, now in new["allowed"].items():
        if (was := old["allowed"].get(name, now)) != now:
            found.append(f"{name}: tolerance {was} in → {now} in")
    for name in {**old["how"], **new["how"]}:
        was, now = old["how"].get(name, "not said"), new["how"].get(name, "not said")
        if was != now:
            found.append(f"{name}: how it is measured: {was} → {now}")
    sources = {at: (old["cells"][at][3], one[3]) for at, one in new["cells"].items()
               if at in old["cells"]}  # fmt: skip
    changed = [at for at, (was, now) in sources.items() if was != now]
    if changed:
        found.append(f"known otherwise now, measured or claimed: {len(changed)} of {len(sources)}")
    return found
