"""The `receive` command: a delivery as it was counted, and how many pieces of it to look at."""

import datetime
import re
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from blankbook.commands.adding.trial_check import prove
from blankbook.commands.entering.find_round import HEAD, NO_LOT
from blankbook.commands.ordering.find_order import day_of
from blankbook.commands.ordering.order_flags import counts_of
from blankbook.commands.receiving.counted import (
    against_bought,
    bought_of,
    counted,
    measured_colours,
    order_meant,
)
from blankbook.commands.receiving.inspected_now import inspected_now
from blankbook.commands.shared.completion import blanks, colours
from blankbook.commands.shared.errors import CLEAN, WrongUse, shown
from blankbook.commands.shared.find_blank import one_blank, schema_of
from blankbook.commands.shared.kept_answers import KeptAnswers
from blankbook.commands.shared.ledger_root import LedgerOption, ledger_root
from blankbook.commands.shared.write_changes import (
    DryRunOption,
    JsonOption,
    Write,
    can_ask,
    carry_out,
    said_as_data,
    tell,
)
from blankbook.words.garment_terms import LOT_NOT_KNOWN

if TYPE_CHECKING:
    from blankbook.results.methods.sampling_plans import Plan
    from blankbook.results.methods.sampling_tables import Severity
    from blankbook.results.result_types import Judged

SCHEMA = "blankbook/receive/1"
_WORD = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


def receive(
    blank: Annotated[
        str, typer.Argument(metavar="SUPPLIER/STYLE", help="The blank.", autocompletion=blanks)
    ],
    came: Annotated[str, typer.Option(help="What was counted: M=30,L=30.")] = "",
    lot: Annotated[str, typer.Option(help="The lot, as the carton says.")] = "",
    order: Annotated[
        str, typer.Option(help="The order's file by its name, or the number on its paper.")
    ] = "",
    invoiced: Annotated[str, typer.Option(help="What the invoice says: M=30,L=30.")] = "",
    again: Annotated[
        str, typer.Option(help="The rejected delivery that it is, sorted: its file's name.")
    ] = "",
    each: Annotated[int, typer.Option(help="Pieces of each size to measure.")] = 1,
    of_colours: Annotated[
        str, typer.Option("--colours", help="The colours that came.", autocompletion=colours)
    ] = "",
    by: Annotated[str, typer.Option(help="Who looks at it.")] = "",
    word: Annotated[str, typer.Option(help="What it is called after its day.")] = "bulk",
    date: Annotated[str | None, typer.Option(help="The day, YYYY-MM-DD; today.")] = None,
    ledger: LedgerOption = None,
    dry: DryRunOption = False,
    as_json: JsonOption = False,
) -> int:
    """Count a delivery: how many pieces of it to look at, and its file for `enter`."""
    with said_as_data(SCHEMA, as_json=as_json):
        root = ledger_root(ledger)
        when = day_of(date, "--date")
        if not _WORD.fullmatch(word) or len(word) > 40:
            raise WrongUse("--word must be small letters, digits and hyphens", "write --word bulk")
        if not 0 <= each <= 20:
            raise WrongUse(f"--each must be between 0 and 20, found {each}", "write --each 1")
        judged = one_blank(root, blank, lambda found: found)
        kept = KeptAnswers(root, f"delivery-{blank}", "delivery")
        said = {"came": came, "lot": lot, "order": order, "invoiced": invoiced, "again": again,
                "colours": of_colours, "by": by}  # fmt: skip
        write, pieces, note = _file(root, judged, kept, said, when, word, each)
        told = carry_out(root, [write], dry=dry)
        if not dry:
            kept.forget()
        look = _look(root, judged, write, pieces, dry=dry)
        data = {"path": write.path, "look_at": look, "bought": note, "written": not dry,
                "difference": told}  # fmt: skip
        lines = [note, look, told if dry else f"wrote {write.path}"]
        if not dry:
            lines.append(f"next: blankbook enter {shown(write.path)}")
        tell(SCHEMA, data, "\n".join(line for line in lines if line), as_json=as_json)
    return CLEAN


