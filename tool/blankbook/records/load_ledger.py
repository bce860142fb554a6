"""The whole ledger: read, typed, converted and held against its rules, every fault listed."""

import datetime
import difflib
import gc
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from blankbook.records.convert.valid_parts import Rest
from blankbook.records.model import Blank, Delivery, Ledger, PlannedRound, Round, Shop, Style
from blankbook.records.read_record import Entry, read_entry
from blankbook.records.rule_context import Known
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
from blankbook.records.rules.whole_delivery import Neighbours, delivery_findings
from blankbook.text.findings import Fault, Finding, visible
from blankbook.text.ledger_files import LedgerFile, list_files, scan_ledger

__all__ = ["Loaded", "list_files", "load_ledger"]

FORK_ABOVE = 60
"""From this many files on, a second process pays."""


@dataclass(frozen=True, slots=True)
class Loaded:
    """What could be loaded, and everything that was found."""

    ledger: Ledger | None
    """All blanks without an error; None where shop.yaml has one."""
    findings: tuple[Finding, ...]
    """Sorted by file, line and column."""
    styles: tuple[str, ...]
    """Every ``supplier/style`` that has a folder, faulty or not."""
    gathered: Mapping[str, Any] = field(default_factory=dict)
    """What was asked of every blank without an error, by its key."""


def load_ledger(
    root: Path,
    *,
    only: Collection[str] | None = None,
    workers: int | None = None,
    today: datetime.date | None = None,
    keep: Callable[[Blank], bool] | None = None,
    gather: Callable[[Blank, Shop], Any] | None = None,
    pictures: bool = True,
) -> Loaded:
    """Return the ledger at *root* with every finding.

    *only* names the blanks (``supplier/style``) to read; shop and suppliers are always read.
    With *today*, dates after it are findings. With *keep* only those blanks stay in the ledger
    that it says True of: the quicker way for who wants the findings. *gather* gives a little of
    every blank, kept or not. Without *pictures* photos are looked for, and not read.
    Raises: OSError where the system refuses to read.
    """
    files, stray = scan_ledger(root)
    wanted = [file for file in files if only is None or not file.blank or file.blank in only]
    was_on = gc.isenabled()
    gc.disable()  # the trees hold no cycles, and there are many of them
    try:
        shop_and_suppliers = [read_entry(root, file) for file in wanted if not file.blank]
        known = replace(Known.of(root, shop_and_suppliers, today, stray), pictures=pictures)
        groups = _by_blank(file for file in wanted if file.blank)
        loaded = _load_blanks(known, groups, workers, keep, gather)
    finally:
        if was_on:
            gc.enable()
    findings = [*stray, *name_rules.of_files(wanted)]
    findings += [f for entry in shop_and_suppliers for f in known.shared_findings(entry)]
    findings += [f for loaded_blank in loaded for f in loaded_blank.findings]
    blanks = {
        loaded_blank.blank.style.key: loaded_blank.blank
        for loaded_blank in loaded
        if loaded_blank.blank
    }
    gathered = {
        loaded_blank.key: loaded_blank.gathered
        for loaded_blank in loaded
        if loaded_blank.gathered is not None
    }
    held = known.studies
    ledger = Ledger(known.shop, known.suppliers, blanks, held) if known.shop else None
    styles = tuple(sorted({file.blank for file in files if file.blank}))
    return Loaded(ledger, tuple(sorted(findings)), styles, gathered)


def _by_blank(files: Iterable[LedgerFile]) -> list[list[LedgerFile]]:
    groups: dict[str, list[LedgerFile]] = {}
    for file in files:
        groups.setdefault(file.blank, []).append(file)
    return [groups[key] for key in sorted(groups)]


@dataclass(frozen=True, slots=True)
class _One:
    """What came of one blank."""

    key: str
    blank: Blank | None
    findings: list[Finding]
    gathered: Any


def _load_blanks(
    known: Known,
    groups: list[list[LedgerFile]],
    workers: int | None,
    keep: Callable[[Blank], bool] | None,
    gather: Callable[[Blank, Shop], Any] | None,
) -> list[_One]:
    from blankbook.records.processes import in_processes

    def work(group: list[LedgerFile]) -> _One:
        blank, found = load_blank(known, group)
        given = gather(blank, known.shop) if gather and blank and known.shop else None
        kept = blank if blank and (keep is None or keep(blank)) else None
        return _One(group[0].blank, kept, found, given)

    count = sum(len(group) for group in groups)
    return in_processes(groups, work, workers, worth=count > FORK_ABOVE)


def load_blank(known: Known, files: list[LedgerFile]) -> tuple[Blank | None, list[Finding]]:
    """Return one blank, if its files have no error, and everything found in them."""
    return blank_of(known, [read_entry(known.root, file) for file in files])


