"""The size charts that clients get: which of them a change touches, and what changes in them."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from blankbook.records.lengths import in_centimetres, in_inches
from blankbook.words.points import POINTS

if TYPE_CHECKING:
    from blankbook.records.model import Shop
    from blankbook.results.client_sizes import ClientSizes
    from blankbook.results.result_types import Judged

BODY_CHEST = "body chest"
CellKey = tuple[str, str, str]
"""Size, measure and stage, as the chart names them."""


@dataclass(frozen=True, slots=True)
class ClientCell:
    """One cell of a chart for clients."""

    mm: float
    text: str
    """What the chart says, in both units."""
    source: str
    """Whether it was measured or claimed; empty for a body."""


@dataclass(frozen=True, slots=True)
class ClientView:
    """What clients see of a blank."""

    name: str
    """What the chart calls it."""
    cells: Mapping[CellKey, ClientCell]
    tolerances: Mapping[str, str]
    """By measure: inches, as the chart says them."""
    lines: Mapping[str, str]
    """By measure: along which line it runs, in words, where that was said."""


@dataclass(frozen=True, slots=True)
class ClientCellChange:
    """One cell that says something else; millimetres."""

    size: str
    measure: str
    stage: str
    old: float | None
    new: float | None
    texts: tuple[str, str]
    """What the chart says before and now; empty where it says nothing."""


@dataclass(frozen=True, slots=True)
class ClientChartChange:
    """One chart for clients before and now."""

    name: str
    before: bool
    """Whether clients saw it before."""
    after: bool
    """Whether clients see it now."""
    cells: tuple[ClientCellChange, ...]
    """The cells that say something else, the farthest first."""
    other_changes: tuple[str, ...]
    """What else clients see changed, in words."""

    @property
    def differs(self) -> bool:
        """Whether anything that clients see changes."""
        return self.before != self.after or bool(self.cells or self.other_changes)


def client_view(judged: "Judged") -> ClientView | None:
    """Return what clients see of a blank; None where they see nothing of it."""
    from blankbook.results import client_sizes
    from blankbook.results.comparable_lines import measuring_line

    if not client_sizes.may_be_shown(judged):
        return None
    sizes = client_sizes.client_sizes(judged)
    lines = {point: measuring_line(judged.blank, point) for point in sizes.points}
    return ClientView(
        client_sizes.client_name(judged),
        {**_garment_cells(sizes, judged.case.shop), **_body_cells(sizes, judged.case.shop)},
        {POINTS[point].name: in_inches(sizes.tolerance[point]) for point in sizes.points},
        {
            POINTS[point].name: POINTS[point].variant_meaning(line)
            for point, line in lines.items()
            if line
        },
    )


def _garment_cells(sizes: "ClientSizes", shop: "Shop") -> dict[CellKey, ClientCell]:
    from blankbook.results.client_sizes import client_rounding

    parts, step = client_rounding(shop)

    def cell(mm: float, source: str) -> ClientCell:
        text = _in_both(in_inches(mm, parts), in_centimetres(round(mm / step) * step))
        return ClientCell(round(mm, 2), text, source)

    found: dict[CellKey, ClientCell] = {}
    for measure in sizes.measures:
        name = POINTS[measure.point].name
        source = "measured" if measure.pieces else "the maker's claim"
        found[measure.size, name, "as received"] = cell(measure.mm, source)
        if measure.washed is not None:
            found[measure.size, name, "washed"] = cell(measure.washed, source)
    return found


def _body_cells(sizes: "ClientSizes", shop: "Shop") -> dict[CellKey, ClientCell]:
    from blankbook.results.client_sizes import chest_ranges

    found: dict[CellKey, ClientCell] = {}
    for size, ends in chest_ranges(sizes, shop.ease).items():
        inches = " to ".join(in_inches(mm, 2) for mm in ends)
        text = _in_both(inches, " to ".join(f"{mm / 10:.0f}" for mm in ends))
        found[size, BODY_CHEST, "suits"] = ClientCell(round(sum(ends) / 2, 2), text, "")
    return found


def _in_both(inches: str, centimetres: str) -> str:
    return f"{inches} in ({centimetres} cm)"


def client_chart_change(old: ClientView | None, new: ClientView | None) -> ClientChartChange | None:
    """Return what changes of a chart for clients; None where they never saw one."""
    shown = new or old
    if shown is None:
        return None
    if old is None or new is None:
        return ClientChartChange(shown.name, old is not None, new is not None, (), ())
    cells = []
    for at in (*new.cells, *(at for at in old.cells if at not in new.cells)):
        was, now = old.cells.get(at), new.cells.get(at)
        if was is None or now is None or was.text != now.text:
            texts = (was.text if was else "", now.text if now else "")
            lengths = (was.mm if was else None, now.mm if now else None)
            cells.append(ClientCellChange(*at, *lengths, texts))
    cells.sort(key=_nearness)
    return ClientChartChange(shown.name, True, True, tuple(cells), tuple(_other_changes(old, new)))


def _nearness(cell: ClientCellChange) -> float:
    """Return less for what moved farther; what came or went stands first."""
    if cell.old is None or cell.new is None:
        return float("-inf")
    return -abs(cell.new - cell.old)


def _other_changes(old: ClientView, new: ClientView) -> list[str]:
    found = []
    if old.name != new.name:
        found.append(f"called {new.name}, before {old.name}")
    for measure, now in new.tolerances.items():
        if (was := old.tolerances.get(measure, now)) != now:
            found.append(f"{measure}: tolerance {was} in → {now} in")
    for measure in {**old.lines, **new.lines}:
        was, now = old.lines.get(measure, "not said"), new.lines.get(measure, "not said")
        if was != now:
            found.append(f"{measure}: how it is measured: {was} → {now}")
    in_both = [at for at in new.cells if at in old.cells]
    changed = [at for at in in_both if old.cells[at].source != new.cells[at].source]
    if changed:
        found.append(f"known otherwise now, measured or claimed: {len(changed)} of {len(in_both)}")
    return found
