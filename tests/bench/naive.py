"""The site as one would build it without a thought for time: ``python naive.py LEDGER OUT``.

Every file goes through a round-trip parser and a validator that is set up anew for it; five charts
a blank are drawn with pyplot and a layout engine, one by one, as PNG; the pages are Markdown, built
by MkDocs with a theme of its own. Where a setting makes MkDocs slow (its search, a navigation that
names every page), the quicker one is taken. It judges nothing. Frozen, so that figures of different
days can be compared.
"""

import json
import statistics
import sys
from collections.abc import Iterable, Mapping
from fractions import Fraction
from pathlib import Path
from typing import Any

import jsonschema
import matplotlib as mpl
import naive_schema
from mkdocs.commands.build import build
from mkdocs.config import load_config
from ruamel.yaml import YAML

mpl.use("Agg")
from matplotlib import pyplot as plt

Readings = Mapping[str, Any]
CHARTS = ("width", "length", "steps", "washing", "pieces")


def load(place: Path) -> Any:
    """Return one file as plain data, valid by its schema."""
    read = YAML().load(place.read_text(encoding="utf-8"))
    data = json.loads(json.dumps(read, default=str))
    in_blank = "blanks" in place.parts
    schema = naive_schema.OTHER
    if in_blank:
        schema = naive_schema.STYLE if place.name == "style.yaml" else naive_schema.ROUND
    jsonschema.validate(data, schema)
    return data


def inches(written: Any) -> float:
    """Return a length as a number."""
    return float(sum(Fraction(part) for part in str(written).split()))


def mean(rounds: Iterable[Any], size: str, point: str) -> list[float]:
    """Return all readings of one point at one size, as received."""
    return [
        inches(piece["received"][point])
        for round_ in rounds
        for piece in round_["pieces"]
        if piece["size"] == size and point in piece["received"]
    ]


def bars(
    place: Path, names: list[str], title: str, measured: list[float], charted: list[float]
) -> None:
    """Draw two series side by side."""
    fig, axes = plt.subplots(figsize=(6, 3.2))
    at = range(len(names))
    axes.bar([x - 0.2 for x in at], measured, 0.4, yerr=[0.125] * len(measured), label="measured")
    axes.bar([x + 0.2 for x in at], charted, 0.4, label="chart")
    axes.set_xticks(list(at), names)
    axes.set_title(title)
    axes.set_ylabel("in")
    axes.legend()
    fig.tight_layout()
    fig.savefig(place, dpi=100)
    plt.close(fig)


def draw(folder: Path, style: Any, rounds: list[Any]) -> None:
    """Draw the five charts of one blank."""
    folder.mkdir(parents=True)
    sizes, chart = style["sizes"], style["charts"][-1]["sizes"]
    for name, point in (("width", "half_chest"), ("length", "body_length")):
        found = [statistics.mean(mean(rounds, size, point)) for size in sizes]
        said = [inches(chart[size][point]) for size in sizes]
        bars(folder / f"{name}.png", sizes, point, found, said)
    points = list(chart[sizes[0]])
    low, high = sizes[0], sizes[-1]
    grown = [
        statistics.mean(mean(rounds, high, p)) - statistics.mean(mean(rounds, low, p))
        for p in points
    ]
    said = [inches(chart[high][p]) - inches(chart[low][p]) for p in points]
    bars(folder / "steps.png", points, "growth", grown, said)
    once, often = ([change(rounds, point, at) for point in points] for at in (0, -1))
    bars(folder / "washing.png", points, "change in washing", once, often)
    firsts = [mean(rounds, size, "half_chest")[0] for size in sizes]
    lasts = [mean(rounds, size, "half_chest")[-1] for size in sizes]
    bars(folder / "pieces.png", sizes, "first and last piece", firsts, lasts)


def change(rounds: list[Any], point: str, at: int) -> float:
    """Return the mean change of a point after one of the washes, in per cent."""
    return 100 * statistics.mean(
        inches(piece["washed"][at][point]) / inches(piece["received"][point]) - 1
        for round_ in rounds
        for piece in round_["pieces"]
    )


def page(style: Any, rounds: list[Any]) -> str:
    """Return a blank's page as Markdown."""
    points = list(style["charts"][-1]["sizes"][style["sizes"][0]])
    lines = [f"# {style['name']}", "", f"*{style['style']}*", ""]
    lines += [f"![{chart}](charts/{chart}.png)\n" for chart in CHARTS]
    for round_ in rounds:
        lines += [
            f"## {round_['date']}",
            "",
            f"Lot {round_['lot']}, measured by {round_['by']}.",
            "",
        ]
        lines += ["| piece | " + " | ".join(points) + " |", "|---" * (len(points) + 1) + "|"]
        for piece in round_["pieces"]:
            stages = [("", piece["received"])]
            stages += [(f" after {w['cycles']}", w) for w in piece["washed"]]
            for stage, cells in stages:
                row = " | ".join(str(cells.get(point, "")) for point in points)
                lines.append(f"| {piece['piece']}{stage} | {row} |")
        lines.append("")
    return "\n".join(lines)


def main(root: Path, out: Path) -> None:
    """Build the site of the ledger at *root* into the new folder *out*."""
    docs = out / "docs"
    docs.mkdir(parents=True)
    load(root / "shop.yaml")
    suppliers = [load(place) for place in sorted((root / "suppliers").glob("*.yaml"))]
    rows = []
    for place in sorted(root.glob("blanks/*/*/style.yaml")):
        style = load(place)
        rounds = [load(path) for path in sorted(place.parent.glob("2*.yaml"))]
        folder = docs / style["style"]
        draw(folder / "charts", style, rounds)
        (folder / "index.md").write_text(page(style, rounds), encoding="utf-8")
        rows.append(f"| [{style['name']}]({style['style']}/index.md) | {len(rounds)} |")
    head = ["# Blanks", "", "| blank | rounds |", "|---|---|"]
    (docs / "index.md").write_text("\n".join(head + rows), encoding="utf-8")
    names = [f"- {supplier['name']}" for supplier in suppliers]
    (docs / "suppliers.md").write_text("\n".join(["# Suppliers", "", *names]), encoding="utf-8")
    settings = {
        "site_name": "Naive",
        "docs_dir": str(docs),
        "site_dir": str(out / "site"),
        "plugins": [],
        "nav": [{"Blanks": "index.md"}, {"Suppliers": "suppliers.md"}],
        "validation": {"nav": {"omitted_files": "ignore"}},
    }
    (out / "mkdocs.yml").write_text(json.dumps(settings), encoding="utf-8")
    build(load_config(str(out / "mkdocs.yml")))


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
