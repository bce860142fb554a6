"""Size charts for clients: what the evidence says, and the same in page and file."""

import csv
import datetime
import io
from dataclasses import replace
from fractions import Fraction

import pytest

from blankbook.pages.charts.ladder_types import ClientShirtData
from blankbook.pages.clients.client_pages import as_csv, client_pages, named_charts
from blankbook.pages.clients.client_rows import NEW, ClientCell, ClientChart, client_chart, slug
from blankbook.pages.page_spec import AnyPage
from blankbook.pages.render import render_body
from blankbook.records.lengths import read_length
from blankbook.records.model import Decision, Round, Swatch, Tape
from blankbook.results.client_sizes import (
    body_chest,
    chest_ranges,
    client_name,
    client_rounding,
    client_sizes,
    may_be_shown,
)
from blankbook.results.judge_blank import judge
from blankbook.results.result_types import Judged
from blankbook.words.answers import Advice
from blankbook.words.body_sizes import BODY_SIZE_LISTS
from blankbook.words.points import POINTS
from made_blanks import blank, measured, shop
from made_histories import SAMPLES, day, decision
from markup import Markup, table_rows

INCH = 25.4


Charts = dict[str, tuple[AnyPage, ClientChart]]
"""Page and data of every chart, by title."""


@pytest.fixture(scope="module")
def charts(judged_demo: list[Judged]) -> Charts:
    """Return every chart that the demo shop gives to clients."""
    own = {
        judged.blank.style.key: chart for judged in judged_demo if (chart := client_chart(judged))
    }
    data = {named.title: named.chart for named in named_charts(own)}
    return {page.title: (page, data[page.title]) for page in client_pages(own)[1:]}


def judged_of(judged_demo: list[Judged], key: str) -> Judged:
    """Return one blank of the demo shop."""
    return next(judged for judged in judged_demo if judged.blank.style.key == key)


def test_only_what_a_person_let_through_and_may_be_ordered_is_shown(
    judged_demo: list[Judged],
) -> None:
    """Without a decision there is no chart, and none while the blank waits."""
    for judged in judged_demo:
        made = [round_.decision.decision for round_ in judged.blank.rounds if round_.decision]
        accepted = bool(made) and made[-1] in {"approved", "approved with conditions"}
        shown = accepted and bool(judged.standing.sizes)
        assert may_be_shown(judged) == shown
        chart = client_chart(judged)
        assert (chart is not None) == shown
        assert not chart or set(chart.sizes) <= set(judged.standing.sizes)


def test_page_and_file_say_the_same(charts: Charts) -> None:
    """Cell by cell: what the tables of the page show is what the file has, and nothing is left."""
    assert len(charts) > 5
    for page, data in charts.values():
        (file,) = page.files
        body = Markup(render_body(page))
        lines = list(csv.DictReader(io.StringIO(file.text, newline="")))
        by_place = {(x["size"], x["point of measure"], x["stage"]): x for x in lines}
        shown = 0
        for unit in ("inches", "centimetres"):
            head, *rows = table_rows(body, f"sizes-{unit}")
            stage = ""
            for row in rows[:-1]:
                if len(row) == 1:
                    stage = row[0]
                    continue
                for point, cell in zip(head[1:], row[1:], strict=True):
                    line = by_place.get((row[0], point, stage))
                    if line is None:
                        assert cell == "–"
                        continue
                    star = "*" if line["known from"] == "the maker's claim" else ""
                    assert cell == line[unit] + star
                    shown += 1
            allowed = f"tolerance in {unit}"
            tolerances = {x["point of measure"]: x[allowed] for x in lines if x[allowed]}
            assert rows[-1][1:] == [tolerances[point] for point in head[1:]]
        _, *chests = table_rows(body, "body-caption")
        for row in chests:
            ends = [by_place[row[0], "body chest", f"suits {end}"] for end in ("from", "up to")]
            said = [" to ".join(end[unit] for end in ends) for unit in ("inches", "centimetres")]
            assert [text.replace("*", "") for text in row[1:3]] == said
        assert shown + 4 * len(chests) == 2 * len(lines)
        assert data.cells


