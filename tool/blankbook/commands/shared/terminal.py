"""The terminal: how wide it is, whether colour is wanted there, and what long work says meanwhile.

A word with its shape says everything; colour only repeats it, and only a person sees it.
"""

import contextlib
import os
import re
import shutil
import sys
from collections.abc import Iterator
from typing import TextIO

from blankbook.words.answers import SIGNS

NARROW, WIDE = 40, 120
"""Columns: no line is made for fewer, and none of words is longer."""
PIPED = 80
_GOOD_COLOUR, _BAD_COLOUR, _PLAIN = "\x1b[36m", "\x1b[1;31m", "\x1b[0m"
_GOOD, _BAD = {"●", "◆"}, {"■"}
_SHAPES = {sign.shape for sign in SIGNS.values()}
_SIGN = re.compile(
    rf"[{''.join(_SHAPES)}] (?:{'|'.join(sorted(map(re.escape, SIGNS), key=len, reverse=True))})"
)


def columns() -> int:
    """Return how many columns a line of words may take; 80 where no terminal is."""
    if not is_terminal(sys.stdout):
        return PIPED
    return min(max(shutil.get_terminal_size().columns, NARROW), WIDE)


def wants_colour(stream: TextIO) -> bool:
    """Say whether colour is wanted: by a person at a terminal who has not said NO_COLOR."""
    return is_terminal(stream) and not os.environ.get("NO_COLOR") and _moves()


def painted(text: str) -> str:
    """Return the text, each sign of it in its colour."""
    return _SIGN.sub(_paint, text)


def is_terminal(stream: TextIO | None) -> bool:
    """Say whether somebody looks at a stream; a program without a console has none."""
    return stream is not None and stream.isatty()


def _moves() -> bool:
    """Say whether the terminal takes more than plain text."""
    return os.environ.get("TERM") not in {None, "dumb"}


def _paint(sign: re.Match[str]) -> str:
    shape = sign[0][0]
    colour = _GOOD_COLOUR if shape in _GOOD else _BAD_COLOUR if shape in _BAD else ""
    return f"{colour}{sign[0]}{_PLAIN}" if colour else sign[0]


@contextlib.contextmanager
def working(words: str) -> Iterator[None]:
    """Say on a terminal what is being done, for as long as it takes; the line then goes away."""
    if not (is_terminal(sys.stderr) and _moves()):
        yield
        return
    stream = uncovered(sys.stderr)
    print(f"{words} …", end="", file=stream, flush=True)
    try:
        yield
    finally:
        print("\r\x1b[K", end="", file=stream, flush=True)


def uncovered(stream: TextIO) -> TextIO:
    """Return the terminal itself, for what is wholly ours and moves its cursor."""
    inner: TextIO = getattr(stream, "uncovered", stream)
    return inner
