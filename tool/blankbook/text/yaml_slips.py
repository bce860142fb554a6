"""What the parser refuses, in words for the commonest slips of the pen.

A parser says where it could not go on; the slip is often a line earlier. Each function here knows
one slip, looks for it around the place, and returns its finding or None; the first one wins.
"""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from blankbook.text.findings import UnreadableText, visible

_CLOSING = {"[": "]", "{": "}"}
_ODD_SPACE = re.compile("[\xa0\u1680\u2000-\u200b\u202f\u205f\u3000]")
_NO_SPACE = re.compile(r"(\s*(?:- )?)([A-Za-z_]+):([^\s:/].*)")
_NO_SPACE_AFTER_HYPHEN = re.compile(r"(\s*)-([A-Za-z_]+:(?: .*)?)")
_KEY_AND_TEXT = re.compile(r"(\s*(?:- )?)([^\s:#\"'\[{]+): +(.*?)\s*")
_NOT_AT_START = "%@`*&!|>-?,]}"


@dataclass(frozen=True, slots=True)
class Refusal:
    """What the parser said, with 1-based places."""

    problem: str
    line: int
    column: int
    began: tuple[int, int] | None
    """Where the thing began that it was reading."""
    lines: list[str]

    def at(self, line: int) -> str:
        """Return a line's text; empty where there is none."""
        return self.lines[line - 1] if 0 < line <= len(self.lines) else ""

    def suspects(self) -> Iterator[tuple[int, str]]:
        """Yield where reading began if that is near, the line it stopped in, the one above."""
        above = next((n for n in range(self.line - 1, 0, -1) if self.at(n).strip()), 0)
        began = self.began[0] if self.began and self.line - self.began[0] <= 1 else 0
        for number in dict.fromkeys((began, self.line, above)):
            if number:
                yield number, self.at(number)


