"""What Markdown has no word for, in the handbook: captions and heads of tables, and cautions.

A table's caption is the paragraph before it; a caution is a paragraph that begins with the word.
"""

from typing import Any
from xml.etree.ElementTree import Element

from markdown.extensions import Extension
from markdown.treeprocessors import Treeprocessor

CAUTION = "Caution: "


class _HandbookParts(Treeprocessor):  # type: ignore[misc, unused-ignore]
    def run(self, root: Element) -> None:
        """Give tables their captions and heads, and cautions their dress."""
        for place, table in reversed(list(enumerate(root))):
            if table.tag == "table" and place and root[place - 1].tag == "p":
                caption = root[place - 1]
                caption.tag = "caption"
                caption.text = (caption.text or "").removesuffix(":")
                root.remove(caption)
                table.insert(0, caption)
        for head in root.iter("th"):
            head.set("scope", "col")
        for row in (row for body in root.iter("tbody") for row in body):
            row[0].tag = "th"
            row[0].set("scope", "row")
        for paragraph in root.iter("p"):
            if (paragraph.text or "").startswith(CAUTION):
                _dress(paragraph)


def _dress(caution: Element) -> None:
    """Make a caution look like every caution of the site."""
    says = (caution.text or "").removeprefix(CAUTION)
    caution.set("class", "caution")
    caution.text = ""
    word = Element("strong")
    word.text, word.tail = "Caution.", f" {says[:1].upper()}{says[1:]}"
    caution.insert(0, word)


class HandbookMarkup(Extension):  # type: ignore[misc, unused-ignore]
    """The extension that MkDocs is told of."""

    def extendMarkdown(self, md: Any) -> None:  # noqa: N802 - Markdown's name
        """Join in after the words of each cell have been converted."""
        md.treeprocessors.register(_HandbookParts(md), "handbook_markup", 5)


def makeExtension(**settings: Any) -> HandbookMarkup:  # noqa: N802 - Markdown's name
    """Return the extension, as Markdown asks for it."""
    return HandbookMarkup(**settings)
