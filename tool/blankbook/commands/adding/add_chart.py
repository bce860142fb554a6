"""The `add chart` command: a supplier's newer size chart, behind the one that it follows."""

import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from blankbook.commands.adding.chart_input import Given, chart_from
from blankbook.commands.adding.chart_options import (
    AroundOption,
    FlatOption,
    GoodOption,
    PointOption,
    SheetOption,
    SourceOption,
    ToleranceOption,
    UnitOption,
)
from blankbook.commands.adding.style_steps import (
    charted,
    day_of,
    shown_lines,
    source_of,
    stops,
    with_tolerance,
)
from blankbook.commands.shared.completion import blanks
from blankbook.commands.shared.errors import CLEAN, FINDINGS, BlankbookError, WrongUse
from blankbook.commands.shared.ledger_root import LedgerOption, ledger_root
from blankbook.commands.shared.prompts import ask_for
from blankbook.commands.shared.write_changes import (
    DryRunOption,
    JsonOption,
    Write,
    can_ask,
    carry_out,
    edited,
    says_data,
    tell,
)

if TYPE_CHECKING:
    from blankbook.entry.charts.size_chart import SizeChart
    from blankbook.entry.new.claim_files import NewChart
    from blankbook.history.moved.chart_changes import ChartChange
    from blankbook.records.model import Blank, Shop, Style

SCHEMA = "blankbook/add-chart/1"


@says_data(SCHEMA)
def chart(
    blank: Annotated[
        str,
        typer.Argument(
            metavar="SUPPLIER/STYLE", help="The style that it is of.", autocompletion=blanks
        ),
    ],
    given: Annotated[
        str, typer.Option("--chart", metavar="FILE", help="CSV, .xlsx, or - to paste.")
    ] = "-",
    as_measured: Annotated[
        bool,
        typer.Option("--as-measured", help="Take the sizes of the round that you approved."),
    ] = False,
    sheet: SheetOption = None,
    unit: UnitOption = None,
    point: PointOption = None,
    around: AroundOption = None,
    flat: FlatOption = None,
    tolerance: ToleranceOption = None,
    good: GoodOption = False,
    source: SourceOption = "",
    since: Annotated[
        str | None, typer.Option(help="From when it holds, YYYY-MM-DD; today.")
    ] = None,
    ledger: LedgerOption = None,
    dry: DryRunOption = False,
    as_json: JsonOption = False,
) -> int:
    """Add a newer size chart to a style, and say what it moves; the older one stays for its time.

    What was bought before is still judged by the chart that held then. Where the supplier has no
    chart, --as-measured makes the approved round the shop's own.
    """
    root = ledger_root(ledger)
    owner, shop = _blank(root, blank)
    style, older = owner.style, _uncharted_day(owner)
    day = day_of(_since(older) if since is None and older and can_ask() else since)
    if style.charts and style.charts[-1].since >= day:
        message = f"{blank} has a chart since {style.charts[-1].since}, found --since {day}"
        raise WrongUse(message, "a chart that is older goes into the file by hand")
    if as_measured:
        if given != "-" or any((sheet, unit, point, around, flat)):
            raise WrongUse("--as-measured reads no chart", "leave out what says how to read one")
        read, own = _own_chart(owner)
    else:
        read, own = chart_from(Given(given, sheet, unit, point or (), around, flat)), ""
    with_tolerance(read, tolerance or ())
    if stops(read, blank, good=good, as_json=as_json, schema=SCHEMA):
        return FINDINGS
    new = charted(read, day, source or own or source_of(given))
    write = _with_chart(root, style, new)
    change = _change(root, style, shop, write)
    if older and older < day and not own:
        words = f"pieces bought on {older} are older than this chart; --since {older} if it held"
        new.chart.remarks.notes.append(words)
    return _finish(root, blank, new, write, change, shop, dry=dry, as_json=as_json)


def _own_chart(owner: "Blank") -> "tuple[SizeChart, str]":
    """Return the sizes of the approved round, and where they are from. Raises: WrongUse."""
    from blankbook.entry.charts.own_chart import approved_round, own_chart

    if owner.style.charts:
        raise WrongUse("--as-measured is for a style without a chart", "leave it out")
    if (round_ := approved_round(owner)) is None:
        remedy = f"run blankbook enter {owner.style.key} --decide approved"
        raise WrongUse("no round of it was approved yet", remedy)
    return own_chart(owner, round_), f"our own, as measured on {round_.date}, lot {round_.lot}"


