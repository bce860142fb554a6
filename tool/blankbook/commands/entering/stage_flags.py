"""Which look at the pieces the flags of `enter` mean, and the sheet that it is written on."""

from typing import TYPE_CHECKING, Any

from blankbook.commands.entering.find_round import Found, tape_of
from blankbook.commands.entering.listed_readings import known_key, known_piece
from blankbook.commands.shared.errors import WrongUse, shown
from blankbook.commands.shared.prompts import parts

if TYPE_CHECKING:
    from blankbook.entry.round.filled_round import FilledRound
    from blankbook.entry.round.stages import Stage
    from blankbook.records.model import Shop


def stage_of(
    washed: int | None,
    worn: int | None,
    workmanship: bool,
    decorated: str | None,
    swatches: str | None,
) -> "Stage":
    """Return the stage that the flags name; a print is looked at fresh, or after washing.

    Raises: WrongUse.
    """
    from blankbook.entry.round import stages

    one_each = "--washed, --worn, --workmanship, --decorated and --swatches are one stage each"
    if sum([worn is not None, workmanship, decorated is not None, swatches is not None]) > 1:
        raise WrongUse(one_each, "enter one after the other")
    if washed is not None and (worn is not None or workmanship or swatches is not None):
        raise WrongUse(one_each, "enter one after the other; --washed goes with --decorated")
    if decorated is not None:
        method = _method(decorated)
        if washed is None:
            return stages.decorated_stage(method)
        return stages.washed_print_stage(method, _least(washed, 1, "--washed"))
    if washed is not None:
        return stages.washed_stage(_least(washed, 1, "--washed"))
    if worn is not None:
        return stages.worn_stage(_least(worn, 0, "--worn"))
    if swatches is not None:
        return stages.weighed_stage(_area(swatches))
    return stages.WORKMANSHIP_STAGE if workmanship else stages.RECEIVED_STAGE


def _method(named: str) -> str:
    from blankbook.words.decoration_methods import METHODS

    if named not in METHODS:
        known = ", ".join(METHODS)
        raise WrongUse(f"--decorated names no method: {shown(named)}", f"there are {known}")
    return named


def _area(given: str) -> str:
    from blankbook.records.amounts import read_area
    from blankbook.records.lengths import LengthError, with_decimal_point

    given = with_decimal_point(given.strip())
    try:
        read_area(given)
    except LengthError as error:
        raise WrongUse(f"--swatches {shown(error)}", error.instead) from None
    return given


def _least(number: int, least: int, flag: str) -> int:
    if number < least:
        raise WrongUse(f"{flag} must be {least} or more, found {number}", f"write {flag} {least}")
    return number


def sheet_of(
    found: Found, stage: "Stage", points: str | None, tape: str | None, pieces: str | None
) -> "FilledRound":
    """Return the sheet of a round at a stage, with what is looked at on it.

    Raises: WrongUse.
    """
    from blankbook.entry.round.filled_round import FilledRound
    from blankbook.entry.round.round_positions import stage_pieces
    from blankbook.entry.round.stages import RECEIVED_STAGE
    from blankbook.results.evidence import points_to_measure
    from blankbook.text.writing.yaml_spans import RecordText

    tree = RecordText(found.source).tree
    if found.kind == "delivery" and stage is not RECEIVED_STAGE:
        message = "a delivery is looked at as it came"
        raise WrongUse(message, "wash, wear or print the pieces of a round")
    if stage.print_of and not stage_pieces(tree, stage):
        message = f"no piece carries a print of {stage.print_of} yet"
        raise WrongUse(message, f"enter it fresh first: --decorated {stage.print_of}")
    keys = parts(points)
    for key in keys:
        known_key(key, stage.keys, stage is RECEIVED_STAGE)
    if not keys:
        usual = points_to_measure(found.blank, found.shop)
        keys = _usual(tree, stage, usual, found.shop) if stage.takes_lengths else stage.keys
    sheet = FilledRound(found.source, found.blank.style, found.shop,
                  tape_of(tree, found.shop, tape), stage, keys)  # fmt: skip
    sheet.only = parts(pieces)
    for piece in sheet.only:
        known_piece(piece, stage_pieces(tree, stage))
    return sheet


def _usual(tree: dict[str, Any], stage: "Stage", usual: list[str], shop: "Shop") -> list[str]:
    """Return what is looked at unasked.

    As received the points; after washing those that were read before, since no other can have
    changed, and what else the shop requires of a washed piece.
    """
    from blankbook.words.points import SEAMS

    if stage.block == "received":
        return usual
    read = {point for one in tree["pieces"] for point in one.get("received") or ()}
    found = [point for point in usual if point in read] or usual
    asked = {"skew": list(SEAMS), "colour": ["colour", "staining"], "pilling": ["pilling"]}
    return found + [key for check in asked if check in shop.required for key in asked[check]]
