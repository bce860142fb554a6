"""What the templates of several pages show alike: frozen values, their words written out."""

from dataclasses import dataclass

from blankbook.pages.page_spec import AnyChart


@dataclass(frozen=True, slots=True)
class AnswerSign:
    """An answer, an advice or a decision, with the shape that says the same without colour."""

    word: str
    shape: str
    """Empty for a word that has none."""
    css: str
    """The class of its colour."""


@dataclass(frozen=True, slots=True)
class AnswerCount:
    """How many there are of an answer or an advice."""

    sign: AnswerSign
    count: int


@dataclass(frozen=True, slots=True)
class ChartImage:
    """A chart on a page."""

    path: str
    """Relative to the site."""
    alt: str
    width: int
    """CSS pixels."""
    height: int


@dataclass(frozen=True, slots=True)
class FactLine:
    """A line of a list of facts: what it is about, and what is said of it."""

    what: str
    text: str


@dataclass(frozen=True, slots=True)
class SupplierName:
    """A supplier, as the links above a page's title name it."""

    key: str
    name: str


def chart_image(chart: AnyChart) -> ChartImage:
    """Return what a page needs to show a chart."""
    return ChartImage(chart.path, chart.alt, chart.width, chart.height)


def facts_of(pairs: list[tuple[str, str]]) -> tuple[FactLine, ...]:
    """Return the facts whose text is not empty."""
    return tuple(FactLine(what, text) for what, text in pairs if text)
