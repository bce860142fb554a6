"""What rests on a chart that moved: measured pieces, what clients see, and the evidence for it.

The margins are worked out by hand from the readings of the small ledger.
"""

import json
from collections.abc import Sequence
from pathlib import Path

import pytest

from blankbook.history.facts.chart_sources import chart_source
from blankbook.history.report.html_report import html_report
from blankbook.history.report.markdown_report import markdown_report
from blankbook.history.report.review_document import MOST_BLANKS, review_sections
from blankbook.history.report.sections import MOST_ROWS
from blankbook.history.report.text_report import text_report
from blankbook.history.review.make_review import Review, make_review
from blankbook.history.versions.revisions import find_revision
from blankbook.history.versions.version_pair import read_pair
from made_blanks import CHARTED
from made_repositories import Repository
from markup import Markup
from support import SMALL_LEDGER, Program

STYLE = "blanks/tarn-thrush/h6/style.yaml"
ROUND = "blanks/tarn-thrush/h6/2024-02-12-first.yaml"
APPROVED = "decision: {decision: approved, date: 2024-02-20, by: mo, reason: as charted}\n"
NEWER = """\
  - since: 2025-03-01
    source: SOURCE
    unit: in
    sizes:
      S: {half_chest: 18, body_length: 28}
      M: {half_chest: 20 3/4, body_length: 29}
      L: {half_chest: 22, body_length: 30}
"""


@pytest.fixture
def made(tmp_path: Path) -> Repository:
    """A repository with the small ledger, committed once."""
    repository = Repository(tmp_path / "own")
    for path, text in SMALL_LEDGER.items():
        repository.write(path, text)
    repository.commit("the ledger begins")
    return repository


def reviewed(made: Repository, old: str = "HEAD", new: str = "") -> Review:
    """Return the review between two versions."""
    return make_review(
        read_pair(made.root, find_revision(made.root, old), find_revision(made.root, new))
    )


def edit(made: Repository, path: str, old: str, new: str) -> None:
    """Change a file of the ledger as a person would."""
    place = made.root / path
    text = place.read_text(encoding="utf-8")
    assert old in text
    place.write_text(text.replace(old, new), encoding="utf-8")


def add(made: Repository, path: str, text: str) -> None:
    """Write more at the end of a file."""
    place = made.root / path
    place.write_text(place.read_text(encoding="utf-8") + text, encoding="utf-8")


def text_of(review: Review) -> str:
    """Return the text form with its line breaks taken out."""
    return " ".join(text_report(review_sections(review)).split())


def titles(review: Review) -> Sequence[str]:
    """Return the titles of the parts, in order."""
    return [part.title for part in review_sections(review)]


def test_a_measured_size_that_is_outside_now_is_told_with_its_margin(made: Repository) -> None:
    """M measured 20 1/8 in and was 1/8 in over, so 3/8 in inside; now 5/8 in under the chart."""
    edit(made, STYLE, "M: {half_chest: 20,", "M: {half_chest: 20 3/4,")
    text = text_of(reviewed(made))
    assert "1 measured size inside the tolerance before and outside now" in text
    assert "2024-02-12-first M half chest: 3/8 in inside → 1/8 in outside" in text
    assert "(-1/2 in, -1.3 cm), now outside, lot TT-2401-A, 1 piece" in text


def test_a_new_chart_is_held_against_what_was_measured_before_it(made: Repository) -> None:
    """The old round keeps its chart, and the reviewer sees what the new one would say of it."""
    add(made, STYLE, NEWER.replace("SOURCE", "size sheet, page 4, dated March 2025"))
    found = reviewed(made)
    text = text_of(found)
    assert "judged by it: nothing yet" in text
    assert "2024-02-12-first M half chest: 3/8 in inside → 1/8 in outside" in text
    before, after = found.blanks[0].before, found.blanks[0].after
    assert before is not None
    assert after is not None
    assert (before.advice, before.orderable) == ("approved", ("M", "L"))
    assert (after.advice, after.orderable) == ("approved", ("L",))
    assert after.answers == before.answers
    assert after.sentence == "As charted in L; the chart of 1 March 2025 makes M 3/4 in wider."


