"""The `add` command: a supplier, a style with its size chart, or a newer chart of a style."""

from pathlib import Path
from typing import Annotated

import typer

from blankbook.commands.adding.add_chart import chart
from blankbook.commands.adding.add_style import style
from blankbook.commands.adding.style_steps import NewOption
from blankbook.commands.shared.epilog import epilog_of
from blankbook.commands.shared.errors import CLEAN, WrongUse
from blankbook.commands.shared.kept_answers import KeptAnswers
from blankbook.commands.shared.ledger_root import LedgerOption, ledger_root
from blankbook.commands.shared.write_changes import (
    DryRunOption,
    JsonOption,
    Write,
    ask,
    can_ask,
    carry_out,
    tell,
)

SCHEMA = "blankbook/add-supplier/1"

add = typer.Typer(
    name="add",
    help="Add a supplier, a style with its size chart, or a newer chart.",
    no_args_is_help=True,
    rich_markup_mode=None,
)
add.command(epilog=epilog_of("add style"))(style)
add.command(epilog=epilog_of("add chart"))(chart)


@add.command(epilog=epilog_of("add supplier"))
def supplier(
    name: Annotated[
        str | None, typer.Argument(metavar="NAME", help="What the supplier is called.")
    ] = None,
    key: Annotated[str | None, typer.Option(help="The file's name; made from the name.")] = None,
    contact: Annotated[str, typer.Option(help="Whom to ask for.")] = "",
    website: Annotated[str, typer.Option(help="An address that begins with https://.")] = "",
    terms: Annotated[str, typer.Option(help="Terms of payment.")] = "",
    lead_time: Annotated[str, typer.Option(help="Days from order to door.")] = "",
    sends: Annotated[str, typer.Option(help="pick_up, parcel or freight.")] = "",
    minimum: Annotated[str, typer.Option(help="The smallest order.")] = "",
    since: Annotated[str, typer.Option(help="The day of the first order, YYYY-MM-DD.")] = "",
    note: Annotated[str, typer.Option(help="Anything worth remembering.")] = "",
    new: NewOption = False,
    ledger: LedgerOption = None,
    dry: DryRunOption = False,
    as_json: JsonOption = False,
) -> int:
    """Add a supplier; at a terminal the rest is asked where no flag says anything."""
    from blankbook.commands.adding.known_names import compare, must_be_free, suppliers_of
    from blankbook.commands.adding.trial_check import prove

    root = ledger_root(ledger)
    called = (name or ask("the supplier's name", "NAME")).strip()
    own = _key(called, key)
    path = f"suppliers/{own}.yaml"
    must_be_free(root, path, "supplier")
    compare(own, called, suppliers_of(root), new=new, slips=True)
    fields = {"contact": contact, "website": website, "terms": terms, "lead_time_days": lead_time,
              "sends": sends, "minimum": minimum, "since": since, "note": note}  # fmt: skip
    kept = None
    if can_ask() and not any(fields.values()):
        kept = KeptAnswers(root, f"supplier-{own}", "supplier")
        fields = _asked(kept)
    write = Write(path, None, _text(root, path, {"supplier": own, "name": called, **fields}))
    prove(root, [write])
    told = carry_out(root, [write], dry=dry)
    if kept and not dry:
        kept.forget()
    data = {"supplier": own, "path": path, "written": not dry, "difference": told}
    done = told if dry else f"wrote {path}\nnext: blankbook add style {own}/STYLE"
    tell(SCHEMA, data, done, as_json=as_json)
    return CLEAN


def _key(name: str, key: str | None) -> str:
    from blankbook.commands.adding.known_names import must_be_name
    from blankbook.entry.new.new_names import key_from_name

    if not name or len(name) > 120 or not name.isprintable():
        raise WrongUse("NAME must be 1 to 120 characters on one line", "write it in quotes")
    own = key or key_from_name(name) or ask("a name for the file", "--key sedge-hollow")
    must_be_name(own, "--key")
    return own


def _asked(kept: KeptAnswers) -> dict[str, str]:
    from blankbook.words.garment_terms import SHIPPING_WAYS

    typer.echo("what you do not know yet may stay empty", err=True)
    asked = {
        "contact": "whom to ask for",
        "website": "website",
        "terms": "terms of payment",
        "lead_time_days": "days from order to door",
        "sends": "how the goods come",
        "minimum": "the smallest order",
    }
    choices = {"sends": SHIPPING_WAYS}
    return {
        key: kept.ask(key, words, (key,), choices=choices.get(key, ()))
        for key, words in asked.items()
    }


def _text(root: Path, path: str, fields: dict[str, str]) -> bytes:
    from blankbook.commands.shared.find_blank import schema_of
    from blankbook.entry.new.claim_files import supplier_file

    return supplier_file(fields, schema_of(root, path, "supplier")).encode()
