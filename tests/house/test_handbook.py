"""The handbook: whole, short, and told of by every command; README.md is read in one sitting."""

import re

import pytest

from blankbook.words.handbook_topics import COMMAND_TOPICS, TOPICS
from command_pages import COMMANDS, PAGES, command_page
from readme import DOCUMENTS, HANDBOOK, README, blocks
from sentences import MOST_WORDS, stumbling
from support import Program

TEXTS = {document.name: document.read_text(encoding="utf-8") for document in DOCUMENTS}


_LINK, _CODE = re.compile(r"\[([^\]]*)\]\([^)]*\)"), re.compile(r"`[^`]*`")


def prose(text: str) -> list[str]:
    """Return the sentences of a document, without examples, tables and headings."""
    text = re.sub(r"^```.*?^```$", "", text, flags=re.MULTILINE | re.DOTALL)
    text = re.sub(r"^(?:\||#|!\[).*$", "", text, flags=re.MULTILINE)
    text = re.sub(r"^(?:- |\d\. )", "\n", text, flags=re.MULTILINE)
    paragraphs = [" ".join(part.split()) for part in text.split("\n\n")]
    return [
        sentence
        for paragraph in paragraphs
        for sentence in re.split(
            r"(?<=[.?!;:*])\s+", _CODE.sub("code", _LINK.sub(r"\1", paragraph))
        )
        if sentence
    ]


def test_readme_is_read_in_one_sitting() -> None:
    """At most 180 lines and 1,500 words."""
    text = TEXTS[README.name]

    assert len(text.splitlines()) <= 180
    assert len(text.split()) <= 1500


def test_a_page_of_the_handbook_is_short() -> None:
    """At most 900 words, what its examples print among them."""
    counts = {name: len(text.split()) for name, text in TEXTS.items() if name != README.name}

    assert {name: count for name, count in counts.items() if count > 900} == {}


def test_sentences_are_short() -> None:
    """At most 20 words from one stop to the next."""
    long = {
        name: [s for s in prose(text) if len(s.split()) > MOST_WORDS]
        for name, text in TEXTS.items()
    }

    assert {name: found for name, found in long.items() if found} == {}


@pytest.mark.parametrize("name", TEXTS)
def test_documents_and_what_they_show_read_well(name: str) -> None:
    """No double stop, doubled word, one of many, or bracket in a bracket."""
    shown = [block for block in blocks(TEXTS[name]) if block.kind == "text"]
    lines = {line.strip() for block in shown for line in block.text.splitlines()}

    assert stumbling([*prose(TEXTS[name]), *lines]) == {}


def test_every_topic_has_its_page() -> None:
    """The table of contents lists every page, by the title that it bears."""
    pages = {path.stem: path.read_text(encoding="utf-8") for path in HANDBOOK.glob("*.md")}

    assert set(pages) == set(TOPICS)
    assert [k for k, topic in TOPICS.items() if not pages[k].startswith(f"# {topic.title}\n")] == []


def test_pages_lead_to_pages() -> None:
    """A link from one topic to another finds it, also where a code host shows the files."""
    lost = [
        (name, link)
        for name, text in TEXTS.items()
        for link in re.findall(r"\]\(([^)#]+\.md)\)", text)
        if not ((README if name == README.name else HANDBOOK / name).parent / link).is_file()
    ]

    assert lost == []


@pytest.mark.parametrize("key", PAGES)
def test_pages_of_commands_are_the_programs_own_help(key: str) -> None:
    """Arguments, options and what each means, as --help says them."""
    assert TEXTS[f"{key}.md"] == command_page(key), "python tests/readme.py writes it anew"


def test_every_command_stands_on_one_page() -> None:
    """A new command joins a page of `command_pages`."""
    assert sorted(name for names in PAGES.values() for name in names) == sorted(COMMANDS)


def test_help_of_every_command_names_its_topic(command: Program) -> None:
    """The last line says which page of the handbook explains it."""
    for name in COMMANDS:
        topic = COMMAND_TOPICS[name]
        last = " ".join(command(*name.split(), "--help").out.split("\n\n")[-1].split())
        assert last == f"Handbook: {TOPICS[topic].title} (blankbook help {topic})"


def test_help_lists_the_topics(command: Program) -> None:
    """Without a topic, one line for each."""
    ended = command("help")

    assert (ended.code, ended.err) == (0, "")
    assert [line.split()[0] for line in ended.out.splitlines()[: len(TOPICS)]] == list(TOPICS)


@pytest.mark.parametrize(("asked", "topic"), [("table", "table"), ("add style", "import")])
def test_help_prints_a_topic(asked: str, topic: str, command: Program) -> None:
    """A topic, or the one of a command; how the tests run an example is nobody's business."""
    ended = command("help", *asked.split())

    assert (ended.code, ended.err) == (0, "")
    assert ended.out.startswith(f"# {TOPICS[topic].title}\n")
    assert "```sh run" not in ended.out
    assert ".md)" not in ended.out


def test_help_offers_the_nearest_topic(command: Program) -> None:
    """A slip in a topic's name is wrong use, and the nearest one is named."""
    ended = command("help", "wasching")

    assert (ended.code, ended.out) == (2, "")
    assert "did you mean washing?" in ended.err
