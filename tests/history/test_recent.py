"""The last commits told by what they mean: each as `blankbook changes` would tell it."""

from dataclasses import asdict
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from blankbook.history.report.short_lines import MOST_LINES, change_summaries
from blankbook.history.review.make_review import make_review
from blankbook.history.review.recent_commits import (
    MOST_COMMITS,
    MOST_JUDGED,
    RecentChanges,
    recent_changes,
)
from blankbook.history.versions.file_commits import head_and_day, read_commits
from blankbook.history.versions.git import run_git
from blankbook.history.versions.revisions import find_revision
from blankbook.history.versions.version_pair import read_pair
from blankbook.records.load_ledger import load_ledger
from blankbook.results.learning.ledger_learning import blank_contribution
from blankbook.words.points import POINTS
from made_repositories import Repository
from support import SMALL_LEDGER

CHART = "blanks/dabchick/d50/style.yaml"
SLIP = "blanks/dabchick/d50/2025-09-15-reorder.yaml"
DRIFT = "blanks/dabchick/d50/2026-08-24-reorder.yaml"
SUPPLIER = "suppliers/dabchick.yaml"
ROUND = "blanks/tarn-thrush/h6/2024-02-12-first.yaml"


def change(made: Repository, path: str, old: str, new: str, why: str = "as it is") -> str:
    """Commit one edit of a file."""
    place = made.root / path
    text = place.read_text(encoding="utf-8")
    assert old in text
    place.write_text(text.replace(old, new, 1), encoding="utf-8")
    return made.commit(why)


def read_recent(
    root: Path, known: dict[str, Any] | None = None, *, contributions: bool = False
) -> RecentChanges:
    """Return the last changes, with what the blanks contribute known or not."""
    given = (
        load_ledger(root, gather=blank_contribution, pictures=False).gathered
        if contributions
        else None
    )
    return recent_changes(root, read_commits(root, *head_and_day(root)), known or {}, given)


def lines(recent: RecentChanges, number: int = 0) -> dict[str, list[str]]:
    """Return what one entry says, by the key of its parts."""
    return {part["key"]: part["lines"] for part in recent.entries[number]["parts"]}


@pytest.fixture
def story(demo_copy: Path) -> Repository:
    """The demo shop's ledger with a short history of its own; invented, with fixed dates."""
    made = Repository(demo_copy)
    newest = demo_copy / DRIFT
    lot = newest.read_text(encoding="utf-8")
    newest.unlink()
    made.commit("three lots of the everyday tee")
    change(made, CHART, "L: {half_chest: 22,", "L: {half_chest: 21 3/4,")
    newest.write_text(lot, encoding="utf-8")
    made.commit("the lot of summer 2026")
    change(made, SLIP, "half_chest: 19 5/8,", "half_chest: 16 5/8,", "a slip\n\nReason: a canary")
    change(made, SUPPLIER, "name:", "# a comment\nname:")
    change(made, SUPPLIER, "contact: ", "contact: canary@example.org, ")
    return made


@pytest.fixture
def small(tmp_path: Path) -> Repository:
    """The small ledger, committed once."""
    made = Repository(tmp_path / "own")
    for path, text in SMALL_LEDGER.items():
        made.write(path, text)
    made.commit()
    return made


@pytest.mark.seldom(4)
def test_each_commit_means_what_its_review_says(story: Repository) -> None:
    """Told on the way back from the newest, whether it is known what blanks teach or not."""
    recent = read_recent(story.root)
    assert read_recent(story.root, contributions=True) == recent
    assert len(recent.entries) == 6
    for entry in recent.entries[:-1]:
        versions = (
            find_revision(story.root, f"{entry['id']}~1"),
            find_revision(story.root, entry["id"]),
        )
        parts = [
            asdict(part) for part in change_summaries(make_review(read_pair(story.root, *versions)))
        ]
        assert [part | {"lines": tuple(part["lines"])} for part in entry["parts"]] == parts


