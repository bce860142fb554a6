"""The handbook's text: a Markdown file a topic, as it is written and as it is shown."""

import re
from importlib.resources import files

_FENCE = re.compile(r"^```(\w+) [^\n]*$", re.MULTILINE)
_LINK = re.compile(r"\]\(([\w-]+)\.md\b")


def topic_text(key: str) -> str:
    """Return the Markdown of a topic, each fence with its language alone.

    What stands behind the language says how the tests run an example; no reader needs it.
    """
    text = (files("blankbook.handbook") / f"{key}.md").read_text(encoding="utf-8")
    return _FENCE.sub(r"```\1", text)


def page_markdown(text: str) -> str:
    """Return the Markdown of a page of the site: what leads to a topic leads to its page."""
    return _LINK.sub(r"](\1.html", text)