def explain(error: Any, text: str) -> UnreadableText:
    """Return what *error*, a marked error of the parser, means to the writer of *text*."""
    mark = error.problem_mark or error.context_mark
    began = error.context_mark
    refusal = Refusal(
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
    return UnreadableText("not-yaml", message, remedy, refusal.line, refusal.column)


def _odd_space(told: Refusal) -> UnreadableText | None:
    for number, line in told.suspects():
        if odd := _ODD_SPACE.search(line):
            message = f"a space that is not a plain one, U+{ord(odd[0]):04X}"
            remedy = "delete it and type a space"
            return UnreadableText("odd-space", message, remedy, number, odd.start() + 1)
    return None


def _tab(told: Refusal) -> UnreadableText | None:
    at = told.at(told.line).find("\t") + 1
    if not at or "end of stream" in told.problem:
        return None
    message = "must be set in with spaces, found a tab"
    return UnreadableText("tab", message, "put spaces where the tab is", told.line, at)


def _unclosed(told: Refusal) -> UnreadableText | None:
    if not told.began or not re.search("end of stream|stream end|document end", told.problem):
        return None
    return _open_at(told, *told.began)


def _open_at(told: Refusal, line: int, column: int) -> UnreadableText:
    sign = told.at(line)[column - 1 : column]
    message = f"opened with {sign} and never closed"
    remedy = f"add the closing {_CLOSING.get(sign, sign)}"
    return UnreadableText("unclosed", message, remedy, line, column)


def _no_space(told: Refusal) -> UnreadableText | None:
    """A colon or a hyphen that the next character touches."""
    if not re.search("could not find expected|mapping values", told.problem):
        return None
    for number, line in told.suspects():
        if slip := _NO_SPACE.fullmatch(line):
            column = slip.start(3) + 1
            remedy = f"write {slip[2]}: {visible(slip[3])}"
            message = "must have a space after the colon, found none"
            return UnreadableText("no-space", message, remedy, number, column)
        if slip := _NO_SPACE_AFTER_HYPHEN.fullmatch(line):
            column = slip.start(2) + 1
            message = "must have a space after the hyphen, found none"
            return UnreadableText(
                "no-space", message, f"write - {visible(slip[2])}", number, column
            )
    return None


def _no_colon(told: Refusal) -> UnreadableText | None:
    if "could not find expected ':'" not in told.problem or not told.began:
        return None
    message = "must be a line of key: value, found no colon"
    remedy = "write key: value, with a space after the colon; or set it in, if it goes on"
    return UnreadableText("no-colon", message, remedy, *told.began)


def _sign(told: Refusal) -> UnreadableText | None:
    """A value that begins with a character that YAML keeps for itself."""
    where = told.began if told.began and "chomping" in told.problem else (told.line, told.column)
    line = told.at(where[0])
    value = _KEY_AND_TEXT.fullmatch(line)
    if value and value[3][:1] in _CLOSING and "'<scalar>'" in told.problem:
        where = (where[0], value.start(3) + 1)
    elif line[where[1] - 1 : where[1]] not in _NOT_AT_START or not _at_value(line, where[1]):
        return None
    sign = line[where[1] - 1 : where[1]]
    remedy = f"quote the text: {_quoted(value[2], value[3])}" if value else f'write "{sign}…"'
    return UnreadableText("sign-at-start", f"text must not begin with {sign}", remedy, *where)


def _at_value(line: str, column: int) -> bool:
    """Say whether a value begins at *column*."""
    return bool(re.search(r"[:\-,\[{]\s*$", line[: column - 1]))


def _quoted(key: str, text: str) -> str:
    """Return the line as it would be right, with the quotes that the text itself has not."""
    mark = "'" if '"' in text else '"'
    return f"{key}: {mark}{visible(text)}{mark}"


def _after_quote(told: Refusal) -> UnreadableText | None:
    """Text after a closing quote: quotes within quotes, or one that was opened lines above."""
    if "'<scalar>'" not in told.problem:
        return None
    before = told.at(told.line)[: told.column - 1].rstrip()
    mark = before[-1:]
    value = _KEY_AND_TEXT.fullmatch(told.at(told.line))
    if mark not in {'"', "'"}:
        return None
    if not value or not value[3].startswith(mark) or len(before) - 1 == value.start(3):
        opened = _odd_line(told, mark)
        return _open_at(told, *opened) if opened else None
    other = "'" if mark == '"' else '"'
    remedy = f"put the whole text into {other} {other}, or write {mark}{mark} for {mark} within it"
    if mark == '"':
        remedy = f"put the whole text into {other} {other}"
    message = f"text goes on after the closing {mark}"
    return UnreadableText("text-after-quote", message, remedy, told.line, told.column)


def _odd_line(told: Refusal, mark: str) -> tuple[int, int] | None:
    """Return the place of the last value above that opens with *mark* and does not close."""
    for number in range(told.line - 1, 0, -1):
        value = _KEY_AND_TEXT.fullmatch(told.at(number))
        if value and value[3].startswith(mark) and value[3].count(mark) == 1:
            return number, value.start(3) + 1
    return None


def _colon_in_text(told: Refusal) -> UnreadableText | None:
    value = _KEY_AND_TEXT.fullmatch(told.at(told.line))
    if "mapping values" not in told.problem or not value or told.column <= value.start(3):
        return None
    remedy = f"quote the text: {_quoted(value[2], value[3])}"
    message = "a second colon in one line"
    return UnreadableText("colon-in-text", message, remedy, told.line, told.column)


def _brackets(told: Refusal) -> UnreadableText | None:
    """A comma or a bracket that is missing or too many."""
    if not told.began or "expected ',' or" not in told.problem:
        return _stray(told) if re.search(r"found '[]}]'", told.problem) else None
    sign = told.at(told.began[0])[told.began[1] - 1 : told.began[1]]
    if "got '}'" in told.problem or "got ']'" in told.problem:
        return _stray(told) if sign == "{" else _open_at(told, *told.began)
    if told.line != told.began[0]:
        return _open_at(told, *told.began)
    message = "must have a comma between two values, found none"
    remedy = "write {one: 1, two: 2}" if sign == "{" else "write [1, 2]"
    return UnreadableText("missing-comma", message, remedy, told.line, told.column)


def _stray(told: Refusal) -> UnreadableText:
    sign = told.at(told.line)[told.column - 1 : told.column]
    message = f"a closing {sign} that nothing opened"
    return UnreadableText("stray-bracket", message, "delete it", told.line, told.column)


def _wrong_indent(told: Refusal) -> UnreadableText | None:
    kinds = "mapping values|<block end>|block sequence|not allowed here|more indented"
    if not re.search(kinds, told.problem):
        return None
    line = told.at(told.line)
    column = len(line) - len(line.lstrip(" ")) + 1
    message = "does not line up with the lines above"
    remedy = "begin it under the first letter of the keys that it belongs to"
    return UnreadableText("wrong-indent", message, remedy, told.line, column)


SLIPS: tuple[Callable[[Refusal], UnreadableText | None], ...] = (
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
"""In the order of how sure each can be."""