def blank_of(known: Known, entries: list[Entry]) -> tuple[Blank | None, list[Finding]]:
    """Return the blank that its files make, if they have no error, and what is found in them."""
    style = next((e for e in entries if e.file.kind == "style"), None)
    found = [finding for entry in entries for finding in entry.findings]
    if style is None and f"blanks/{entries[0].file.blank}/style" in known.misnamed:
        return None, found
    if style is None:
        message = "a folder of rounds without a style.yaml"
        remedy = "add style.yaml with style, name, sizes and colours"
        found.append(Finding(visible(entries[0].file.path, 300), 1, 1, "no-style", message, remedy))
        return None, found
    found += _style_findings(known, style)
    neighbours = Neighbours.of(entries)
    for entry in entries:
        if isinstance(entry.record, Round):
            found += _round_findings(known, entry, style.record)
        elif isinstance(entry.record, PlannedRound):
            found += _planned_findings(known, entry, style.record)
        elif entry.file.kind == "delivery":
            found += delivery_findings(known, entry, neighbours, style.record)
        elif entry.rest and isinstance(entry.rest.record, Round):
            found += _rest_findings(known, entry, entry.rest, style.record)
    if any(finding.level == "error" for finding in found) or known.shop is None:
        return None, found
    supplier = known.suppliers.get(style.record.supplier)
    if supplier is None:
        return None, found
    rounds = sorted((e.record for e in entries if isinstance(e.record, Round)), key=_order)
    came = sorted((e.record for e in entries if isinstance(e.record, Delivery)), key=_order)
    planned = (e.record for e in entries if isinstance(e.record, PlannedRound))
    ahead = tuple(sorted(planned, key=lambda plan: (plan.planned, plan.key)))
    return Blank(style.record, supplier, tuple(rounds), tuple(came), ahead), found


def _order(record: Round | Delivery) -> tuple[datetime.date, str]:
    return record.date, record.key


def _style_findings(known: Known, entry: Entry) -> list[Finding]:
    style = entry.record
    if not isinstance(style, Style) or entry.read is None:
        return []
    faults = [
        *name_rules.of_style(style, entry.file),
        *_supplier_faults(known, entry.file.blank.partition("/")[0]),
        *chart_rules.of_style(style),
        *price_rules.of_style(style),
        *fabric_rules.of_style(style),
        *date_rules.of_style(style),
    ]
    return known.placed(entry.read, faults)


def _supplier_faults(known: Known, supplier: str) -> Iterator[Fault]:
    if supplier not in known.suppliers and supplier not in known.unreadable:
        near = difflib.get_close_matches(supplier, known.suppliers, n=1)
        remedy = f"did you mean {near[0]}? or " if near else ""
        message = f"unknown supplier {visible(supplier)}"
        remedy += f"add suppliers/{visible(supplier)}.yaml"
        yield Fault(("style",), "unknown-supplier", message, remedy)


def _round_findings(known: Known, entry: Entry, style: Style | None) -> list[Finding]:
    round_ = entry.record
    assert entry.read is not None
    faults: list[Fault] = [
        *name_rules.of_style(round_, entry.file),
        *name_rules.of_round(round_),
        *date_rules.of_round(round_, known.today),
        *decision_rules.of_round(round_),
        *fabric_rules.of_round(round_),
        *grade_rules.of_round(round_),
        *photo_rules.of_record(known.root, round_, known.pictures),
    ]
    if style:
        faults += piece_rules.of_round(round_, style)
        faults += chart_rules.of_round(round_, style)
        if known.shop:
            faults += reading_rules.of_round(round_, style, known.shop)
    return known.placed(entry.read, faults)


def _planned_findings(known: Known, entry: Entry, style: Style | None) -> list[Finding]:
    plan = entry.record
    assert entry.read is not None
    faults = [
        *name_rules.of_style(plan, entry.file),
        *name_rules.of_planned(plan),
        *date_rules.of_planned(plan),
    ]
    faults += piece_rules.of_each(plan, style) if style else ()
    return known.placed(entry.read, faults)


def _rest_findings(known: Known, entry: Entry, rest: Rest, style: Style | None) -> list[Finding]:
    """Return what is wrong in the sound parts of a file, and cannot come from its other faults."""
    round_ = rest.record
    assert entry.read is not None
    faults: list[Fault] = [
        *name_rules.of_style(round_, entry.file),
        *name_rules.of_round(round_),
        *date_rules.of_round(round_, known.today),
        *photo_rules.of_record(known.root, round_, known.pictures),
    ]
    if style:
        faults += piece_rules.of_each(round_, style)
    return known.placed(entry.read, rest.placed(faults))