def test_a_chart_that_is_dated_back_judges_what_was_measured(made: Repository) -> None:
    """Its day is before the round, so the round is judged by it now."""
    add(made, STYLE, NEWER.replace("SOURCE", "sheet, page 4, 2024").replace("2025-03", "2024-02"))
    assert "judged by it: 2024-02-12-first" in text_of(reviewed(made))


def test_a_delivery_is_held_against_the_chart_too(made: Repository) -> None:
    """What was ordered by a chart rests on it."""
    piece = "{piece: M-1, size: M, colour: black, received: {half_chest: 20 1/2}}"
    made.write(
        "blanks/tarn-thrush/h6/2024-05-06-first-delivery.yaml",
        "style: tarn-thrush/h6\ndate: 2024-05-06\nby: rv\nlot: B\ndelivered: {M: 20}\n"
        f"inspected: 5\ntape: {{unit: in, reads_to: 1/8}}\npieces: [{piece}]\n",
    )
    made.commit("a delivery")
    edit(made, STYLE, "M: {half_chest: 20,", "M: {half_chest: 19 3/4,")
    text = text_of(reviewed(made))
    assert "2024-05-06-first-delivery M half chest: on the border → 1/4 in outside" in text


def test_no_margin_to_a_chart_along_another_line(made: Repository) -> None:
    """A chart from the centre back is no chart for what was measured from the shoulder."""
    edit(made, STYLE, "    unit: in\n", "    unit: in\n    how: {body_length: centre_back}\n")
    text = text_of(reviewed(made))
    assert "body length: measured from the centre of the back neck seam, and before" in text
    assert "M body length: 3/8 in inside → not comparable, no longer comparable" in text


def test_what_clients_see_is_named_with_what_changes_in_it(made: Repository) -> None:
    """M is measured, so the claim for S, approved unmeasured, is what moves on their chart."""
    edit(made, STYLE, "name: H6 heavy tee", "name: H6 heavy tee\ncalled: Standard tee")
    add(made, ROUND, APPROVED.replace("approved,", "approved, sizes: [S, M, L],"))
    made.commit("approved")
    edit(made, STYLE, "S: {half_chest: 18,", "S: {half_chest: 18 1/4,")
    text = text_of(reviewed(made))
    assert "1 size chart for clients changes: Standard tee" in text
    assert "tarn-thrush/h6: size chart for clients, Standard tee" in text
    assert "S half chest, as received: 18 in (45.5 cm) → 18 1/4 in (46.5 cm) (+1/4 in" in text
    assert "S body chest, suits: " in text


def test_a_chart_for_clients_that_stays_is_named_too(made: Repository) -> None:
    """M is measured: its claim moves, and clients see the same as before."""
    edit(made, STYLE, "name: H6 heavy tee", "name: H6 heavy tee\ncalled: Standard tee")
    add(made, ROUND, APPROVED)
    made.commit("approved")
    edit(made, STYLE, "M: {half_chest: 20,", "M: {half_chest: 20 1/8,")
    text = text_of(reviewed(made))
    assert "it rests on this blank; nothing in it changes" in text
    assert "for clients change" not in text


def test_a_decision_shows_a_chart_to_clients_or_takes_it_away(made: Repository) -> None:
    """An approval puts it on, a rejection takes it off."""
    add(made, ROUND, APPROVED)
    assert "clients see it now, and did not before" in text_of(reviewed(made))
    made.commit("approved")
    edit(made, ROUND, "decision: approved", "decision: rejected")
    assert "clients see it no more" in text_of(reviewed(made))


def test_the_evidence_names_source_date_page_day_and_who(made: Repository) -> None:
    """All that somebody gave for the new chart."""
    add(made, STYLE, NEWER.replace("SOURCE", "size sheet, page 4, dated March 2025"))
    made.commit("the sheet of spring")
    text = text_of(reviewed(made, "HEAD~1", "HEAD"))
    assert (
        "source: size sheet, page 4, dated March 2025 - date in it: March 2025; page in it: page 4"
        in text
    )
    assert "holds from 2025-03-01" in text
    assert "entered by rv, 2026-01-03, commit" in text
    assert "photos of what was judged by it: none" in text
    assert "without a source" not in text


