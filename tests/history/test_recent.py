"""The last commits told by what they mean: each as `blankbook changes` would tell it."""

from dataclasses import asdict
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from blankbook.history.report.short_lines import MOST_LINES, in_short
from blankbook.history.review.make_review import review
from blankbook.history.review.recent_commits import MOST, MOST_JUDGED, Recent, recent
from blankbook.history.versions.file_commits import commits_of, head_and_day
from blankbook.history.versions.git import run_git
from blankbook.history.versions.revisions import revision
from blankbook.history.versions.version_pair import pair_of
from blankbook.records.load_ledger import load_ledger
from blankbook.results.learning.ledger_learning import blank_contribution
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


def told(root: Path, known: dict[str, Any] | None = None, *, taught: bool = False) -> Recent:
    """Return the last changes, with what the blanks teach or without."""
    given = (
        load_ledger(root, gather=blank_contribution, pictures=False).gathered if taught else None
    )
    return recent(root, commits_of(root, *head_and_day(root)), known or {}, given)


def lines(one: Recent, number: int = 0) -> dict[str, list[str]]:
    """Return what one entry says, by the key of its parts."""
    return {part["key"]: part["lines"] for part in one.entries[number]["parts"]}


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


def test_each_commit_means_what_its_review_says(story: Repository) -> None:
    """Told on the way back from the newest, whether it is known what blanks teach or not."""
    one = told(story.root)
    assert told(story.root, taught=True) == one
    assert len(one.entries) == 6
    for entry in one.entries[:-1]:
        versions = (revision(story.root, f"{entry['id']}~1"), revision(story.root, entry["id"]))
        parts = [asdict(part) for part in in_short(review(pair_of(story.root, *versions)))]
        assert [part | {"lines": tuple(part["lines"])} for part in entry["parts"]] == parts


def test_what_is_said(story: Repository) -> None:
    """Advice and decision, charts, rounds, slips with their reason; a supplier's fields by name."""
    one = told(story.root)
    assert lines(one, 0) == {"dabchick": ["changed: contact"]}
    assert lines(one, 1) == {}
    slip = lines(one, 2)["dabchick/d50"]
    assert "2025-09-15-reorder: the past is rewritten in 1 place" in slip
    assert "reason: a canary" in slip
    assert any("19 5/8 in → 16 5/8 in (-3 in, -7.6 cm)" in line for line in slip)
    assert "2026-08-24-reorder: measured, 12 pieces" in lines(one, 3)["dabchick/d50"]
    chart = lines(one, 4)["dabchick/d50"]
    assert any(
        "size chart from 2023-06-01, edited in place: 1 measure moved" in line for line in chart
    )
    assert "no reason is given" in chart
    began = lines(one, 5)[""]
    assert began == ["the ledger begins: 17 blanks, 7 suppliers"]
    assert one.more == 0
    assert not one.cut
    assert one.origin == one.entries[-1]["key"]


def test_nothing_private_is_said(story: Repository) -> None:
    """No contact, price, note, subject of a commit, or name of who made it or decided."""
    change(story, CHART, "note: >-\n", "note: >-\n  a canary of a note\n")
    said = str(told(story.root).entries)
    for secret in ("canary@", "canary of", "summer 2026", "rv", "example.org", "by rv"):
        assert secret not in said, secret


