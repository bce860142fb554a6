"""The whole ledger: read, typed, converted and checked against the rules, with every fault."""

import datetime
import difflib
import gc
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, TypeVar

from blankbook.records.convert.valid_parts import SoundParts
from blankbook.records.load_file import LoadedFile, load_file
from blankbook.records.model import (
    Blank,
    DatedRecord,
    Delivery,
    Ledger,
    Order,
    PlannedRound,
    Round,
    Shop,
    Style,
)
from blankbook.records.rule_context import RuleContext
from blankbook.records.rules import (
    chart_rules,
    date_rules,
    decision_rules,
    fabric_rules,
    grade_rules,
    name_rules,
    photo_rules,
    piece_rules,
    price_rules,
    reading_rules,
)
from blankbook.records.rules.whole_delivery import NeighbourDays, delivery_findings
from blankbook.records.rules.whole_order import order_findings
from blankbook.text.findings import Fault, Finding, visible
from blankbook.text.ledger_files import LedgerFile, list_files, scan_ledger

__all__ = ["LoadedLedger", "list_files", "load_ledger"]

Dated = TypeVar("Dated", bound=DatedRecord)

FORK_ABOVE_FILES = 60
"""With more files than this, a second process saves more time than it costs."""


@dataclass(frozen=True, slots=True)
class LoadedLedger:
    """The ledger as far as it could be loaded, and every finding."""

    ledger: Ledger | None
    """All blanks without an error; None where shop.yaml has one."""
    findings: tuple[Finding, ...]
    """Sorted by file, line and column."""
    styles: tuple[str, ...]
    """Every ``supplier/style`` that has a folder, faulty or not."""
    gathered: Mapping[str, Any] = field(default_factory=dict)
    """What *gather* returned of every blank without an error, by the blank's key."""


def load_ledger(
    root: Path,
    *,
    only: Collection[str] | None = None,
    workers: int | None = None,
    today: datetime.date | None = None,
    keep: Callable[[Blank], bool] | None = None,
    gather: Callable[[Blank, Shop], Any] | None = None,
    pictures: bool = True,
) -> LoadedLedger:
    """Return the ledger at *root* with every finding.

    *only* names the blanks (``supplier/style``) to read; shop and suppliers are always read.
    With *today*, later dates are findings. *keep* says which blanks stay in the ledger: to keep
    none is quicker where only the findings are wanted, as records need not cross processes.
    *gather* returns a little of every blank, kept or not. Without *pictures*, photos are looked
    for and not decoded.
    Raises: OSError where the system refuses to read.
    """
    files, stray = scan_ledger(root)
    wanted = [file for file in files if only is None or not file.blank or file.blank in only]
    was_on = gc.isenabled()
    gc.disable()  # many trees and no cycles: looking for garbage would only cost time
    try:
        shop_and_suppliers = [load_file(root, file) for file in wanted if not file.blank]
        context = replace(RuleContext.of(root, shop_and_suppliers, today, stray), pictures=pictures)
        groups = _by_blank(file for file in wanted if file.blank)
        loaded_blanks = _load_blanks(context, groups, workers, keep, gather)
    finally:
        if was_on:
            gc.enable()
    findings = [*stray, *name_rules.of_files(wanted)]
    findings += [f for loaded in shop_and_suppliers for f in context.shared_findings(loaded)]
    findings += [f for loaded in loaded_blanks for f in loaded.findings]
    blanks = {loaded.blank.style.key: loaded.blank for loaded in loaded_blanks if loaded.blank}
    gathered = {
        loaded.key: loaded.gathered for loaded in loaded_blanks if loaded.gathered is not None
    }
    held = context.studies
    ledger = Ledger(context.shop, context.suppliers, blanks, held) if context.shop else None
    styles = tuple(sorted({file.blank for file in files if file.blank}))
    return LoadedLedger(ledger, tuple(sorted(findings)), styles, gathered)


