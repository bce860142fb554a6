"""A review in its forms: nothing typed is markup or an order, each fits, and what is cut is told.

The Markdown is read by a reader of the common kind with tables and strikethrough; what hosts do
beyond that (mentions, references) is from memory of their documentation.
"""

import re
from collections.abc import Iterator
from dataclasses import replace
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from markdown_it import MarkdownIt

from blankbook.history.report.html_report import html_report
from blankbook.history.report.markdown_report import (
    MOST_MARKDOWN_BYTES,
    MOST_SECTION_BYTES,
    markdown_report,
)
from blankbook.history.report.sections import Section
from blankbook.history.report.short_review import MOST_SHORT_LINES, short_sections
from blankbook.history.report.text_report import text_report
from blankbook.history.review.make_review import make_review
from blankbook.history.review.review_types import Review
from blankbook.history.versions.revisions import find_revision
from blankbook.history.versions.version_pair import read_pair
from made_repositories import Repository
from support import SMALL_LEDGER, Program
from terminals import Terminal

ROUND = "blanks/tarn-thrush/h6/2024-02-12-first.yaml"
COUNTS = Section("no change in meaning", ("0 files",))
HOSTILE = (
    "a | b",
    "`code` ``more``",
    "@mention and a@b.example",
    "#123, x/y#4 and GH-5",
    "one\ntwo\r\n\r\n# three",
    "::error file=x::boo",
    "##[error]boo",
    "<img src=x onerror=alert(1)> <!-- -->",
    "[a](http://b.example) ![c](d) www.e.example",
    "**bold** _thin_ ~~gone~~ $x$",
    "1. one",
    "- [ ] task",
    "+ plus",
    "> said",
    "---",
    "===",
    "\\",
    "a\\|b",
    "&lt;b&gt; &#64;x",
    "\x1b[2J\u202eabc\u2028",
    "| --- | --- |",
    "```\nfence",
)


def rendered(markdown: str) -> list[Any]:
    """Return the tokens of a Markdown text, inline ones among them."""
    reader = MarkdownIt("commonmark").enable(["table", "strikethrough"])
    found = []
    for token in reader.parse(markdown):
        found += [token, *(token.children or [])]
    return found


def texts(markdown: str) -> Iterator[str]:
    """Yield each text as a reader sees it, entities read."""
    yield from (
        token.content for token in rendered(markdown) if token.type in {"text", "text_special"}
    )


@pytest.mark.parametrize("odd", HOSTILE)
def test_a_name_is_text_in_every_place_of_the_markdown(odd: str) -> None:
    """In a title, a line and a cell: the shape is the same as with a plain word."""
    plain = Section("word", ("word",), ("what", "old", "new"), (("word", "word", "word"),) * 2)
    told = Section(odd, (odd,), ("what", "old", "new"), ((odd, odd, odd),) * 2)

    def shape(part: Section) -> list[str]:
        inline = {"text", "text_special"}
        return [
            token.type
            for token in rendered(markdown_report([part, COUNTS]))
            if token.type not in inline
        ]

    assert shape(told) == shape(plain)
    markdown = markdown_report([told, COUNTS])
    inline = [token for token in rendered(markdown) if token.type == "inline"]
    for token in inline:
        seen = "".join(unescape(child.content) for child in token.children)
        assert not re.search(r"[@#]\w|GH-\d", seen)
    assert all(c.isprintable() or c == "\n" for c in markdown)
    assert not [line for line in markdown.splitlines() if line.lstrip().startswith("::")]


@pytest.mark.parametrize("odd", HOSTILE)
@pytest.mark.parametrize("width", [20, 40, 80])
def test_no_line_of_the_text_is_an_order(odd: str, width: int) -> None:
    """However it is wrapped; and no line is wider than the terminal."""
    for before in ("", "x" * 15 + " ", "x" * 36 + " ", "x" * 74 + " ", "x" * 200):
        part = Section(
            f"{before}{odd}", (f"{before}{odd}",), ("what", "old", "new", "moved"),
            ((f"{before}{odd}", odd, odd, ""),),
        )  # fmt: skip
        for line in text_report([part, COUNTS], width).splitlines():
            assert not line.lstrip().startswith("::")
            assert "##[" not in line
            assert line.isprintable()
            # what is written out of an order may stand over by five
            assert len(line) <= width + 5 * len(re.findall(r"\\u00(?:3a|23)", line))


