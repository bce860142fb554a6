"""The pages say what the results say: the finding first, and nothing left out."""

import json
import os
import subprocess
import sys
from collections import Counter
from dataclasses import replace
from datetime import date

import pytest

from blankbook.build.content_keys import canonical_json
from blankbook.build.frozen_json import from_list
from blankbook.pages import all_pages
from blankbook.pages.blank.check_columns import LAYOUTS
from blankbook.pages.blank.check_tables import WORST_FIRST, unlooked_lines
from blankbook.pages.page_spec import AnyPage
from blankbook.pages.render import render_body
from blankbook.pages.value_words import number_text, share_text, unbroken
from blankbook.records.model import Blank, Shop
from blankbook.results.checks import all_checks as checks
from blankbook.results.judge_blank import judge
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Check, Judged, Number, Result
from blankbook.results.standing.make_standing import say_evidence
from blankbook.results.standing.standing_rules import RULES
from blankbook.words.answers import SIGNS, Answer, MayOrder
from made_blanks import blank, chart, measured, piece, shop, washed
from markup import Markup, table_rows


def page_of(vetted: Blank, rules: Shop | None = None) -> Markup:
    """Return a blank's page, taken apart."""
    rules = rules or shop()
    return Markup(render_body(all_pages.blank_page(judge(vetted, rules), rules)))


def tube() -> Blank:
    """Return two labels of one width: the tube of the trade, one piece each and no chart."""
    pieces = (
        piece("L-1", "L", half_chest="23", body_length="30 1/2"),
        piece("XL-1", "XL", half_chest="23", body_length="32"),
    )
    return blank(measured(*pieces), sizes=("L", "XL"), charts=(), construction="tube")


def charted() -> Blank:
    """Return a style on its chart but for an M that is 1 in narrow, once washed."""
    pieces = [
        washed(
            piece(f"{size}-{n}", size, half_chest=chest, body_length=length),
            1,
            half_chest=chest,
            body_length=length,
        )
        for size, chest, length in (("S", "18", "28"), ("M", "19", "29"), ("L", "22", "30"))
        for n in (1, 2, 3)
    ]
    return blank(measured(*pieces))


def test_a_chart_whose_sizes_share_a_width_is_said_on_the_page() -> None:
    """Below the chart as it was published, in the words of the terminal."""
    shared = {"S": "18", "M": "20", "L": "20"}
    found = page_of(blank(charts=(chart({s: {"half_chest": w} for s, w in shared.items()}),)))
    assert "Look again: L is no wider than M in the chart: both 20 in." in found.text
    assert "Look again" not in page_of(charted()).text


def test_the_finding_leads(judged_demo: list[Judged], demo_markup: dict[str, Markup]) -> None:
    """A blank's page opens with its name, the one sentence, what holds today, and why."""
    for judged in judged_demo:
        page = demo_markup[f"blanks/{judged.blank.style.key}.html"]
        assert page.all("h1")[0].text == judged.blank.style.name
        order = [
            element for element in page.elements if element.get("class") in {"headline", "verdict"}
        ]
        assert [element.get("class") for element in order] == ["headline", "verdict"]
        assert order[0].text.replace("\N{NO-BREAK SPACE}", " ") == judged.standing.sentence
        shape = SIGNS[judged.standing.kind].shape
        today = order[1].children[0].children[1].text
        assert today.startswith(f"{shape} {judged.standing.kind}")
        assert say_evidence(judged.standing) in today.replace("\N{NO-BREAK SPACE}", " ")
        for reason in judged.standing.reasons:
            assert reason.says in page.text
        assert judged.standing.next_step in page.text


def test_the_drawing_is_the_first_picture(
    judged_demo: list[Judged], demo_markup: dict[str, Markup]
) -> None:
    """Where anything can be drawn to scale, it is the first picture of the page."""
    drawn = 0
    for judged in judged_demo:
        pictures = demo_markup[f"blanks/{judged.blank.style.key}.html"].all("img")
        if pictures:
            drawn += 1
            assert pictures[0].get("src").endswith(".sizes.svg"), judged.blank.style.key
    assert drawn > 10


