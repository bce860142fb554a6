"""What the files of a blank are held against: the shop, its suppliers, and today."""

import datetime
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from blankbook.records.model import Shop, Study, Supplier
from blankbook.records.read_record import Entry
from blankbook.records.rules import date_rules, name_rules, study_rules
from blankbook.text.findings import Fault, Finding
from blankbook.text.yaml_tree import ParsedFile, locate_faults


def _is_usable(study: Study | None) -> bool:
    """Say whether a study can be worked out; what is wrong with it is found elsewhere."""
    return study is not None and not any(study_rules.of_study(study))


@dataclass(frozen=True, slots=True)
class Known:
    """What the files of one blank are held against."""

    root: Path
    shop: Shop | None
    suppliers: Mapping[str, Supplier]
    today: datetime.date | None
    unreadable: frozenset[str] = field(default=frozenset())
    """Suppliers whose file is there and has faults: known, though not to be shown."""
    misnamed: frozenset[str] = field(default=frozenset())
    """Files that are not taken for what they are, without their ending."""
    studies: tuple[Study, ...] = ()
    pictures: bool = True
    """Whether photos are read, and not only looked for."""
    errors_only: bool = False
    """Whether only what makes a blank unusable is told, which spares finding the other places."""

    @classmethod
    def of(
        cls,
        root: Path,
        entries: Iterable[Entry],
        today: datetime.date | None,
        stray: Iterable[Finding] = (),
    ) -> "Known":
        """Return what shop.yaml and the suppliers' files say, and what they fail to say."""
        misnamed = frozenset(finding.path.rpartition(".")[0] for finding in stray)
        unreadable = {name.rpartition("/")[2] for name in misnamed if name.startswith("suppliers/")}
        shop, suppliers, held = None, {}, []
        for entry in entries:
            if entry.file.kind == "shop":
                shop = entry.record
            elif entry.file.kind == "study":
                held += [entry.record] if _is_usable(entry.record) else []
            elif entry.record is not None and entry.record.key == entry.file.stem:
                suppliers[entry.record.key] = entry.record
            else:
                unreadable.add(entry.file.stem)
        held.sort(key=lambda study: (study.date, study.key))
        return cls(root, shop, suppliers, today, frozenset(unreadable), misnamed, tuple(held))

    def placed(self, read: ParsedFile, faults: list[Fault]) -> list[Finding]:
        """Return the faults of one file that are to be told, with their places."""
        if self.errors_only:
            faults = [fault for fault in faults if fault.level == "error"]
        return locate_faults(read, faults)

    def shared_findings(self, entry: Entry) -> list[Finding]:
        """Return the findings of shop.yaml, a supplier's file or a study."""
        found = list(entry.findings)
        if entry.read and isinstance(entry.record, Study):
            faults = [
                *study_rules.of_study(entry.record),
                *date_rules.of_study(entry.record, self.today),
            ]
            found += locate_faults(entry.read, faults)
        if entry.read and isinstance(entry.record, Supplier):
            faults = [
                *name_rules.of_supplier(entry.record, entry.file),
                *date_rules.of_supplier(entry.record, self.today),
            ]
            found += locate_faults(entry.read, faults)
        return found
