"""What stands beside grades, as flags say it: how a print was made, how a piece was worn."""

import re
from collections.abc import Collection, Mapping
from typing import TYPE_CHECKING

from blankbook.commands.shared.errors import WrongUse, shown
from blankbook.commands.shared.write_changes import edited

if TYPE_CHECKING:
    from blankbook.entry.round.filled_round import FilledRound
    from blankbook.entry.round.round_positions import Details
    from blankbook.entry.round.stages import Stage

PRESS, DRYER = "150 C, 12 s, medium", "160 C, 120 s"
_SECONDS = re.compile(r"([0-9]{1,4}(?:\.[0-9]{1,2})?) *(?:s|sec|seconds?)?")


def details_of(
    stage: "Stage", material: str | None, press: str | None, dryer: str | None
) -> "Details":
    """Return what stands beside the grades of a print, when it is looked at fresh.

    Raises: WrongUse.
    """
    from blankbook.words.decoration_methods import PRESSURES

    found: dict[str, str | Mapping[str, str]] = {}
    if material:
        found["material"] = material
    if press:
        found["press"] = _heat(press, "--press", PRESS, PRESSURES)
    if dryer:
        found["dryer"] = _heat(dryer, "--dryer", DRYER, {})
    if found and stage.block != "decorated":
        message = "--material, --press and --dryer say how a print was made"
        raise WrongUse(message, "write --decorated METHOD with them, and no --washed")
    return found


def _heat(given: str, flag: str, example: str, pressures: Mapping[str, str]) -> dict[str, str]:
    """Return temperature, seconds and pressure, in the order of a round's file."""
    from blankbook.records.amounts import read_temperature
    from blankbook.records.lengths import LengthError

    found: dict[str, str] = {}
    for one in (part.strip() for part in given.split(",")):
        if one in pressures:
            key = "pressure"
        elif seconds := _SECONDS.fullmatch(one):
            key, one = "seconds", seconds[1]  # noqa: PLW2901 - what the file holds of it
        else:
            key = "temperature"
            try:
                read_temperature(one)
            except LengthError as error:
                raise WrongUse(f"{flag} {shown(error)}", f'write {flag} "{example}"') from None
        if key in found:
            message = f"{flag} says the {key} twice, found {shown(given)}"
            raise WrongUse(message, f'write {flag} "{example}"')
        found[key] = one
    order = ("temperature", "seconds", "pressure")
    return {key: found[key] for key in order if key in found}


def wear_of(stage: "Stage", by: str | None, washes: int | None) -> "Details":
    """Return who wore a piece, and how often it was washed by then.

    Raises: WrongUse.
    """
    if washes is not None and stage.block != "worn":
        raise WrongUse(
            "--washes says how often a worn piece was washed", "write --worn DAYS with it"
        )
    found = {"washes": None if washes is None else str(washes), "by": by}
    return {key: text for key, text in found.items() if text and stage.block == "worn"}


def describe_held(sheet: "FilledRound", pieces: Collection[str]) -> bool:
    """Write the details of a print into the entries that are there; say whether any are.

    Of the *pieces* that are named, else of all that are looked at.
    Raises: BlankbookError where the file cannot take it.
    """
    from blankbook.entry.round.round_positions import entry_path, set_details
    from blankbook.text.writing.edits import CannotEditError

    asked = [one for one in sheet.looked_at if not pieces or one in pieces]
    held = [one for one in asked if sheet.details and entry_path(sheet.tree, sheet.stage, one)]
    try:
        for piece in held:
            sheet.use_bytes(set_details(sheet.source, sheet.stage, piece, sheet.details))
    except CannotEditError as error:
        raise edited(error, "the round") from None
    return bool(held)
