"""What a page and a chart show, as frozen values: all that drawing and rendering may look at.

The build hashes all of it. The same spec, drawn by the same code, is the same file, and need not be
drawn again.
"""

from dataclasses import dataclass
from typing import Any, ClassVar, Generic, Protocol, TypeAlias, TypeVar

from blankbook.pages.charts.chart_types import ChartData
from blankbook.pages.record_sources import RecordSource


class TemplateContext(Protocol):
    """What a template may show: a dataclass, each field of which it knows by its name."""

    __dataclass_fields__: ClassVar[dict[str, Any]]


class PageContext(TemplateContext, Protocol):
    """What the template of a page may show."""

    @property
    def up(self) -> str:
        """The way from the page to the root of the site: ``../../``."""


Data_co = TypeVar("Data_co", bound=ChartData, covariant=True)
Context_co = TypeVar("Context_co", bound=PageContext, covariant=True)


@dataclass(frozen=True, slots=True)
class ChartSpec(Generic[Data_co]):
    """One chart: drawn from ``data`` alone, whose type says which drawing it is."""

    path: str
    """Where the SVG goes, relative to the site: ``charts/tarn-thrush/h6.sizes.svg``."""
    data: Data_co
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
class PageSpec(Generic[Context_co]):
    """One page: the template rendered with ``context`` alone (which names its charts)."""

    path: str
    """Relative to the site: ``blanks/tarn-thrush/h6.html``."""
    title: str
    template: str
    context: Context_co
    charts: tuple[AnyChart, ...] = ()
    files: tuple[FileSpec, ...] = ()
    sources: tuple[RecordSource, ...] = ()
    """The records that the page leads to: the build copies them, and looks up their commits."""
    feed: str = ""
    """The feed that a reader program finds on this page, relative to the site."""
    markdown: str = ""
    """Markdown of ours that follows on what the template says; never a word that a shop typed."""


AnyPage: TypeAlias = PageSpec[PageContext]