def test_what_is_said(story: Repository) -> None:
    """Advice and decision, charts, rounds, slips with their reason; a supplier's fields by name."""
    recent = read_recent(story.root)
    assert lines(recent, 0) == {"dabchick": ["contact changed"]}
    assert lines(recent, 1) == {}
    slip = lines(recent, 2)["dabchick/d50"]
    assert "round of 2025-09-15: the past is rewritten in 1 place" in slip
    assert "reason: a canary" in slip
    assert any("19 5/8 in → 16 5/8 in (-3 in, -7.6 cm)" in line for line in slip)
    assert "round of 2026-08-24: measured, 12 pieces" in lines(recent, 3)["dabchick/d50"]
    chart = lines(recent, 4)["dabchick/d50"]
    assert any(
        "size chart from 2023-06-01, edited in place: 1 measure moved" in line for line in chart
    )
    assert "no reason is given" in chart
    began = lines(recent, 5)[""]
    assert began == ["the ledger begins: 17 blanks, 7 suppliers"]
    assert recent.earlier == 0
    assert not recent.is_shallow
    assert recent.first_key == recent.entries[-1]["key"]


def test_nothing_private_is_said(story: Repository) -> None:
    """No contact, price, note, subject of a commit, or name of who made it or decided."""
    change(story, CHART, "note: >-\n", "note: >-\n  a canary of a note\n")
    said = str(read_recent(story.root).entries)
    for secret in ("canary@", "canary of", "summer 2026", "rv", "example.org", "by rv"):
        assert secret not in said, secret


