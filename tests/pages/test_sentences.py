"""No sentence about the demo shop makes a reader stumble: on its pages, and in the terminal."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from ruamel.yaml import YAML

from blankbook.commands import vet_report, vet_today
from blankbook.results.result_types import Judged
from markup import Element, Markup
from sentences import long_ones, stumbles, stumbling

SAYING = {"p", "li", "td", "th", "dt", "dd", "caption", "h1", "h2", "h3", "summary", "figcaption"}
"""The elements that hold a sentence, or a part of one."""
HOLDING = SAYING | {"div", "dl", "ol", "table", "ul"}
"""What holds elements that say something says nothing of its own."""


def test_pages_read_well(demo_markup: dict[str, Markup]) -> None:
    """No double stop, doubled word, one of many, or bracket in a bracket."""
    said = {
        " ".join(element.text.split()): path
        for path, page in demo_markup.items()
        for element in page.elements
        if element.tag in SAYING
    }

    assert len(said) > 2000
    assert {(said[sentence], *why): sentence for sentence, why in stumbling(said).items()} == {}


def test_sheets_read_well(judged_demo: list[Judged], monkeypatch: pytest.MonkeyPatch) -> None:
    """The same of every line that `vet --all` prints, each whole."""
    monkeypatch.setattr(vet_report, "columns", lambda: 100_000)
    said = {
        line.strip()
        for judged in judged_demo
        for line in vet_report.blank_sheet(judged, every=True).splitlines()
    }

    assert len(said) > 500
    assert stumbling(said) == {}


def test_sentences_are_short(
    demo_ledger: Path,
    demo_markup: dict[str, Markup],
    judged_demo: list[Judged],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """At most twenty words, on the pages and in the terminal.

    What the shop typed is its own. The method page has formulas and sources, and is left out.
    """
    monkeypatch.setattr(vet_report, "columns", lambda: 100_000)
    monkeypatch.setattr(vet_today, "columns", lambda: 100_000)
    typed = _typed(demo_ledger)
    found = {
        (path, long)
        for path, page in demo_markup.items()
        if path != "method.html"
        for element in page.elements
        if _says_by_itself(element)
        for long in long_ones(" ".join(element.text.split()), typed)
    }
    found |= {
        (judged.blank.style.key, long)
        for judged in judged_demo
        for line in vet_report.blank_sheet(judged, every=True).splitlines()
        for long in long_ones(line, typed)
    }
    assert sorted(found) == []


def _says_by_itself(element: Element) -> bool:
    """Say whether an element holds a sentence, and no other elements that do."""
    own = element.tag in SAYING or element.get("class") == "under"
    lines = [child for child in element.children if child.get("class") == "under"]
    return own and not lines and not HOLDING & {child.tag for child in element.children}


def _typed(root: Path) -> list[str]:
    """Return every text that the shop typed, the longest first."""
    yaml = YAML(typ="safe")
    values = [value for path in root.rglob("*.yaml") for value in _texts(yaml.load(path))]
    parts = {part.strip(".") for value in values for part in " ".join(value.split()).split(". ")}
    return sorted((part for part in parts if " " in part), key=len, reverse=True)


def _texts(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for part in value.values():
            yield from _texts(part)
    elif isinstance(value, list):
        for part in value:
            yield from _texts(part)


@pytest.mark.parametrize(
    ("sentence", "why"),
    [
        ("with a tape in in, read to 1/8", "doubled word"),
        ("is not.; for events", "double stop"),
        ("what is the point?. Keep it?", "double stop"),
        ("half chest after 1 washes", "one of many"),
        ("1 more pieces", "one of many"),
        ("a step (of 2 in (charted))", "brackets in brackets"),
        ("it ends..", "double stop"),
    ],
)
def test_a_reader_would_stumble(sentence: str, why: str) -> None:
    """What the tests above rest on sees each kind of slip."""
    assert [found for found in stumbles(sentence) if found.startswith(why)]


@pytest.mark.parametrize(
    "sentence", ["1 wash", "2 to 3 in (1/2 in)", "… and 4 more", "fine; ok.", "t(1 − (2 − 3)) = 4"]
)
def test_a_reader_would_not_stumble(sentence: str) -> None:
    """What reads well is let through."""
    assert list(stumbles(sentence)) == []