def _by_blank(files: Iterable[LedgerFile]) -> list[list[LedgerFile]]:
    """Return the files of each blank, in order of the blanks' keys."""
    groups: dict[str, list[LedgerFile]] = {}
    for file in files:
        groups.setdefault(file.blank, []).append(file)
    return [groups[key] for key in sorted(groups)]


@dataclass(frozen=True, slots=True)
class _LoadedBlank:
    """What was loaded of one blank."""

    key: str
    blank: Blank | None
    findings: list[Finding]
    gathered: Any


def _load_blanks(
    context: RuleContext,
    groups: list[list[LedgerFile]],
    workers: int | None,
    keep: Callable[[Blank], bool] | None,
    gather: Callable[[Blank, Shop], Any] | None,
) -> list[_LoadedBlank]:
    """Return what the files of each blank hold, from several processes where there are many."""
    from blankbook.records.processes import map_in_processes

    def work(group: list[LedgerFile]) -> _LoadedBlank:
        blank, found = load_blank(context, group)
        # Asked in the process that read the blank, so that little has to cross to the other.
        given = gather(blank, context.shop) if gather and blank and context.shop else None
        kept = blank if blank and (keep is None or keep(blank)) else None
        return _LoadedBlank(group[0].blank, kept, found, given)

    count = sum(len(group) for group in groups)
    return map_in_processes(groups, work, workers, worth=count > FORK_ABOVE_FILES)


def load_blank(context: RuleContext, files: list[LedgerFile]) -> tuple[Blank | None, list[Finding]]:
    """Return one blank, or None where its files have an error, and all findings."""
    return assemble_blank(context, [load_file(context.root, file) for file in files])


def assemble_blank(
    context: RuleContext, loaded_files: list[LoadedFile]
) -> tuple[Blank | None, list[Finding]]:
    """Return the blank that its files make, or None where they have an error, and all findings."""
    style = next((e for e in loaded_files if e.file.kind == "style"), None)
    found = [finding for loaded in loaded_files for finding in loaded.findings]
    # A misnamed style.yaml has its own finding; that it is missing would be a second one.
    if style is None and f"blanks/{loaded_files[0].file.blank}/style" in context.misnamed:
        return None, found
    if style is None:
        message = "a folder of rounds without a style.yaml"
        remedy = "add style.yaml with style, name, sizes and colours"
        found.append(
            Finding(visible(loaded_files[0].file.path, 300), 1, 1, "no-style", message, remedy)
        )
        return None, found
    found += _style_findings(context, style)
    neighbours = NeighbourDays.of(loaded_files)
    rounds = [loaded.record for loaded in loaded_files if isinstance(loaded.record, Round)]
    for loaded in loaded_files:
        found += _record_findings(context, loaded, style.record, rounds, neighbours)
    if any(finding.level == "error" for finding in found) or context.shop is None:
        return None, found
    supplier = context.suppliers.get(style.record.supplier)
    if supplier is None:
        return None, found
    planned = (e.record for e in loaded_files if isinstance(e.record, PlannedRound))
    ahead = tuple(sorted(planned, key=lambda plan: (plan.planned, plan.key)))
    blank = Blank(
        style.record,
        supplier,
        _by_date(loaded_files, Round),
        _by_date(loaded_files, Delivery),
        ahead,
        _by_date(loaded_files, Order),
    )
    return blank, found


def _by_date(loaded_files: Iterable[LoadedFile], kind: type[Dated]) -> tuple[Dated, ...]:
    """Return the records of one kind, in order of their dates."""
    records = (loaded.record for loaded in loaded_files)
    found = (record for record in records if isinstance(record, kind))
    return tuple(sorted(found, key=lambda record: (record.date, record.key)))


def _record_findings(
    context: RuleContext,
    loaded: LoadedFile,
    style: Style | None,
    rounds: list[Round],
    neighbours: NeighbourDays,
) -> list[Finding]:
    """Return what is wrong with a file of a blank's folder that is not its style."""
    found: list[Finding] = []
    match loaded.file.kind:
        case "round":
            found = _findings_of_round(context, loaded, style, rounds)
        case "delivery":
            found = delivery_findings(context, loaded, neighbours, style)
        case "order":
            found = order_findings(context, loaded, style)
    return found