BARE = {
    "unknown": "no source given for the new chart",
    "'?'": "no source given for the new chart",
    "n/a": "no source given for the new chart",
    "size sheet": "the source names no date - look again: the source names no page",
    "size sheet 2024, page 3": "no source given for the new chart: it names that of the chart",
    "web page of the style, saved 2025-02-20": "",
}


@pytest.mark.parametrize("source", BARE)
def test_a_source_that_is_missing_is_a_finding(made: Repository, source: str) -> None:
    """None at all, that of the old chart, one without a date or a page."""
    edit(made, STYLE, "source: size sheet, page 3", "source: size sheet 2024, page 3")
    made.commit("the sheet has a year")
    add(made, STYLE, NEWER.replace("SOURCE", source))
    found = reviewed(made)
    text = text_of(found)
    assert (BARE[source] or "evidence for the chart from 2025-03-01 - source: web page") in text
    bare = BARE[source].startswith("no source")
    assert ("1 chart without a source for what is new in it" in text) is bare


def test_a_chart_that_moved_beside_its_old_source_has_none(made: Repository) -> None:
    """The source speaks of the numbers that stood there before."""
    edit(made, STYLE, "M: {half_chest: 20,", "M: {half_chest: 20 3/4,")
    assert "no source given for what moved" in text_of(reviewed(made))
    edit(made, STYLE, "source: size sheet, page 3", "source: mail of the supplier, 2024-03-01")
    assert "no source" not in text_of(reviewed(made))


def test_a_chart_without_the_line_for_its_source_is_named(made: Repository) -> None:
    """It has a fault and cannot be compared; which is missing is said all the same."""
    add(made, STYLE, NEWER.replace("    source: SOURCE\n", ""))
    text = text_of(reviewed(made))
    assert "look again: no source given for the chart from 2025-03-01" in text
    assert "1 chart without a source for what is new in it" in text


@pytest.mark.parametrize(
    ("source", "dated", "page"),
    [
        ("size sheet, page 3, dated January 2024", "January 2024", "page 3"),
        ("Sheet p. 12 of 3 May 2025", "3 May 2025", "p. 12"),
        ("catalogue 2025, pp. 4-5", "2025", "pp. 4-5"),
        ("web page of the style, saved 2023-11-20", "2023-11-20", ""),
        ("list of spring 2025", "spring 2025", ""),
        ("size sheet", "", ""),
    ],
)
def test_date_and_page_of_a_source(source: str, dated: str, page: str) -> None:
    """As people write them."""
    from dataclasses import replace

    found = chart_source(replace(CHARTED, origin=source), CHARTED, in_place=True)
    assert (found.dated, found.page) == (dated, page)


def test_uneven_missing_and_reversed_grading_is_called_so(made: Repository) -> None:
    """One size that moves changes two steps."""
    edit(made, STYLE, "M: {half_chest: 20,", "M: {half_chest: 20 1/2,")
    text = text_of(reviewed(made))
    assert "half chest: the grading is uneven now, steps of 1 1/2 in to 2 1/2 in; before" in text
    edit(made, STYLE, "M: {half_chest: 20 1/2,", "M: {half_chest: 22,")
    assert "half chest: two labels share one length" in text_of(reviewed(made))
    edit(made, STYLE, "M: {half_chest: 22,", "M: {half_chest: 23,")
    text = text_of(reviewed(made))
    assert "half chest: the grading is reversed" in text
    assert "M to L half chest: 2 in → -1 in (-3 in, -7.6 cm), reversed" in text


def test_the_order_is_a_reviewer_s(made: Repository) -> None:
    """Decisions, what moved, steps, what rests on it, clients, evidence, the rest counted."""
    edit(made, STYLE, "name: H6 heavy tee", "name: H6 heavy tee\ncalled: Standard tee")
    add(made, ROUND, APPROVED)
    made.commit("approved")
    edit(made, STYLE, "M: {half_chest: 20,", "M: {half_chest: 23,")
    edit(made, STYLE, "S: {half_chest: 18,", "S: {half_chest: 18 1/4,")
    key = "tarn-thrush/h6"
    assert titles(reviewed(made))[1:] == [
        f"{key}: standing and decisions",
        f"{key}: size chart from 2024-01-08",
        f"{key}: grade steps, chart from 2024-01-08",
        f"{key}: measured rounds and deliveries, chart from 2024-01-08",
        f"{key}: size chart for clients, Standard tee",
        f"{key}: evidence for the chart from 2024-01-08",
        f"{STYLE}: the past is rewritten",
        "no change in meaning",
    ]


