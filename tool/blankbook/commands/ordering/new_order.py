"""An order that is new: what was said of it, and its file, proved before it is written."""

from pathlib import Path
from typing import TYPE_CHECKING

from blankbook.commands.ordering.find_order import day_of
from blankbook.commands.shared.errors import WrongUse
from blankbook.commands.shared.find_blank import schema_of
from blankbook.commands.shared.write_changes import Write, ask

if TYPE_CHECKING:
    from blankbook.commands.ordering.order_flags import Need
    from blankbook.entry.orders.order_file import NewOrder
    from blankbook.records.model import Style


def new_order(
    blank: str,
    fields: dict[str, str],
    money: dict[str, str],
    by: str | None,
    day: str | None,
    need: "tuple[Need, dict[str, str], dict[str, str]]",
) -> "NewOrder":
    """Return the order as it was typed; what is missing is asked.

    *need* is by colour and size, or totals by colour with a mix. Raises: WrongUse.
    """
    from blankbook.entry.orders.order_file import NewOrder

    when = day_of(day, "--day")
    if fields["needed_by"] and day_of(fields["needed_by"], "--needed-by") < when:
        message = f"--needed-by is {fields['needed_by']}, and that is past"
        raise WrongUse(message, "write a day that is to come")
    wanted, totals, mix = need
    return NewOrder(
        style=blank,
        date=when,
        by=by or ask("who works it out", "--by"),
        client=fields["client"] or ask("for whom", "--for"),
        use=fields["use"],
        needed=wanted,
        total=totals,
        mix=mix,
        give_or_take=fields.get("give_or_take", ""),
        needed_by=fields["needed_by"],
        enough=fields.get("enough", ""),
        money=money,
    )


def proved_order(root: Path, style: "Style", new: "NewOrder", word: str) -> Write:
    """Return the file of a new order, which would pass its check. Raises: WrongUse."""
    from blankbook.commands.adding.trial_check import prove
    from blankbook.entry.orders.order_file import order_text

    path = f"blanks/{new.style}/{new.date.isoformat()}-{word}-order.yaml"
    text = order_text(new, schema_of(root, path, "order")).encode()
    write = Write(path, None, text)
    place = style.source.path
    prove(root, [Write(place, None, (root / place).read_bytes()), write])
    return write
