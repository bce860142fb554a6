"""Readings typed at the table: one prompt for each, and each on disk before the next is asked for.

A person has one hand on the keys and a tape in the other. So a reading is a few digits and Enter;
what was read is said back at once; and whatever looks odd is asked about while the piece still
lies there. Nothing is kept in memory alone: killed at any moment, the file holds every reading
that was said back, and the next start goes on behind it.
"""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from blankbook.commands.adding.trial_check import faults_in, prove_round
from blankbook.commands.entering.find_round import Found, answers, head, head_words
from blankbook.commands.entering.line_prompt import DOWN, STOP, UP, line_prompt
from blankbook.commands.entering.odd_question import (
    KEEP,
    TAKE_BACK,
    ask_why,
    is_reason,
    too_long,
)
from blankbook.commands.entering.read_back import grid_of, group, question, read_back
from blankbook.commands.entering.round_settings import launder
from blankbook.commands.entering.save_readings import Saving
from blankbook.commands.entering.stage_questions import open_stage
from blankbook.commands.shared.errors import CLEAN, FINDINGS, WrongUse, shown
from blankbook.commands.shared.write_changes import Write

if TYPE_CHECKING:
    from blankbook.entry.round.filled_round import FilledRound, RoundCell, TypedReading
    from blankbook.text.writing.edits import NewValue

HELP = """\
  22 1/8, 22.1.8, 22.125 or 221   a reading: on a tape of eighths, 221 is 22 1/8
  -       not measured            *221   read once more, beside the first
  Enter   on to the next          Up     back to the one before
  u       take back the last      o      piece by piece, or point by point
  c       a note on the piece     =      show what is there
  +       one more piece
  q       stop; it goes on here next time"""


@dataclass(frozen=True, slots=True)
class Done:
    """What one key press has changed, so that it can be taken back."""

    cell: "RoundCell"
    before: "NewValue | None"


