"""Whether a new file would pass its check: tried beside a copy of what it rests on."""

import datetime
import shutil
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from blankbook.commands.shared.errors import WrongUse, shown
from blankbook.commands.shared.ledger_root import MARK
from blankbook.commands.shared.write_changes import Write

if TYPE_CHECKING:
    from blankbook.records.load_ledger import LoadedLedger
    from blankbook.records.model import Blank
    from blankbook.text.findings import Finding


def prove(root: Path, writes: Sequence[Write]) -> None:
    """Make sure that files would have no fault that they do not have now; nothing is written.

    Raises: WrongUse with what the check would say of the first fault.
    """
    found = _errors(root, writes)
    if found and any(one.old is not None for one in writes):
        before = [replace(one, new=one.old) for one in writes if one.old is not None]
        known = {(one.path, one.rule, one.message) for one in _errors(root, before)}
        found = [one for one in found if (one.path, one.rule, one.message) not in known]
    if found:
        more = f" (and {len(found) - 1} more)" if len(found) > 1 else ""
        raise WrongUse(f"nothing was written: {shown(found[0].message)}{more}", found[0].help)


def prove_round(root: Path, blank: "Blank", write: Write) -> None:
    """Make sure that a round of *blank* would pass its check. Raises: WrongUse."""
    style = blank.style.source.path
    prove(root, [Write(style, None, (root / style).read_bytes()), write])


def faults_in(root: Path, blank: str, path: str) -> "list[Finding]":
    """Return the errors of a file of a blank, as it is on disk."""
    from blankbook.records.load_ledger import load_ledger

    found = load_ledger(root, only={blank}, pictures=False).findings
    return [one for one in found if one.path == path and one.level == "error"]


def _errors(root: Path, writes: Sequence[Write]) -> "list[Finding]":
    paths = {new.path for new in writes}
    found = would_be(root, writes).findings
    return [one for one in found if one.path in paths and one.level == "error"]


def would_be(root: Path, writes: Sequence[Write]) -> "LoadedLedger":
    """Return what would be loaded of files that are not there yet, and of nothing else."""
    from blankbook.records.load_ledger import load_ledger
    from blankbook.text.writing.scratch_folder import scratch_folder

    with scratch_folder() as tried:
        shutil.copyfile(root / MARK, tried / MARK)
        (tried / "suppliers").mkdir()
        for one in (root / "suppliers").glob("*.yaml"):
            if one.is_file():
                shutil.copyfile(one, tried / "suppliers" / one.name)
        for new in writes:
            place = tried / new.path
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_bytes(new.new)
        today = datetime.datetime.now().astimezone().date()
        return load_ledger(tried, today=today)
