"""What a person typed is text on every page, whatever it looks like."""

import datetime
from dataclasses import replace

import pytest

from blankbook.pages import all_pages
from blankbook.pages.page_spec import AnyPage
from blankbook.pages.render import render_body
from blankbook.records.model import (
    Blank,
    Chart,
    Decision,
    Decorated,
    Delivery,
    DeliveryDecision,
    Flaw,
    Heat,
    Laundering,
    Photo,
    Piece,
    Price,
    Round,
    Source,
    Style,
    Supplier,
    Swatch,
    Temperature,
    WashedPrint,
    Workmanship,
    Worn,
)
from blankbook.results.judge_blank import judge
from made_blanks import CHARTED, EIGHTH, graded, grades, piece, shop, twisted, washed
from markup import Markup

PLAIN = "plain words"
HOSTILE = [
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    "{{ 7 * 7 }}{% raw %}",
    "{# gone #}",
    r"$\badcmd$ costs $5 to $6",
    "---\ntemplate: x\n---",
    "</div></main></body>",
    "<!-- never closed",
    "]]> &amp; &lt; &#60;",
    "\" onmouseover='x' ' \"",
    "[a](javascript:alert(1)) **b** `c`",
    "\U0001f455 été ½ \u202edlrow",
    "tab\tand bell\x07",
    "w" * 5000,
]
DAY = datetime.date(2026, 1, 20)


def _round(words: str) -> Round:
    pieces = tuple(_piece(f"{size}-1", size, words) for size in ("S", "M", "L"))
    return Round(
        Source(f"r {words}.yaml"),
        "2026-01-20-first",
        "a/b",
        DAY,
        by=words,
        lot=words,
        tape=EIGHTH,
        pieces=pieces,
        bought=DAY,
        each=4.5,
        currency="USD",
        laundering=Laundering("home_warm", "line", words),
        swatches=(Swatch(10000.0, 2.0, piece=words),),
        decision=Decision("approved", DAY, words, words, (words,), (words,)),
        photos=(Photo(words, words),),
        note=words,
        decorated=(_decorated(words),),
    )


def _piece(key: str, size: str, words: str) -> Piece:
    chest, length = {"S": ("18", "28"), "M": ("20", "29"), "L": ("20 1/8", "30")}[size]
    made = piece(key, size, half_chest=chest, body_length=length, hem_width=chest)
    made = washed(made, 1, half_chest=chest, body_length=length)
    made = twisted(graded(made, 5, colour="3"), 7, "2", "18")
    stages = tuple(replace(stage, note=words) for stage in made.washed)
    return replace(
        made,
        lot=f"other {words}",
        note=words,
        confirmed=words,
        washed=stages,
        workmanship=Workmanship(grades(seams="2"), words),
        worn=(Worn(10, 3, grades(shape="2"), words, words),),
    )


def _decorated(words: str) -> Decorated:
    heat = Heat(Temperature(160.0, words), 15, "medium")
    stages = (WashedPrint(5, grades(cracking="1"), words),)
    return Decorated("M-1", "cut_film", words, heat, heat, grades(cover="1"), stages, words)


def _delivery(words: str) -> Delivery:
    """Return a delivery in which everything that may be typed is *words*."""
    pieces = tuple(
        replace(piece(f"{size}-1", size, half_chest=chest), note=words, confirmed=words)
        for size, chest in (("S", "18"), ("M", "22"))
    )
    return Delivery(
        Source(f"d {words}.yaml"),
        "2026-02-03-first-delivery",
        "a/b",
        datetime.date(2026, 2, 3),
        by=words,
        lot=words,
        delivered={"S": 30, "M": 40},
        inspected=20,
        invoiced={"S": 31, "M": 40},
        order=words,
        changed=words,
        corrected=words,
        tape=EIGHTH,
        pieces=pieces,
        flaws=(Flaw("S", "hole", 2, words, "", words),),
        decision=DeliveryDecision("accepted", DAY, words, words),
        photos=(Photo(words, words),),
        note=words,
    )


def _pages(words: str) -> list[AnyPage]:
    """Return every page that shows something typed, with *words* wherever a person types."""
    rules = replace(shop(), name=words, note=words, currency=words)
    chart = Chart(datetime.date(2024, 1, 1), words, "in", CHARTED.sizes)
    style = Style(
        Source(f"{words}/style.yaml"),
        "a/b",
        "a",
        words,
        ("S", "M", "L"),
        (words,),
        fibre=words,
        knit=words,
        mass=200.0,
        mass_written=words,
        charts=(chart,),
        prices=(Price(DAY, 4.5, words, {"L": 5.0}),),
        uses=(words,),
        note=words,
    )
    supplier = Supplier(
        Source("a.yaml"), "a", words, words, "", words, 3, "parcel", words, DAY, words
    )
    judged = judge(Blank(style, supplier, (_round(words),), (_delivery(words),)), rules)
    rows = [all_pages.blank_row(judged, all_pages.over_time_page(judged, rules))]
    return [
        all_pages.blank_page(judged, rules),
        all_pages.catalogue_page(rows, rules),
        all_pages.supplier_page(supplier, rows, rules),
        all_pages.suppliers_page({"a": supplier}, rows, rules),
    ]


@pytest.mark.parametrize("words", HOSTILE, ids=range(len(HOSTILE)))
def test_typed_words_change_no_page(words: str) -> None:
    """A page has the same elements and attributes, whatever the words; only its text differs."""
    for plain, hostile in zip(_pages(PLAIN), _pages(words), strict=True):
        before, after = Markup(render_body(plain)), Markup(render_body(hostile))

        assert after.shape == before.shape, plain.path
        assert not after.comments, plain.path
        shown = before.text.count(PLAIN)
        assert shown > 1, plain.path
        assert after.text.count(" ".join(words.split())) >= shown, plain.path


def test_every_typed_field_is_shown() -> None:
    """The pages above do show what they are tested with: none of these words is left out."""
    text = " ".join(Markup(render_body(page)).text for page in _pages(PLAIN))

    for beside in (
        "Measured by",
        "Bought 2026-01-20",
        "after 1 wash",
        "after 7 washes",
        "press",
        "cut film",
        "Picture",
        "For:",
        "each",
        "Against the plan",
        "put right by the supplier",
        "What was bad",
    ):
        assert beside in text, beside
