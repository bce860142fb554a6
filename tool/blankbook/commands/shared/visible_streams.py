"""Everything that reaches a terminal passes here: control characters come out spelled.

A name in a ledger, an argument or a table may hold characters that clear a screen, hide a line or
turn its order round. The streams spell them out, so that no message has to think of it. Then they
paint the signs of answers, where a person wants colour.
"""

import contextlib
import re
import sys
from collections.abc import Iterator
from typing import Any, TextIO, cast

from blankbook.commands.shared.terminal import painted, wants_colour

# C0 without tab and line feed, a carriage return that does not end a line, DEL, C1, and what turns
# the order of reading or hides: Unicode 16, PropList.txt, Bidi_Control, and U+2028 and U+2029.
_HIDDEN = re.compile(
    "\r(?!\n)|[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u061c\u200b\u200e\u200f\u2028-\u202e"
    "\u2066-\u2069\ufeff]"
)


def spelled_out(text: str) -> str:
    """Return text with every character that a terminal would act upon written as its number."""
    return _HIDDEN.sub(lambda found: f"\\u{ord(found[0]):04x}", text)


class VisibleStream:
    """A stream of text that spells out what it is given; all else is the stream's own."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream
        self._coloured = wants_colour(stream)

    @property
    def uncovered(self) -> TextIO:
        """The stream itself, for what is wholly ours and moves the cursor."""
        return self._stream

    def write(self, text: str) -> int:
        """Write text. Raises: OSError."""
        visible = spelled_out(text)
        self._stream.write(painted(visible) if self._coloured else visible)
        return len(text)

    def writelines(self, lines: Any) -> None:
        """Write texts. Raises: OSError."""
        for line in lines:
            self.write(line)

    @property
    def encoding(self) -> str:
        """Any character can be written: the stream spells out those that it has not."""
        return "utf-8"

    def __getattr__(self, name: str) -> Any:
        return getattr(self._stream, name)


@contextlib.contextmanager
def visible_streams() -> Iterator[None]:
    """Let nothing out but what can be seen."""
    old = sys.stdout, sys.stderr
    try:
        for name, stream in zip(("stdout", "stderr"), old, strict=True):
            if stream is not None:  # a process may have been started without one
                setattr(sys, name, cast("TextIO", VisibleStream(stream)))
        yield
    finally:
        sys.stdout, sys.stderr = old
