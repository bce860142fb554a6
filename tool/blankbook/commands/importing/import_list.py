"""A client's list as an order: what the `import` command does where it is said for whom."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from blankbook.commands.importing.import_report import SCHEMA, of_cells, rejects
from blankbook.commands.importing.table_input import columns_said, confirm, known, table_in
from blankbook.commands.ordering.new_order import new_order, proved_order
from blankbook.commands.shared.errors import CLEAN, WrongUse, shown
from blankbook.commands.shared.write_changes import carry_out, tell

if TYPE_CHECKING:
    from blankbook.entry.orders.client_list import ClientList
    from blankbook.records.model import Style


@dataclass(frozen=True, slots=True)
class ListFlags:
    """What is said of a list, as typed."""

    client: str
    use: str
    needed_by: str
    shirt: str
    by: str | None
    day: str | None
    word: str


def import_list(
    root: Path,
    style: "Style",
    table: tuple[Path, str | None],
    given: tuple[Sequence[str], str],
    flags: ListFlags,
    *,
    dry: bool,
    as_json: bool,
) -> int:
    """Write the order that a client's list asks for.

    *table* is a file and the name of a sheet, *given* what is said of columns, and the colour where
    no column says. Raises: WrongUse, BlankbookError.
    """
    read = _read(style, table, *given)
    if read.rejected:
        raise rejects(read, "correct them: a list counts whole", of_cells(read))
    known(read.columns, "size")
    if not read.count:
        raise WrongUse("no shirt was understood, so nothing was written", "see --column")
    confirm(read.columns, read.notes, quiet=as_json)
    fields = {"client": flags.client, "use": flags.use, "needed_by": flags.needed_by}
    need = {c: {s: str(n) for s, n in sizes.items()} for c, sizes in read.needed.items()}
    money = {"shirt": flags.shirt} if flags.shirt else {}
    new = new_order(style.key, fields, money, flags.by, flags.day, (need, {}, {}))
    write = proved_order(root, style, new, flags.word)
    told = carry_out(root, [write], dry=dry)
    shirts = "1 shirt" if read.count == 1 else f"{read.count} shirts"
    next_ = f"next: blankbook order {style.key} --file {Path(write.path).stem}"
    text = told if dry else f"wrote {shirts} to {write.path}\n{next_}"
    data = {"path": write.path, "shirts": read.count, "needed": read.needed,
            "written": not dry, "difference": told, **of_cells(read)}  # fmt: skip
    tell(SCHEMA, data, text, as_json=as_json)
    return CLEAN


def _read(
    style: "Style", table: tuple[Path, str | None], column: Sequence[str], colour: str
) -> "ClientList":
    from blankbook.entry.orders.client_list import read_client_list
    from blankbook.entry.orders.list_columns import LIST_COLUMNS
    from blankbook.entry.tables.table_cells import NoTableError

    said = columns_said(column, [*LIST_COLUMNS, *style.sizes])
    try:
        return read_client_list(table_in(*table), style, said, colour)
    except NoTableError as error:
        raise WrongUse(f"{shown(table[0])} {shown(str(error))}", shown(error.instead)) from None