def test_every_answer_is_counted(judged_demo: list[Judged]) -> None:
    """The line of each topic counts all answers of its checks, each under its own word."""
    for judged in judged_demo:
        topics = all_pages.blank_page(judged, shop()).context.topics
        assert topics
        for topic in topics:
            counted = {count.sign.word: count.count for count in topic.counts}
            assert counted == Counter(r.answer for c in topic.checks for r in judged.of(c.key))
        shown = {check.key for topic in topics for check in topic.checks}
        assert {r.check for r in judged.results if r.answer != Answer.NOT_TESTED} <= shown


def test_what_fails_or_is_open_comes_first(judged_demo: list[Judged]) -> None:
    """A topic is unfolded where something fails, or is required and neither meets nor is noted."""
    settled = {Answer.MEETS, Answer.NOTED}
    for judged in judged_demo:
        topics = all_pages.blank_page(judged, shop()).context.topics
        unfolded = [topic.unfolded for topic in topics]
        assert unfolded == sorted(unfolded, reverse=True)
        for topic in topics:
            results = [(r, c.required) for c in topic.checks for r in judged.of(c.key)]
            trouble = [
                r
                for r, required in results
                if r.answer == Answer.FAILS or (required and r.deciding and r.answer not in settled)
            ]
            assert topic.unfolded == bool(trouble), (judged.blank.style.key, topic.title)
            if trouble:
                worst = {str(r.answer) for r in trouble}
                assert topic.says[0].sign.word == next(a for a in WORST_FIRST if a in worst)


def test_every_answer_but_the_silent_ones_has_a_cell(
    judged_demo: list[Judged], demo_markup: dict[str, Markup]
) -> None:
    """What was looked at stands in the tables, answer by answer, with its shape and word."""
    for judged in judged_demo:
        page = demo_markup[f"blanks/{judged.blank.style.key}.html"]
        signs = [
            element
            for element in page.elements
            if element.get("class").startswith("sign ")
            and element.inside[-1] == "td"
            and "article"
            not in element.inside  # a delivery's own comparison is no answer of a check
        ]
        for answer in (Answer.FAILS, Answer.NOT_SHOWN, Answer.MEETS):
            shown = [element for element in signs if element.text.endswith(answer)]
            wanted = [result for result in judged.results if result.answer == answer]
            assert len(shown) == len(wanted), (judged.blank.style.key, answer)
            assert all(element.text == f"{SIGNS[answer].shape} {answer}" for element in shown)


def test_what_nobody_looked_at_is_named(
    judged_demo: list[Judged], demo_markup: dict[str, Markup]
) -> None:
    """Whatever was not tested at all is said in words, with its reason or its place."""
    for judged in judged_demo:
        page = demo_markup[f"blanks/{judged.blank.style.key}.html"]
        for check in checks.CHECKS:
            unseen = [
                result
                for result in judged.of(check.key)
                if result.answer == Answer.NOT_TESTED and not result.numbers
            ]
            for words in unlooked_lines(unseen):
                assert words in page.text, (judged.blank.style.key, words)


def test_numbers_of_a_row_are_those_of_its_result() -> None:
    """M, charted at 20 in, measures 19 in: a table row with 1 in under, and a fail."""
    rows = table_rows(page_of(charted()), "size_against_chart-caption")

    m_chest = next(row for row in rows if row[0] == "M")
    assert m_chest[1:6] == ["■ fails", "3", "20", "19", "-1"]
    assert m_chest[7] == "under 1 %"


def test_the_words_of_the_chart_are_the_numbers_of_its_table(
    judged_demo: list[Judged], demo_markup: dict[str, Markup]
) -> None:
    """Each size's mean that a ladder tells stands in the table beside it."""
    told = 0
    for judged in judged_demo:
        page = demo_markup[f"blanks/{judged.blank.style.key}.html"]
        alts = {i.get("src").split(".")[-2]: i.get("alt") for i in page.all("img")}
        for result in judged.of("size_against_chart"):
            mean = result.number(Quantity.MEAN)
            if mean and result.number(Quantity.OFF_THE_CHART):
                words = number_text(mean, "in")
                rows = table_rows(page, "size_against_chart-caption")
                assert words in [row[4] for row in rows if len(row) == 8], judged.blank.style.key
                assert f"{result.size} {words} (" in alts[f"ladder-{result.point}"]
                told += 1
    assert told > 100