class Table:
    """One sitting."""

    def __init__(
        self,
        root: Path,
        found: Found,
        sheet: "FilledRound",
        given: dict[str, str | None],
        *,
        by_point: bool,
    ) -> None:
        self.root, self.path, self.blank = root, found.path, found.blank
        self.sheet = sheet
        self.answers = self._head(found, given)
        self.by_point = by_point
        self.left: set[RoundCell] = set()
        """What was passed over in this sitting."""
        self.done: list[Done] = []
        self.ask = line_prompt()
        self.acts: dict[str, Callable[[RoundCell], RoundCell]] = {
            "u": self._undo, "o": self._turn, "c": self._note, "=": self._show, "?": self._help,
            "+": self._more,
        }  # fmt: skip
        self.saving = Saving(root, found.path, sheet, self.ask, self._say)

    def _head(self, found: Found, given: dict[str, str | None]) -> dict[str, str]:
        """Return the round's day, hand and lot; ask again for what the check would refuse."""
        flags = dict(given)
        while True:
            answered = answers(self.sheet.tree, flags)
            try:
                body = head(self.sheet.source, self.sheet.tree, answered, self.sheet.tape)
                if body != found.source:
                    prove_round(self.root, found.blank, Write(found.path, found.source, body))
            except WrongUse as error:
                if not set(answered) - {key for key, text in given.items() if text}:
                    raise  # all of it came by flags: nobody would answer otherwise
                typer.echo(f"{shown(error.message)}: {shown(error.remedy)}", err=True)
                continue
            return answered

    def run(self) -> int:
        """Ask until every cell is filled or passed over, or the person stops."""
        self._say(f"{self.sheet.style.key}  {self.sheet.style.name}, {self.sheet.stage.name}")
        washed = open_stage(self.sheet)
        self._say(head_words({**self.sheet.tree, **self.answers}, self.sheet.tape))
        self._say(HELP)
        cell, shown_for = self._next(None), ""
        if cell and washed:
            self.saving.save(cell, lambda: launder(self.sheet.source, washed))
        while cell is not None:
            if group(self.sheet, cell, self.by_point) != shown_for:
                shown_for = group(self.sheet, cell, self.by_point)
                self._say(grid_of(self.sheet, cell, self.by_point))
            try:
                typed = self.ask(question(self.sheet, cell))
                if typed.strip() in STOP:
                    break
                cell = self._take(cell, typed)
            except (EOFError, KeyboardInterrupt):  # the keys that end a line's input stop, too
                break
        count = len({one.cell for one in self.done})
        self._say(f"{count} readings in this sitting, all in {self.path}")
        open_ = sum(not self.sheet.texts(one) for one in self.sheet.cells())
        self._say(f"{open_} are open; go on with the same command" if open_ else
                  f"all are there; next: blankbook vet {self.sheet.style.key}")  # fmt: skip
        return self._checked(count)

    def _checked(self, count: int) -> int:
        """Say what the check finds in the file, if this sitting has changed it."""
        found = faults_in(self.root, self.sheet.style.key, self.path) if count else []
        for one in found:
            self._say(f"  ! line {one.line}: {shown(one.message)}: {shown(one.help)}")
        return FINDINGS if found else CLEAN

    def _take(self, cell: "RoundCell", typed: str) -> "RoundCell | None":
        """Do what was typed, and return the cell that is next."""
        text = typed.strip()
        if typed == UP:
            return self._before(cell)
        if text in {"", "-"} or typed == DOWN:
            self.left.add(cell)
            return self._after(cell)
        act = self.acts.get(text.lower())
        return act(cell) if act else self._reading(cell, text)

    def _turn(self, cell: "RoundCell") -> "RoundCell":
        self.by_point = not self.by_point
        return cell

    def _show(self, cell: "RoundCell") -> "RoundCell":
        self._say(grid_of(self.sheet, cell, self.by_point))
        return cell

    def _help(self, cell: "RoundCell") -> "RoundCell":
        self._say(HELP)
        return cell

    def _reading(self, cell: "RoundCell", text: str) -> "RoundCell | None":
        from blankbook.records.lengths import LengthError

        again = text.startswith("*")
        if again and not self.sheet.texts(cell) and self.done:
            cell = self.done[-1].cell  # once more is what was read just now
        try:
            reading = self.sheet.read(cell, text.removeprefix("*"), again=again)
        except LengthError as error:
            self._say(f"  ! {shown(error)}" + (f": {error.instead}" if error.instead else ""))
            return cell
        said, why = f"  {read_back(self.sheet, cell, reading)}", ""
        if reading.warnings:
            self._say(said)
            why = ask_why(self.sheet, cell[0], reading, self.ask, self._say)
            if why in TAKE_BACK:
                return cell
            if why not in KEEP and not is_reason(why):
                return self._take(cell, why)
            why = "" if why in KEEP else why
        if self._write(cell, reading, again, why) and not reading.warnings:
            self._say(said)  # what is said back is on disk
        return self._after(cell)

    def _write(self, cell: "RoundCell", reading: "TypedReading", again: bool, why: str) -> bool:
        """Put a reading on disk, with the round's head where it is the first one."""

        def change() -> bytes:
            sheet = self.sheet
            source = head(sheet.source, sheet.tree, self.answers, sheet.tape)
            if why:
                source = sheet.with_words(cell[0], "confirmed", why, source)
            return sheet.with_reading(cell, reading.written, again=again, source=source)

        if self.saving.kind == "delivery" and not self._is_sound(change()):
            return False
        before = self.sheet.value(cell)
        self.left.discard(cell)
        if not self.saving.save(cell, change):
            return False
        self.done.append(Done(cell, before))
        return True

    def _note(self, cell: "RoundCell") -> "RoundCell":
        words = self.ask(f"  note on {shown(cell[0])} > ").strip()
        if (
            words
            and words.isprintable()
            and not too_long(self.sheet, cell[0], "note", words, self._say)
        ):
            self.saving.save(cell, lambda: self.sheet.with_words(cell[0], "note", words))
        return cell

    def _more(self, cell: "RoundCell") -> "RoundCell":
        """Add a piece that was not planned, and go on with it."""
        from blankbook.commands.entering.more_pieces import named_piece, with_piece

        name = self.ask("  one more piece, such as L-black-3 > ").strip()
        if not name:
            return cell
        try:
            piece = named_piece(self.sheet.style, name, list(self.sheet.pieces))
        except WrongUse as error:
            self._say(f"  ! {error.message}: {error.remedy}")
            return cell
        if not self._is_sound(with_piece(self.sheet.source, piece)):
            return cell
        if self.saving.save(cell, lambda: with_piece(self.sheet.source, piece)) and self.sheet.only:
            self.sheet.only = [*self.sheet.only, name]
        return (name, self.sheet.keys[0])

    def _is_sound(self, body: bytes) -> bool:
        """Say whether the file would pass its check with a change, and tell the person why not."""
        try:
            prove_round(self.root, self.blank, Write(self.path, self.sheet.source, body))
        except WrongUse as error:
            self._say(f"  ! {error.message}: {error.remedy}")
            return False
        return True

    def _undo(self, cell: "RoundCell") -> "RoundCell":
        if not self.done:
            self._say("  nothing was typed in this sitting yet")
            return cell
        last = self.done.pop()
        if self.saving.save(last.cell, lambda: self.sheet.with_previous(last.cell, last.before)):
            self._say(f"  taken back: {' '.join(last.cell)}")
        return last.cell

    def _next(self, after: "RoundCell | None") -> "RoundCell | None":
        """Return the next open cell in the order of asking, from the start again at the end."""
        cells = self.sheet.cells(self.by_point)
        at = cells.index(after) + 1 if after in cells else 0
        for cell in (*cells[at:], *cells[:at]):
            if not self.sheet.texts(cell) and cell not in self.left:
                return cell
        return None

    def _after(self, cell: "RoundCell") -> "RoundCell | None":
        return self._next(cell)

    def _before(self, cell: "RoundCell") -> "RoundCell":
        cells = self.sheet.cells(self.by_point)
        return cells[max(0, cells.index(cell) - 1)]

    def _say(self, text: str) -> None:
        typer.echo(text)
