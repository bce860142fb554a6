"""What the flags of an order say, and what a person is asked where they do not."""

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from blankbook.commands.shared.errors import WrongUse, shown
from blankbook.commands.shared.prompts import ask_if_any, pairs, parts
from blankbook.commands.shared.write_changes import ask, can_ask

if TYPE_CHECKING:
    from blankbook.records.model import Style

Need = dict[str, dict[str, str]]
"""By colour and size, as typed."""


def need_of(given: Iterable[str], flag: str, style: "Style") -> Need:
    """Return what was given as ``COLOUR:SIZE=N,SIZE=N``; one colour need not be named.

    Raises: WrongUse.
    """
    found: Need = {}
    for text in given:
        colour, colon, counts = text.rpartition(":")
        if not colon and len(style.colours) != 1:
            named = ", ".join(style.colours)
            message = f"{flag} must begin with a colour, found {shown(text)}"
            raise WrongUse(message, f"write {flag} COLOUR:M=12,L=9, of {named}")
        own = colour.strip() or style.colours[0]
        for size, count in counts_of(counts, flag).items():
            if size in found.setdefault(own, {}):
                raise WrongUse(f"{flag} names {shown(size)} of {shown(own)} twice", "keep one")
            found[own][size] = count
    return found


def counts_of(text: str, flag: str) -> dict[str, str]:
    """Return what was given as ``SIZE=N,SIZE=N``. Raises: WrongUse."""
    return pairs(parts(text), flag, f"{flag} M=12,L=9")


def asked_need(style: "Style") -> tuple[Need, dict[str, str]]:
    """Return what a person at a terminal needs: sizes by colour, or a total. Raises: WrongUse."""
    if not can_ask():
        message = "what is needed is not given, and nobody can be asked here"
        raise WrongUse(
            message, "write --need black:M=12,L=9, or --total black=60; a list: blankbook import"
        )
    colours = parts(ask("the colours", "--need", ",".join(style.colours[:1])))
    need: Need = {}
    totals: dict[str, str] = {}
    sizes = ", ".join(style.sizes)
    for colour in colours:
        answer = ask(f"how many of {colour}, such as M=12,L=9 ({sizes}), or one total", "--need")
        if "=" in answer:
            need[colour] = counts_of(answer, "--need")
        else:
            totals[colour] = answer
    if need and totals:
        raise WrongUse("some colours have sizes and others a total", "give each of them sizes")
    return need, totals


def ask_more(fields: dict[str, str], money: dict[str, str], uses: Sequence[str]) -> None:
    """Ask at a terminal for what an order says beside the need."""
    fields["use"] = fields["use"] or ask_if_any("what the shirts are for", uses)
    fields["needed_by"] = fields["needed_by"] or ask_if_any("needed by, YYYY-MM-DD")
    money["shirt"] = money["shirt"] or ask_if_any("what a finished shirt sells for")