def test_two_sizes_of_one_tube_are_told_at_once() -> None:
    """Common practice, no source: 23 in twice across the chest, 1 1/2 in between the lengths."""
    page = page_of(tube())

    assert "XL is no wider than L" in page.all("p")[0].text
    assert "L, XL are drawn with one width" in page.all("img")[0].get("alt")
    assert table_rows(page, "grade_steps-caption")[2][:4] == [
        "L to XL",
        "■ fails collapsed",
        "–",
        "0",
    ]
    assert table_rows(page, "mix_up-caption")[1] == [
        "L to XL",
        "■ fails 1 in 2",
        "● meets 1 in 87",
    ]
    assert "sizes cut from one knitted tube" in page.text
    assert "No size chart was published" in page.text
    assert "Not worth testing yet" in page.text


def test_a_new_check_shows_without_a_change_to_the_pages(monkeypatch: pytest.MonkeyPatch) -> None:
    """A check that the pages have never heard of has its row, its reason and its place."""
    result = Result(
        "handle",
        Answer.NOT_SHOWN,
        "the hand is too stiff to say",
        word="stiff",
        size="M",
        piece="M-1",
        numbers=(Number(Quantity.PIECES, 3.0, "count"),),
    )

    def look(_: Case) -> list[Result]:
        return [result]

    new = Check("handle", "Hand", "Does it drape?", "By hand.", "common practice", look, "by eye")
    judged = judge(charted(), shop())
    judged = replace(judged, results=(*judged.results, result))
    monkeypatch.setattr("blankbook.pages.blank.blank_page.CHECKS", (*checks.CHECKS, new))

    page = Markup(render_body(all_pages.blank_page(judged, shop())))

    assert page.by_id("handle").text.startswith("Hand")
    rows = table_rows(page, "handle-caption")
    assert rows[1] == ["M, M-1", "◐ not shown stiff", "the hand is too stiff to say"]


def test_layouts_are_of_checks_that_exist() -> None:
    """No layout is left over from a check that went, and its numbers are ones the check gives."""
    assert set(LAYOUTS) <= {check.key for check in checks.CHECKS}


def test_columns_are_filled(judged_demo: list[Judged], demo_markup: dict[str, Markup]) -> None:
    """Every column of every layout has a number somewhere in the demo: no name is misspelt."""
    for key, layout in LAYOUTS.items():
        results = [r for judged in judged_demo for r in judged.of(key) if r.numbers]
        for column in layout.columns:
            assert any(column.show(result, "in") != "–" for result in results), (key, column.head)
        if layout.cell:
            assert any(layout.cell(result, "in") != "–" for result in results), key


def test_a_decision_against_the_evidence_says_so(demo_markup: dict[str, Markup]) -> None:
    """Where something speaks against a decision, both stand, in the catalogue and on the page."""
    against = [p for p, page in demo_markup.items() if "against the decision" in page.text]

    assert against
    said = demo_markup["index.html"].text.count("something speaks against it")
    assert said == len([path for path in against if path != "method.html"])


def test_readings_stand_as_they_were_written(demo_markup: dict[str, Markup]) -> None:
    """Every round is there with its file, and a reading in another unit keeps its name."""
    page = demo_markup["blanks/copperbeck/c66.html"]
    earlier = demo_markup["blanks/copperbeck/c66/earlier.html"]

    assert "blanks/copperbeck/c66/2024-09-09-first.yaml" in earlier.text
    rows = table_rows(earlier, "round-2024-09-09-first-caption")
    assert any("22 1/2; 22 1/2; 22 5/8" in row for row in rows)
    newest = table_rows(page, "round-2025-03-10-second-lot-caption")
    assert any("2.6 cm" in row for row in newest)


