"""A round or a delivery written as a whole: upon what others changed meanwhile, and proved."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from blankbook.commands.adding.trial_check import prove_round
from blankbook.commands.entering.find_round import Found, answers, head
from blankbook.commands.entering.grade_details import describe_held
from blankbook.commands.shared.errors import CLEAN, FINDINGS, WrongUse, shown
from blankbook.commands.shared.write_changes import (
    TIMES,
    ChangedMeanwhileFault,
    Write,
    carry_out,
    tell,
)

if TYPE_CHECKING:
    from blankbook.entry.round.filled_round import FilledRound

SCHEMA = "blankbook/enter/1"


def fill_as_it_is(
    opened: "Callable[[], tuple[Found, FilledRound]]",
    fill: "Callable[[Found, FilledRound], int]",
    listed: "Sequence[tuple[str, str, str]]",
) -> int:
    """Fill the round as it is now, and again where others have changed it meanwhile.

    Raises: ChangedMeanwhileFault where they have changed what was to be filled, or go on.
    """
    found, sheet = opened()
    before = _held(sheet, listed)
    for left in reversed(range(TIMES)):
        describe_held(sheet, [piece for piece, _, _ in listed])
        try:
            return fill(found, sheet)
        except ChangedMeanwhileFault:
            found, sheet = opened()
            if not left or _held(sheet, listed) != before:
                raise
    raise AssertionError


def _held(sheet: "FilledRound", listed: "Sequence[tuple[str, str, str]]") -> list[object]:
    """Return what the round holds where readings are to be put, and its decision."""
    known = set(sheet.looked_at)
    readings = [sheet.value((piece, point)) for piece, point, _ in listed if piece in known]
    above = [sheet.tree.get(key) for key in ("decision", "inspected", "faults")]
    return [*readings, *above]


def write_head(sheet: "FilledRound", given: dict[str, str | None], *, deciding: bool) -> None:
    """Write what stands above the pieces; with a decision, its day and hand are not the round's."""
    held = sheet.tree if deciding else {}
    own = {key: value for key, value in given.items() if key not in held}
    sheet.use_bytes(head(sheet.source, sheet.tree, answers(sheet.tree, own), sheet.tape))


def write_whole(
    root: Path,
    found: Found,
    sheet: "FilledRound",
    odd: list[str],
    count: int,
    *,
    dry: bool,
    as_json: bool,
) -> int:
    """Write the file if it changed and would pass its check; return the exit code.

    Raises: WrongUse, BlankbookError, OSError.
    """
    from blankbook.entry.round.filled_round import round_faults

    faults = round_faults(sheet.source, found.kind)
    if faults:
        raise WrongUse(f"{faults[0].message}, so nothing was written", faults[0].help)
    changed = sheet.source != found.source
    writes = [Write(found.path, found.source, sheet.source)] if changed else []
    for one in writes:
        prove_round(root, found.blank, one)
    told = carry_out(root, writes, dry=dry)
    data = {"path": found.path, "readings": count, "odd": odd, "written": changed and not dry,
            "difference": told}  # fmt: skip
    said = [f"look again: {shown(one)}" for one in odd]
    wrote = {0: "written", 1: "wrote 1 reading"}.get(count, f"wrote {count} readings")
    said.append(told if dry else f"{wrote} to {found.path}" if changed else "no change")
    if not dry:
        said.append(f"next: blankbook vet {sheet.style.key}")
    tell(SCHEMA, data, "\n".join(said), as_json=as_json)
    return CLEAN if not odd else FINDINGS
