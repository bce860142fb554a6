"""The handbook in the shop's site: a list of its topics, and a page of Markdown for each."""

from dataclasses import dataclass

from blankbook.pages.page_spec import AnyPage, PageSpec
from blankbook.pages.site_paths import HANDBOOK, handbook_path
from blankbook.text.handbook_text import page_markdown, topic_text
from blankbook.words.handbook_topics import TOPICS


@dataclass(frozen=True, slots=True)
class HandbookEntry:
    """A line of the table of contents."""

    href: str
    """Relative to the handbook's folder."""
    title: str
    about: str
    here: bool
    """Whether this is the page that lists it."""


@dataclass(frozen=True, slots=True)
class HandbookContext:
    """What stands around a page of the handbook."""

    up: str
    entries: tuple[HandbookEntry, ...]


@dataclass(frozen=True, slots=True)
class ContentsContext:
    """All that the table of contents shows."""

    up: str
    entries: tuple[HandbookEntry, ...]


def handbook_pages() -> list[AnyPage]:
    """Return the table of contents and a page for each topic, in reading order."""
    contents = PageSpec(
        HANDBOOK, "Handbook", "handbook/contents.html.j2", ContentsContext("../", _entries())
    )
    pages = [
        PageSpec(
            handbook_path(key),
            topic.title,
            "handbook/topic.html.j2",
            HandbookContext("../", _entries(key)),
            markdown=page_markdown(topic_text(key)),
        )
        for key, topic in TOPICS.items()
    ]
    return [contents, *pages]


def _entries(here: str = "") -> tuple[HandbookEntry, ...]:
    return tuple(
        HandbookEntry(f"{key}.html", topic.title, topic.about, key == here)
        for key, topic in TOPICS.items()
    )
