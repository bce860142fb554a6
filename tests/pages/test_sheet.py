"""The sheet for the table: everything to hold a piece against, and room for what it is."""

from blankbook.pages.render import render_body
from blankbook.pages.table.print_sheet import ASKED, ONCE, ROOM, sheet_page
from blankbook.pages.value_words import length_text
from blankbook.results.result_types import Judged
from blankbook.words.points import POINTS, TAPE_SLIPS
from made_blanks import blank, shop
from markup import Markup, table_rows


def test_every_size_has_its_block(judged_demo: list[Judged]) -> None:
    """Charted lengths and tolerances as the chart has them, and empty cells for six pieces."""
    for judged in judged_demo:
        style, own = judged.blank.style, judged.case.shop
        page = Markup(render_body(sheet_page(judged.blank, own)))
        assert TAPE_SLIPS in page.text
        assert all(f"{asked} " in page.text for asked in ONCE)
        assert len(page.all("table")) == len(style.sizes)
        for place, size in enumerate(style.sizes, 1):
            head, *rows = table_rows(page, f"sheet-{place}")
            assert page.by_id(f"sheet-{place}").text == f"Size {size}"
            assert head[3:] == [str(number) for number in range(1, ROOM + 1)]
            assert [row[0] for row in rows[: len(ASKED)]] == list(ASKED)
            assert all(row[3:] == [""] * ROOM for row in rows)
            charted = style.charts[-1].sizes.get(size, {}) if style.charts else {}
            named = {POINTS[point].name: length for point, length in charted.items()}
            shown = {row[0]: row[1] for row in rows[len(ASKED) :]}
            assert named.keys() <= shown.keys()
            for name, text in shown.items():
                if name in named:
                    assert text == length_text(named[name].mm, own.unit)
                else:
                    assert text == "–"
            assert all(row[2] for row in rows[len(ASKED) :])


def test_blank_that_nobody_measured_has_one() -> None:
    """Without a chart and without a round the points that decide are there to be filled in."""
    page = Markup(render_body(sheet_page(blank(charts=()), shop())))
    rows = table_rows(page, "sheet-1")

    assert "No chart" in page.text
    assert [row[0] for row in rows[1 + len(ASKED) :]] == ["half chest", "body length"]


def test_the_blank_leads_to_its_sheet(
    judged_demo: list[Judged], demo_markup: dict[str, Markup]
) -> None:
    """Every blank's page has the link, measured or not; one that clients see leads there too."""
    for judged in judged_demo:
        key = judged.blank.style.key
        links = [link.get("href") for link in demo_markup[f"blanks/{key}.html"].all("a")]
        assert f"../../sheets/{key}.html" in links
        assert f"sheets/{key}.html" in demo_markup
    assert "../../clients.html#shirt-standard-tee" in [
        link.get("href") for link in demo_markup["blanks/tarn-thrush/h6.html"].all("a")
    ]


def test_every_point_of_the_guide_says_how(demo_markup: dict[str, Markup]) -> None:
    """Where the tape goes, the slip, and where houses differ, for each point with its drawing."""
    page = demo_markup["guide.html"]
    for point in POINTS.values():
        assert point.where in page.text
        assert point.slip in page.text
        assert len(point.variants) >= 2, point.key
        for _, meaning in point.variants:
            assert meaning in page.text
        assert any(
            picture.get("src") == f"charts/guide/{point.key}.svg" for picture in page.all("img")
        )