def test_what_is_known_is_not_told_again(
    story: Repository, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With every commit known, no file is read; one more commit asks for itself alone."""
    first = told(story.root)
    known = {entry["id"]: entry for entry in first.entries}
    asked: list[tuple[str, ...]] = []

    def asking(root: Path, *arguments: str, given: bytes = b"") -> bytes:
        asked.append((arguments[0], *given.decode().split()))
        return run_git(root, *arguments, given=given)

    monkeypatch.setattr("blankbook.history.versions.snapshots.run_git", asking)
    assert told(story.root, known) == first
    assert asked == []

    change(story, SLIP, "half_chest: 16 5/8,", "half_chest: 19 5/8,")
    again = told(story.root, known, taught=True)
    assert again.entries[1:] == first.entries
    assert [one[0] for one in asked] == ["cat-file"]
    assert len(asked[0]) < 40
    monkeypatch.undo()
    assert told(story.root) == again


def test_a_commit_that_touches_many_blanks_or_the_rules_judges_none(story: Repository) -> None:
    """It is told by its facts, and the ones before it as they would be without it."""
    before = told(story.root)
    for place in sorted(story.root.glob("blanks/*/*/style.yaml"))[: MOST_JUDGED + 1]:
        text = place.read_text(encoding="utf-8")
        place.write_text(text.replace("\nname: ", "\nname: New "), encoding="utf-8")
    story.commit()
    change(story, "shop.yaml", "wash_limit: {along: 6", "wash_limit: {along: 3")
    one = told(story.root, taught=True)
    assert lines(one, 0) == {"shop": ["changed: wash limit"]}
    assert list(lines(one, 1).values()) == [["style: changed: name"]] * (MOST_JUDGED + 1)
    assert one.entries[2:] == before.entries
    assert told(story.root) == one


def test_more_commits_than_are_shown_are_counted(small: Repository) -> None:
    """And those that touched no record are no changes of the ledger."""
    for number in range(MOST + 3):
        change(small, ROUND, "20 1/8" if number % 2 == 0 else "20 1/4",
               "20 1/4" if number % 2 == 0 else "20 1/8")  # fmt: skip
        small.day = 1
        small.write("notes.txt", str(number))
        small.commit()
    one = told(small.root)
    assert len(one.entries) == MOST
    assert one.more == 4


def test_many_lines_are_counted(small: Repository) -> None:
    """A part has few lines however much a commit did."""
    for number in range(1, 10):
        copy = ROUND.replace("02-12", f"02-{12 + number}")
        text = (small.root / ROUND).read_text().replace("2024-02-12", f"2024-02-{12 + number}")
        small.write(copy, text)
    small.commit()
    said = lines(told(small.root))["tarn-thrush/h6"]
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
    one = told(small.root)
    assert lines(one, 0) == {"shop": ["cannot be compared, it has a fault"]}
    assert lines(one, 1)["tarn-thrush/h6"][0] == "removed"
    assert lines(one, 2)["tarn-thrush/h6"][0].startswith("without a fault again; advice: ")
    assert lines(one, 3)["tarn-thrush/h6"][0] == "has a fault, so nothing is advised"


def test_a_merge_is_one_change_with_the_reasons_of_its_branch(small: Repository) -> None:
    """It is told against the branch that it was merged into."""
    small.git("checkout", "--quiet", "-b", "side")
    change(small, ROUND, "20 1/8", "20 1/4", "put right\n\nReason: read again")
    small.git("checkout", "--quiet", "main")
    small.git("merge", "--quiet", "--no-ff", "side", "--message", "side")
    one = told(small.root)
    assert len(one.entries) == 2
    assert "reason: read again" in lines(one)["tarn-thrush/h6"]


def test_a_shallow_clone_tells_what_it_has(small: Repository, tmp_path: Path) -> None:
    """The oldest commit that was fetched did not begin the ledger, and is not said to."""
    change(small, ROUND, "20 1/8", "20 1/4")
    change(small, ROUND, "20 1/4", "20 3/8")
    whole = told(small.root)
    for depth in (1, 2):
        clone = tmp_path / str(depth)
        small.git("clone", "--quiet", f"--depth={depth}", f"file://{small.root}", str(clone))
        one = told(clone)
        assert one.cut
        assert one.origin == ""
        assert one.entries == whole.entries[: depth - 1]


def test_two_ledgers_in_one_repository_have_keys_of_their_own(
    small: Repository, tmp_path: Path
) -> None:
    """One commit that touches both is another change for each; a subfolder knows its own alone."""
    outer = Repository(tmp_path / "outer")
    for name in ("one", "other"):
        for path, text in SMALL_LEDGER.items():
            outer.write(f"{name}/{path}", text + f"# {name}\n")
    outer.commit()
    one, other = told(outer.root / "one"), told(outer.root / "other")
    assert lines(one) == lines(other)
    assert one.entries[0]["id"] == other.entries[0]["id"]
    assert one.entries[0]["key"] != other.entries[0]["key"]
    assert told(small.root).entries[0]["key"] != one.entries[0]["key"]


def test_nothing_is_told_without_commits(tmp_path: Path) -> None:
    """No repository, or nothing in it."""
    assert told(tmp_path).entries == ()
    Repository(tmp_path)
    assert told(tmp_path).entries == ()


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
    said = lines(told(small.root))["tarn-thrush/h6"]
    assert said == ["2024-02-12-first: changed: photos"]
