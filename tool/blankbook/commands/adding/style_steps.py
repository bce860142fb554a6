"""What `add style` does, step by step: the name, the questions, the chart, the price, the file."""

import datetime
import re
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from blankbook.commands.adding.chart_input import STDIN, point_named
from blankbook.commands.shared.errors import CLEAN, WrongUse, shown
from blankbook.commands.shared.kept_answers import KeptAnswers
from blankbook.commands.shared.prompts import pairs, parts
from blankbook.commands.shared.write_changes import Write, ask, carry_out, tell

if TYPE_CHECKING:
    from blankbook.entry.charts.size_chart import SizeChart
    from blankbook.entry.new.claim_files import NewChart, NewPrice, NewStyle

SCHEMA = "blankbook/add-style/1"
_THOUSANDS = re.compile(r",\d{3}(?!\d)")
NewOption = Annotated[
    bool, typer.Option("--new", help="It is another one, however much alike the names are.")
]


def place_of(root: Path, blank: str) -> str:
    """Return where a new style's file goes. Raises: WrongUse."""
    from blankbook.commands.adding.known_names import must_be_free, must_be_name, suppliers_of
    from blankbook.entry.new.new_names import key_from_name, similar_key

    supplier, _, style = blank.partition("/")
    known = suppliers_of(root)
    if not style:
        remedy = f"write {shown(supplier)}/STYLE" if supplier in known else "write SUPPLIER/STYLE"
        raise WrongUse(f"must be SUPPLIER/STYLE, found {shown(blank)}", remedy)
    if supplier not in known:
        near = similar_key(key_from_name(supplier), known)
        remedy = f"did you mean {near}? or " if near else ""
        remedy += f"run blankbook add supplier '{shown(supplier)}'"
        raise WrongUse(f"no supplier called {shown(supplier)}", remedy)
    must_be_name(style, "STYLE")
    path = f"blanks/{blank}/style.yaml"
    must_be_free(root, path, "style")
    return path


def day_of(given: str | None) -> datetime.date:
    """Return a day, or today. Raises: WrongUse."""
    if given is None:
        return datetime.datetime.now().astimezone().date()
    from blankbook.text.schemas import is_date

    if not is_date(given):
        message = f"--since must be a day such as 2026-03-14, found {shown(given)}"
        raise WrongUse(message, "write it as YYYY-MM-DD")
    return datetime.date.fromisoformat(given)


def name_of(
    root: Path, blank: str, fields: dict[str, str], kept: KeptAnswers | None, *, new: bool
) -> None:
    """Fill in the style's name, and make sure that it is another one than those that are there.

    Raises: WrongUse.
    """
    from blankbook.commands.adding.known_names import compare, styles_of

    supplier, _, style = blank.partition("/")
    words = "what the supplier calls it"
    if kept and not fields["name"]:
        fields["name"] = kept.ask("name", words, ("name",), usual=style.upper())
    fields["name"] = fields["name"] or ask(words, "--name", style.upper())
    known = {key.partition("/")[2]: name for key, name in styles_of(root, supplier).items()}
    compare(style, fields["name"], known, new=new, slips=False)


def list_troubles(chart: "SizeChart") -> int:
    """List the cells that were not understood, and return how many there are."""
    for one in chart.remarks.troubles:
        help_ = f"\n    help: {shown(one.instead)}" if one.instead else ""
        text = f"{one.address} {one.text}".strip()
        typer.echo(f"{shown(text)}: {shown(one.why)}{help_}", err=True)
    return len(chart.remarks.troubles)


def with_tolerance(chart: "SizeChart", given: Iterable[str]) -> None:
    """Put tolerances that a person gives into a chart. Raises: WrongUse."""
    from blankbook.entry.charts.chart_cells import chart_length
    from blankbook.entry.charts.chart_tolerances import TOLERANCE_HELP
    from blankbook.records.lengths import LengthError, read_length, with_decimal_point

    for name, text in pairs(given, "--tolerance", "--tolerance half_chest=1/2").items():
        point = point_named("--tolerance", name)
        try:
            found = read_length(with_decimal_point(text), chart.unit)
        except LengthError as error:
            raise WrongUse(f"--tolerance {shown(error)}", shown(error.instead)) from None
        chart.tolerance[point] = chart_length(found.exact, found.unit, chart.unit)
        kept = [t for t in chart.remarks.troubles if t.instead != TOLERANCE_HELP]
        chart.remarks.troubles[:] = kept


def stops(
    chart: "SizeChart", blank: str, *, good: bool, as_json: bool, schema: str = SCHEMA
) -> bool:
    """Say whether something was not understood that nobody gave leave to drop; list it."""
    from blankbook.entry.charts.chart_summary import chart_as_data, summary_lines

    troubles = chart.remarks.troubles
    list_troubles(chart)
    if not chart.sizes:
        error = WrongUse("nothing of the chart was understood, so nothing was written")
        error.data = {"style": blank, "chart": chart_as_data(chart)}
        raise error
    if not troubles or good:
        return False
    lines = [*summary_lines(chart), *chart.remarks.notes]
    tell(
        schema,
        {"style": blank, "written": False, "chart": chart_as_data(chart), "difference": ""},
        shown_lines(lines),
        as_json=as_json,
    )
    count = "1 cell was" if len(troubles) == 1 else f"{len(troubles)} cells were"
    message = f"{count} not understood, so nothing was written"
    typer.echo(f"{message}\n    help: correct them, or write --good-cells", err=True)
    return True


