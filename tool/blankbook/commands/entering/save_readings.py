"""One change at a time to a file that somebody else may be changing too."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from blankbook.commands.shared.errors import BlankbookError, EnvironmentFault, shown
from blankbook.commands.shared.find_blank import CHECK
from blankbook.commands.shared.write_changes import TIMES, edited, leads_out

if TYPE_CHECKING:
    from blankbook.entry.round.filled_round import FilledRound, RoundCell


class Saving:
    """Puts changes of a sheet on disk; what others wrote meanwhile is kept, or asked about."""

    def __init__(
        self,
        root: Path,
        path: str,
        sheet: "FilledRound",
        ask: Callable[[str], str],
        say: Callable[[str], None],
    ) -> None:
        self.root, self.path, self.sheet = root, path, sheet
        self.kind = "delivery" if path.endswith("-delivery.yaml") else "round"
        self._ask, self._say = ask, say

    def save(self, cell: "RoundCell", change: Callable[[], bytes]) -> bool:
        """Make a change and put it on disk; if the file has moved on, make it there.

        Return False where somebody else has filled the *cell* and that was kept.
        Raises: BlankbookError, OSError.
        """
        from blankbook.text.writing.atomic_write import (
            FileChangedError,
            OutsideLedgerError,
            replace_file,
        )
        from blankbook.text.writing.edits import CannotEditError

        for _ in range(TIMES):
            try:
                new = change()
                replace_file(self.root / self.path, self.sheet.source, new, self.root)
            except CannotEditError as error:
                raise edited(error, self.path) from None
            except OutsideLedgerError:
                raise leads_out(self.path) from None
            except FileChangedError:
                if not self._goes_on(cell):
                    return False
                continue
            self.sheet.use_bytes(new)
            return True
        raise EnvironmentFault(f"{self.path} is being changed by somebody else", "try again")

    def _goes_on(self, cell: "RoundCell") -> bool:
        """Take the file as it is now; ask where the same cell was changed."""
        held = self.sheet.value(cell)
        self._take()
        if cell[0] not in self.sheet.pieces:
            message = f"the piece {shown(cell[0])} was taken out of {self.path} meanwhile"
            raise BlankbookError(message, "what you typed before is there; start again")
        now = self.sheet.value(cell)
        if now == held:
            self._say("  the file was changed elsewhere meanwhile; what you typed is added")
            return True
        said = "; ".join(self.sheet.texts(cell)) or "nothing"
        self._say(f"  ! somebody else has written {shown(said)} there meanwhile")
        try:
            return self._ask("  Enter leaves theirs, m puts yours in its place > ").strip() == "m"
        except EOFError:
            return False

    def _take(self) -> None:
        from blankbook.entry.round.filled_round import round_faults
        from blankbook.text.findings import UnreadableError

        body = (self.root / self.path).read_bytes()
        try:
            faults = round_faults(body, self.kind)
        except UnreadableError as error:
            raise edited(error, self.path) from None
        if faults:
            message = f"{self.path} was changed meanwhile, and has faults now"
            raise BlankbookError(message, CHECK)
        before = self.sheet.tree.get("tape")
        self.sheet.use_bytes(body)
        if before and self.sheet.tree.get("tape") != before:
            message = f"the tape of {self.path} was changed meanwhile"
            raise BlankbookError(message, "look at it, and start again")