def test_every_round_of_every_blank_stands_on_one_of_its_pages(
    judged_demo: list[Judged], demo_markup: dict[str, Markup]
) -> None:
    """The newest on the page, the others on the page behind it, and the page leads to each."""
    earlier = 0
    for judged in judged_demo:
        key = judged.blank.style.key
        page = demo_markup[f"blanks/{key}.html"]
        links = {link.get("href") for link in page.all("a")}
        for round_ in judged.blank.rounds[:-1]:
            behind = demo_markup[f"blanks/{key}/earlier.html"]
            assert behind.by_id(f"round-{round_.key}")
            assert round_.source.path in behind.text
            assert f"{key.partition('/')[2]}/earlier.html#round-{round_.key}" in links
            earlier += 1
        for round_ in judged.blank.rounds[-1:]:
            assert page.by_id(f"round-{round_.key}")
    assert earlier > 10


def test_the_published_chart_stands_beside(demo_markup: dict[str, Markup]) -> None:
    """What the supplier claims is shown apart from what was measured, as it was published."""
    rows = table_rows(demo_markup["blanks/copperbeck/c66.html"], "chart-1-caption")

    assert rows[0][1:] == ["M", "L", "XL", "2XL"]
    assert rows[1][1:] == ["20 1/4", "22 1/4", "24 1/4", "26 1/4"]


def test_cautions_stand_where_they_belong(demo_markup: dict[str, Markup]) -> None:
    """Hot washing, children's sizes and removed labels are spoken of with their usual caution."""
    assert "scald and burn" in demo_markup["blanks/copperbeck/c66.html"].text
    assert "scald and burn" in demo_markup["guide.html"].text
    assert "flammability" in demo_markup["blanks/hobnettle/k3.html"].text
    assert "flammability" not in demo_markup["blanks/copperbeck/c66.html"].text


def test_the_catalogue_lists_every_blank(
    judged_demo: list[Judged], demo_markup: dict[str, Markup]
) -> None:
    """Every blank has its row with its link, what may be ordered first."""
    page = demo_markup["index.html"]
    rows = table_rows(page, "catalogue-caption")[1:]

    assert len(rows) == len(judged_demo)
    links = {link.get("href") for link in page.all("a")}
    assert links >= {f"blanks/{judged.blank.style.key}.html" for judged in judged_demo}
    order = [list(MayOrder).index(_kind(row[1])) for row in rows]
    assert order == sorted(order)


def _kind(cell: str) -> MayOrder:
    """Return the standing that a cell begins with; the longest word that fits."""
    return max((kind for kind in MayOrder if cell[2:].startswith(kind)), key=len)


def test_a_phone_says_over_every_cell_what_it_is(demo_markup: dict[str, Markup]) -> None:
    """Where rows stack, each cell carries the words of its column's head, and stays a cell."""
    page = demo_markup["index.html"]
    table = page.all("table")[0]
    heads = [cell.text for cell in table.children[1].children[0].children]
    for row in table.children[2].children:
        assert row.get("role") == "row"
        for head, cell in zip(heads, row.children, strict=True):
            assert cell.get("role") in {"rowheader", "cell"}
            assert cell.get("data-head") in {head, ""}
            assert cell.get("data-head") or head in {"blank", "today"}


def test_the_method_page_tells_every_rule(demo_markup: dict[str, Markup]) -> None:
    """Every check has its question, rule and source there, and every word its shape."""
    page = demo_markup["method.html"]

    for check in checks.CHECKS:
        assert page.by_id(f"check-{check.key}").text.startswith(check.title)
        for words in (check.question, check.rule, check.source):
            assert " ".join(words.split()) in page.text
    for word, sign in SIGNS.items():
        assert f"{sign.shape} {word}" in page.text
        assert sign.meaning in page.text


