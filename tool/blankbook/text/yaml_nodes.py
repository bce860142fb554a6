"""From characters to nodes: the plain part of YAML that a record needs.

ruamel.yaml is the parser of record. Plain texts go through the C parser of PyYAML where it is
installed, which is much faster; a test compares what both read. Anchors, aliases, merge keys, tags,
directives, a second document, and deeper nesting than a record has are refused. Every scalar stays
the text that was written: YAML's own guesses turn 017 and 1e3 into something nobody typed.
"""

import re
import warnings
from typing import Any

from blankbook.text.findings import UnreadableError, visible
from blankbook.text.yaml_slips import explain_refusal

MOST_DEPTH = 32
MOST_NODES = 50_000
MOST_BRACKETS = 5_000
"""A text with more of them goes the careful way, which counts before it builds anything."""

_DIRECTIVE = re.compile(r"\A(?:(?:#.*)?\r?\n)*(%)")

Node = Any
"""A node of either library: ``value``, ``style``, ``start_mark.line`` and ``.column`` (0-based)."""

_DOUBTFUL = re.compile(
    r"(?:^\s*|[\[{,:?-]\s*)[&*!]|^%|^---|^\.\.\.|^\?|[\t\r\x85\u2028\u2029]|<<"
    r"|\n {60}|(?:[-?:] ){12}"
    r"|[|>][-+0-9]*#|[|>][-+0-9]* *(?:#.*)?\n *\n|[\]}]\s*:|[\"']\s*:(?![ \n])",
    re.MULTILINE,
)
"""What sends a text the careful way: the C parser would not notice it, or reads it otherwise.

Line by line: anchors, aliases and tags, a directive, a document's mark, a complex key, odd spaces
and line ends, a merge key; deep nesting; a block text that begins with a comment or a blank line,
a colon after a bracket, and one after a quote without a space: only the C parser takes these.
"""
_DOUBTFUL_SIGNS = (
    *"&*!%?|><\t\r\x85\u2028\u2029", "---", "...", "\n" + " " * 60, "- - - - ", " :", "\n:",
)  # fmt: skip
_CLOSING = "]}\"'"
"""Where no sign is in a text, nor one of these before a colon, `_DOUBTFUL` cannot match."""


def compose(text: str) -> Node:
    """Return the root node.

    Raises: UnreadableError with the place.
    """
    if is_plain_yaml(text):
        root = _compose_fast(text)
        if root is not None:
            return root
    return _compose_carefully(text)


def is_plain_yaml(text: str) -> bool:
    """Say whether the fast way may be taken: both parsers are sure to read the text alike."""
    if text.count("[") + text.count("{") >= MOST_BRACKETS:
        return False
    return not _has_doubtful_sign(text) or not _DOUBTFUL.search(text)


def _has_doubtful_sign(text: str) -> bool:
    """Say whether the pattern can match at all; in a long text this is quicker than the pattern."""
    for sign in _DOUBTFUL_SIGNS:
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
    except Exception:  # the careful way finds the slip, and has words for it
        return None


def _fast_composer() -> Any:
    """Return the C parser's class, or None where PyYAML was built without it."""
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
    """Return the C parser as a class that composes nodes without YAML's types: they take time."""

    class Composer(parser):  # type: ignore[misc]
        def descend_resolver(self, _parent: Any, _index: Any) -> None: ...

        def ascend_resolver(self) -> None: ...

        def resolve(self, _kind: Any, _value: Any, _implicit: Any) -> str:
            return ""

    return Composer


def _compose_carefully(text: str) -> Node:
    """Return the root node from ruamel.yaml. Raises: UnreadableError, in a person's words."""
    import ruamel.yaml
    from ruamel.yaml.error import MarkedYAMLError, YAMLError

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            _refuse_directive(text)
            # Events are read first: a node tree of a hostile text could fill the memory.
            _check_events(ruamel.yaml.YAML(typ="safe", pure=True).parse(text))
            return ruamel.yaml.YAML(typ="safe", pure=True).compose(text)
        except UnreadableError:
            raise
        except MarkedYAMLError as error:
            raise explain_refusal(error, text) from None
        except YAMLError as error:
            message = f"cannot be read: {visible(error)}"
            raise UnreadableError("not-yaml", message, "look for odd characters") from None
        except Exception as error:
            message = "cannot be read, and the parser does not say why"
            raise UnreadableError("not-yaml", message, "look for odd characters") from error


def _check_events(events: Any) -> None:
    """Refuse what a record never needs, while the events are read and nothing is built."""
    depth = nodes = documents = 0
    for event in events:
        kind = type(event).__name__
        line, column = event.start_mark.line + 1, event.start_mark.column + 1
        if kind == "DocumentStartEvent":
            documents += 1
            _refuse_second(documents, line, column)
        if kind == "AliasEvent" or getattr(event, "anchor", None):
            raise sign_at_start_error("*" if kind == "AliasEvent" else "&", line, column)
        if _has_tag(event):
            raise sign_at_start_error("!", line, column)
        if kind in {"MappingStartEvent", "SequenceStartEvent"}:
            depth += 1
        elif kind in {"MappingEndEvent", "SequenceEndEvent"}:
            depth -= 1
        nodes += kind in {"ScalarEvent", "MappingStartEvent", "SequenceStartEvent"}
        if depth > MOST_DEPTH:
            raise too_deep_error(line, column)
        if nodes > MOST_NODES:
            raise too_many_error(line, column)


def _refuse_second(documents: int, line: int, column: int) -> None:
    if documents > 1:
        message = "must be one record, found a second one after ---"
        remedy = "delete the line --- and what follows it, or make it a file of its own"
        raise UnreadableError("second-document", message, remedy, line, column)


def _refuse_directive(text: str) -> None:
    """Refuse a line that begins with %, before the parser takes it for a directive."""
    if found := _DIRECTIVE.search(text):
        line = text.count("\n", 0, found.start(1)) + 1
        raise UnreadableError("directive", "a line must not begin with %", "delete it", line, 1)


def _has_tag(event: Any) -> bool:
    tag = getattr(event, "ctag", None)
    return bool(tag is not None and str(tag) not in {"", "None"})


def sign_at_start_error(sign: str, line: int, column: int) -> UnreadableError:
    """Return the error for a text that begins with a character that YAML keeps for itself."""
    message = f"text must not begin with {sign}"
    return UnreadableError("sign-at-start", message, f'quote the text: "{sign}…"', line, column)


def too_deep_error(line: int, column: int) -> UnreadableError:
    """Return the error for a text that is nested deeper than a record is."""
    message = f"must be nested at most {MOST_DEPTH} deep, found more"
    remedy = "close the brackets that were opened"
    return UnreadableError("nested-too-deep", message, remedy, line, column)


def too_many_error(line: int, column: int) -> UnreadableError:
    """Return the error for a text with more values than a record has."""
    message = f"must hold at most {MOST_NODES} values, found more"
    return UnreadableError("too-many-values", message, "make several files of it", line, column)
