"""What stops a command, in words for a person, and the exit code that it stops with."""

import errno
from typing import Any

CLEAN = 0
FINDINGS = 1
WRONG_USE = 2
ENVIRONMENT = 3
OUR_BUG = 70
INTERRUPTED = 130

EXIT_CODES: dict[int, str] = {
    CLEAN: "done, nothing found",
    FINDINGS: "the ledger has faults; each was listed",
    WRONG_USE: "the command was given wrongly",
    ENVIRONMENT: "the machine stood in the way: a file, a full disk, a lock",
    OUR_BUG: "a fault in blankbook itself; a log file says more",
    INTERRUPTED: "interrupted",
}


class BlankbookError(Exception):
    """A command cannot go on, and a person can be told why.

    ``message`` says what is wrong; ``remedy`` says what to do instead, or is empty.
    """

    code = FINDINGS

    def __init__(self, message: str, remedy: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.remedy = remedy
        self.data: dict[str, Any] = {}
        """What is said besides, where the command says what it did as data."""


class WrongUse(BlankbookError):  # noqa: N818 - reads as what happened
    """The command line asks for something that there is not."""

    code = WRONG_USE


class EnvironmentFault(BlankbookError):  # noqa: N818 - reads as what happened
    """The machine stands in the way."""

    code = ENVIRONMENT


_REMEDIES: dict[int, str] = {
    errno.ENOSPC: "free some space there, then run it again",
    errno.EACCES: "ask for the right to read and write there, then run it again",
    errno.EPERM: "ask for the right to read and write there, then run it again",
    errno.EROFS: "choose a place that can be written to",
    errno.ENOENT: "look whether it was moved or removed, then run it again",
    errno.ELOOP: "remove it, or put the folder or file itself in its place",
    errno.EMFILE: "close other programs, then run it again",
}


def from_system(error: OSError) -> EnvironmentFault:
    """Put an error of the operating system into words, with the path where it has one."""
    reason = (error.strerror or str(error) or "the system refused").lower()
    where = f"cannot use {shown(error.filename)}" if error.filename else "cannot read or write"
    return EnvironmentFault(f"{where}: {reason}", _REMEDIES.get(error.errno or 0, ""))


def shown(path: object) -> str:
    """Return a path so that it cannot play tricks on a terminal."""
    text = path.decode(errors="surrogateescape") if isinstance(path, bytes) else str(path)
    return "".join(
        c if c.isprintable() else c.encode("unicode_escape", "surrogatepass").decode() for c in text
    )
