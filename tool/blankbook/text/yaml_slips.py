"""What the parser refuses, in words for the commonest slips of the pen.

A parser says where it could not go on; the slip is often a line earlier. Each function here knows
one slip, looks for it around that place, and returns its error or None. The first one found counts.
"""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from blankbook.text.findings import UnreadableError, visible

_CLOSING = {"[": "]", "{": "}"}
_ODD_SPACE = re.compile("[\xa0\u1680\u2000-\u200b\u202f\u205f\u3000]")
_NO_SPACE = re.compile(r"(\s*(?:- )?)([A-Za-z_]+):([^\s:/].*)")
_NO_SPACE_AFTER_HYPHEN = re.compile(r"(\s*)-([A-Za-z_]+:(?: .*)?)")
_KEY_AND_TEXT = re.compile(r"(\s*(?:- )?)([^\s:#\"'\[{]+): +(.*?)\s*")
_NOT_AT_START = "%@`*&!|>-?,]}"


@dataclass(frozen=True, slots=True)
class ParserRefusal:
    """What the parser said, with 1-based places."""

    problem: str
    line: int
    column: int
    began: tuple[int, int] | None
    """Where the value began that it was reading."""
    lines: list[str]

    def at(self, line: int) -> str:
        """Return a line's text; empty where there is none."""
        return self.lines[line - 1] if 0 < line <= len(self.lines) else ""

    def suspects(self) -> Iterator[tuple[int, str]]:
        """Yield the lines to look at: where reading began, if near; where it stopped; above."""
        above = next((n for n in range(self.line - 1, 0, -1) if self.at(n).strip()), 0)
        began = self.began[0] if self.began and self.line - self.began[0] <= 1 else 0
        for number in dict.fromkeys((began, self.line, above)):
            if number:
                yield number, self.at(number)


def explain_refusal(error: Any, text: str) -> UnreadableError:
    """Return what *error*, an error of the parser with its place, means to the writer of *text*."""
    mark = error.problem_mark or error.context_mark
    began = error.context_mark
    refusal = ParserRefusal(
        str(error.problem or ""),
        mark.line + 1 if mark else 1,
        mark.column + 1 if mark else 1,
        (began.line + 1, began.column + 1) if began else None,
        re.split(r"\r\n?|\n", text),
    )
    for slip in SLIPS:
        if found := slip(refusal):
            return found
    message = f"cannot be read here: {visible(refusal.problem)}"
    remedy = "look for a missing quote, colon or bracket here or in the line above"
    return UnreadableError("not-yaml", message, remedy, refusal.line, refusal.column)


def _odd_space(refusal: ParserRefusal) -> UnreadableError | None:
    """A space that is not the plain one, as pasted from a web page."""
    for number, line in refusal.suspects():
        if odd := _ODD_SPACE.search(line):
            message = f"a space that is not a plain one, U+{ord(odd[0]):04X}"
            remedy = "delete it and type a space"
            return UnreadableError("odd-space", message, remedy, number, odd.start() + 1)
    return None


def _tab(refusal: ParserRefusal) -> UnreadableError | None:
    at = refusal.at(refusal.line).find("\t") + 1
    if not at or "end of stream" in refusal.problem:
        return None
    message = "must be set in with spaces, found a tab"
    return UnreadableError("tab", message, "put spaces where the tab is", refusal.line, at)


def _unclosed(refusal: ParserRefusal) -> UnreadableError | None:
    """A quote or bracket that is still open at the end of the file."""
    if not refusal.began or not re.search("end of stream|stream end|document end", refusal.problem):
        return None
    return _open_at(refusal, *refusal.began)


def _open_at(refusal: ParserRefusal, line: int, column: int) -> UnreadableError:
    sign = refusal.at(line)[column - 1 : column]
    message = f"opened with {sign} and never closed" if sign.strip() else "opened and never closed"
    remedy = f"add the closing {_CLOSING.get(sign, sign)}"
    return UnreadableError("unclosed", message, remedy, line, column)


def _no_space(refusal: ParserRefusal) -> UnreadableError | None:
    """A colon or a hyphen that the next character touches."""
    if not re.search("could not find expected|mapping values", refusal.problem):
        return None
    for number, line in refusal.suspects():
        if slip := _NO_SPACE.fullmatch(line):
            column = slip.start(3) + 1
            remedy = f"write {slip[2]}: {visible(slip[3])}"
            message = "must have a space after the colon, found none"
            return UnreadableError("no-space", message, remedy, number, column)
        if slip := _NO_SPACE_AFTER_HYPHEN.fullmatch(line):
            column = slip.start(2) + 1
            message = "must have a space after the hyphen, found none"
            return UnreadableError(
                "no-space", message, f"write - {visible(slip[2])}", number, column
            )
    return None


def _no_colon(refusal: ParserRefusal) -> UnreadableError | None:
    """A line without a colon where a key was expected."""
    if "could not find expected ':'" not in refusal.problem or not refusal.began:
        return None
    message = "must be a line of key: value, found no colon"
    remedy = "write key: value, with a space after the colon; or set it in, if it goes on"
    return UnreadableError("no-colon", message, remedy, *refusal.began)