def test_the_same_in_every_form(made: Repository, program: Program) -> None:
    """Margin, clients and evidence stand in all four."""
    edit(made, STYLE, "name: H6 heavy tee", "name: H6 heavy tee\ncalled: Standard tee")
    add(made, ROUND, APPROVED)
    made.commit("approved")
    edit(made, STYLE, "M: {half_chest: 20,", "M: {half_chest: 20 3/4,")
    parts = review_sections(reviewed(made))
    for form in (text_report(parts), markdown_report(parts), html_report(parts)):
        assert "1/8 in outside" in form
        assert "Standard tee" in form
        assert "no source given for what moved" in " ".join(form.split())
    data = json.loads(program("changes", "--ledger", made.root, "--json").out)
    (blank,) = data["blanks"]
    (chart,) = blank["charts"]
    (margin,) = chart["margins"]
    assert margin == {
        "record": "2024-02-12-first", "lot": "TT-2401-A", "size": "M", "point": "half_chest",
        "pieces": 1, "old": 9.525, "new": -3.175, "word": "now outside",
    }  # fmt: skip
    assert chart["margins_left_out"] == 0
    assert chart["missing"][0].startswith("no source given for what moved")
    assert blank["clients"]["called"] == "Standard tee"
    assert Markup(html_report(parts)).elements


def test_a_long_list_is_cut_the_worst_first_and_counted(made: Repository) -> None:
    """Forty rounds of one chart: so many rows, and how many more there are."""
    text = SMALL_LEDGER[ROUND]
    for day in range(1, 41):
        date = f"2024-{3 + day // 28:02d}-{1 + day % 28:02d}"
        reading = f"{20 + day % 4} {day % 6 + 2}/8"
        style = text.replace("2024-02-12", date).replace("20 1/8", reading)
        made.write(f"blanks/tarn-thrush/h6/{date}-more.yaml", style)
    made.commit("many rounds")
    edit(made, STYLE, "M: {half_chest: 20,", "M: {half_chest: 20 1/4,")
    found = reviewed(made)
    margins = found.blanks[0].chart_effects["2024-01-08"].margins
    assert len(margins) == 40  # the first is as far from the one as from the other
    words = [margin.outcome for margin in margins]
    assert words == sorted(words, key=lambda word: word != "now outside")
    assert f"{40 - MOST_ROWS} more rows left out here, none worse" in text_of(found)
    assert f"and {41 - 8} more" in text_of(found)


def test_many_blanks_are_told_in_part_and_counted(made: Repository) -> None:
    """A supplier's whole list that moved."""
    for number in range(30):
        for path in (STYLE, ROUND):
            text = SMALL_LEDGER[path].replace("tarn-thrush/h6", f"tarn-thrush/n{number}")
            made.write(path.replace("/h6/", f"/n{number}/"), text)
    made.commit("thirty styles")
    for number in range(30):
        edit(
            made,
            STYLE.replace("/h6/", f"/n{number}/"),
            "M: {half_chest: 20,",
            "M: {half_chest: 21,",
        )
    found = reviewed(made)
    assert len(found.blanks) == 30
    assert f"{30 - MOST_BLANKS} more blanks touched" in titles(found)
    detailed = [title for title in titles(found) if title.endswith(": standing and decisions")]
    assert len(detailed) == MOST_BLANKS


def test_a_measure_that_is_taken_out_of_a_chart_is_told(made: Repository) -> None:
    """Nothing moved, and yet the supplier promises less."""
    edit(made, STYLE, "L: {half_chest: 22, body_length: 30}", "L: {half_chest: 22}")
    (blank,) = reviewed(made).blanks
    (chart,) = blank.charts
    assert chart.cells == ()
    assert chart.suspicions == ("body length, L: charted before, and no more",)
