"""What `add style` asks at a terminal; each answer stays until the file is written."""

from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING

import typer

from blankbook.commands.adding.chart_input import STDIN, Given, chart_from, pasted
from blankbook.commands.adding.style_steps import list_troubles, price_text, with_tolerance
from blankbook.commands.shared.errors import WrongUse, from_system, shown
from blankbook.commands.shared.kept_answers import KeptAnswers
from blankbook.commands.shared.prompts import field_refused

if TYPE_CHECKING:
    from blankbook.entry.charts.size_chart import SizeChart

PASTED = "pasted"
"""What stands for the chart that was pasted the last time."""


def ask_more(kept: KeptAnswers, fields: dict[str, str], fabric: dict[str, str]) -> str:
    """Ask for the rest at a terminal; return the price."""
    from blankbook.words.garment_terms import CONSTRUCTIONS, NECK_LABELS, WEARERS

    typer.echo("what you do not know yet may stay empty", err=True)
    for key, words, choices in (
        ("wearer", "who it is sized for", WEARERS),
        ("construction", "how the body is made", CONSTRUCTIONS),
        ("neck_label", "the neck label", NECK_LABELS),
    ):
        fields[key] = kept.ask(key, words, choices=choices)
    fabric["fibre"] = kept.ask("fibre", "fibres, such as 100 % cotton", ("fabric", "fibre"))
    fabric["mass"] = kept.ask("mass", "mass, such as 6.1 oz/yd2 or 205 g/m2", refused=_is_no_mass)
    return kept.ask("price", "price of one piece", refused=_is_no_price)


def _is_no_price(typed: str) -> bool:
    """Say whether something is no price, and tell the person why."""
    return field_refused("style", ("prices", 0, "each"), price_text(typed))


def _is_no_mass(typed: str) -> bool:
    """Say whether something is no mass per unit area, and tell the person why."""
    from blankbook.records.amounts import read_mass_per_area
    from blankbook.records.lengths import LengthError, with_decimal_point

    try:
        return not read_mass_per_area(with_decimal_point(typed))
    except LengthError as error:
        typer.echo(f"{shown(error)}: {shown(error.instead)}", err=True)
        return True


def ask_chart(
    kept: KeptAnswers, given: Given, tolerance: Iterable[str], *, good: bool
) -> "tuple[str, SizeChart] | None":
    """Ask for the size chart until it is understood; return where it is from, and the chart.

    One that has cells which are not understood can be taken without them, or given again.
    """
    words = "the size chart: a file, or - to paste it"
    while True:
        last = PASTED in kept.answers
        also = f", or {PASTED} for the one you pasted last time" if last else ""
        usual = kept.answers.get("chart") or (PASTED if last else "")
        place = str(
            typer.prompt(words + also, default=usual, show_default=bool(usual), err=True)
        ).strip()
        if not place:
            return None
        body = None
        if place == PASTED and last:
            body = kept.answers[PASTED].encode()
        elif place == STDIN:
            body = pasted()
            kept.keep(PASTED, body.decode("utf-8", "replace"))
        try:
            read = chart_from(replace(given, place=place, body=body))
            with_tolerance(read, tolerance)
        except (WrongUse, OSError) as found:
            error = from_system(found) if isinstance(found, OSError) else found
            typer.echo(f"{shown(error.message)}: {shown(error.remedy)}".rstrip(": "), err=True)
            continue
        kept.keep("chart", PASTED if body is not None else place)
        if _is_taken(read, good=good):
            return (STDIN if body is not None else place), read


def _is_taken(chart: "SizeChart", *, good: bool) -> bool:
    """Say whether a chart is whole, or is taken without what was not understood."""
    if not list_troubles(chart):
        return bool(chart.sizes)
    if not chart.sizes:
        return False
    words = "take the chart without these cells?"
    return good or typer.confirm(words, default=False, err=True)
