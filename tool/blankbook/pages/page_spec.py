"""What a page and a chart show, as plain data: all that drawing and rendering may look at.

A spec is JSON-able, so that its canonical text can be hashed: the same spec, drawn by the same
code, is the same file, and need not be drawn again.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Generic, TypeAlias, TypeVar

from blankbook.pages.charts.chart_types import ChartData

Json: TypeAlias = "bool | int | float | str | list[Json] | dict[str, Json] | None"


Shown_co = TypeVar("Shown_co", bound=ChartData, covariant=True)


@dataclass(frozen=True, slots=True)
class ChartSpec(Generic[Shown_co]):
    """One chart: drawn from ``data`` alone, whose type says which drawing it is."""

    path: str
    """Where the SVG goes, relative to the site: ``charts/tarn-thrush/h6.sizes.svg``."""
    data: Shown_co
    alt: str
    """The text alternative, made from the same numbers."""
    width: int
    """CSS pixels."""
    height: int


AnyChart: TypeAlias = ChartSpec[ChartData]


@dataclass(frozen=True, slots=True)
class FileSpec:
    """A file that stands beside the pages, as it is: data for a script, or to be taken along."""

    path: str
    """Relative to the site: ``data/words.js``."""
    text: str


@dataclass(frozen=True, slots=True)
class PageSpec:
    """One page: the template rendered with ``context`` alone (which names its charts)."""

    path: str
    """Relative to the site: ``blanks/tarn-thrush/h6.html``."""
    title: str
    template: str
    context: Mapping[str, Json]
    charts: tuple[AnyChart, ...] = ()
    files: tuple[FileSpec, ...] = ()
    feed: str = ""
    """The feed that a reader program shall find on this page, relative to the site."""