def _uncharted_day(owner: "Blank") -> datetime.date | None:
    """Return the day that the first chart must hold from to judge every round, or None."""
    days = [round_.chart_day for round_ in owner.rounds]
    return min(days, default=None) if not owner.style.charts else None


def _since(older: datetime.date) -> str:
    """Ask since when a chart holds, where a round was bought before there was one."""
    words = f"since when it holds; pieces bought on {older} have no chart"
    return ask_for(words, "--since", "style", ("charts", 0, "since"), older.isoformat())


def _blank(root: Path, blank: str) -> "tuple[Blank, Shop]":
    from blankbook.commands.shared.find_blank import CHECK, missing
    from blankbook.records.load_ledger import load_ledger

    loaded = load_ledger(root, only={blank}, pictures=False)
    if loaded.ledger is None:
        raise BlankbookError("shop.yaml has faults", CHECK)
    if blank not in loaded.ledger.blanks:
        raise missing(loaded, blank)
    return loaded.ledger.blanks[blank], loaded.ledger.shop


def _with_chart(root: Path, style: "Style", new: "NewChart") -> Write:
    from blankbook.entry.new.claim_files import chart_yaml_lines
    from blankbook.text.writing.edits import CannotEditError, add_item

    path = style.source.path
    old = (root / path).read_bytes()
    try:
        return Write(path, old, add_item(old, ("charts",), "\n".join(chart_yaml_lines(new))))
    except CannotEditError as error:
        raise edited(error, path) from None


def _change(root: Path, style: "Style", shop: "Shop", write: Write) -> "ChartChange | None":
    """Return what the newer chart moves, once it is proved to be without a fault."""
    from blankbook.commands.adding.trial_check import prove, would_be
    from blankbook.history.moved.chart_changes import chart_changes

    prove(root, [write])
    tried = would_be(root, [write]).ledger
    assert tried
    return next(chart_changes(style, tried.blanks[style.key].style, shop), None)


def _finish(
    root: Path,
    blank: str,
    new: "NewChart",
    write: Write,
    change: "ChartChange | None",
    shop: "Shop",
    *,
    dry: bool,
    as_json: bool,
) -> int:
    """Show the chart and what it moves, write it, and say what to run next."""
    from blankbook.entry.charts.chart_summary import chart_as_data, summary_lines

    lines = [*summary_lines(new.chart), *new.chart.remarks.notes, *_moves(change, shop)]
    asks = can_ask()
    if asks:
        typer.echo(shown_lines(lines), err=True)
        if not typer.confirm("is that what the chart says?", default=True, err=True):
            raise WrongUse("nothing was written", "correct the chart, then run it again")
    told = carry_out(root, [write], dry=dry)
    data = {"style": blank, "path": write.path, "written": not dry, "difference": told,
            "chart": chart_as_data(new.chart), "moved": _data(change),
            "suspicions": list(change.suspicions) if change else []}  # fmt: skip
    done = [told] if dry else [f"wrote {write.path}", "next: blankbook changes"]
    tell(SCHEMA, data, "\n".join([*([] if asks else [shown_lines(lines)]), *done]), as_json=as_json)
    return CLEAN


def _moves(change: "ChartChange | None", shop: "Shop") -> list[str]:
    from blankbook.records.lengths import say_length, say_length_change
    from blankbook.words.points import POINTS

    if change is None:
        return ["the first chart of the style"]
    lines = [] if change.cells else ["nothing moved against the chart before it"]
    for kind in (change.cells, change.steps):
        for one in kind:
            old, new = (say_length(float(mm), shop.unit) for mm in (one.old, one.new))
            moved = f"{old} to {new}"
            past = ", past the tolerance" if one.past_tolerance else ""
            by = say_length_change(float(one.by), shop.unit)
            lines.append(f"moved: {POINTS[one.point].name}, {one.size}: {moved}, {by}{past}")
    return [*lines, *(f"look again: {says}" for says in change.suspicions)]


def _data(change: "ChartChange | None") -> list[dict[str, object]]:
    return [
        {"point": one.point, "size": one.size, "old_mm": float(one.old), "new_mm": float(one.new),
         "past_tolerance": one.past_tolerance}
        for one in (change.cells if change else ())
    ]  # fmt: skip
