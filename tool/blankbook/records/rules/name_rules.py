"""Rules of names: a file's name says what stands in it, and every system can hold it."""

import re
from collections.abc import Iterable, Iterator

from blankbook.records.model import DatedRecord, PlannedRound, Round, Style, Supplier
from blankbook.text.findings import Fault, Finding, visible
from blankbook.text.ledger_files import DATED_KINDS, LedgerFile

_KEY = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_ROUND = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}-[a-z0-9]+(-[a-z0-9]+)*")
_RESERVED = re.compile(r"con|prn|aux|nul|com[0-9]|lpt[0-9]")
_LONGEST = 64


def of_files(files: Iterable[LedgerFile]) -> Iterator[Finding]:
    """Yield names that some system cannot hold, or that differ from another by case alone."""
    every = list(files)
    good = {file.path for file in every}
    for file in every:
        wrong = (_name_fault(part, file.kind) for part in _own_names(file))
        if message := next(filter(None, wrong), ""):
            remedy = "use small letters, digits and hyphens"
            folded = file.path.casefold()
            if folded in good and folded != file.path:
                remedy = f"rename it, {visible(folded, 200)} differs by case alone"
            yield Finding(visible(file.path, 300), 1, 1, "wrong-name", message, remedy)


def _own_names(file: LedgerFile) -> list[str]:
    stem = file.stem
    own = [] if file.kind in {"shop", "style"} else [stem]
    return [*file.blank.split("/"), *own] if file.blank else own


def _name_fault(part: str, kind: str) -> str:
    """Return what is wrong with one name in a path, or nothing."""
    if part[:1].isdigit() and kind in DATED_KINDS and _ROUND.fullmatch(part):
        return ""
    if not _KEY.fullmatch(part):
        return f"a name must be small letters, digits and hyphens, found {visible(part)}"
    if is_reserved(part):
        return f"must be a name that every system can hold, found {part}"
    return (
        f"a name must have at most {_LONGEST} characters, found {len(part)}"
        if len(part) > _LONGEST
        else ""
    )


def is_reserved(part: str) -> bool:
    """Say whether some system keeps this name for a device."""
    return bool(_RESERVED.fullmatch(part))


def of_supplier(supplier: Supplier, file: LedgerFile) -> Iterator[Fault]:
    """Yield a supplier whose file is named otherwise."""
    stem = file.stem
    if supplier.key != stem:
        message = f"supplier must be {visible(stem)} as the file is called, found {supplier.key}"
        yield Fault(
            ("supplier",), "name-against-content", message, f"write supplier: {visible(stem)}"
        )


def of_style(record: Style | PlannedRound | DatedRecord, file: LedgerFile) -> Iterator[Fault]:
    """Yield a style that stands in another style's folder."""
    key = record.key if isinstance(record, Style) else record.style
    if key != file.blank:
        message = f"style must be {visible(file.blank)} as the folders are called, found {key}"
        remedy = f"write style: {visible(file.blank)}, or rename the folder"
        yield Fault(("style",), "name-against-content", message, remedy)


def of_round(record: DatedRecord) -> Iterator[Fault]:
    """Yield a round, or another dated record, whose file's name does not begin with its date."""
    # A planned round keeps the name that it was planned with.
    if isinstance(record, Round) and record.planned and record.key.startswith(f"{record.planned}-"):
        return
    if _KEY.fullmatch(record.key) and not record.key.startswith(f"{record.date.isoformat()}-"):
        message = (
            f"the file's name must begin with the date {record.date}, found {visible(record.key)}"
        )
        kinds = (kind for kind in DATED_KINDS - {"round"} if record.key.endswith(f"-{kind}"))
        word = next((f"WORD-{kind}" for kind in kinds), "WORD")
        remedy = f"rename the file to {record.date}-{word}.yaml, or correct the date"
        yield Fault(("date",), "name-against-content", message, remedy)


def of_planned(plan: PlannedRound) -> Iterator[Fault]:
    """Yield a planned round whose file's name does not begin with the day it was planned."""
    if _KEY.fullmatch(plan.key) and not plan.key.startswith(f"{plan.planned.isoformat()}-"):
        message = f"the file's name must begin with {plan.planned}, found {visible(plan.key)}"
        remedy = f"rename the file to {plan.planned}-WORD.yaml, or correct the day"
        yield Fault(("planned",), "name-against-content", message, remedy)
