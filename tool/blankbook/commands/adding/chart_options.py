"""The flags that say how a size chart is to be read, alike wherever one is given."""

from typing import Annotated

import typer

SheetOption = Annotated[str | None, typer.Option(help="Which sheet of a spreadsheet.")]
UnitOption = Annotated[str | None, typer.Option(help="in, cm or mm: the chart's bare numbers.")]
PointOption = Annotated[
    list[str] | None,
    typer.Option(metavar="HEADING=POINT", help="What a heading means; =- leaves it out."),
]
AroundOption = Annotated[
    str | None, typer.Option(help="Points that the chart gives all the way around.")
]
FlatOption = Annotated[str | None, typer.Option(help="Points that it gives flat after all.")]
ToleranceOption = Annotated[
    list[str] | None, typer.Option(metavar="POINT=LENGTH", help="How far off a piece may be.")
]
GoodOption = Annotated[
    bool, typer.Option("--good-cells", help="Take what was understood, and only that.")
]
SourceOption = Annotated[str, typer.Option(help="Document, page and date of the chart.")]
