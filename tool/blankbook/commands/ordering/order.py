"""The `order` command: what to buy, what it costs, what is at risk, what a look is worth."""

import re
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from blankbook.commands.ordering.find_order import (
    OrderBasis,
    order_basis,
    order_named,
    plan_of,
)
from blankbook.commands.ordering.new_order import new_order, proved_order
from blankbook.commands.ordering.order_flags import (
    ask_more,
    asked_need,
    counts_of,
    need_of,
)
from blankbook.commands.ordering.order_screen import order_screen
from blankbook.commands.shared.completion import blanks
from blankbook.commands.shared.errors import CLEAN, WrongUse, shown
from blankbook.commands.shared.ledger_root import LedgerOption, ledger_root
from blankbook.commands.shared.prompts import pairs
from blankbook.commands.shared.write_changes import (
    DryRunOption,
    JsonOption,
    can_ask,
    carry_out,
    said_as_data,
    tell,
)

if TYPE_CHECKING:
    from blankbook.entry.orders.order_file import NewOrder
    from blankbook.records.model import Order

SCHEMA = "blankbook/order/1"
_WORD = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


def order(
    blank: Annotated[
        str, typer.Argument(metavar="SUPPLIER/STYLE", help="The blank.", autocompletion=blanks)
    ],
    need: Annotated[
        list[str] | None, typer.Option("--need", help="COLOUR:SIZE=N,SIZE=N; once for each colour.")
    ] = None,
    total: Annotated[
        list[str] | None, typer.Option(help="COLOUR=N, where nobody knows the sizes.")
    ] = None,
    give_or_take: Annotated[str, typer.Option(help="How far the total may be off.")] = "",
    mix: Annotated[str, typer.Option(help="SIZE=N,SIZE=N: how many of so many.")] = "",
    client: Annotated[str, typer.Option("--for", help="For whom; it stays in the shop.")] = "",
    use: Annotated[str, typer.Option(help="What the shirts are for.")] = "",
    needed_by: Annotated[str, typer.Option(help="The day they are needed, YYYY-MM-DD.")] = "",
    enough: Annotated[str, typer.Option(help="The chance of enough, in 100.")] = "",
    shirt: Annotated[str, typer.Option(help="What a finished shirt sells for.")] = "",
    printing: Annotated[str, typer.Option("--print", help="What printing one costs.")] = "",
    refund: Annotated[str, typer.Option(help="What one that comes back costs beside.")] = "",
    short: Annotated[str, typer.Option(help="What a missing shirt costs.")] = "",
    left_over: Annotated[str, typer.Option(help="What one that is left over brings.")] = "",
    by: Annotated[str | None, typer.Option(help="Who works it out.")] = None,
    word: Annotated[str, typer.Option(help="What the order is called after its day.")] = "bulk",
    day: Annotated[str | None, typer.Option(help="The day, YYYY-MM-DD; today.")] = None,
    file: Annotated[
        str | None, typer.Option("--file", help="An order that is written already.")
    ] = None,
    ledger: LedgerOption = None,
    dry: DryRunOption = False,
    as_json: JsonOption = False,
) -> int:
    """Work out a bulk order: what to buy, what it costs and risks, what a look is worth."""
    with said_as_data(SCHEMA, as_json=as_json):
        root = ledger_root(ledger)
        if not _WORD.fullmatch(word) or len(word) > 40:
            raise WrongUse("--word must be small letters, digits and hyphens", "write --word choir")
        basis = order_basis(root, blank)
        given = [need, total]
        if file is not None or (not any(given) and not can_ask()):
            return _shown(basis, order_named(basis, file), day, "", "", as_json=as_json)
        fields = {"client": client, "use": use, "needed_by": needed_by, "enough": enough,
                  "give_or_take": give_or_take}  # fmt: skip
        money = {"shirt": shirt, "print": printing, "refund": refund, "short": short,
                 "left_over": left_over}  # fmt: skip
        style = basis.judged.blank.style
        if all(given):
            raise WrongUse("--need and --total contradict each other", "keep one of them")
        wanted, totals = {}, pairs(total or (), "--total", "--total black=60")
        if need:
            wanted = need_of(need, "--need", style)
        elif not totals:
            wanted, totals = asked_need(style)
            ask_more(fields, money, style.uses)
        new = new_order(blank, fields, money, by, day, (wanted, totals, counts_of(mix, "--mix")))
        return _written(root, basis, new, word, dry=dry, as_json=as_json)


def _written(
    root: Path, basis: OrderBasis, new: "NewOrder", word: str, *, dry: bool, as_json: bool
) -> int:
    """Prove the order, work it out, show it and write it."""
    from blankbook.records.load_file import load_bytes
    from blankbook.text.ledger_files import LedgerFile

    write = proved_order(root, basis.judged.blank.style, new, word)
    record: Order = load_bytes(LedgerFile(write.path, "order", new.style), write.new).record
    plan_of(basis, record, new.date.isoformat())  # what cannot be worked out is not written
    told = carry_out(root, [write], dry=dry)
    day = new.date.isoformat()
    return _shown(basis, record, day, write.path, told, dry=dry, as_json=as_json)


def _shown(
    basis: OrderBasis,
    record: "Order",
    day: str | None,
    path: str,
    told: str,
    *,
    dry: bool = False,
    as_json: bool,
) -> int:
    from blankbook.results.ordering.json_order import order_data

    plan = plan_of(basis, record, day)
    data = {
        **order_data(plan),
        "path": path or record.source.path,
        "written": bool(path) and not dry,
    }
    name, sentence = basis.judged.blank.style.name, basis.judged.standing.sentence
    text = order_screen(plan, shown(name), shown(sentence))
    if path:
        text += f"\n{told}" if dry else f"\nwrote {path}"
        data["difference"] = told
    tell(SCHEMA, data, text, as_json=as_json)
    return CLEAN