def test_measured_means_are_those_of_the_pieces(judged_demo: list[Judged]) -> None:
    """A measured size is the mean of the newest round's pieces with a right tag, or the maker's."""
    for judged in judged_demo:
        known = client_sizes(judged)
        style = judged.blank.style
        for measure in known.measures:
            holding = [
                [p.received[measure.point] for p in r.pieces
                 if p.size == measure.size and measure.point in p.received
                 and f"{r.key}/{p.key}" not in judged.case.posterior.aside]
                for r in judged.blank.rounds
            ]  # fmt: skip
            found = [values for values in holding if values]
            if found:
                means = [sum(x.mm for x in reads) / len(reads) for reads in found[-1]]
                assert measure.mm == pytest.approx(sum(means) / len(means))
                assert measure.pieces == len(means)
            else:
                assert measure.mm == style.charts[-1].sizes[measure.size][measure.point].mm
                assert measure.pieces == 0
                assert measure.washed is None


def test_washed_sizes_follow_the_pieces_that_were_washed(judged_demo: list[Judged]) -> None:
    """After washing is as received, times the mean ratio that the washed pieces showed."""
    judged = judged_of(judged_demo, "tarn-thrush/h6")
    known = client_sizes(judged)
    newest = judged.blank.rounds[-1]
    ratios = [
        (w.readings["half_chest"][0].mm)
        / (sum(x.mm for x in p.received["half_chest"]) / len(p.received["half_chest"]))
        for p in newest.pieces
        for w in p.washed
        if w.cycles == 5
    ]
    measure = known.at("2XL", "half_chest")

    assert (known.cycles, known.washed_pieces) == (5, len(ratios))
    assert measure
    assert measure.washed == pytest.approx(measure.mm * sum(ratios) / len(ratios))


def test_numbers_are_on_the_steps_that_the_page_names(
    charts: Charts, judged_demo: list[Judged]
) -> None:
    """To the tape's own step in its unit, and the step is said; both from the same measurement."""
    page, data = charts["Standard tee"]
    known = client_sizes(judged_of(judged_demo, "tarn-thrush/h6"))
    text = Markup(render_body(page)).text
    for cell in data.cells:
        if cell.stage != "as received":
            continue
        point = next(key for key, known in POINTS.items() if known.name == cell.point)
        measure = known.at(cell.size, point)
        assert measure
        inches = sum(Fraction(part) for part in cell.inches.split())
        assert (inches * 8).denominator == 1
        assert abs(float(inches) - measure.mm / INCH) <= 1 / 16 + 1e-9
        assert float(inches) == float(cell.decimal)
        assert float(cell.centimetres) * 2 == int(float(cell.centimetres) * 2)
        assert abs(float(cell.centimetres) * 10 - measure.mm) <= 2.5 + 1e-9
    assert "to the nearest 1/8 in;" in text
    assert "to the nearest 0.5 cm;" in text


def test_a_shop_in_centimetres_rounds_to_its_own_tape(judged_demo: list[Judged]) -> None:
    """A tape read to 1 mm gives 0.1 cm; inches are then to 1/8."""
    shop = judged_demo[0].case.shop
    fine = replace(shop, tape=Tape("cm", read_length("0.1", "cm")), unit="cm")

    assert client_rounding(fine) == (8, 1.0)
    assert client_rounding(replace(shop, tape=Tape("in", read_length("1/16", "in")))) == (16, 5.0)


def test_the_chest_is_twice_the_half_chest_less_the_ease() -> None:
    """20 in flat and 4 in of ease suit 36 in; with more ease than shirt there is none."""
    assert body_chest(20 * INCH, 4 * INCH) == pytest.approx(36 * INCH)
    assert body_chest(100, 200) is None


