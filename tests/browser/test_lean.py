"""Pages leave out end tags and quotes that HTML does not ask for: no browser sees a difference."""

from typing import Any

from blankbook.pages import all_pages
from blankbook.pages.page_spec import AnyPage
from blankbook.pages.render import in_fewer_bytes, render_body
from blankbook.results.judge_blank import judge
from made_blanks import blank, measured, piece, shop

SEEN = """both => both.map(html => {
  const tree = new DOMParser().parseFromString(html, 'text/html').body;
  return tree.innerHTML.replace(/>\\s+/g, '>').replace(/\\s+</g, '<');
})"""


def pages() -> list[str]:
    """Return pages with tables, lists and lists of words, as the templates write them."""
    rules = shop()
    pieces = [piece(f"L-{n}", "L", half_chest="22", body_length="30") for n in (1, 2)]
    judged = judge(blank(measured(*pieces), measured(*pieces, key="2026-05-02-next")), rules)
    over_time = all_pages.over_time_page(judged, rules)
    assert over_time
    specs: list[AnyPage] = [all_pages.blank_page(judged, rules), over_time]
    specs += [*all_pages.earlier_pages(judged, rules), *all_pages.fixed_pages(rules)]
    return [render_body(page) for page in specs]


def test_a_browser_reads_the_same_page(browser: Any) -> None:
    """The tree of elements is the same with those end tags and without."""
    page = browser.new_page()
    bodies = pages()
    assert len(bodies) > 4
    for html in bodies:
        assert len(in_fewer_bytes(html)) < len(html)
        whole, short = page.evaluate(SEEN, [html, in_fewer_bytes(html)])
        assert short == whole
    page.close()


def test_the_comparison_can_fail(browser: Any) -> None:
    """An end tag that matters is missed."""
    page = browser.new_page()
    whole, short = page.evaluate(SEEN, ["<p><b>a</b>b</p>", "<p><b>ab</p>"])
    assert whole != short
    page.close()
