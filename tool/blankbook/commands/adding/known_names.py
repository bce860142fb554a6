"""The suppliers and styles that a ledger has, by name, and whether a new one may be called so."""

import os
from pathlib import Path

from blankbook.commands.shared.errors import EnvironmentFault, WrongUse, shown
from blankbook.commands.shared.prompts import must_be_new


def suppliers_of(root: Path) -> dict[str, str]:
    """Return the suppliers' names by key; a key stands for a name that cannot be read."""
    from blankbook.records.load_ledger import list_files, load_ledger

    found = {one.stem: one.stem for one in list_files(root) if one.kind == "supplier"}
    ledger = load_ledger(root, only=()).ledger
    return found | {one.key: one.name for one in (ledger.suppliers if ledger else {}).values()}


def styles_of(root: Path, supplier: str) -> dict[str, str]:
    """Return the names of a supplier's styles by key."""
    from blankbook.records.load_ledger import list_files, load_ledger

    blanks = {one.blank for one in list_files(root) if one.blank.startswith(f"{supplier}/")}
    found = {blank: blank for blank in blanks}
    ledger = load_ledger(root, only=blanks, pictures=False).ledger if blanks else None
    return found | {key: one.style.name for key, one in (ledger.blanks if ledger else {}).items()}


def must_be_name(key: str, flag: str) -> None:
    """Make sure that a file or folder may be called so on every system. Raises: WrongUse."""
    from blankbook.entry.new.new_names import KEY_PATTERN, LONGEST_KEY
    from blankbook.records.rules.name_rules import is_reserved

    if not KEY_PATTERN.fullmatch(key) or len(key) > LONGEST_KEY:
        message = f"{flag} must be at most {LONGEST_KEY} small letters, digits and single hyphens"
        raise WrongUse(f"{message}, found {shown(key) or 'nothing'}", f"write {flag} sedge-hollow")
    if is_reserved(key):
        message = f"{flag} must be a name that every system can hold, found {key}"
        raise WrongUse(message, f"write {flag} {key}-blanks")


def must_be_free(root: Path, path: str, what: str) -> None:
    """Make sure that a new file's place is free, whatever stands there.

    Raises: WrongUse; EnvironmentFault where a link is on the way there.
    """
    if os.path.lexists(root / path):
        message = f"{shown(path)} is there already"
        raise WrongUse(message, f"change it in an editor, or choose another name for the {what}")
    for above in list(Path(path).parents)[:-1]:
        if (root / above).is_symlink():
            message = f"{shown(above)} is a link, and a link in a ledger is not followed"
            raise EnvironmentFault(message, "put the folder itself in its place")


def compare(key: str, name: str, known: dict[str, str], *, new: bool, slips: bool) -> None:
    """Make sure that a new key is not one that is there, written otherwise; *slips* count too.

    Raises: WrongUse.
    """
    from blankbook.entry.new.new_names import same_key, similar_key

    others = {other: called for other, called in known.items() if other != key}
    near = same_key(key, name, others) or (similar_key(key, others) if slips else "")
    if near and not new:
        must_be_new(key, near, known, "supplier" if slips else "style")
