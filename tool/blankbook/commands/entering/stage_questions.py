"""What a person is asked before the first grid: how it was washed, which pieces, what press."""

from typing import TYPE_CHECKING

import typer

from blankbook.commands.entering.grade_details import DRYER, PRESS, details_of
from blankbook.commands.entering.listed_readings import known_piece
from blankbook.commands.shared.errors import WrongUse
from blankbook.commands.shared.prompts import ask_if_any, choose, parts

if TYPE_CHECKING:
    from blankbook.entry.round.filled_round import FilledRound


def open_stage(sheet: "FilledRound") -> str:
    """Say the cautions of a stage, and ask for what its readings or grades cannot say.

    What was given by flags, or stands in the file, is not asked again. Return how the pieces were
    washed and dried, ``WASH,DRY``, where that was asked; it is for the file.
    """
    for caution in _cautions(sheet):
        typer.echo(f"caution: {caution}", err=True)
    if sheet.stage.block == "washed" and "laundering" not in sheet.tree:
        return _laundering()
    if sheet.stage.block in {"decorated", "worn"}:
        _pieces(sheet)
    if sheet.stage.block == "decorated":
        _print(sheet)
    if sheet.stage.block == "worn" and not sheet.details:
        _wear(sheet)
    return ""


def _cautions(sheet: "FilledRound") -> list[str]:
    from blankbook.words.decoration_methods import CAUTIONS, CHILDREN_PRINT_CAUTION, METHODS
    from blankbook.words.wash_procedures import WASHING_CAUTION

    found = [WASHING_CAUTION] if sheet.stage.block == "washed" else []
    if sheet.stage.block == "decorated":
        for method in sheet.stage.methods:
            found += [CAUTIONS[key] for key in METHODS[method].cautions]
        if sheet.style.wearer == "children":
            found.append(CHILDREN_PRINT_CAUTION)
    return found


def _laundering() -> str:
    from blankbook.words.wash_procedures import DRYINGS, WASHES

    answered = [choose("how was it washed", WASHES), choose("and dried", DRYINGS)]
    return ",".join(answered)


def _pieces(sheet: "FilledRound") -> None:
    while not sheet.only and len(sheet.looked_at) > 1:
        named = parts(ask_if_any("which pieces, with commas between; nothing for all"))
        try:
            for piece in named:
                known_piece(piece, sheet.looked_at)
        except WrongUse as error:
            typer.echo(f"{error.message}: {error.remedy}", err=True)
            continue
        sheet.only = named
        return


def _print(sheet: "FilledRound") -> None:
    """Ask for the settings of a print, where some piece has none yet."""
    from blankbook.entry.round.round_positions import entry_path

    begun = all(entry_path(sheet.tree, sheet.stage, one) for one in sheet.looked_at)
    while not sheet.details and not begun:
        material = ask_if_any("ink, film or thread, and its backing; or nothing")
        press = ask_if_any(f"press, such as {PRESS}; or nothing")
        dryer = ask_if_any(f"dryer, such as {DRYER}; or nothing")
        try:
            sheet.details = details_of(sheet.stage, material, press, dryer)
        except WrongUse as error:
            typer.echo(f"{error.message}: {error.remedy}", err=True)
            continue
        return


def _wear(sheet: "FilledRound") -> None:
    washes = ask_if_any("how often washed by then, or nothing")
    by = ask_if_any("who wore it, or nothing")
    found = {"washes": washes if washes.isdecimal() else "", "by": by}
    sheet.details = {key: text for key, text in found.items() if text}
