"""A finding: what is wrong, where, and what to write instead."""

from dataclasses import dataclass

FINDING_LEVELS = ("error", "warning", "note")
"""An error stops a build; a warning wants a look; a note is for information."""


@dataclass(frozen=True, slots=True, order=True)
class Finding:
    """One fault of one file. Findings sort by file, line and column."""

    path: str
    """Relative to the ledger, with forward slashes."""
    line: int
    """1-based; 1 where the whole file is meant."""
    column: int
    """1-based."""
    rule: str
    """Named for the fault: it reads well after "found"."""
    message: str
    """Lower case, no full stop."""
    help: str = ""
    """What to write instead, where that is known."""
    level: str = "error"


ValuePath = tuple[str | int, ...]
"""The path to a value in a record: keys, and indices of lists."""


@dataclass(frozen=True, slots=True)
class Fault:
    """A finding that knows the path to its value, and not yet its line.

    Lines are looked up once a file has a fault: most files have none, and composing nodes with
    their positions takes longer than reading the values.
    """

    at: ValuePath
    rule: str
    message: str
    help: str = ""
    level: str = "error"
    on_key: bool = False
    """Whether the fault lies in the key and not in its value."""
    first: ValuePath = ()
    """The path to the value that this one repeats; the message then names its line."""


class UnreadableError(Exception):
    """A text cannot be read as a record; line and column say where reading stopped."""

    def __init__(
        self, rule: str, message: str, remedy: str, line: int = 1, column: int = 1
    ) -> None:
        super().__init__(message)
        self.rule = rule
        self.message = message
        self.remedy = remedy
        self.line = line
        self.column = column

    def finding(self, path: str) -> Finding:
        """Return the error as a finding of the file at *path*."""
        return Finding(path, self.line, self.column, self.rule, self.message, self.remedy)


def visible(text: object, most: int = 60) -> str:
    """Return text from a file so that it can be shown: cut, with hidden characters spelled out.

    No control character of a file may reach a terminal.
    """
    cut = str(text)
    cut = cut if len(cut) <= most else cut[: most - 1] + "…"
    if cut.isprintable():
        return cut
    return "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in cut)