@pytest.mark.published
def test_letters_are_those_of_the_published_lists() -> None:
    """A-A-55069 (17 June 1992), page 1, chest in inches: S 34-36, M 38-40, L 42-44, XL 46-48.

    EN 13402-3:2004, men's chest in cm: S 86-94, M 94-102, L 102-110, from memory.
    """
    american, european = BODY_SIZE_LISTS

    assert (american.unit, european.unit) == ("in", "cm")
    assert [american.chest[x] for x in ("XS", "S", "M", "L", "XL", "XXL")] == [
        (30, 32), (34, 36), (38, 40), (42, 44), (46, 48), (50, 52)
    ]  # fmt: skip
    assert dict(european.chest) == {"S": (86, 94), "M": (94, 102), "L": (102, 110)}


def test_chest_ranges_leave_no_gap_and_no_overlap() -> None:
    """Halves of 18, 20 and 22 in with 4 in of ease: the ends reach as far outwards as inwards."""
    made = decision("approved", day(1, 25), ("S", "M", "L"))
    known = client_sizes(judge(blank(replace(measured(*SAMPLES["right"]), decision=made)), shop()))
    ranges = chest_ranges(known, 4 * INCH)
    centres = {size: body_chest(known.at(size, "half_chest").mm, 4 * INCH) for size in ranges}  # type: ignore[union-attr]

    assert list(ranges) == ["S", "M", "L"]
    assert ranges["S"][1] == ranges["M"][0]
    assert ranges["M"][1] == ranges["L"][0]
    for size, (low, high) in ranges.items():
        assert low < (centres[size] or 0) < high
    assert ranges["S"][1] - (centres["S"] or 0) == pytest.approx(
        (centres["S"] or 0) - ranges["S"][0]
    )


def test_children_get_a_caution(charts: Charts) -> None:
    """Their law is named."""
    page, _ = charts["Playground tee"]
    text = Markup(render_body(page)).text

    assert "Caution. Children of one age differ" in text
    assert "certifies nothing" in text


def test_clients_read_no_code_of_a_standard(charts: Charts) -> None:
    """One range of the chest and one advice, and no second list that disagrees."""
    for page, _ in charts.values():
        text = Markup(render_body(page)).text
        assert "A-A-55069" not in text
        assert "EN 13402" not in text


def test_disproved_mass_is_shown_as_measured() -> None:
    """A shirt that weighs 164 g/m2 is not sold as 180."""
    light = tuple(Swatch(10_000.0, grams) for grams in (1.64, 1.65, 1.63))
    made = replace(
        measured(*SAMPLES["right"], swatches=light), decision=decision("approved", day(1, 25))
    )
    assert client_name(judge(blank(made, mass=180.0), shop())).endswith("164 g/m2")
    assert client_name(judge(blank(made, mass=166.0), shop())).endswith("166 g/m2")


def test_a_claim_is_marked_as_one(charts: Charts) -> None:
    """Where a size was not measured its charted length has a star, and the page says why."""
    made = decision("approved", day(1, 25), ("S", "M", "L", "XL"))
    unmeasured_s = [p for p in SAMPLES["right"] if p.size != "S"]
    named = client_chart(judge(blank(replace(measured(*unmeasured_s), decision=made)), shop()))
    assert named

    assert "* is the maker's claim" in Markup(render_body(client_pages({"a/b": named})[1])).text
    for page, data in charts.values():
        text = Markup(render_body(page)).text
        assert ("* is the maker's claim" in text) == data.claims


def test_file_keeps_to_rfc_4180() -> None:
    """Lines end in CR LF, a cell with a comma or a quote is quoted, and the head comes first.

    Source: RFC 4180, section 2, rules 1, 3, 6 and 7.
    """
    text = as_csv([ClientCell("x", "x", "x", "x", "x", "x", "x", "x", 'a, "b"')])

    assert text.split("\r\n")[1:] == ['x,x,x,x,x,x,x,x,"a, ""b"""', ""]
    assert text.startswith("size,point of measure,stage,")
    assert text.replace("\r\n", "").isascii()


