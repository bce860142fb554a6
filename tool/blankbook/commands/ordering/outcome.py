"""The `outcome` command: what was bought for an order, and afterwards how it went."""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from blankbook.commands.ordering.find_order import day_of, order_basis, order_named
from blankbook.commands.ordering.order_flags import counts_of, need_of
from blankbook.commands.shared.completion import blanks
from blankbook.commands.shared.errors import CLEAN, WrongUse
from blankbook.commands.shared.ledger_root import LedgerOption, ledger_root
from blankbook.commands.shared.prompts import ask_if_any
from blankbook.commands.shared.write_changes import (
    DryRunOption,
    JsonOption,
    Write,
    ask,
    can_ask,
    carry_out,
    edited,
    said_as_data,
    tell,
)

if TYPE_CHECKING:
    from blankbook.records.model import Order, Style
    from blankbook.text.findings import ValuePath

SCHEMA = "blankbook/outcome/1"
WENT = {
    "spoiled": "spoiled in the shop",
    "short": "needed, and could not be delivered",
    "exchanged": "came back and were exchanged",
    "returned": "came back and were refunded",
    "left_over": "good, and left over",
}
"""What is asked of an order once it is through, by the key of the file."""
Values = list[tuple["ValuePath", str]]


def outcome(
    blank: Annotated[
        str, typer.Argument(metavar="SUPPLIER/STYLE", help="The blank.", autocompletion=blanks)
    ],
    file: Annotated[
        str | None, typer.Option("--file", help="The order; the open one when left out.")
    ] = None,
    bought: Annotated[
        list[str] | None,
        typer.Option(help="What was bought: COLOUR:SIZE=N,SIZE=N; once for each colour."),
    ] = None,
    goods: Annotated[str, typer.Option(help="What the pieces cost together.")] = "",
    freight: Annotated[str, typer.Option(help="What the shipment cost.")] = "",
    samples: Annotated[str, typer.Option(help="What further samples cost before.")] = "",
    spoiled: Annotated[str, typer.Option(help="SIZE=N,SIZE=N: spoiled in the shop.")] = "",
    short: Annotated[str, typer.Option(help="SIZE=N,SIZE=N: could not be delivered.")] = "",
    exchanged: Annotated[str, typer.Option(help="SIZE=N,SIZE=N: came back, exchanged.")] = "",
    returned: Annotated[str, typer.Option(help="SIZE=N,SIZE=N: came back, refunded.")] = "",
    left_over: Annotated[str, typer.Option(help="SIZE=N,SIZE=N: good, and left over.")] = "",
    day: Annotated[str | None, typer.Option(help="The day, YYYY-MM-DD; today.")] = None,
    ledger: LedgerOption = None,
    dry: DryRunOption = False,
    as_json: JsonOption = False,
) -> int:
    """Write down what was bought for an order, and afterwards how it went."""
    with said_as_data(SCHEMA, as_json=as_json):
        root = ledger_root(ledger)
        basis = order_basis(root, blank)
        order = order_named(basis, file)
        if order.outcome is not None:
            raise WrongUse(f"{order.key} has its outcome already", "change it in an editor")
        when = day_of(day, "--day").isoformat()
        money = {"goods": goods, "freight": freight, "samples": samples}
        went = {"spoiled": spoiled, "short": short, "exchanged": exchanged,
                "returned": returned, "left_over": left_over}  # fmt: skip
        style = basis.judged.blank.style
        if order.bought is None:
            if any(went.values()):
                raise WrongUse("nothing was bought for it yet", "write --bought and --goods first")
            values = _purchase(style, bought, money, when)
        elif bought or any(money.values()):
            raise WrongUse(f"{order.key} has its purchase already", "change it in an editor")
        else:
            values = _went(went, when)
        told = _fill(root, order, style, values, dry=dry)
        text = told if dry else f"wrote {order.source.path}"
        data = {"path": order.source.path, "written": not dry, "difference": told}
        tell(SCHEMA, data, text, as_json=as_json)
    return CLEAN


def _purchase(
    style: "Style", given: Sequence[str] | None, money: Mapping[str, str], when: str
) -> Values:
    """Return what was bought; without flags a person is asked. Raises: WrongUse."""
    counts = need_of(given or _asked_pieces(style), "--bought", style)
    values: Values = [(("bought", "date"), when)]
    for colour, sizes in counts.items():
        values += [(("bought", "pieces", colour, size), count) for size, count in sizes.items()]
    goods = money["goods"] or ask("what the pieces cost together", "--goods")
    values.append((("bought", "goods"), goods))
    asks = can_ask() and not given
    for key, words in (("freight", "freight"), ("samples", "further samples before")):
        if amount := money[key] or (ask_if_any(f"what {words} cost") if asks else ""):
            values.append((("bought", key), amount))
    return values


def _asked_pieces(style: "Style") -> list[str]:
    colours = ask("the colours that were bought", "--bought", ",".join(style.colours[:1]))
    return [
        f"{colour.strip()}:" + ask(f"how many of {colour.strip()}, such as M=12,L=9", "--bought")
        for colour in colours.split(",")
    ]


def _went(given: Mapping[str, str], when: str) -> Values:
    """Return how it went; without flags a person is asked for each. Raises: WrongUse."""
    texts = dict(given)
    if not any(texts.values()) and can_ask():
        typer.echo("by size, such as M=1,L=2; nothing where there was none", err=True)
        texts = {key: ask_if_any(words) for key, words in WENT.items()}
    values: Values = [(("outcome", "date"), when)]
    for key, text in texts.items():
        if text:
            counts = counts_of(text, f"--{key.replace('_', '-')}")
            values += [(("outcome", key, size), count) for size, count in counts.items()]
    return values


def _fill(root: Path, order: "Order", style: "Style", values: Values, *, dry: bool) -> str:
    """Write the values into the order's file, and prove it. Raises: WrongUse, BlankbookError."""
    from blankbook.commands.adding.trial_check import prove
    from blankbook.text.findings import UnreadableError
    from blankbook.text.writing.atomic_write import writing_turn
    from blankbook.text.writing.edits import CannotEditError, set_value

    with writing_turn(root):
        old = (root / order.source.path).read_bytes()
        new = old
        try:
            for path, value in values:
                new = set_value(new, path, value)
        except (CannotEditError, UnreadableError) as error:
            raise edited(error, order.source.path) from None
        write = Write(order.source.path, old, new)
        place = style.source.path
        prove(root, [Write(place, None, (root / place).read_bytes()), write])
        return carry_out(root, [write], dry=dry)
