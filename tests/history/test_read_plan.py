"""A review reads and judges no more than it must: what it says is what reading it all would say."""

import functools
import shutil
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import pytest

from blankbook.history.facts.file_differences import fact_changes
from blankbook.history.facts.record_facts import record_facts
from blankbook.history.moved.blank_status import BlankStatus, blank_status
from blankbook.history.review import read_blanks
from blankbook.history.review.make_review import BlankReview, Review, make_review
from blankbook.history.versions.revisions import find_revision
from blankbook.history.versions.version_pair import read_pair
from blankbook.records.load_ledger import LoadedLedger, load_ledger
from blankbook.records.model import Blank
from blankbook.results.judge_blank import judge
from blankbook.results.learning.ledger_learning import blank_contribution, learn, learned_from_data
from made_repositories import Repository, records_opened
from support import ROOT

ROUND = "blanks/dabchick/d50/2025-09-15-reorder.yaml"
STYLE = "blanks/dabchick/d42/style.yaml"
PHOTO = "blanks/copperbeck/c66/2024-09-09-laid-over.png"
STUDY = "measuring/2026-03-three-hands.yaml"
STEPS = ("reading", "photo", "broken", "rules", "study", "gone")


@pytest.fixture(scope="module")
def told_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo ledger with one commit for each thing that decides what must be read; not to change.

    Each version is checked out beside it, in a folder of its tag's name.
    """
    place = tmp_path_factory.mktemp("told")
    leave = shutil.ignore_patterns("catalogue", ".blankbook")
    root = place / "ledger"
    shutil.copytree(ROOT / "ledger", root, ignore=leave)
    made = Repository(root)

    def step(name: str, path: str, old: str, new: str) -> None:
        text = (root / path).read_text(encoding="utf-8")
        assert old in text
        made.write(path, text.replace(old, new, 1))
        made.commit(name)
        made.git("tag", name)

    made.commit("it begins")
    made.git("tag", "begin")
    step("reading", ROUND, "half_chest: 19 5/8,", "half_chest: 17 5/8,")
    (root / PHOTO).unlink()
    step("photo", STYLE, "half_chest: ", "half_chest: 1")
    step("broken", STYLE, "charts:", "charts: [")
    step("rules", "shop.yaml", "deciding_points: [", "deciding_points: [hem_width, ")
    (root / STUDY).unlink()
    step("study", STYLE, "charts: [", "charts:")
    (root / ROUND).unlink()
    made.commit("gone")
    made.git("tag", "gone")
    for tag in ("begin", *STEPS):
        made.git("clone", "--quiet", "--branch", tag, str(root), str(place / tag))
    return place


@pytest.fixture
def story(told_once: Path, tmp_path: Path) -> Repository:
    """A copy of it that a test may change."""
    shutil.copytree(told_once / "ledger", tmp_path / "story")
    return Repository(tmp_path / "story")


Whole = Callable[[str], LoadedLedger]


@pytest.fixture(scope="module")
def whole(told_once: Path) -> Whole:
    """Return one version by its tag, read as `check` and `vet` read a ledger."""

    @functools.cache
    def read(tag: str) -> LoadedLedger:
        return load_ledger(told_once / tag, gather=blank_contribution, workers=1)

    return read


def status_of(
    loaded: LoadedLedger, contributions: Mapping[str, Any], key: str
) -> BlankStatus | None:
    """Return the status of a blank, judged by everything that a whole ledger teaches."""
    ledger = loaded.ledger
    if ledger is None or key not in ledger.blanks:
        return None
    learned = learn(dict(contributions), ledger.shop, ledger.studies)
    return blank_status(judge(ledger.blanks[key], ledger.shop, learned_from_data(learned[key])))


def reviewed(made: Repository, old: str, new: str) -> Review:
    """Return the review between two versions."""
    return make_review(
        read_pair(made.root, find_revision(made.root, old), find_revision(made.root, new))
    )


PAIRS = (
    *zip(("begin", *STEPS), STEPS, strict=False),
    *(("begin", "photo"), ("reading", "gone"), ("study", "begin")),
)
"""Every step, some of them together, and a way back."""


@pytest.mark.seldom(4)
@pytest.mark.parametrize(("old", "new"), PAIRS, ids=["-".join(pair) for pair in PAIRS])
def test_what_is_read_is_enough(story: Repository, whole: Whole, old: str, new: str) -> None:
    """Both versions checked out and read whole give the same status to every blank.

    Where the rules are the same, the older version is judged by what the newer one contributes.
    """
    then, now = whole(old), whole(new)
    found = reviewed(story, old, new)
    touched = {blank.key for blank in found.blanks}
    same_rules = not any(file.kind in {"shop", "study"} for file in found.files)
    past = dict(then.gathered)
    if same_rules:
        rest = {key: given for key, given in now.gathered.items() if key not in touched}
        past = rest | {key: given for key, given in past.items() if key in touched}
    assert touched
    for blank in found.blanks:
        assert blank.before == status_of(then, past, blank.key)
        assert blank.after == status_of(now, now.gathered, blank.key)
    others = {*then.styles, *now.styles} - touched
    if not same_rules:
        for key in others:
            old_status, new_status = status_of(then, past, key), status_of(now, now.gathered, key)
            assert not BlankReview(key, old_status, new_status).changes_outcome


def test_of_the_older_version_only_what_differs_is_read(
    story: Repository, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where the rules are the same, a blank that is the same in both is read once, of the newer."""
    monkeypatch.setattr(read_blanks, "FORK_ABOVE_FILES", 1_000)
    opened = records_opened(monkeypatch)
    found = reviewed(story, "begin", "reading")
    (blank,) = found.blanks
    of_older = {path for side, path in opened if side == 0 and path.startswith("blanks/")}
    assert {str(Path(path).parent) for path in of_older} == {f"blanks/{blank.key}"}
    assert ROUND in of_older
    assert len({path for _, path in opened}) > len(of_older)


def test_an_edited_chart_names_the_deliveries_judged_by_it(
    story: Repository,
) -> None:
    """Rounds and deliveries are told apart, and neither goes missing beside the other."""
    found = reviewed(story, "reading", "photo")
    (moved,) = (blank for blank in found.blanks if blank.charts)
    assert moved.rounds == ("2024-04-15-first", "2026-05-11-second")
    assert moved.deliveries == (
        "2026-05-26-fair-delivery",
        "2026-08-11-market-delivery",
        "2026-10-13-autumn-delivery",
    )


@pytest.mark.parametrize(("old", "new"), [("begin", "reading"), ("photo", "gone")])
def test_equal_parts_hold_no_difference(whole: Whole, old: str, new: str) -> None:
    """Leaving out what two records have in common finds the differences that looking at all does.

    Every record of the ledger, against itself, its neighbour and the same file at another version.
    """
    at = [whole(tag).ledger for tag in (old, new)]
    sides = [
        {
            record.source.path: record
            for blank in ledger.blanks.values()
            for record in of_blank(blank)
        }
        for ledger in at
        if ledger
    ]
    before, after = sides
    assert before
    for place, (path, record) in enumerate(sorted(before.items())):
        neighbour = [*before.values()][place - 1]
        for other in (record, after.get(path), neighbour):
            told = fact_changes(record_facts(record, other), record_facts(other, record))
            assert told == fact_changes(record_facts(record), record_facts(other))


def of_blank(blank: Blank) -> list[Any]:
    """Return all records of a blank."""
    return [blank.style, *blank.rounds, *blank.deliveries, *blank.planned]
