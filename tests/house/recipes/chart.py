"""How many pieces of each colour were measured, as a chart that nobody has drawn."""

from house.recipes.invented import Addition, Invented, in_map, in_tool

DATA = '''\
@dataclass(frozen=True, slots=True)
class ColourCountsData:
    """How many pieces of each colour were measured."""

    colours: tuple[str, ...]
    counts: tuple[int, ...]


'''

CHART = '''\
"""What the chart of the colours shows."""

from collections import Counter

from blankbook.pages.charts.chart_data import blank_chart
from blankbook.pages.charts.chart_types import ColourCountsData
from blankbook.pages.page_spec import ChartSpec
from blankbook.results.result_types import Judged


def colour_counts_chart(judged: Judged) -> ChartSpec[ColourCountsData] | None:
    """Return how many pieces of each colour were measured; None where there is no round."""
    if judged.case.round is None:
        return None
    counts = sorted(Counter(piece.colour for piece in judged.case.round.pieces).items())
    data = ColourCountsData(tuple(name for name, _ in counts), tuple(count for _, count in counts))
    words = ", ".join(f"{count} {name}" for name, count in counts)
    return blank_chart(judged, "colour-counts", data, f"Pieces by colour: {words}.", 120)
'''

DRAWING = '''\
"""The drawing of the colours: a bar for each."""

from blankbook.pages.charts.chart_types import ColourCountsData
from blankbook.pages.draw.canvas import Canvas


def draw_colour_counts(canvas: Canvas, data: ColourCountsData) -> None:
    """Draw a bar for each colour, as long as it has pieces."""
    for row, (colour, count) in enumerate(zip(data.colours, data.counts, strict=True)):
        level = 14.0 + 20 * row
        canvas.text(4, level, colour)
        canvas.lines([[(120.0, level), (120.0 + 8 * count, level)]], role="blue", width=6.0)
'''

CHARTS = "blankbook.pages.charts"
EMPTY = "tests/pages/charts/test_empty.py"

COLOUR_COUNTS = Invented(
    name="colour_counts",
    additions=(
        in_tool("pages/charts/chart_types.py", DATA, "ChartData: TypeAlias"),
        in_tool(
            "pages/charts/chart_types.py",
            "    | ColourCountsData\n",
            ")  # fmt: skip",
            "ChartData: TypeAlias",
        ),
        in_tool("pages/charts/colour_counts_chart.py", CHART),
        in_map("pages/charts", "- `colour_counts_chart`: pieces by colour"),
        in_tool(
            "pages/charts/all_charts.py",
            f"from {CHARTS}.colour_counts_chart import colour_counts_chart\n",
            f"from {CHARTS}.guide_chart",
        ),
        in_tool("pages/charts/all_charts.py", '    "colour_counts_chart",\n', '    "guide_chart"'),
        in_tool(
            "pages/blank/blank_page.py",
            '        "mix_up": ((), _made(judged, all_charts.colour_counts_chart)),\n',
            "    }",
            "def _charts",
        ),
        in_tool("pages/draw/draw_colour_counts.py", DRAWING),
        in_map("pages/draw", "- `draw_colour_counts`: pieces by colour"),
        in_tool("pages/draw/drawings.py", "    ColourCountsData,\n", "    GuideData,"),
        in_tool(
            "pages/draw/drawings.py",
            "from blankbook.pages.draw.draw_colour_counts import draw_colour_counts\n",
            "from blankbook.pages.draw.draw_ladder",
        ),
        in_tool(
            "pages/draw/drawings.py",
            "        case ColourCountsData():\n            draw_colour_counts(canvas, data)\n",
            "        case _:",
        ),
        Addition(EMPTY, "    ColourCountsData,\n", "    GuideData,"),
        Addition(EMPTY, '    "colour counts": ColourCountsData((), ()),\n', "}", "EMPTY: "),
    ),
    tests=("tests/pages/charts",),
    arguments=("build", "--out", "site"),
    shows={
        "site/charts/tarn-thrush/h6.colour-counts.svg": "Pieces by colour: 2 black.",
        "site/blanks/tarn-thrush/h6.html": "h6.colour-counts.svg",
    },
)
