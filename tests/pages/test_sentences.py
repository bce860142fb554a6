"""No sentence about the demo shop makes a reader stumble: on its pages, and in the terminal."""

import pytest

from blankbook.commands import vet_report
from blankbook.results.result_types import Judged
from markup import Markup
from sentences import stumbles, stumbling

SAYING = {"p", "li", "td", "th", "dt", "dd", "caption", "h1", "h2", "h3", "summary", "figcaption"}
"""The elements that hold a sentence, or a part of one."""


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
