"""What came and what was bought: by flags, or asked for size by size."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

import typer

from blankbook.commands.ordering.order_flags import counts_of
from blankbook.commands.shared.errors import WrongUse, shown
from blankbook.commands.shared.prompts import parts
from blankbook.commands.shared.write_changes import ask, can_ask

if TYPE_CHECKING:
    from blankbook.commands.shared.kept_answers import KeptAnswers
    from blankbook.records.model import Blank, Order

Counts = dict[str, str]
"""By size, as typed."""


def order_meant(blank: "Blank", named: str) -> "Order | None":
    """Return the order that a delivery is for, or None for a number of the shop's own.

    Without a name, the only order that was bought and has no outcome yet.
    """
    open_ = [order for order in blank.orders if order.bought and order.outcome is None]
    if named:
        return next((order for order in blank.orders if order.key == named), None)
    return open_[0] if len(open_) == 1 else None


def bought_of(order: "Order | None") -> dict[str, int]:
    """Return how many of each size were bought."""
    from blankbook.records.model.order_record import by_size

    return by_size(order.bought.pieces) if order and order.bought else {}


def counted(
    kept: "KeptAnswers", sizes: Sequence[str], given: str, bought: Mapping[str, int]
) -> Counts:
    """Return how many of each size came. Raises: WrongUse where nobody can be asked."""
    if given:
        return counts_of(given, "--came")
    if not can_ask():
        message = "how many came is not given, and nobody can be asked here"
        raise WrongUse(message, "write --came M=30,L=30")
    typer.echo("count it: pieces of each size, nothing where none came", err=True)
    while True:
        found = {}
        for size in sizes:
            usual = str(bought[size]) if bought.get(size) else ""
            count = kept.ask(f"came-{size}", f"  {shown(size)}", ("delivered", size), usual=usual)
            if count.strip("0"):
                found[size] = count
        if found:
            return found
        typer.echo("must hold at least one piece, found none", err=True)


def measured_colours(given: str, usual: Sequence[str], known: Sequence[str]) -> list[str]:
    """Return the colours of which pieces are measured. Raises: WrongUse."""
    if len(usual) == 1 and not given:
        return list(usual)
    while True:
        found = parts(given or ask("the colours that came", "--colours", ",".join(usual)))
        unknown = [colour for colour in found if known and colour not in known]
        if found and not unknown:
            return found
        message = f"the style has no colour {shown((unknown or ['nothing'])[0])}"
        remedy = f"there are {shown(', '.join(known))}"
        if given or not can_ask():
            raise WrongUse(message, remedy)
        typer.echo(f"{message}: {remedy}", err=True)


def against_bought(counts: Mapping[str, str], bought: Mapping[str, int]) -> str:
    """Return how what came differs from what was bought; empty where nothing is known of that."""
    if not bought:
        return ""
    apart = {
        size: int(counts.get(size, 0)) - bought.get(size, 0)
        for size in dict.fromkeys((*bought, *counts))
    }
    said = [f"{abs(by)} {size} {'short' if by < 0 else 'over'}" for size, by in apart.items() if by]
    return f"against what was bought: {shown(', '.join(said)) or 'all of it came'}"