def test_names_that_are_alike_are_numbered(judged_demo: list[Judged]) -> None:
    """Two blanks of one name have a page each, and a third that is called by number keeps it."""
    data = client_chart(judged_of(judged_demo, "tarn-thrush/h6"))
    assert data

    names = {"a/1": "Tee", "a/2": "Tee", "a/3": "Tee 2", "a/4": "TEE!"}
    alike = {key: replace(data, called=name, slug=slug(name)) for key, name in names.items()}
    found = named_charts(alike)

    assert sorted(named.slug for named in found) == ["tee", "tee-2", "tee-3", "tee-4"]
    assert ("Tee 2", "tee-2") in [(named.title, named.slug) for named in found]
    assert len({named.title for named in found}) == 4
    assert named_charts(dict(reversed(alike.items()))) == found


def test_the_name_is_never_the_supplier_s(judged_demo: list[Judged]) -> None:
    """What clients read comes from `called`, or else from the claimed cloth."""
    judged = judged_of(judged_demo, "tarn-thrush/h6")

    def called(**claims: object) -> str:
        style = replace(judged.blank.style, **claims)  # type: ignore[arg-type]
        return client_name(replace(judged, blank=replace(judged.blank, style=style)))

    assert client_name(judged) == "Standard tee"
    assert called(called="") == "Tee, 100 % cotton jersey, 207 g/m2"
    bare = {"called": "", "fibre": "", "knit": "", "mass": None}
    assert called(**bare) == "Tee"
    assert called(**bare, wearer="children") == "Children's tee"


@pytest.mark.parametrize("words", ["..", "a/b", "Größe 2", "<b>", "厚手", "-", "x" * 200, "CON"])
def test_a_name_makes_a_plain_path(words: str) -> None:
    """Whatever is typed, the path is small letters, figures and hyphens."""
    made = slug(words)

    assert 0 < len(made) <= 60
    assert made.replace("-", "").isalnum()
    assert made.isascii()
    assert made == made.lower()


def test_a_chart_without_anything_measured_is_all_claims(judged_demo: list[Judged]) -> None:
    """A blank that was let through unmeasured has a chart, and every number in it is a claim."""
    judged = judged_of(judged_demo, "tarn-thrush/h6")
    empty = replace(
        judged.blank.rounds[-1],
        pieces=(),
        decision=Decision(Advice.APPROVED, datetime.date(2026, 1, 1), "rv"),
    )
    assert isinstance(empty, Round)
    unmeasured = replace(judged, blank=replace(judged.blank, rounds=(empty,)), results=())
    data = client_chart(unmeasured)

    assert data
    assert data.measured_on == ""
    assert {cell.known for cell in data.cells} == {"the maker's claim"}
    assert data.stages == ("as received",)


def test_the_drawing_has_every_size_and_tape(charts: Charts) -> None:
    """All sizes over each other, and where the tape goes for each point that all of them have."""
    for title, (page, chart) in charts.items():
        (spec,) = page.charts
        assert isinstance(spec.data, ClientShirtData)
        assert spec.data.labels == chart.sizes, title
        assert {"half_chest", "body_length"} <= set(spec.data.points) <= set(chart.points), title
        for size, lengths in zip(chart.sizes, spec.data.sizes, strict=True):
            inches = {c.point: c.decimal for c in chart.cells if (c.size, c.stage) == (size, NEW)}
            for point in spec.data.points:
                told = float(inches[POINTS[point].name]) * INCH
                assert lengths[point] == pytest.approx(told, abs=INCH / 16 + 0.1)
        assert "where the tape goes for half chest" in spec.alt
