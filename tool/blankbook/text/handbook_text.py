"""The handbook's text: a Markdown file a topic, as it is written and as it is shown."""

import re
from importlib.resources import files

_FENCE = re.compile(r"^```(\w+) [^\n]*$", re.MULTILINE)
_TOPIC_LINK = re.compile(r"\[([^\]]+)\]\(([\w-]+)\.md\)")
_OTHER_LINK = re.compile(r"\[([^\]]+)\]\([^)]*\)")
_LINK = re.compile(r"\]\(([\w-]+)\.md\b")


def topic_text(key: str) -> str:
    """Return the Markdown of a topic, each fence with its language alone.

    What stands behind the language says how the tests run an example; no reader needs it.
    """
    text = (files("blankbook.handbook") / f"{key}.md").read_text(encoding="utf-8")
    return _FENCE.sub(r"```\1", text)


def terminal_text(text: str) -> str:
    """Return a topic for a terminal: what leads to another topic names the command that prints it.

    >>> terminal_text("see [At the table](table.md) and [the site](../method.html)")
    'see At the table (blankbook help table) and the site'
    """
    named = _TOPIC_LINK.sub(r"\1 (blankbook help \2)", text)
    return _OTHER_LINK.sub(r"\1", named)


def page_markdown(text: str) -> str:
    """Return the Markdown of a page of the site: what leads to a topic leads to its page."""
    return _LINK.sub(r"](\1.html", text)
