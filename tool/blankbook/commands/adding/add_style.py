"""The `add style` command: a style as a supplier claims it, with its size chart."""

from dataclasses import replace
from typing import Annotated

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
from blankbook.commands.adding.style_questions import ask_chart, ask_more
from blankbook.commands.adding.style_steps import (
    SCHEMA,
    NewOption,
    charted,
    day_of,
    finish,
    made_of,
    name_of,
    place_of,
    price_from,
    source_of,
    stops,
    with_tolerance,
)
from blankbook.commands.shared.errors import FINDINGS
from blankbook.commands.shared.kept_answers import KeptAnswers
from blankbook.commands.shared.ledger_root import LedgerOption, ledger_root
from blankbook.commands.shared.write_changes import DryRunOption, JsonOption, can_ask, says_data


@says_data(SCHEMA)
def style(
    blank: Annotated[str, typer.Argument(metavar="SUPPLIER/STYLE", help="What it is filed as.")],
    name: Annotated[str | None, typer.Option(help="What the supplier calls it.")] = None,
    colours: Annotated[str | None, typer.Option(help="Those you buy: black,white.")] = None,
    sizes: Annotated[
        str | None, typer.Option(help="From the smallest: S,M,L; the chart's when left out.")
    ] = None,
    chart: Annotated[
        str | None, typer.Option(metavar="FILE", help="The size chart: CSV, .xlsx, or - to paste.")
    ] = None,
    sheet: SheetOption = None,
    unit: UnitOption = None,
    point: PointOption = None,
    around: AroundOption = None,
    flat: FlatOption = None,
    tolerance: ToleranceOption = None,
    good: GoodOption = False,
    source: SourceOption = "",
    since: Annotated[
        str | None, typer.Option(help="From when chart and price hold, YYYY-MM-DD; today.")
    ] = None,
    price: Annotated[str, typer.Option(help="What one piece costs.")] = "",
    price_of: Annotated[
        list[str] | None, typer.Option(metavar="SIZE=PRICE", help="A size that costs more.")
    ] = None,
    currency: Annotated[str, typer.Option(help="ISO 4217 code, where it is not the shop's.")] = "",
    construction: Annotated[str, typer.Option(help="tube or side_seamed.")] = "",
    wearer: Annotated[str, typer.Option(help="adult or children.")] = "",
    neck_label: Annotated[str, typer.Option(help="sewn, tear_away, printed or none.")] = "",
    fibre: Annotated[str, typer.Option(help="Fibres and their percentages.")] = "",
    knit: Annotated[str, typer.Option(help="How the cloth is knitted.")] = "",
    mass: Annotated[str, typer.Option(help="With its unit: 6.1 oz/yd2, 205 g/m2.")] = "",
    called: Annotated[str, typer.Option(help="What clients see it as.")] = "",
    uses: Annotated[str, typer.Option(help="What you use it for: events,own label.")] = "",
    note: Annotated[str, typer.Option(help="Anything worth remembering.")] = "",
    new: NewOption = False,
    ledger: LedgerOption = None,
    dry: DryRunOption = False,
    as_json: JsonOption = False,
) -> int:
    """Add a style with its size chart; at a terminal the rest is asked where no flag says it."""
    root = ledger_root(ledger)
    path, day = place_of(root, blank), day_of(since)
    fields = {"name": name or "", "called": called, "construction": construction,
              "neck_label": neck_label, "wearer": wearer, "note": note}  # fmt: skip
    fabric = {"fibre": fibre, "knit": knit, "mass": mass}
    given = (*fields.values(), *fabric.values(), chart, sizes, colours, price)
    asks = can_ask() and not any(given)
    kept = KeptAnswers(root, f"style-{blank}", "style") if asks else None
    name_of(root, blank, fields, kept, new=new)
    hints = Given(chart or "", sheet, unit, point or (), around, flat)
    read = None
    if kept:
        price = ask_more(kept, fields, fabric)
        if found := ask_chart(kept, hints, tolerance or (), good=good):
            chart, read = found
    elif chart:
        read = chart_from(hints)
        with_tolerance(read, tolerance or ())
        if stops(read, blank, good=good, as_json=as_json):
            return FINDINGS
    cost = price_from(price, price_of or (), currency, day)
    made = made_of(blank, fields, fabric, (sizes, colours, uses), read, cost, kept)
    if read:
        made = replace(made, chart=charted(read, day, source or source_of(chart)))
    return finish(root, path, made, kept, asks=asks, dry=dry, as_json=as_json)
