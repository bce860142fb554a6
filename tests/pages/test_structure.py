"""Every page is well made: whole, in order, and to be read by ear as well as by eye."""

import re
from itertools import pairwise

import pytest

from markup import Element, Markup

HEADINGS = ("h1", "h2", "h3", "h4")
NEVER = {"script", "style", "iframe", "object", "embed", "form", "base", "font", "center"}


def test_one_heading_leads_and_none_is_skipped(demo_markup: dict[str, Markup]) -> None:
    """A page has one h1, and goes down one level at a time."""
    for path, page in demo_markup.items():
        levels = [
            HEADINGS.index(element.tag) for element in page.elements if element.tag in HEADINGS
        ]
        assert levels[0] == 0, path
        assert levels.count(0) == 1, path
        assert all(after - before <= 1 for before, after in pairwise(levels)), path


def test_nothing_acts_or_dresses_itself(demo_markup: dict[str, Markup]) -> None:
    """No script, style or event stands in a page: the page's own policy would refuse it."""
    for path, page in demo_markup.items():
        assert not page.comments, path
        for element in page.elements:
            assert element.tag not in NEVER or _is_ours(path, element), (path, element.tag)
            assert "style" not in element.attributes, (path, element.tag)
            assert not [name for name in element.attributes if name.startswith("on")], path


SCRIPTS = {"index.html": "assets/finder.js", "compare.html": "assets/compare.js"}


def _is_ours(path: str, element: Element) -> bool:
    """Say whether this is a script that the page has: a file of ours, and nothing inside."""
    scripts: tuple[str, ...] = ("assets/make.js", SCRIPTS.get(path, ""))
    if path.startswith("table/"):
        own = path.removesuffix(".html")
        assets = [
            f"../../../assets/{name}.js"
            for name in ("make", "odd", "keep", "hand", "look", "table")
        ]
        scripts = (f"../../../data/{own}.js", *assets)
    elif path not in SCRIPTS:
        return False
    wanted = [{"src": script, "defer": None} for script in scripts]
    return element.tag == "script" and element.attributes in wanted and not element.text


def test_pictures_have_words_and_a_size(demo_markup: dict[str, Markup]) -> None:
    """Every picture says what it shows, and holds its place before it has come."""
    pictures = [picture for page in demo_markup.values() for picture in page.all("img")]

    assert pictures
    for picture in pictures:
        assert len(picture.get("alt")) > 10, picture
        assert picture.get("width").isdigit(), picture
        assert picture.get("height").isdigit(), picture


def test_tables_say_what_they_hold(demo_markup: dict[str, Markup]) -> None:
    """A table has a caption, its heads a scope, and every row as many cells as the head."""
    tables = [(path, table) for path, page in demo_markup.items() for table in page.all("table")]

    assert tables
    for path, table in tables:
        assert table.children[0].tag == "caption", path
        assert table.children[0].text.strip(), path
    for path, page in demo_markup.items():
        scopes = {head.get("scope") for head in page.all("th")}
        assert scopes <= {"col", "row", "rowgroup"}, (path, scopes)
        assert all(head.text.strip() for head in page.all("th")), path


def test_rows_are_as_wide_as_their_head(demo_markup: dict[str, Markup]) -> None:
    """No number slips under another column's head."""
    for path, page in demo_markup.items():
        for table in page.all("table"):
            rows = [row for part in table.children for row in part.children if row.tag == "tr"]
            wide = len(rows[0].children)
            hanging = 0
            for row in rows:
                cells = sum(int(cell.get("colspan") or 1) for cell in row.children)
                assert cells + hanging == wide, (path, row.text)
                hanging = sum(cell.get("rowspan") == "2" for cell in row.children)


def test_cells_name_their_columns(demo_markup: dict[str, Markup]) -> None:
    """In a window too narrow for columns each value stands after its head, so every cell has it."""
    named = 0
    for path, page in demo_markup.items():
        for table in page.all("table"):
            rows = [row for part in table.children for row in part.children if row.tag == "tr"]
            heads = [" ".join(head.text.split()) for head in rows[0].children]
            as_columns = {"kept", "sheet", "catalogue"} & set(table.get("class").split())
            if as_columns or path.startswith("handbook/"):
                continue
            for row in rows[1:]:
                cells = [(c.get("data-h"), h) for c, h in zip(row.children, heads, strict=False)]
                if not any(cell.get("colspan") for cell in row.children):
                    wanted = [("" if head == "answer" else head, head) for _, head in cells[1:]]
                    assert [(own or "", head) for own, head in cells[1:]] == wanted, path
                    named += len(cells) - 1
    assert named > 3_000


def test_wide_tables_scroll_by_keyboard(demo_markup: dict[str, Markup]) -> None:
    """A region that scrolls can be reached by the keyboard, and has a name."""
    for path, page in demo_markup.items():
        for table in page.all("table"):
            assert table.inside[-1] == "div", path
        for region in (element for element in page.elements if element.get("role") == "region"):
            assert region.get("tabindex") == "0", path
            assert page.by_id(region.get("aria-labelledby")).text.strip(), path


def test_names_are_given_once_and_lead_somewhere(demo_markup: dict[str, Markup]) -> None:
    """No id is there twice, and what is labelled by another element finds it."""
    for path, page in demo_markup.items():
        ids = [element.get("id") for element in page.elements if element.get("id")]
        assert len(ids) == len(set(ids)), path
        for element in page.elements:
            if element.get("aria-labelledby"):
                assert element.get("aria-labelledby") in ids, (path, element.tag)


def test_links_stay_on_the_disk(demo_markup: dict[str, Markup]) -> None:
    """Links are relative, so that the site works in any folder; a supplier's own leads out."""
    for path, page in demo_markup.items():
        for link in page.all("a"):
            goes = link.get("href")
            assert goes, path
            if re.match(r"[a-z]+:|/", goes):
                assert goes.startswith("https://"), (path, goes)
                assert path.startswith("suppliers/"), (path, goes)
                assert link.get("rel") == "noreferrer", path


def test_pages_are_light(demo_markup: dict[str, Markup], demo_pages: list[object]) -> None:
    """A page is at most 100 kB, its charts apart."""
    from blankbook.pages.page_spec import PageSpec
    from blankbook.pages.render import render_body

    for page in demo_pages:
        assert isinstance(page, PageSpec)
        assert len(render_body(page).encode()) < 100_000, page.path


def test_a_broken_page_would_be_seen() -> None:
    """The parser that the tests above rest on refuses what does not balance."""
    for broken in ("<div><p>a</div></p>", "<div>", "</div>", '<p class="a" class="b">c</p>'):
        with pytest.raises(AssertionError):
            Markup(broken)
