"""Questions whose answers stay until the file is written: through a refusal, and through Ctrl-C.

They lie inside the ledger, where git does not look, and the next run of the same command offers
them. What lies there may have come with the ledger: it is only ever offered to a person.
"""

import json
from collections.abc import Callable, Iterable
from pathlib import Path

import typer

from blankbook.commands.shared.errors import shown
from blankbook.commands.shared.prompts import field_refused
from blankbook.commands.shared.write_changes import can_ask

FOLDER = ".blankbook"
MOST_BYTES = 300_000
NOTHING = "-"
"""What a person types to leave empty what was answered last time."""


class KeptAnswers:
    """The answers to one command's questions. Where nothing can be kept, the questions still are.

    *name* tells one file to be made from another; *kind* is the kind of file.
    """

    def __init__(self, root: Path, name: str, kind: str) -> None:
        self._root, self._kind = root, kind
        self._place = root / FOLDER / f"answers-{name.replace('/', '-')}.json"
        self._held = self._body() if can_ask() else None
        self.answers = _answers_in(self._held)
        if self.answers and can_ask():
            told = "Enter takes what you answered last time, a single - leaves it empty"
            typer.echo(told, err=True)

    def _body(self) -> bytes | None:
        from blankbook.text.writing.held_folder import held

        try:
            with held(self._root, self._place.parent) as folder:
                found = folder.look(self._place.name)
                small = found is not None and found.st_size <= MOST_BYTES
                return folder.read(self._place.name) if small else None
        except OSError:
            return None

    def keep(self, key: str, answer: str) -> None:
        """Put an answer on disk, before the next question."""
        from blankbook.text.writing.atomic_write import (
            AlreadyThereError,
            FileChangedError,
            OutsideLedgerError,
            replace_file,
            write_new_file,
        )

        self.answers[key] = answer
        body = json.dumps(self.answers, ensure_ascii=False, indent=1).encode()
        if not can_ask() or len(body) > MOST_BYTES or self._place.parent.is_symlink():
            return
        try:
            if self._held is None:
                write_new_file(self._place, body, self._root)
            else:
                replace_file(self._place, self._held, body, self._place.parent)
            self._held = body
        except (OSError, AlreadyThereError, FileChangedError, OutsideLedgerError):
            return  # a disk that cannot keep answers does not stop the questions

    def forget(self) -> None:
        """Remove the answers: the file is written."""
        from blankbook.text.writing.atomic_write import remove_new_file

        if self._held is not None:
            remove_new_file(self._place, self._held, [], self._root)

    def ask(
        self,
        key: str,
        words: str,
        at: tuple[str | int, ...] = (),
        *,
        choices: Iterable[str] = (),
        usual: str = "",
        each: bool = False,
        refused: Callable[[str], bool] | None = None,
    ) -> str:
        """Return what a person answers, asked again with the reason until the check takes it.

        *at* is the path to the field; with *each*, the answer is a list with commas between.
        *refused* says whether an answer is refused, and why; what was refused is not kept.
        """
        allowed, offered = list(choices), self.answers.get(key) or usual
        if allowed:
            words = f"{words} ({', '.join(allowed)})"
        while True:
            answer = str(
                typer.prompt(words, default=offered, show_default=bool(offered), err=True)
            ).strip()
            answer = "" if answer == NOTHING else answer
            if allowed and answer and answer not in allowed:
                typer.echo(f"must be one of {', '.join(allowed)}, or nothing", err=True)
            elif not answer or not (
                (at and self._refused(at, answer, each=each)) or (refused and refused(answer))
            ):
                self.keep(key, answer)
                return answer

    def _refused(self, at: tuple[str | int, ...], answer: str, *, each: bool) -> bool:
        parts = [part.strip() for part in answer.split(",")] if each else [answer]
        return any(field_refused(self._kind, at, part) for part in parts)


def _answers_in(body: bytes | None) -> dict[str, str]:
    """Return the answers that a file holds, as far as they are texts that can be shown."""
    try:
        held = json.loads(body or b"{}")
    except (ValueError, RecursionError):
        return {}
    found = held.items() if isinstance(held, dict) else ()
    return {
        str(key): text
        for key, text in found
        if isinstance(text, str) and (key == "pasted" or shown(text) == text)
    }
