"""Questions to a person at a terminal; elsewhere nothing is asked, and flags say everything."""

import datetime
from collections.abc import Iterable, Mapping

import typer

from blankbook.commands.shared.errors import WrongUse, shown
from blankbook.commands.shared.write_changes import ask, can_ask


def ask_if_any(words: str, choices: Iterable[str] = ()) -> str:
    """Return what a person answers to what may be left out; *choices* close the list."""
    return _asked(words, list(choices), ", or nothing")


def ask_for(
    words: str, flag: str, kind: str, at: tuple[str | int, ...], default: str | None = None
) -> str:
    """Return what a person answers for a field of a file, asked again until the check takes it.

    *at* is the path to the field in a file of that *kind*.
    Raises: WrongUse that names the *flag* where nobody can be asked and there is no default.
    """
    while True:
        answer = ask(words, flag, default)
        if not can_ask() or not field_refused(kind, at, answer):
            return answer


def field_refused(kind: str, at: tuple[str | int, ...], answer: str) -> bool:
    """Say whether the check would refuse a field, and tell the person why."""
    from blankbook.records.field_faults import field_fault

    today = datetime.datetime.now().astimezone().date()
    fault = field_fault(kind, at, answer, today)
    if fault:
        typer.echo(f"{shown(fault.message)}: {shown(fault.help)}".rstrip(": "), err=True)
    return fault is not None


def choose(words: str, choices: Iterable[str]) -> str:
    """Return which of the *choices* a person answers."""
    return _asked(words, list(choices), "")


def _asked(words: str, allowed: list[str], or_nothing: str) -> str:
    offered = f" ({', '.join(allowed)})" if allowed else ""
    while True:
        answer = typer.prompt(f"{words}{offered}", default="", show_default=False, err=True)
        answer = str(answer).strip()
        if answer in allowed or (not answer and or_nothing) or not allowed:
            return answer
        typer.echo(f"must be one of {', '.join(allowed)}{or_nothing}", err=True)


def pairs(given: Iterable[str], flag: str, example: str) -> dict[str, str]:
    """Return what was given as ``NAME=VALUE``, each of them once. Raises: WrongUse."""
    found: dict[str, str] = {}
    for one in given:
        name, sign, value = one.rpartition("=")
        if not sign or not name.strip() or not value.strip() or name.strip() in found:
            raise WrongUse(f"{flag} must be NAME=VALUE, found {shown(one)}", f"write {example}")
        found[name.strip()] = value.strip()
    return found


def parts(given: str | None) -> list[str]:
    """Return what was given with commas between, without doubles."""
    found = (one.strip() for one in (given or "").split(","))
    return list(dict.fromkeys(one for one in found if one))


def must_be_new(key: str, near: str, known: Mapping[str, str], what: str) -> None:
    """Make sure that *near*, which is like the new one, is meant to be another one.

    Raises: WrongUse where nobody can be asked, or the answer is no.
    """
    message = f"{key} is much like the {what} {near}, {shown(known[near])}"
    if can_ask():
        typer.echo(message, err=True)
        if typer.confirm("is it another one?", default=False, err=True):
            return
    raise WrongUse(message, f"use {near}, or write --new where it is another one")
