"""What the files of a blank are checked against: the shop, its suppliers, and today."""

import datetime
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from blankbook.records.load_file import LoadedFile
from blankbook.records.model import Shop, Study, Supplier
from blankbook.records.rules import date_rules, name_rules, price_rules, study_rules
from blankbook.text.findings import Fault, Finding
from blankbook.text.yaml_tree import ParsedFile, locate_faults


def _is_usable(study: Study | None) -> bool:
    """Say whether a study can be analysed; `RuleContext.shared_findings` says what is wrong."""
    return study is not None and not any(study_rules.of_study(study))


@dataclass(frozen=True, slots=True)
class RuleContext:
    """What the files of one blank are checked against."""

    root: Path
    shop: Shop | None
    suppliers: Mapping[str, Supplier]
    today: datetime.date | None
    unreadable: frozenset[str] = field(default=frozenset())
    """Suppliers whose file has faults: they are not unknown, which would be a second finding."""
    misnamed: frozenset[str] = field(default=frozenset())
    """Paths, without their ending, of records that are out of place or have a wrong ending."""
    studies: tuple[Study, ...] = ()
    pictures: bool = True
    """Whether photos are decoded, and not only looked for."""
    errors_only: bool = False
    """Whether only errors are wanted; then no places of warnings and notes are looked up."""

    @classmethod
    def of(
        cls,
        root: Path,
        loaded_files: Iterable[LoadedFile],
        today: datetime.date | None,
        stray: Iterable[Finding] = (),
    ) -> "RuleContext":
        """Return the context that shop.yaml and the files of suppliers and studies give."""
        misnamed = frozenset(finding.path.rpartition(".")[0] for finding in stray)
        unreadable = {name.rpartition("/")[2] for name in misnamed if name.startswith("suppliers/")}
        shop, suppliers, held = None, {}, []
        for loaded in loaded_files:
            if loaded.file.kind == "shop":
                shop = loaded.record
            elif loaded.file.kind == "study":
                held += [loaded.record] if _is_usable(loaded.record) else []
            elif loaded.record is not None and loaded.record.key == loaded.file.stem:
                suppliers[loaded.record.key] = loaded.record
            else:
                unreadable.add(loaded.file.stem)
        held.sort(key=lambda study: (study.date, study.key))
        return cls(root, shop, suppliers, today, frozenset(unreadable), misnamed, tuple(held))

    def located(self, read: ParsedFile, faults: list[Fault]) -> list[Finding]:
        """Return the faults of one file as findings with their places."""
        if self.errors_only:
            faults = [fault for fault in faults if fault.level == "error"]
        return locate_faults(read, faults)

    def shared_findings(self, loaded: LoadedFile) -> list[Finding]:
        """Return the findings of shop.yaml, a supplier's file or a study."""
        found = list(loaded.findings)
        if loaded.parsed and isinstance(loaded.record, Study):
            faults = [
                *study_rules.of_study(loaded.record),
                *date_rules.of_study(loaded.record, self.today),
            ]
            found += locate_faults(loaded.parsed, faults)
        if loaded.parsed and isinstance(loaded.record, Supplier):
            faults = [
                *name_rules.of_supplier(loaded.record, loaded.file),
                *date_rules.of_supplier(loaded.record, self.today),
                *price_rules.of_supplier(loaded.record),
            ]
            found += locate_faults(loaded.parsed, faults)
        return found