def _file(
    root: Path,
    judged: "Judged",
    kept: KeptAnswers,
    said: dict[str, str],
    when: datetime.date,
    word: str,
    each: int,
) -> tuple[Write, int, str]:
    """Return the file, proved; how many pieces came; how that differs from what was bought."""
    from blankbook.entry.new.delivery_file import NewDelivery, delivery_text, pieces_to_measure

    blank, shop = judged.blank, judged.case.shop
    order = order_meant(blank, said["order"])
    bought = bought_of(order)
    counts = counted(kept, blank.style.sizes, said["came"], bought)
    lot = said["lot"] or _asked(kept, "lot", HEAD["lot"], "--lot LOT", LOT_NOT_KNOWN)
    by = said["by"] or _asked(kept, "by", "who looks at it", "--by NAME", "")
    sizes = {size: _number(counts.get(size, "0")) for size in blank.style.sizes}
    total = sum(sizes.values())
    most = _plan(judged, total)[1].sample_size if total else 0
    named = list(order.bought.pieces) if order and order.bought else list(blank.style.colours)
    hues = measured_colours(said["colours"], named, blank.style.colours) if each else []
    path = f"blanks/{blank.style.key}/{when.isoformat()}-{word}-delivery.yaml"
    new = NewDelivery(
        style=blank.style.key,
        date=when,
        by=by,
        lot=LOT_NOT_KNOWN if lot.strip().casefold() in NO_LOT else lot,
        delivered=counts,
        tape=shop.tape,
        pieces=pieces_to_measure(sizes, hues, each, most),
        invoiced=counts_of(said["invoiced"], "--invoiced") if said["invoiced"] else {},
        order=said["order"] or (order.key if order else ""),
        again=said["again"],
    )
    text = delivery_text(new, schema_of(root, path, "delivery"))
    write = Write(path, None, text.encode())
    beside = [blank.style.source.path]
    beside += [one.source.path for one in blank.deliveries if one.key == new.again]
    prove(root, [*(Write(one, None, (root / one).read_bytes()) for one in beside), write])
    return write, total, against_bought(counts, bought)


def _asked(kept: KeptAnswers, key: str, words: str, flag: str, usual: str) -> str:
    """Return what a person answers for a line of the file's head. Raises: WrongUse."""
    if not can_ask():
        raise WrongUse(f"{words} is not given, and nobody can be asked here", f"write {flag}")
    while True:
        if answer := kept.ask(key, words, (key,), usual=usual):
            return answer


def _number(text: str) -> int:
    """Return a count; the check says what is wrong with one that is none."""
    return int(text) if text.isascii() and text.isdecimal() and len(text) < 8 else 0


def _plan(judged: "Judged", pieces: int) -> "tuple[Severity, Plan]":
    """Return how strictly a delivery that comes next is looked at, and its plan."""
    from blankbook.results.checks.delivery import series_for
    from blankbook.results.methods.sampling_plans import single_plan
    from blankbook.results.methods.sampling_tables import Severity

    then, rules = series_for(judged.case).then, judged.case.shop.inspection
    strict = Severity.TIGHTENED if then == Severity.STOPPED else then
    return then, single_plan(pieces, rules.level, rules.aql, strict)


def _look(root: Path, judged: "Judged", write: Write, pieces: int, *, dry: bool) -> str:
    """Return how many pieces to look at, which is said before the first is opened."""
    from blankbook.results.deliveries.delivery_words import say_plan

    if dry:
        return say_plan(pieces, *_plan(judged, pieces))
    key = Path(write.path).stem
    inspection = inspected_now(root, judged.blank.style.key, key)
    return say_plan(pieces, inspection.severity, inspection.asked)
