"""From characters to nodes: YAML, held to the plain part of it that a record needs.

ruamel.yaml is the parser of record. Texts that are plain beyond doubt go the fast way, through the
C parser that comes with PyYAML, when it is there; a test holds that both read the same. Refused by
design: anchors, aliases, merge keys, tags, directives, a second document, and nesting that no
record has. What a scalar means is not YAML's to say: every scalar stays the text that was written.
"""

import re
import warnings
from typing import Any

from blankbook.text.findings import UnreadableText, visible
from blankbook.text.yaml_slips import explain

MOST_DEPTH = 32
MOST_NODES = 50_000
MOST_BRACKETS = 5_000
"""With more of them, the guard comes before anything is built."""

_DIRECTIVE = re.compile(r"\A(?:(?:#.*)?\r?\n)*(%)")

Node = Any
"""A node of either library: ``value``, ``style``, ``start_mark.line`` and ``.column`` (0-based)."""

_DOUBTFUL = re.compile(
    r"(?:^\s*|[\[{,:?-]\s*)[&*!]|^%|^---|^\.\.\.|^\?|[\t\r\x85\u2028\u2029]|<<"
    r"|\n {60}|(?:[-?:] ){12}"
    r"|[|>][-+0-9]*#|[|>][-+0-9]* *(?:#.*)?\n *\n|[\]}]\s*:|[\"']\s*:(?![ \n])",
    re.MULTILINE,
)
"""What sends a text the careful way: it may hold what the fast way would not notice."""
_SIGNS = (
    *"&*!%?|><\t\r\x85\u2028\u2029", "---", "...", "\n" + " " * 60, "- - - - ", " :", "\n:",
)  # fmt: skip
_CLOSING = "]}\"'"
"""Without a sign, or one of these before a colon, nothing above can match."""


def compose(text: str) -> Node:
    """Return the root node.

    Raises: UnreadableText with the place.
    """
    if is_plain(text):
        root = _compose_fast(text)
        if root is not None:
            return root
    return _compose_carefully(text)


def is_plain(text: str) -> bool:
    """Say whether the fast way may be taken: nothing in the text could be read in two ways."""
    if text.count("[") + text.count("{") >= MOST_BRACKETS:
        return False
    return not _has_signs(text) or not _DOUBTFUL.search(text)


def _has_signs(text: str) -> bool:
    """Say whether the text must be looked at closely; quicker than the close look."""
    for sign in _SIGNS:
        if sign in text:
            return True
    return any(sign in text and f"{sign}:" in text for sign in _CLOSING)


def _compose_fast(text: str) -> Node | None:
    """Return the root from the C parser, or None where it is missing or in doubt."""
    composer = _fast_composer()
    if composer is None:
        return None
    try:
        return composer(text).get_single_node()
    except Exception:  # the careful way finds out, and words it
        return None


def _fast_composer() -> Any:
    global _composer  # noqa: PLW0603 - looked up once
    if _composer is _UNKNOWN:
        try:
            from yaml.cyaml import CParser  # type: ignore[attr-defined]
        except ImportError:
            _composer = None
        else:
            _composer = _without_resolver(CParser)
    return _composer


_UNKNOWN = object()
_composer: Any = _UNKNOWN


def _without_resolver(parser: Any) -> Any:
    """Return the C parser as a class that composes nodes and gives them no type."""

    class Composer(parser):  # type: ignore[misc]
        def descend_resolver(self, _parent: Any, _index: Any) -> None: ...

        def ascend_resolver(self) -> None: ...

        def resolve(self, _kind: Any, _value: Any, _implicit: Any) -> str:
            return ""

    return Composer


def _compose_carefully(text: str) -> Node:
    import ruamel.yaml
    from ruamel.yaml.error import MarkedYAMLError, YAMLError

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            _refuse_directive(text)
            _guard(ruamel.yaml.YAML(typ="safe", pure=True).parse(text))
            return ruamel.yaml.YAML(typ="safe", pure=True).compose(text)
        except UnreadableText:
            raise
        except MarkedYAMLError as error:
            raise explain(error, text) from None
        except YAMLError as error:
            message = f"cannot be read: {visible(error)}"
            raise UnreadableText("not-yaml", message, "look for odd characters") from None
        except Exception as error:
            message = "cannot be read, and the parser does not say why"
            raise UnreadableText("not-yaml", message, "look for odd characters") from error


def _guard(events: Any) -> None:
    """Read the events and refuse what a record never needs, before anything is built."""
    depth = nodes = documents = 0
    for event in events:
        kind = type(event).__name__
        line, column = event.start_mark.line + 1, event.start_mark.column + 1
        if kind == "DocumentStartEvent":
            documents += 1
            _refuse_second(documents, line, column)
        if kind == "AliasEvent" or getattr(event, "anchor", None):
            raise sign_at_start("*" if kind == "AliasEvent" else "&", line, column)
        if _has_tag(event):
            raise sign_at_start("!", line, column)
        if kind in {"MappingStartEvent", "SequenceStartEvent"}:
            depth += 1
        elif kind in {"MappingEndEvent", "SequenceEndEvent"}:
            depth -= 1
        nodes += kind in {"ScalarEvent", "MappingStartEvent", "SequenceStartEvent"}
        if depth > MOST_DEPTH:
            raise too_deep(line, column)
        if nodes > MOST_NODES:
            raise too_many(line, column)


def _refuse_second(documents: int, line: int, column: int) -> None:
    if documents > 1:
        message = "must be one record, found a second one after ---"
        remedy = "delete the line --- and what follows it, or make it a file of its own"
        raise UnreadableText("second-document", message, remedy, line, column)


def _refuse_directive(text: str) -> None:
    """Refuse a line that begins with % before anything else does."""
    if found := _DIRECTIVE.search(text):
        line = text.count("\n", 0, found.start(1)) + 1
        raise UnreadableText("directive", "a line must not begin with %", "delete it", line, 1)


def _has_tag(event: Any) -> bool:
    tag = getattr(event, "ctag", None)
    return bool(tag is not None and str(tag) not in {"", "None"})


def sign_at_start(sign: str, line: int, column: int) -> UnreadableText:
    """Return the fault of text that begins with a character that YAML keeps for itself."""
    message = f"text must not begin with {sign}"
    return UnreadableText("sign-at-start", message, f'quote the text: "{sign}…"', line, column)


def too_deep(line: int, column: int) -> UnreadableText:
    """Return the fault of a text with more brackets in brackets than a record has."""
    message = f"must be nested at most {MOST_DEPTH} deep, found more"
    remedy = "close the brackets that were opened"
    return UnreadableText("nested-too-deep", message, remedy, line, column)


def too_many(line: int, column: int) -> UnreadableText:
    """Return the fault of a text with more values than a record has."""
    message = f"must hold at most {MOST_NODES} values, found more"
    return UnreadableText("too-many-values", message, "make several files of it", line, column)