def shown_lines(lines: Iterable[str]) -> str:
    """Return lines so that none of them plays tricks on a terminal."""
    return "\n".join(shown(line) for line in lines)


def price_from(
    each: str, sizes: Iterable[str], currency: str, day: datetime.date
) -> "NewPrice | None":
    """Return the price, or None where none is given. Raises: WrongUse."""
    from blankbook.entry.new.claim_files import NewPrice

    others = pairs(sizes, "--price-of", "--price-of 2XL=7.40")
    if not each:
        if others or currency:
            raise WrongUse("--price-of and --currency need the price itself", "write --price 6.10")
        return None
    others = {size: price_text(price) for size, price in others.items()}
    return NewPrice(day, price_text(each), currency, others)


def price_text(typed: str) -> str:
    """Return a price with a point; 1,234 may be thousands, and stays for the check to refuse."""
    from blankbook.records.lengths import with_decimal_point

    return typed if _THOUSANDS.search(typed) else with_decimal_point(typed)


def made_of(
    blank: str,
    fields: dict[str, str],
    fabric: dict[str, str],
    lists: tuple[str | None, str | None, str],
    chart: "SizeChart | None",
    price: "NewPrice | None",
    kept: KeptAnswers | None = None,
) -> "NewStyle":
    """Return the style; sizes come from the chart where they are not given. Raises: WrongUse."""
    from blankbook.entry.new.claim_files import NewStyle
    from blankbook.records.lengths import with_decimal_point

    sizes, colours, uses = lists
    fabric = {**fabric, "mass": with_decimal_point(fabric["mass"])}
    own = parts(sizes) or (list(chart.sizes) if chart else [])
    own = own or _list_of(kept, "sizes", "the sizes, from the smallest", "S,M,L or --chart FILE")
    bought = parts(colours) or _list_of(kept, "colours", "the colours that you buy", "black,white")
    return NewStyle(blank, fields, fabric, own, bought, parts(uses), price=price)


def _list_of(kept: KeptAnswers | None, key: str, words: str, example: str) -> list[str]:
    """Return a list that a person types with commas between, at least one. Raises: WrongUse."""
    if kept is None:
        return parts(ask(words, f"--{key} {example}"))
    while True:
        if found := parts(kept.ask(key, words, (key, 0), each=True)):
            return found
        typer.echo("must name at least one", err=True)


def source_of(chart: str | None) -> str:
    """Return what is said of where a chart comes from, where nobody says it."""
    today = datetime.datetime.now().astimezone().date()
    place = "size chart pasted" if chart in {None, STDIN} else f"{Path(chart or '').name} read"
    return f"{place} on {today}"


def charted(chart: "SizeChart", day: datetime.date, source: str) -> "NewChart":
    """Return a chart with its day and its source, which says what was halved."""
    from blankbook.entry.new.claim_files import NewChart
    from blankbook.words.points import POINTS

    halved = ", ".join(POINTS[point].name for point in chart.halved)
    also = f"; {halved} given all the way around, and halved here" if halved else ""
    return NewChart(chart, day, source + also)


def finish(
    root: Path,
    path: str,
    made: "NewStyle",
    kept: KeptAnswers | None,
    *,
    asks: bool,
    dry: bool,
    as_json: bool,
) -> int:
    """Show, prove and write the style, and say what to run next."""
    from blankbook.commands.adding.trial_check import prove
    from blankbook.commands.shared.find_blank import schema_of
    from blankbook.entry.charts.chart_summary import chart_as_data, summary_lines
    from blankbook.entry.new.claim_files import style_file

    chart = made.chart.chart if made.chart else None
    lines = [*summary_lines(chart), *chart.remarks.notes] if chart else []
    write = Write(path, None, style_file(made, schema_of(root, path, "style")).encode())
    prove(root, [write])
    if asks and chart:
        typer.echo(shown_lines(lines), err=True)
        if not typer.confirm("is that what the chart says?", default=True, err=True):
            remedy = "correct the chart, then run it again; your answers are offered"
            raise WrongUse("nothing was written", remedy)
    told = carry_out(root, [write], dry=dry)
    if kept and not dry:
        kept.forget()
    data = {"style": made.key, "path": path, "written": not dry, "difference": told,
            "chart": chart_as_data(chart) if chart else None}  # fmt: skip
    done = [told] if dry else [f"wrote {path}", *_cautions(made.fields)]
    done += [] if dry else [f"next: blankbook plan {made.key}"]
    text = "\n".join([*([] if asks else [shown_lines(lines)] if lines else []), *done])
    tell(SCHEMA, data, text, as_json=as_json)
    return CLEAN


def _cautions(fields: Mapping[str, str]) -> list[str]:
    from blankbook.words.garment_terms import CHILDREN_CAUTION, LABEL_CAUTION

    found = [CHILDREN_CAUTION] if fields["wearer"] == "children" else []
    return [*found, *([LABEL_CAUTION] if fields["neck_label"] == "tear_away" else [])]