@pytest.mark.seldom(3)
def test_what_is_known_is_not_told_again(
    story: Repository, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With every commit known, no file is read; one more commit asks for itself alone."""
    first = read_recent(story.root)
    known = {entry["id"]: entry for entry in first.entries}
    asked: list[tuple[str, ...]] = []

    def asking(root: Path, *arguments: str, stdin: bytes = b"") -> bytes:
        asked.append((arguments[0], *stdin.decode().split()))
        return run_git(root, *arguments, stdin=stdin)

    monkeypatch.setattr("blankbook.history.versions.snapshots.run_git", asking)
    assert read_recent(story.root, known) == first
    assert asked == []

    change(story, SLIP, "half_chest: 16 5/8,", "half_chest: 19 5/8,")
    again = read_recent(story.root, known, contributions=True)
    assert again.entries[1:] == first.entries
    assert [call[0] for call in asked] == ["cat-file"]
    assert len(asked[0]) < 40
    monkeypatch.undo()
    assert read_recent(story.root) == again


@pytest.mark.seldom(4)
def test_a_commit_that_touches_many_blanks_or_the_rules_judges_none(story: Repository) -> None:
    """It is told by its facts, and the ones before it as they would be without it."""
    before = read_recent(story.root)
    for place in sorted(story.root.glob("blanks/*/*/style.yaml"))[: MOST_JUDGED + 1]:
        text = place.read_text(encoding="utf-8")
        place.write_text(text.replace("\nname: ", "\nname: New "), encoding="utf-8")
    story.commit()
    change(story, "shop.yaml", "wash_limit: {along: 6", "wash_limit: {along: 3")
    recent = read_recent(story.root, contributions=True)
    assert lines(recent, 0) == {"shop": ["wash limit changed"]}
    assert list(lines(recent, 1).values()) == [["name changed"]] * (MOST_JUDGED + 1)
    assert recent.entries[2:] == before.entries
    assert read_recent(story.root) == recent


def test_more_commits_than_are_shown_are_counted(small: Repository) -> None:
    """And those that touched no record are no changes of the ledger."""
    for number in range(MOST_COMMITS + 3):
        change(small, ROUND, "20 1/8" if number % 2 == 0 else "20 1/4",
               "20 1/4" if number % 2 == 0 else "20 1/8")  # fmt: skip
        small.day = 1
        small.write("notes.txt", str(number))
        small.commit()
    recent = read_recent(small.root)
    assert len(recent.entries) == MOST_COMMITS
    assert recent.earlier == 4


def test_many_lines_are_counted(small: Repository) -> None:
    """A part has few lines however much a commit did."""
    for number in range(1, 10):
        copy = ROUND.replace("02-12", f"02-{12 + number}")
        text = (small.root / ROUND).read_text().replace("2024-02-12", f"2024-02-{12 + number}")
        small.write(copy, text)
    small.commit()
    said = lines(read_recent(small.root))["tarn-thrush/h6"]
    assert len(said) == MOST_LINES
    assert said[-1].endswith("more changes")


def test_a_blank_that_comes_goes_or_has_a_fault(small: Repository) -> None:
    """A file that nobody can read stops nothing, on either side of a commit."""
    text = (small.root / ROUND).read_text()
    small.write(ROUND, "not: [a round\n")
    small.commit()
    small.write(ROUND, text)
    small.commit()
    for place in (small.root / "blanks/tarn-thrush/h6").iterdir():
        place.unlink()
    small.commit()
    small.write("shop.yaml", "shop: [\n")
    small.commit()
    recent = read_recent(small.root)
    assert lines(recent, 0) == {"shop": ["cannot be compared, it has a fault"]}
    assert lines(recent, 1)["tarn-thrush/h6"][0] == "removed"
    assert lines(recent, 2)["tarn-thrush/h6"][0].startswith("without a fault again: may be ordered")
    assert lines(recent, 3)["tarn-thrush/h6"][0] == "has a fault, so nothing is advised"


def test_a_merge_is_one_change_with_the_reasons_of_its_branch(small: Repository) -> None:
    """It is told against the branch that it was merged into."""
    small.git("checkout", "--quiet", "-b", "side")
    change(small, ROUND, "20 1/8", "20 1/4", "put right\n\nReason: read again")
    small.git("checkout", "--quiet", "main")
    small.git("merge", "--quiet", "--no-ff", "side", "--message", "side")
    recent = read_recent(small.root)
    assert len(recent.entries) == 2
    assert "reason: read again" in lines(recent)["tarn-thrush/h6"]


def test_a_shallow_clone_tells_what_it_has(small: Repository, tmp_path: Path) -> None:
    """The oldest commit that was fetched did not begin the ledger, and is not said to."""
    change(small, ROUND, "20 1/8", "20 1/4")
    change(small, ROUND, "20 1/4", "20 3/8")
    whole = read_recent(small.root)
    for depth in (1, 2):
        clone = tmp_path / str(depth)
        small.git("clone", "--quiet", f"--depth={depth}", f"file://{small.root}", str(clone))
        recent = read_recent(clone)
        assert recent.is_shallow
        assert recent.first_key == ""
        assert recent.entries == whole.entries[: depth - 1]


def test_two_ledgers_in_one_repository_have_keys_of_their_own(
    small: Repository, tmp_path: Path
) -> None:
    """One commit that touches both is another change for each; a subfolder knows its own alone."""
    outer = Repository(tmp_path / "outer")
    for name in ("one", "other"):
        for path, text in SMALL_LEDGER.items():
            outer.write(f"{name}/{path}", text + f"# {name}\n")
    outer.commit()
    first, other = read_recent(outer.root / "one"), read_recent(outer.root / "other")
    assert lines(first) == lines(other)
    assert first.entries[0]["id"] == other.entries[0]["id"]
    assert first.entries[0]["key"] != other.entries[0]["key"]
    assert read_recent(small.root).entries[0]["key"] != first.entries[0]["key"]


def test_nothing_is_told_without_commits(tmp_path: Path) -> None:
    """No repository, or nothing in it."""
    assert read_recent(tmp_path).entries == ()
    Repository(tmp_path)
    assert read_recent(tmp_path).entries == ()


@pytest.mark.parametrize("ending", ["jpg", "JPEG", "png", "webp"])
def test_a_blank_with_a_photo_teaches_what_it_teaches(small: Repository, ending: str) -> None:
    """No photo is read to tell what changed, and none is missed."""
    record = (small.root / ROUND).read_text()
    photo = small.root / f"blanks/tarn-thrush/h6/sleeve.{ending}"
    kind = {"jpg": "JPEG"}.get(ending.lower(), ending)
    Image.new("RGB", (8, 8)).save(photo, kind)
    small.write(ROUND, f"{record}photos: [{{file: {photo.name}, shows: the sleeve}}]\n")
    small.commit()
    assert load_ledger(small.root).findings == ()
    said = lines(read_recent(small.root))["tarn-thrush/h6"]
    assert said == ["round of 2024-02-12: photos changed"]


def test_a_change_of_the_measuring_line_is_said_in_words(small: Repository) -> None:
    """Which point, and where the tape now goes, of a chart as of a round that was rewritten."""
    change(small, ROUND, "pieces:", "how: {body_length: centre_back}\npieces:")
    line = POINTS["body_length"].variant_meaning("centre_back")
    said = lines(read_recent(small.root))["tarn-thrush/h6"]
    of_the_round = [words for words in said if words.startswith("round of")]
    assert of_the_round == [f"round of 2024-02-12: body length is now measured {line}"]
