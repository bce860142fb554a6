"""A change of the shop's rules that no number follows from judges nothing again."""

from pathlib import Path
from typing import Any

import pytest

from blankbook.history.report.review_document import review_sections
from blankbook.history.report.text_report import text_report
from blankbook.history.review.make_review import Review, make_review
from blankbook.history.versions.revisions import find_revision
from blankbook.history.versions.version_pair import read_pair
from blankbook.results.advice.verdict import decide
from made_repositories import Repository
from support import SMALL_LEDGER, Program

STUDY = """\
date: 2024-02-01
study: both-hands
by: rv
point: half_chest
tape: {unit: in, reads_to: 1/8}
pieces:
  - {piece: A, read: {rv: [20, 20 1/8], jt: [20 1/8, 20]}}
  - {piece: B, read: {rv: [22, 22 1/8], jt: [22 1/8, 22]}}
"""


@pytest.fixture
def made(tmp_path: Path) -> Repository:
    """A repository with the small ledger and a study of measuring, committed once."""
    repository = Repository(tmp_path / "own")
    for path, text in SMALL_LEDGER.items():
        repository.write(path, text)
    repository.write("measuring/both-hands.yaml", STUDY.replace("study: both-hands\n", ""))
    repository.commit("the ledger begins")
    return repository


@pytest.fixture
def judged(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The blanks that are judged, noted as they are."""
    seen: list[str] = []

    def noting(case: Any, *more: Any) -> Any:
        seen.append(case.blank.style.key)
        return decide(case, *more)

    monkeypatch.setattr("blankbook.results.judge_blank.decide", noting)
    return seen


def reviewed(made: Repository, old: str = "HEAD", new: str = "") -> Review:
    """Return the review between two versions."""
    return make_review(
        read_pair(made.root, find_revision(made.root, old), find_revision(made.root, new))
    )


SAME = {
    "a comment": ("shop: Bracken", "# our rules\nshop: Bracken"),
    "an order": (
        "currency: USD\ntape: {unit: in, reads_to: 1/8}",
        "tape: {unit: in, reads_to: 1/8}\ncurrency: USD",
    ),
    "a spelling": ("reads_to: 1/8", "reads_to: 0.125"),
    "the default": ("currency: USD", "currency: USD\nease: 4"),
    "the name": ("Brackenlight", "Brackenlit"),
    "a note": ("units: in", "note: three people\nunits: in"),
    "the unit of results": ("units: in", "units: cm"),
    "the currency": ("currency: USD", "currency: EUR"),
}


@pytest.mark.parametrize("kind", SAME)
@pytest.mark.parametrize("committed", [False, True])
def test_what_no_number_follows_from_judges_nothing(
    made: Repository, judged: list[str], kind: str, committed: bool
) -> None:
    """Nothing is judged, nothing differs in meaning, and the file is counted as such."""
    old, new = SAME[kind]
    text = SMALL_LEDGER["shop.yaml"]
    assert old in text
    made.write("shop.yaml", text.replace(old, new))
    if committed:
        made.commit(kind)
    found = reviewed(made, "HEAD~1", "HEAD") if committed else reviewed(made)
    assert judged == []
    assert found.blanks == ()
    assert not found.differs
    (last,) = [part for part in review_sections(found) if part.title == "no change in meaning"]
    told = "nothing follows from what changed" in last.lines[0]
    assert told is (kind in {"the name", "a note", "the unit of results", "the currency"})
    assert "nothing differs in meaning" in text_report(review_sections(found))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("units: in", "units: in\nrisk: 0.01"),
        ("units: in", "units: in\ntolerance: {half_chest: 1/8}"),
        ("reads_to: 1/8", "reads_to: 1/4"),
        ("required: [size_against_chart, grade_steps]", "required: [size_against_chart]"),
    ],
)
def test_a_rule_that_counts_judges_every_blank(
    made: Repository, judged: list[str], old: str, new: str
) -> None:
    """On both sides, and the file differs."""
    made.write("shop.yaml", SMALL_LEDGER["shop.yaml"].replace(old, new))
    found = reviewed(made)
    assert judged == ["tarn-thrush/h6", "tarn-thrush/h6"]
    assert found.differs


def test_the_ease_moves_what_clients_see(made: Repository) -> None:
    """No advice follows from it, and every chart for clients says another body."""
    style, first = (f"blanks/tarn-thrush/h6/{name}.yaml" for name in ("style", "2024-02-12-first"))
    made.write(style, SMALL_LEDGER[style].replace("name:", "called: Standard tee\nname:"))
    approved = "decision: {decision: approved, date: 2024-02-20, by: mo, reason: as charted}\n"
    made.write(first, SMALL_LEDGER[first] + approved)
    made.commit("approved")
    made.write("shop.yaml", SMALL_LEDGER["shop.yaml"] + "ease: 6\n")
    text = " ".join(text_report(review_sections(reviewed(made))).split())
    assert "1 size chart for clients changes: Standard tee" in text
    assert "L body chest, suits: 38 to 42 in (97 to 107 cm) → 36 to 40 in (92 to" in text


def test_a_study_counts_by_what_it_says(made: Repository, judged: list[str]) -> None:
    """A comment in it is none; a reading is one."""
    study = STUDY.replace("study: both-hands\n", "")
    made.write("measuring/both-hands.yaml", "# on a Saturday\n" + study)
    assert not reviewed(made).differs
    assert judged == []
    made.write("measuring/both-hands.yaml", study.replace("[20, 20 1/8]", "[20, 20 3/8]"))
    assert reviewed(made).differs
    assert judged == ["tarn-thrush/h6", "tarn-thrush/h6"]


def test_a_shop_that_cannot_be_read_is_no_comment(made: Repository, program: Program) -> None:
    """Broken before, whole now: the review says so."""
    made.write("shop.yaml", "shop: [\n")
    made.commit("broken")
    made.write("shop.yaml", SMALL_LEDGER["shop.yaml"])
    ended = program("changes", "--ledger", made.root, "--exit-code")
    assert ended.code == 1
    assert "cannot be compared" in ended.out