def _findings_of_round(
    context: RuleContext, loaded: LoadedFile, style: Style | None, rounds: list[Round]
) -> list[Finding]:
    """Return what is wrong with a round, a planned one, or the sound parts of a faulty one."""
    if isinstance(loaded.record, Round):
        return _round_findings(context, loaded, style, rounds)
    if isinstance(loaded.record, PlannedRound):
        return _planned_findings(context, loaded, style)
    if loaded.sound and isinstance(loaded.sound.record, Round):
        return _sound_parts_findings(context, loaded, loaded.sound, style)
    return []


def _style_findings(context: RuleContext, loaded: LoadedFile) -> list[Finding]:
    """Return what is wrong with what the supplier claims of the style."""
    style = loaded.record
    if not isinstance(style, Style) or loaded.parsed is None:
        return []
    faults = [
        *name_rules.of_style(style, loaded.file),
        *_supplier_faults(context, loaded.file.blank.partition("/")[0]),
        *chart_rules.of_style(style),
        *price_rules.of_style(style),
        *fabric_rules.of_style(style),
        *date_rules.of_style(style),
    ]
    return context.located(loaded.parsed, faults)


def _supplier_faults(context: RuleContext, supplier: str) -> Iterator[Fault]:
    if supplier not in context.suppliers and supplier not in context.unreadable:
        near = difflib.get_close_matches(supplier, context.suppliers, n=1)
        remedy = f"did you mean {near[0]}? or " if near else ""
        message = f"unknown supplier {visible(supplier)}"
        remedy += f"add suppliers/{visible(supplier)}.yaml"
        yield Fault(("style",), "unknown-supplier", message, remedy)


def _round_findings(
    context: RuleContext, loaded: LoadedFile, style: Style | None, rounds: list[Round]
) -> list[Finding]:
    """Return what is wrong with a round; without a valid style, by the rules that need none."""
    round_ = loaded.record
    assert loaded.parsed is not None
    faults: list[Fault] = [
        *name_rules.of_style(round_, loaded.file),
        *name_rules.of_round(round_),
        *date_rules.of_round(round_, context.today),
        *decision_rules.of_round(round_),
        *decision_rules.of_day(round_, rounds),
        *fabric_rules.of_round(round_),
        *grade_rules.of_round(round_),
        *photo_rules.of_record(context.root, round_, context.pictures),
    ]
    if style:
        faults += piece_rules.of_round(round_, style)
        faults += chart_rules.of_round(round_, style)
        faults += decision_rules.of_sizes(round_, style)
        if context.shop:
            faults += reading_rules.of_round(round_, style, context.shop)
    return context.located(loaded.parsed, faults)


def _planned_findings(
    context: RuleContext, loaded: LoadedFile, style: Style | None
) -> list[Finding]:
    """Return what is wrong with a planned round."""
    plan = loaded.record
    assert loaded.parsed is not None
    faults = [
        *name_rules.of_style(plan, loaded.file),
        *name_rules.of_planned(plan),
        *date_rules.of_planned(plan),
    ]
    faults += piece_rules.of_pieces(plan, style) if style else ()
    return context.located(loaded.parsed, faults)


def _sound_parts_findings(
    context: RuleContext, loaded: LoadedFile, sound: SoundParts, style: Style | None
) -> list[Finding]:
    """Return what is wrong in the sound parts of a faulty file.

    Only rules that do not depend on the missing parts are asked.
    """
    round_ = sound.record
    assert loaded.parsed is not None
    faults: list[Fault] = [
        *name_rules.of_style(round_, loaded.file),
        *name_rules.of_round(round_),
        *date_rules.of_round(round_, context.today),
        *photo_rules.of_record(context.root, round_, context.pictures),
    ]
    if style:
        faults += piece_rules.of_pieces(round_, style)
    return context.located(loaded.parsed, sound.located(faults))
