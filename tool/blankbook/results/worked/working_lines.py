"""The lines of a worked example: the numbers of a result, put into the formula that made it.

Every line is made from a result and from readings, never typed. The numbers are written as a pocket
calculator takes them, with t(p; ν) for the quantile of Student's t, T(x; ν) for its
distribution, Φ(x) for the normal one, z(p) for its quantile and X(p; ν) for that of chi-square.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from statistics import fmean

from blankbook.records.lengths import MM_PER_UNIT
from blankbook.results.limits import t_quantile
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Number, Result
from blankbook.words.answers import Answer

MINUS = "\N{MINUS SIGN}"


@dataclass(frozen=True, slots=True)
class WorkedLine:
    """One line of a worked example."""

    what: str
    comes: str
    """What was read, or what comes out: "20.125 in"."""
    put_in: str = ""
    """The numbers put into the formula: "(20.000 + 20.250) / 2"; empty where it was read."""
    answer: str = ""
    """The answer, in the line that gives it."""


@dataclass(frozen=True, slots=True)
class Figures:
    """How numbers of one kind are written down."""

    unit: str
    digits: int
    scale: float = 1.0

    def bare(self, value: float, more: int = 0) -> str:
        """Return a number without its unit, with *more* decimals than usual."""
        return decimal_text(value / self.scale, self.digits + more)

    def put(self, value: float, more: int = 0) -> str:
        """Return a number as it goes into a sum: in brackets where it is negative."""
        text = self.bare(value, more)
        return f"({text})" if text.startswith(MINUS) else text

    def full(self, value: float, more: int = 0) -> str:
        """Return a number with its unit."""
        return f"{self.bare(value, more)} {self.unit}".rstrip()


def length_figures(unit: str) -> Figures:
    """Return how lengths are written down: as decimals of the shop's unit."""
    return Figures(unit, 3, float(MM_PER_UNIT[unit]))


PERCENT_FIGURES = Figures("%", 2)
CHANCE_FIGURES = Figures("", 4)


def decimal_text(value: float, digits: int) -> str:
    """Return a number with a true minus sign, and none before nothing.

    >>> decimal_text(-1.25, 1), decimal_text(-0.0001, 2)
    ('−1.2', '0.00')
    """
    text = f"{value:.{digits}f}"
    if text.startswith("-"):
        text = text[1:] if not float(text) else MINUS + text[1:]
    return text


def required_number(result: Result, name: Quantity) -> Number:
    """Return a number that the result must carry."""
    found = result.number(name)
    if found is None:
        raise KeyError(name)
    return found


def first_with(results: Iterable[Result], name: Quantity) -> Result | None:
    """Return the first result that carries a number of this name."""
    return next((r for r in results if r.number(name) is not None), None)


def read_line(what: str, values: Sequence[float], figures: Figures) -> WorkedLine:
    """Return what the tape said."""
    return WorkedLine(
        f"{what}, read", ", ".join(figures.bare(v) for v in values) + f" {figures.unit}"
    )


def mean_sum(values: Sequence[float], figures: Figures) -> str:
    """Return the sum that gives a mean."""
    if len(values) == 1:
        return figures.bare(values[0])
    return f"({' + '.join(figures.put(v) for v in values)}) / {len(values)}"


def mean_line(what: str, values: Sequence[float], figures: Figures) -> WorkedLine:
    """Return the mean of what was read."""
    put_in = mean_sum(values, figures) if len(values) > 1 else ""
    return WorkedLine(what, figures.full(fmean(values)), put_in)


def error_line(deviation: float, pieces: int, figures: Figures) -> WorkedLine:
    """Return the standard error of a mean, from the moderated spread s."""
    error = deviation / pieces**0.5
    put_in = f"{figures.bare(deviation, 1)} / √{pieces}"
    return WorkedLine("standard error s / √n", figures.full(error, 1), put_in)


def limit_lines(
    of: Number, error: float, freedom: float, risk: float, figures: Figures
) -> list[WorkedLine]:
    """Return the quantile of Student's t, and the two limits that it makes."""
    assert of.low is not None
    assert of.high is not None
    t = decimal_text(t_quantile(1 - risk, freedom), 3)
    mean, width = figures.bare(of.value), f"{t} × {figures.bare(error, 1)}"
    return [
        WorkedLine(
            f"t on ν = {freedom:.4g} degrees of freedom", t, f"t({1 - risk:.4g}; {freedom:.4g})"
        ),
        WorkedLine("lower limit", figures.full(of.low), f"{mean} {MINUS} {width}"),
        WorkedLine("upper limit", figures.full(of.high), f"{mean} + {width}"),
    ]


def answer_line(result: Result) -> WorkedLine:
    """Return the answer, as the blank's page gives it."""
    return WorkedLine("so", result.reason, answer=str(result.answer))


def tested_results(results: Iterable[Result]) -> list[Result]:
    """Return the results that somebody has looked at."""
    return [r for r in results if r.answer != Answer.NOT_TESTED]
