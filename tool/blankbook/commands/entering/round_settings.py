"""What is settled about a round besides its readings: how it was washed, what was decided."""

import datetime
from typing import TYPE_CHECKING

from blankbook.commands.shared.errors import WrongUse
from blankbook.commands.shared.prompts import ask_if_any, parts
from blankbook.commands.shared.write_changes import ask, can_ask, edited

if TYPE_CHECKING:
    from blankbook.entry.round.filled_round import FilledRound


def laundering(wash: str | None) -> dict[str, str]:
    """Return how pieces were washed and dried, by the key of a round's file.

    Raises: WrongUse.
    """
    if not wash:
        return {}
    washing, comma, drying = wash.partition(",")
    if not comma:
        raise WrongUse("--wash must be WASH,DRY", "write --wash home_warm,tumble_low")
    return {"wash": washing.strip(), "dry": drying.strip()}


def launder(source: bytes, wash: str | None) -> bytes:
    """Return the round with how its pieces were washed and dried.

    Raises: WrongUse, CannotEditError.
    """
    from blankbook.text.writing.edits import set_value

    for key, value in laundering(wash).items():
        source = set_value(source, ("laundering", key), value)
    return source


def settle(
    sheet: "FilledRound",
    wash: str | None,
    decision: dict[str, str | None],
    given: dict[str, str | None],
) -> None:
    """Write down how it was washed, and what was decided.

    A decision takes the place of an older one whole: a reason that was given for another decision
    is none for this one. The older one stays in git.
    """
    from blankbook.text.writing.edits import CannotEditError, remove_value, set_value

    source, held = sheet.source, sheet.tree.get("decision") or {}
    try:
        source = launder(source, wash)
        decided = _decided(decision, given)
        for key, value in decided.items():
            source = set_value(source, ("decision", key), value)
        for key in held if decided else ():
            if key not in decided:
                source = remove_value(source, ("decision", key))
    except CannotEditError as error:
        raise edited(error, "the round") from None
    sheet.use_bytes(source)


def _decided(
    decision: dict[str, str | None], given: dict[str, str | None]
) -> dict[str, str | list[str]]:
    if not decision["decision"]:
        return {}
    by = given["by"] or ask("who decides", "--by NAME")
    today = datetime.datetime.now().astimezone().date().isoformat()
    found: dict[str, str | list[str]] = {
        "decision": decision["decision"],
        "date": given["date"] or today,
        "by": by,
    }
    reason = decision["reason"] or (ask_if_any("why, or nothing") if can_ask() else "")
    if reason:
        found["reason"] = reason
    for key in ("sizes", "uses", "conditions"):
        if text := decision[key]:
            found[key] = parts(text)
    return found
