"""A review reads and judges no more than it must: what it says is what reading it all would say."""

import functools
import shutil
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import pytest

from blankbook.history.facts.file_differences import differing
from blankbook.history.facts.record_facts import facts
from blankbook.history.moved.blank_status import Standing, standing_of
from blankbook.history.review import read_blanks
from blankbook.history.review.make_review import BlankReview, Review, review
from blankbook.history.versions.revisions import revision
from blankbook.history.versions.version_pair import pair_of
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


def stands(one: LoadedLedger, taught_by: Mapping[str, Any], key: str) -> Standing | None:
    """Return where a blank stands, judged by everything that a whole ledger teaches."""
    ledger = one.ledger
    if ledger is None or key not in ledger.blanks:
        return None
    taught = learn(dict(taught_by), ledger.shop, ledger.studies)
    return standing_of(judge(ledger.blanks[key], ledger.shop, learned_from_data(taught[key])))


def reviewed(made: Repository, old: str, new: str) -> Review:
    """Return the review between two versions."""
    return review(pair_of(made.root, revision(made.root, old), revision(made.root, new)))


PAIRS = (
    *zip(("begin", *STEPS), STEPS, strict=False),
    *(("begin", "photo"), ("reading", "gone"), ("study", "begin")),
)
"""Every step, some of them together, and a way back."""


@pytest.mark.parametrize(("old", "new"), PAIRS, ids=["-".join(pair) for pair in PAIRS])
def test_what_is_read_is_enough(story: Repository, whole: Whole, old: str, new: str) -> None:
    """Both versions checked out and read whole give the same standing to every blank.

    The older one is held against what the newer one teaches where the rules are the same.
    """
    then, now = whole(old), whole(new)
    found = reviewed(story, old, new)
    touched = {one.key for one in found.blanks}
    same_rules = not any(one.kind in {"shop", "study"} for one in found.files)
    past = dict(then.gathered)
    if same_rules:
        rest = {key: one for key, one in now.gathered.items() if key not in touched}
        past = rest | {key: one for key, one in past.items() if key in touched}
    assert touched
    for one in found.blanks:
        assert one.before == stands(then, past, one.key)
        assert one.after == stands(now, now.gathered, one.key)
    others = {*then.styles, *now.styles} - touched
    if not same_rules:
        for key in others:
            old_one, new_one = stands(then, past, key), stands(now, now.gathered, key)
            assert not BlankReview(key, old_one, new_one).flips


def test_of_the_older_version_only_what_differs_is_read(
    story: Repository, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where the rules are the same, a blank that is the same in both is read once, of the newer."""
    monkeypatch.setattr(read_blanks, "FORK_ABOVE", 1_000)
    opened = records_opened(monkeypatch)
    found = reviewed(story, "begin", "reading")
    (one,) = found.blanks
    of_older = {path for side, path in opened if side == 0 and path.startswith("blanks/")}
    assert {str(Path(path).parent) for path in of_older} == {f"blanks/{one.key}"}
    assert ROUND in of_older
    assert len({path for _, path in opened}) > len(of_older)


def test_an_edited_chart_names_the_deliveries_that_were_held_against_it(story: Repository) -> None:
    """Rounds and deliveries are told apart, and neither goes missing beside the other."""
    found = reviewed(story, "reading", "photo")
    (one,) = (blank for blank in found.blanks if blank.charts)
    assert one.rounds == ("2024-04-15-first", "2026-05-11-second")
    assert one.deliveries == (
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
        {one.source.path: one for blank in ledger.blanks.values() for one in of_blank(blank)}
        for ledger in at
        if ledger
    ]
    before, after = sides
    assert before
    for place, (path, one) in enumerate(sorted(before.items())):
        neighbour = [*before.values()][place - 1]
        for other in (one, after.get(path), neighbour):
            told = differing(facts(one, other), facts(other, one))
            assert told == differing(facts(one), facts(other))


def of_blank(blank: Blank) -> list[Any]:
    """Return all records of a blank."""
    return [blank.style, *blank.rounds, *blank.deliveries, *blank.planned]