def _sign(refusal: ParserRefusal) -> UnreadableError | None:
    """A value that begins with a character that YAML keeps for itself."""
    where = (
        refusal.began
        if refusal.began and "chomping" in refusal.problem
        else (refusal.line, refusal.column)
    )
    line = refusal.at(where[0])
    value = _KEY_AND_TEXT.fullmatch(line)
    if value and value[3][:1] in _CLOSING and "'<scalar>'" in refusal.problem:
        where = (where[0], value.start(3) + 1)
    elif line[where[1] - 1 : where[1]] not in _NOT_AT_START or not _at_value(line, where[1]):
        return None
    sign = line[where[1] - 1 : where[1]]
    remedy = f"quote the text: {_quoted(value[2], value[3])}" if value else f'write "{sign}…"'
    return UnreadableError("sign-at-start", f"text must not begin with {sign}", remedy, *where)


def _at_value(line: str, column: int) -> bool:
    """Say whether a value begins at *column*."""
    return bool(re.search(r"[:\-,\[{]\s*$", line[: column - 1]))


def _quoted(key: str, text: str) -> str:
    """Return the line with its text in quotes, of the kind that the text itself does not hold."""
    mark = "'" if '"' in text else '"'
    return f"{key}: {mark}{visible(text)}{mark}"


def _after_quote(refusal: ParserRefusal) -> UnreadableError | None:
    """Text after a closing quote: quotes within quotes, or one that was opened lines above."""
    if "'<scalar>'" not in refusal.problem:
        return None
    before = refusal.at(refusal.line)[: refusal.column - 1].rstrip()
    mark = before[-1:]
    value = _KEY_AND_TEXT.fullmatch(refusal.at(refusal.line))
    if mark not in {'"', "'"}:
        return None
    if not value or not value[3].startswith(mark) or len(before) - 1 == value.start(3):
        opened = _odd_line(refusal, mark)
        return _open_at(refusal, *opened) if opened else None
    other = "'" if mark == '"' else '"'
    remedy = f"put the whole text into {other} {other}, or write {mark}{mark} for {mark} within it"
    if mark == '"':
        remedy = f"put the whole text into {other} {other}"
    message = f"text goes on after the closing {mark}"
    return UnreadableError("text-after-quote", message, remedy, refusal.line, refusal.column)


def _odd_line(refusal: ParserRefusal, mark: str) -> tuple[int, int] | None:
    """Return the place of the last value above that opens with *mark* and does not close."""
    for number in range(refusal.line - 1, 0, -1):
        value = _KEY_AND_TEXT.fullmatch(refusal.at(number))
        if value and value[3].startswith(mark) and value[3].count(mark) == 1:
            return number, value.start(3) + 1
    return None


def _colon_in_text(refusal: ParserRefusal) -> UnreadableError | None:
    """A text with a colon of its own, and without quotes."""
    value = _KEY_AND_TEXT.fullmatch(refusal.at(refusal.line))
    if "mapping values" not in refusal.problem or not value or refusal.column <= value.start(3):
        return None
    remedy = f"quote the text: {_quoted(value[2], value[3])}"
    message = "a second colon in one line"
    return UnreadableError("colon-in-text", message, remedy, refusal.line, refusal.column)


def _brackets(refusal: ParserRefusal) -> UnreadableError | None:
    """A comma or a bracket that is missing or too many."""
    if not refusal.began or "expected ',' or" not in refusal.problem:
        return _stray(refusal) if re.search(r"found '[]}]'", refusal.problem) else None
    sign = refusal.at(refusal.began[0])[refusal.began[1] - 1 : refusal.began[1]]
    if "got '}'" in refusal.problem or "got ']'" in refusal.problem:
        return _stray(refusal) if sign == "{" else _open_at(refusal, *refusal.began)
    if refusal.line != refusal.began[0]:
        return _open_at(refusal, *refusal.began)
    message = "must have a comma between two values, found none"
    remedy = "write {one: 1, two: 2}" if sign == "{" else "write [1, 2]"
    return UnreadableError("missing-comma", message, remedy, refusal.line, refusal.column)


def _stray(refusal: ParserRefusal) -> UnreadableError:
    sign = refusal.at(refusal.line)[refusal.column - 1 : refusal.column]
    message = f"a closing {sign} that nothing opened"
    return UnreadableError("stray-bracket", message, "delete it", refusal.line, refusal.column)


def _wrong_indent(refusal: ParserRefusal) -> UnreadableError | None:
    """A line that begins in another column than its neighbours; the last guess of all."""
    kinds = "mapping values|<block end>|block sequence|not allowed here|more indented"
    if not re.search(kinds, refusal.problem):
        return None
    line = refusal.at(refusal.line)
    column = len(line) - len(line.lstrip(" ")) + 1
    message = "does not line up with the lines above"
    remedy = "begin it under the first letter of the keys that it belongs to"
    return UnreadableError("wrong-indent", message, remedy, refusal.line, column)


SLIPS: tuple[Callable[[ParserRefusal], UnreadableError | None], ...] = (
    _unclosed,
    _odd_space,
    _tab,
    _no_space,
    _no_colon,
    _sign,
    _after_quote,
    _colon_in_text,
    _brackets,
    _wrong_indent,
)
"""The surest first: the parser's words fit several slips, and those at the end fit most."""
