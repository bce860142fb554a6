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

MOST_DEPTH = 32
MOST_NODES = 50_000

Node = Any
"""A node of either library: ``value``, ``style``, ``start_mark.line`` and ``.column`` (0-based)."""

_DOUBTFUL = re.compile(
    r"(?:^\s*|[\[{,:?-]\s*)[&*!]|^%|^---|^\.\.\.|^\?|[\t\r\x85\u2028\u2029]|<<"
    r"|\n {60}|(?:[-?:] ){12}",
    re.MULTILINE,
)
"""What sends a text the careful way: it may hold what the fast way would not notice."""


def compose(text: str) -> Node:
    """Return the root node.

    Raises: UnreadableText with the place.
    """
    if not _DOUBTFUL.search(text) and text.count("[") + text.count("{") < 5_000:
        root = _compose_fast(text)
        if root is not None:
            return root
    return _compose_carefully(text)


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
            _guard(ruamel.yaml.YAML(typ="safe", pure=True).parse(text))
            return ruamel.yaml.YAML(typ="safe", pure=True).compose(text)
        except UnreadableText:
            raise
        except MarkedYAMLError as error:
            raise _explain(error, text) from None
        except YAMLError as error:
            raise UnreadableText("not-yaml", f"not readable: {visible(error)}", "") from None
        except Exception as error:
            raise UnreadableText(
                "not-yaml",
                f"not readable ({type(error).__name__.lower()})",
                "look for odd characters",
            ) from error


def _guard(events: Any) -> None:
    """Read the events and refuse what a record never needs, before anything is built."""
    depth = nodes = documents = 0
    for event in events:
        kind = type(event).__name__
        line, column = event.start_mark.line + 1, event.start_mark.column + 1
        if kind == "DocumentStartEvent":
            documents += 1
            _guard_document(event, documents, line, column)
        if kind == "AliasEvent" or getattr(event, "anchor", None):
            raise _refused("anchor", "an anchor or alias (& or *)", line, column)
        if _has_tag(event):
            raise _refused("tag", "a tag (!)", line, column)
        if kind in {"MappingStartEvent", "SequenceStartEvent"}:
            depth += 1
        elif kind in {"MappingEndEvent", "SequenceEndEvent"}:
            depth -= 1
        nodes += kind in {"ScalarEvent", "MappingStartEvent", "SequenceStartEvent"}
        if depth > MOST_DEPTH:
            raise UnreadableText(
                "nested-too-deep",
                f"nested more than {MOST_DEPTH} deep",
                "close the brackets that were opened",
                line,
                column,
            )
        if nodes > MOST_NODES:
            raise UnreadableText(
                "too-many-values",
                f"more than {MOST_NODES} values in one file",
                "split it into rounds",
                line,
                column,
            )


def _guard_document(event: Any, documents: int, line: int, column: int) -> None:
    if documents > 1:
        raise UnreadableText(
            "second-document",
            "a second document in one file",
            "delete the line --- and what follows it, or make it a file of its own",
            line,
            column,
        )
    if event.version or event.tags:
        raise UnreadableText("directive", "a directive (%)", "delete the line with %", 1, 1)


def _has_tag(event: Any) -> bool:
    tag = getattr(event, "ctag", None)
    return bool(tag is not None and str(tag) not in {"", "None"})


def _refused(rule: str, what: str, line: int, column: int) -> UnreadableText:
    remedy = 'write it out; where text begins with that character, quote it: "& more"'
    return UnreadableText(rule, f"{what} has no use in a record", remedy, line, column)


def _explain(error: Any, text: str) -> UnreadableText:  # noqa: PLR0911 - a table of slips
    """Put what the parser says into words for the commonest slips."""
    mark = error.problem_mark or error.context_mark
    opened = error.context_mark
    problem = str(error.problem or "")
    line, column = (mark.line + 1, mark.column + 1) if mark else (1, 1)
    here = text.split("\n")[line - 1] if mark and line <= text.count("\n") + 1 else ""
    if "duplicate key" in problem:
        return UnreadableText("duplicate-key", "a key that is there twice", "", line, column)
    unclosed = "end of stream" in problem or "stream end" in problem or "document end" in problem
    if unclosed and opened:
        return _unclosed(text, opened)
    if "\t" in here or "'\\t'" in problem:
        at = here.find("\t") + 1 or column
        return UnreadableText("tab", "a tab", "use spaces", line, at)
    if "mapping values are not allowed" in problem:
        remedy = 'quote the text, it has a colon: "22 1/8: fits"'
        return UnreadableText("colon-in-text", "a second colon in one line", remedy, line, column)
    if "cannot start any token" in problem:
        sign = here[column - 1 : column]
        remedy = f'quote the text: "{sign}…"'
        message = f"text must not begin with {sign}"
        return UnreadableText("sign-at-start", message, remedy, line, column)
    if "expected <block end>" in problem or "expected ',' or" in problem:
        remedy = "look at the spaces at the start of this line, and for a missing comma or bracket"
        return UnreadableText(
            "out-of-line", "does not line up with what is above", remedy, line, column
        )
    if "could not find expected ':'" in problem:
        remedy = "write key: value, with a space after the colon"
        return UnreadableText("no-colon", "a line without a colon", remedy, line, column)
    return UnreadableText("not-yaml", f"not readable: {visible(problem)}", "", line, column)


def _unclosed(text: str, opened: Any) -> UnreadableText:
    line, column = opened.line + 1, opened.column + 1
    lines = text.split("\n")
    sign = lines[opened.line][opened.column : opened.column + 1] if opened.line < len(lines) else ""
    closing = {"[": "]", "{": "}"}.get(sign, sign)
    message = f"opened with {sign} and never closed"
    return UnreadableText("unclosed", message, f"add the closing {closing}", line, column)