def test_a_large_part_is_cut_by_rows_and_the_others_are_there() -> None:
    """One file with 2,000 changes leaves room for the file behind it, and is counted itself."""
    rows = tuple((f"pieces {n} | @mo #1", "20 in", "21 in", "+1 in, +2.5 cm") for n in range(2000))
    large = Section("large", ("changed",), ("what", "old", "new", "moved"), rows)
    small = replace(large, title="small", rows=rows[:3])
    markdown = markdown_report([Section("verdict", ("two",)), large, small, COUNTS])
    parts = markdown.split("### ")
    assert [part.split("\n")[0] for part in parts[1:]] == [
        "verdict", "large", "small", "no change in meaning",
    ]  # fmt: skip
    told = parts[2].count("| pieces ")
    assert f"**{2000 - told} more lines are left out here" in parts[2]
    assert MOST_SECTION_BYTES / 2 < len(parts[2].encode()) <= MOST_SECTION_BYTES
    assert "left out" not in parts[3]


@pytest.mark.parametrize("kind", ["parts", "rows", "lines", "wide"])
def test_two_thousand_hostile_changes_fit(kind: str) -> None:
    """At most 60 kB of UTF-8, whatever grows; the verdict and the counts are always there."""
    odd = " ".join(HOSTILE)
    row = (odd, odd, odd, odd)
    head = ("what", "old", "new", "moved")
    many = {
        "parts": [Section(f"{odd} {n}", (odd,), head, (row,)) for n in range(2000)],
        "rows": [Section("x", (), head, (row,) * 2000)],
        "lines": [Section("x", (odd,) * 2000)],
        "wide": [Section("|" * 400, ("é|" * 200,), head, (("@a" * 200,) * 4,) * 20)] * 100,
    }[kind]
    markdown = markdown_report([Section("verdict", ("two thousand",)), *many, COUNTS])
    assert 15_000 < len(markdown.encode()) <= MOST_MARKDOWN_BYTES
    assert markdown.startswith("### verdict\n")
    assert markdown.endswith("- 0 files\n")
    assert "more parts are left out" in markdown or "more lines are left out" in markdown


@pytest.fixture
def made(tmp_path: Path) -> Repository:
    """Return a small ledger in which a reading was changed after it was committed."""
    repository = Repository(tmp_path / "own")
    for path, text in SMALL_LEDGER.items():
        repository.write(path, text)
    repository.commit()
    repository.write(ROUND, SMALL_LEDGER[ROUND].replace("20 1/8", "21 1/4"))
    return repository


def reviewed(made: Repository) -> Review:
    """Return the review of what is not committed."""
    return make_review(
        read_pair(made.root, find_revision(made.root, "HEAD"), find_revision(made.root, ""))
    )


def test_the_short_form_is_one_screen(made: Repository) -> None:
    """A line for each blank, what was rewritten without a reason, and what to look at again."""
    text = text_report(short_sections(reviewed(made)))
    told = " ".join(text.split())
    assert len(text.splitlines()) < 24
    moved = (
        r"tarn-thrush/h6: may be ordered → [a-z ]+; advice approved → hold; [0-9]+ answers? changed"
    )
    assert re.search(moved, told)
    assert f"{ROUND}: pieces M-black-1 received half chest: 20 1/8 in → 21 1/4 in" in told
    assert f"{ROUND}: M-black-1, half chest: moved by an inch or more" in told


def test_the_short_form_stays_short(made: Repository) -> None:
    """With 2,000 files and blanks, ten lines of each kind and the count of the others."""
    found = reviewed(made)
    (file,), (blank,) = found.files, found.blanks
    many = replace(
        found,
        files=tuple(replace(file, path=f"{file.path}-{n}") for n in range(2000)),
        blanks=tuple(replace(blank, key=f"{blank.key}-{n}") for n in range(2000)),
    )
    parts = short_sections(many)
    assert max(len(part.lines) for part in parts) == MOST_SHORT_LINES + 1
    assert sum(f"and {2000 - MOST_SHORT_LINES} more" in part.lines for part in parts) == 3
    assert all(html_report(parts).count(f"<h{level}>") >= 1 for level in (1, 2))


@pytest.mark.seldom(3)
def test_short_and_json_contradict_each_other(made: Repository, program: Program) -> None:
    """JSON is whole; the other forms can be short."""
    for flags in (["--json"], ["--format", "json"]):
        ended = program("changes", "--short", *flags, "--ledger", made.root)
        assert (ended.code, ended.out) == (2, "")
    ended = program("changes", "--short", "--format", "markdown", "--ledger", made.root)
    assert (ended.code, ended.out.count("### ")) == (0, 4)


@pytest.mark.parametrize("columns", [40, 80])
def test_a_terminal_gets_its_own_width_and_no_colour(made: Repository, columns: int) -> None:
    """Staged or not; a pipe gets 80 columns."""
    made.git("add", "--all")
    there = Terminal(made.root, "--short", door="changes", columns=columns, HOME=str(made.root))
    there.until("\0")
    assert there.end() == 0
    while_working, _, told = there.seen.partition("\r\x1b[K")
    lines = told.replace("\r", "").splitlines()
    assert while_working == "comparing …"
    assert "\x1b" not in told
    assert columns - 15 < max(map(len, lines)) <= columns
    assert "21 1/4 in" in " ".join(there.seen.split())