def test_the_method_page_prints_the_rules_of_a_standing(demo_markup: dict[str, Markup]) -> None:
    """Row by row the table that the code follows, in its order."""
    _, *rows = table_rows(demo_markup["method.html"], "rules-caption")
    assert [[cell.replace("\N{NO-BREAK SPACE}", " ") for cell in row] for row in rows] == [
        [
            rule.name,
            rule.when,
            f"{SIGNS[rule.ceiling].shape} {rule.ceiling}",
            rule.opens or "none",
            rule.sentence,
        ]
        for rule in RULES
    ]


def test_shares_are_never_quite_all() -> None:
    """A share of further pieces is a prediction: it is not rounded to all or none."""
    said = [
        share_text(Number(Quantity.SHARE_INSIDE, value, "chance"))
        for value in (0.0, 0.004, 0.5, 0.9999)
    ]

    assert said == ["under 1 %", "under 1 %", "50 %", "over 99 %"]
    assert share_text(None) == "–"


def test_no_line_breaks_inside_a_number() -> None:
    """1 15/16 in stays together, and nothing else does: words can still be broken apart."""
    words = unbroken("XL to 2XL is 1 15/16 in under, in 2 rounds of 5, 6.0 % (2 in 3)")

    assert words.split(" ") == [
        "XL", "to", "2XL", "is", "1\xa015/16\xa0in", "under,", "in", "2", "rounds", "of", "5,",
        "6.0\xa0%", "(2\xa0in", "3)",
    ]  # fmt: skip


def test_a_shop_that_works_in_centimetres_reads_them() -> None:
    """Lengths and heads follow the shop's unit: 19 in is 48.3 cm, 1 in under is 2.5 cm."""
    rows = table_rows(page_of(charted(), shop(unit="cm")), "size_against_chart-caption")

    assert "measured, cm" in rows[0]
    m_chest = next(row for row in rows if row[0] == "M")
    assert m_chest[3:6] == ["50.8", "48.3", "-2.5"]


def test_what_pages_show_can_be_told_apart(demo_pages: list[AnyPage]) -> None:
    """A page goes through JSON and back unchanged: the build can tell whether it has changed."""
    for page in demo_pages:
        read = from_list(type(page.context), json.loads(canonical_json(page.context)))
        assert read == page.context, page.path


_PLAN = """
import hashlib, sys
from pathlib import Path
from blankbook.build.content_keys import canonical_json
from blankbook.pages import all_pages
from blankbook.records.load_ledger import load_ledger
from blankbook.results.judge_blank import judge
ledger = load_ledger(Path(sys.argv[1])).ledger
pages = [all_pages.blank_page(judge(b, ledger.shop), ledger.shop) for b in ledger.blanks.values()]
pages += all_pages.fixed_pages(ledger.shop)
text = canonical_json([[p.path, p.context, [c.data for c in p.charts]] for p in pages])
heavy = [name for name in ("matplotlib", "jinja2", "mkdocs") if name in sys.modules]
print(hashlib.sha256(text.encode()).hexdigest(), heavy)
"""


@pytest.mark.seldom(4)
def test_planning_is_the_same_in_every_process(demo_ledger: object) -> None:
    """Whatever the hash seed, the same ledger plans the same site, with nothing heavy loaded."""
    said = {
        subprocess.run(
            [sys.executable, "-c", _PLAN, str(demo_ledger)],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    }

    assert len(said) == 1
    assert said.pop().endswith(" []\n")


def test_the_alarm_stands_beside_its_lot() -> None:
    """A lot that is a size off, after three that were not, is named where the rounds are listed."""
    lots = [
        measured(
            *(piece(f"M-{n}", "M", f"L{at}", half_chest=f"{chest}") for n in (1, 2)),
            key=f"2025-0{at}-20-lot",
            lot=f"L{at}",
            day=date(2025, at, 20),
        )
        for at, chest in ((1, 20), (2, 20), (3, 20), (4, 22))
    ]
    (alarm,) = [
        row
        for row in page_of(blank(*lots)).all("tr")
        if "beyond the limits at half chest" in row.text
    ]
    assert "L4" in alarm.text
