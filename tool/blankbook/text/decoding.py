"""From bytes to characters: encoding, line ends, and characters that nobody typed on purpose."""

import re

from blankbook.text.findings import UnreadableError

MOST_RECORD_BYTES = 1 << 20
"""A file that is larger is not a record that somebody wrote."""

BYTE_ORDER_MARK = b"\xef\xbb\xbf"
HIDDEN_CHARACTERS = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069"
    "\ud800-\udfff\ufdd0-\ufdef\ufeff\ufff0-\ufff8\ufffe\uffff]"
)
"""Characters that nobody sees, or that reverse the order of reading."""
_CONFLICT = re.compile(r"^(<{7} |\|{7}(?: |\r?$)|={7}\r?$|>{7} )", re.MULTILINE)


def decode(data: bytes) -> str:
    """Return the characters of a record, without a byte-order mark.

    Raises: UnreadableError for another encoding, hidden characters, or an unresolved merge.
    """
    body = data.removeprefix(BYTE_ORDER_MARK)
    try:
        text = body.decode("utf-8")
    except UnicodeDecodeError as error:
        raise _encoding_error(body, error) from None
    # isprintable runs in C and is true of nearly every record; the pattern looks at the rest.
    if not text.replace("\n", "").isprintable() and (hidden := HIDDEN_CHARACTERS.search(text)):
        line, column = line_and_column(text, hidden.start())
        code = f"U+{ord(hidden[0]):04X}"
        raise UnreadableError(
            "hidden-character",
            f"a character that cannot be seen, {code}",
            "delete it",
            line,
            column,
        )
    if _may_hold_conflict(text) and (conflict := _CONFLICT.search(text)):
        line, column = line_and_column(text, conflict.start())
        raise UnreadableError(
            "unresolved-merge",
            f"an unresolved merge: {conflict[0].strip()}",
            "keep one of the versions, and delete the lines that begin with <<<, |||, === or >>>",
            line,
            column,
        )
    return text


def _may_hold_conflict(text: str) -> bool:
    """Say whether the pattern for merges has anything to find; it is slower than this look."""
    return "=======" in text or "<<<<<<<" in text or ">>>>>>>" in text or "|||||||" in text


def _encoding_error(body: bytes, error: UnicodeDecodeError) -> UnreadableError:
    """Return the error with the first byte that is not UTF-8, and a guess at the encoding."""
    line = body.count(b"\n", 0, error.start) + 1
    column = error.start - (body.rfind(b"\n", 0, error.start) + 1) + 1
    if body[:2] in {b"\xff\xfe", b"\xfe\xff"} or b"\x00" in body[:64]:
        remedy = "it looks like UTF-16: save it as UTF-8"
    else:
        remedy = "it looks like Windows-1252: save it as UTF-8"
    byte = body[error.start]
    message = f"must be UTF-8, found the byte 0x{byte:02x} at byte {error.start + 1}"
    return UnreadableError("not-utf-8", message, remedy, line, column)


def line_and_column(text: str, offset: int) -> tuple[int, int]:
    """Return the 1-based line and column of an offset."""
    line = text.count("\n", 0, offset) + 1
    return line, offset - (text.rfind("\n", 0, offset) + 1) + 1


def line_ends(data: bytes) -> set[str]:
    """Return the kinds of line end in use: ``LF``, ``CRLF``, ``CR``."""
    pairs = data.count(b"\r\n")
    kinds = set()
    if pairs:
        kinds.add("CRLF")
    if data.count(b"\n") > pairs:
        kinds.add("LF")
    if data.count(b"\r") > pairs:
        kinds.add("CR")
    return kinds


def has_byte_order_mark(data: bytes) -> bool:
    """Say whether the file begins with a byte-order mark."""
    return data.startswith(BYTE_ORDER_MARK)
