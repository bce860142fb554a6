"""A strict parser of HTML for tests: ``from markup import Markup``."""

from dataclasses import dataclass, field
from html.parser import HTMLParser

VOID_TAGS = {"img", "br", "hr", "meta", "link", "input", "col"}


@dataclass
class Element:
    """One element with its attributes and all the text inside it."""

    tag: str
    attributes: dict[str, str | None]
    inside: tuple[str, ...]
    """The tags around it, the outermost first."""
    text: str = ""
    children: list["Element"] = field(default_factory=list)

    def get(self, name: str) -> str:
        """Return an attribute, or an empty text."""
        return self.attributes.get(name) or ""


class Markup(HTMLParser):
    """A page or a part of one; raises AssertionError where tags do not balance."""

    def __init__(self, html: str) -> None:
        super().__init__(convert_charrefs=True)
        self.elements: list[Element] = []
        self.comments: list[str] = []
        self._open: list[Element] = []
        self.feed(html)
        self.close()
        assert not self._open, f"left open: {[element.tag for element in self._open]}"

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note an element, inside those that are open."""
        names = [name for name, _ in attrs]
        assert len(names) == len(set(names)), f"an attribute is there twice: <{tag} {names}>"
        element = Element(tag, dict(attrs), tuple(outer.tag for outer in self._open))
        if self._open:
            self._open[-1].children.append(element)
        self.elements.append(element)
        if tag not in VOID_TAGS:
            self._open.append(element)

    def handle_endtag(self, tag: str) -> None:
        """Close the innermost element, which must be this one."""
        assert self._open, f"</{tag}> closes nothing"
        assert self._open[-1].tag == tag, f"</{tag}> closes <{self._open[-1].tag}>"
        self._open.pop()

    def handle_data(self, data: str) -> None:
        """Add text to all open elements."""
        for element in self._open:
            element.text += data

    def handle_comment(self, data: str) -> None:
        """Keep a comment: a page has none."""
        self.comments.append(data)

    def all(self, tag: str) -> list[Element]:
        """Return every element of this kind."""
        return [element for element in self.elements if element.tag == tag]

    def by_id(self, key: str) -> Element:
        """Return the one element with this id."""
        found = [element for element in self.elements if element.get("id") == key]
        assert len(found) == 1, f"{len(found)} elements have the id {key}"
        return found[0]

    @property
    def text(self) -> str:
        """Everything a person reads, blanks run together."""
        tops = [element.text for element in self.elements if not element.inside]
        return " ".join(" ".join(tops).split())

    @property
    def shape(self) -> list[tuple[str, tuple[str, ...]]]:
        """The elements and their attributes' names, without any text."""
        return [(element.tag, tuple(sorted(element.attributes))) for element in self.elements]


OPTIONAL_END_TAGS = {"td", "th", "tr", "thead", "tbody", "tfoot", "li", "dt", "dd"}
CLOSED_BY = {
    "td": {"td", "th"},
    "th": {"td", "th"},
    "tr": {"td", "th", "tr"},
    "tbody": {"td", "th", "tr", "thead", "tbody"},
    "tfoot": {"td", "th", "tr", "thead", "tbody"},
    "li": {"li"},
    "dt": {"dt", "dd"},
    "dd": {"dt", "dd"},
}
"""What a tag ends that stands open before it (HTML Living Standard, 13.1.2.4)."""


class PublishedMarkup(Markup):
    """A page as it is published: end tags that HTML lets go may be missing."""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """End what this tag ends."""
        while self._open and self._open[-1].tag in CLOSED_BY.get(tag, ()):
            self._open.pop()
        super().handle_starttag(tag, attrs)

    def handle_endtag(self, tag: str) -> None:
        """End what ends with what this tag ends."""
        while self._open and self._open[-1].tag != tag and self._open[-1].tag in OPTIONAL_END_TAGS:
            self._open.pop()
        super().handle_endtag(tag)


def table_rows(markup: Markup, caption: str) -> list[list[str]]:
    """Return the cells of the table whose caption has this id."""
    table = next(
        element
        for element in markup.all("table")
        if any(child.get("id") == caption for child in element.children)
    )
    rows = [row for part in table.children for row in part.children if row.tag == "tr"]
    return [[" ".join(cell.text.split()) for cell in row.children] for row in rows]
