"""From bytes to characters: encoding, line ends, and characters that nobody typed on purpose."""

import re

from blankbook.text.findings import UnreadableText

MOST_BYTES = 1 << 20
"""A record larger than this is no record."""

_BOM = b"\xef\xbb\xbf"
HIDDEN = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069"
    "\ud800-\udfff\ufdd0-\ufdef\ufeff\ufff0-\ufff8\ufffe\uffff]"
)
"""Characters that are not to be seen, or that turn the order of reading round."""
_CONFLICT = re.compile(r"^(<{7} |\|{7}(?: |\r?$)|={7}\r?$|>{7} )", re.MULTILINE)


def decode(data: bytes) -> str:
    """Return the characters of a record, without a byte-order mark.

    Raises: UnreadableText for another encoding, hidden characters, an unresolved merge, or nothing.
    """
    body = data.removeprefix(_BOM)
    try:
        text = body.decode("utf-8")
    except UnicodeDecodeError as error:
        raise _encoding(body, error) from None
    if not text.replace("\n", "").isprintable() and (hidden := HIDDEN.search(text)):
        line, column = place(text, hidden.start())
        code = f"U+{ord(hidden[0]):04X}"
        raise UnreadableText(
            "hidden-character",
            f"a character that cannot be seen, {code}",
            "delete it",
            line,
            column,
        )
    if _may_conflict(text) and (conflict := _CONFLICT.search(text)):
        line, column = place(text, conflict.start())
        raise UnreadableText(
            "unresolved-merge",
            f"an unresolved merge: {conflict[0].strip()}",
            "keep one of the versions, and delete the lines that begin with <<<, |||, === or >>>",
            line,
            column,
        )
    return text


def _may_conflict(text: str) -> bool:
    return "=======" in text or "<<<<<<<" in text or ">>>>>>>" in text or "|||||||" in text


def _encoding(body: bytes, error: UnicodeDecodeError) -> UnreadableText:
    line = body.count(b"\n", 0, error.start) + 1
    column = error.start - (body.rfind(b"\n", 0, error.start) + 1) + 1
    if body[:2] in {b"\xff\xfe", b"\xfe\xff"} or b"\x00" in body[:64]:
        remedy = "it looks like UTF-16: save it as UTF-8"
    else:
        remedy = "it looks like Windows-1252: save it as UTF-8"
    byte = body[error.start]
    message = f"must be UTF-8, found the byte 0x{byte:02x} at byte {error.start + 1}"
    return UnreadableText("not-utf-8", message, remedy, line, column)


def place(text: str, offset: int) -> tuple[int, int]:
    """Return the 1-based line and column of an offset."""
    line = text.count("\n", 0, offset) + 1
    return line, offset - (text.rfind("\n", 0, offset) + 1) + 1


def line_ends(data: bytes) -> set[str]:
    """Return the kinds of line end in use."""
    pairs = data.count(b"\r\n")
    kinds = set()
    if pairs:
        kinds.add("CRLF")
    if data.count(b"\n") > pairs:
        kinds.add("LF")
    if data.count(b"\r") > pairs:
        kinds.add("CR")
    return kinds


def has_mark(data: bytes) -> bool:
    """Say whether the file begins with a byte-order mark."""
    return data.startswith(_BOM)
