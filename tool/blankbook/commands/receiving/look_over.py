"""A delivery looked over piece by piece: one fault a key, each on disk before the next piece.

How many to look at is said before the first is opened. Two people may look at once: what each
finds is added to what the file holds by then.
"""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from blankbook.commands.adding.trial_check import prove_round
from blankbook.commands.entering.find_round import Found
from blankbook.commands.entering.line_prompt import DOWN, STOP, UP, line_prompt
from blankbook.commands.receiving.found_faults import whose, with_fault, with_looked
from blankbook.commands.receiving.inspected_now import inspected_now
from blankbook.commands.shared.errors import WrongUse, shown
from blankbook.commands.shared.write_changes import (
    TIMES,
    ChangedMeanwhileFault,
    Write,
    carry_out,
)
from blankbook.words.delivery_terms import FAULTS

if TYPE_CHECKING:
    from blankbook.entry.round.filled_round import FilledRound
    from blankbook.results.deliveries.inspection import InspectionResult

KEYS = dict(zip("123456789", FAULTS, strict=False))
HELP = "\n".join(
    [
        "  Enter  nothing is wrong with it",
        *(f"  {key}      {FAULTS[word]}" for key, word in KEYS.items()),
        "  u      take back the last      q      stop; it goes on here next time",
    ]
)


class LookOver:
    """One sitting with a delivery."""

    def __init__(self, root: Path, found: Found, sheet: "FilledRound") -> None:
        self.root, self.found, self.sheet = root, found, sheet
        self.done: list[bool] = []
        """Of each piece of this sitting: whether it had a fault."""
        self.ask = line_prompt()
        self.size = ""
        """What a fault is of, unless another is typed."""
        if len(sheet.tree["delivered"]) == 1:
            self.size = next(iter(sheet.tree["delivered"]))

    def run(self) -> bool:
        """Ask until as many were looked at as the plan wants; False where the person stops."""
        from blankbook.results.deliveries.delivery_words import say_plan

        plan = inspected_now(self.root, self.sheet.style.key, Path(self.found.path).stem)
        whole = sum(int(count) for count in self.sheet.tree["delivered"].values())
        typer.echo(f"{self.sheet.style.key}  {shown(self.sheet.style.name)}, as it came")
        typer.echo(say_plan(whole, plan.severity, plan.asked))
        if self._looked >= plan.asked.sample_size:
            return True
        typer.echo(HELP)
        try:
            return self._ask_all(plan)
        except (EOFError, KeyboardInterrupt):
            return False
        finally:
            typer.echo(f"{self._looked} looked at, {self._bad} bad, all in {self.found.path}")

    def _ask_all(self, plan: "InspectionResult") -> bool:
        told = False
        while self._looked < plan.asked.sample_size:
            if self._bad >= plan.asked.reject and not told:
                typer.echo(f"  ! {self._bad} bad: from {plan.asked.reject} on it is rejected")
                told = True
            typed = self.ask(f"piece {self._looked + 1} of {plan.asked.sample_size} > ").strip()
            if typed in STOP:
                return False
            self._take(typed)
        return True

    @property
    def _looked(self) -> int:
        return int(self.sheet.tree["inspected"])

    @property
    def _bad(self) -> int:
        return sum(int(one.get("count", 1)) for one in self.sheet.tree.get("faults") or ())

    def _take(self, typed: str) -> None:
        """Do what was typed for one piece."""
        if typed in {"u", "U", UP}:
            self._undo()
        elif typed in {"", DOWN}:
            if self._save(lambda: with_looked(self.sheet.source, self._looked + 1)):
                self.done.append(False)
        elif typed in KEYS:
            self._fault(KEYS[typed])
        elif typed == "?":
            typer.echo(HELP)
        else:
            typer.echo(f"  ! must be one of the keys, found {shown(typed)}; ? shows them")

    def _fault(self, word: str) -> None:
        """Ask of what size a faulty piece is, and for a note; nothing is kept before that."""
        usual = f" [{self.size}]" if self.size else ""
        sizes = shown(", ".join(self.sheet.tree["delivered"]))
        while True:
            typed = self.ask(
                f"  {word.replace('_', ' ')}: size or piece ({sizes}){usual} > "
            ).strip()
            if typed in STOP:
                raise EOFError
            try:
                own = whose(self.sheet, typed or self.size)
                break
            except WrongUse as error:
                typer.echo(f"  ! {error.message}: {error.remedy}")
        where = self.ask("  where and how, or nothing > ").strip()

        def change() -> bytes:
            source = with_looked(self.sheet.source, self._looked + 1)
            return with_fault(source, own, word, where)

        if self._save(change):
            self.size = own["size"]
            self.done.append(True)

    def _undo(self) -> None:
        if not self.done:
            typer.echo("  nothing was looked at in this sitting yet")
            return

        def change() -> bytes:
            from blankbook.text.writing.edits import remove_value

            source, held = self.sheet.source, len(self.sheet.tree.get("faults") or ())
            if self.done[-1]:
                path = ("faults", held - 1) if held > 1 else ("faults",)
                source = remove_value(source, path)
            return with_looked(source, self._looked - 1)

        if self._save(change):
            self.done.pop()
            typer.echo("  taken back")

    def _save(self, change: Callable[[], bytes]) -> bool:
        """Put a change on disk, upon what others wrote meanwhile; False where it is refused."""
        from blankbook.text.writing.edits import CannotEditError

        for left in reversed(range(TIMES)):
            try:
                write = Write(self.found.path, self.sheet.source, change())
                prove_round(self.root, self.found.blank, write)
                carry_out(self.root, [write], dry=False)
            except CannotEditError as error:
                typer.echo(f"  ! {shown(error)}")
                return False
            except ChangedMeanwhileFault:
                self.sheet.use_bytes((self.root / self.found.path).read_bytes())
                if not left:
                    raise
                continue
            except WrongUse as error:
                typer.echo(f"  ! {error.message}: {error.remedy}")
                return False
            self.sheet.use_bytes(write.new)
            return True
        raise AssertionError
