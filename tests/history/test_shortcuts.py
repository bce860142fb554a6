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
from blankbook.history.report.json_review import review_data
from blankbook.history.review import review_cache as keeping
from blankbook.history.review.make_review import BlankReview, Review, review
from blankbook.history.review.review_cache import Kept
from blankbook.history.versions.revisions import revision
from blankbook.history.versions.version_pair import pair_of
from blankbook.records.load_ledger import Loaded, load_ledger
from blankbook.records.model import Blank
from blankbook.results.judge_blank import judge
from blankbook.results.learning.ledger_learning import blank_contribution, learn, learned_from_data
from history_made import Repository, records_opened
from support import ROOT, Program

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


Whole = Callable[[str], Loaded]


@pytest.fixture(scope="module")
def whole(told_once: Path) -> Whole:
    """Return one version by its tag, read as `check` and `vet` read a ledger."""

    @functools.cache
    def read(tag: str) -> Loaded:
        return load_ledger(told_once / tag, gather=blank_contribution, workers=1)

    return read


def stands(one: Loaded, taught_by: Mapping[str, Any], key: str) -> Standing | None:
    """Return where a blank stands, judged by everything that a whole ledger teaches."""
    ledger = one.ledger
    if ledger is None or key not in ledger.blanks:
        return None
    taught = learn(dict(taught_by), ledger.shop, ledger.studies)
    return standing_of(judge(ledger.blanks[key], ledger.shop, learned_from_data(taught[key])))


def kept_through(store: Path, code: str = "a") -> Kept:
    """Return what was kept, as for a program whose code has this hash."""
    found = keeping.load(store)
    return found if found.code == code else Kept(code)


def reviewed(made: Repository, old: str, new: str, kept: Kept | None = None) -> Review:
    """Return the review between two versions."""
    return review(pair_of(made.root, revision(made.root, old), revision(made.root, new)), kept)


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


@pytest.mark.parametrize(("old", "new"), PAIRS[1::2], ids=["-".join(pair) for pair in PAIRS[1::2]])
def test_what_was_kept_changes_nothing(
    story: Repository, tmp_path: Path, old: str, new: str
) -> None:
    """With nothing known, with all of it, and with what another review left: the same review."""
    plain = review_data(reviewed(story, old, new))
    for _ in range(2):
        kept = kept_through(tmp_path)
        assert review_data(reviewed(story, old, new, kept)) == plain
        keeping.save(tmp_path, kept)
    assert not kept.new
    other = kept_through(tmp_path)
    assert review_data(reviewed(story, "begin", "gone", other)) == review_data(
        reviewed(story, "begin", "gone")
    )
    keeping.save(tmp_path, other)
    assert review_data(reviewed(story, old, new, kept_through(tmp_path))) == plain


def test_in_a_folder_the_bytes_count_and_not_the_names(story: Repository, tmp_path: Path) -> None:
    """What stands there, committed or not, is known only by what it holds; so is a photo."""
    (story.root / PHOTO).write_bytes(b"no picture")
    for _ in range(2):
        for text in ("half_chest: 18 1/8,", "half_chest: 18 1/4,"):
            place = story.root / "blanks/dabchick/d50/2026-08-24-reorder.yaml"
            first, mark, rest = place.read_text(encoding="utf-8").partition("half_chest: ")
            place.write_text(first + text + rest.partition(",")[2], encoding="utf-8")
            assert mark
            kept = kept_through(tmp_path)
            assert review_data(reviewed(story, "begin", "", kept)) == review_data(
                reviewed(story, "begin", "")
            )
            keeping.save(tmp_path, kept)
    found = reviewed(story, "begin", "", kept_through(tmp_path))
    assert found.files


def test_what_is_known_is_not_read_again(
    story: Repository, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The second time only the file that differs is opened, beside what all blanks share."""
    kept = kept_through(tmp_path)
    reviewed(story, "begin", "reading", kept)
    keeping.save(tmp_path, kept)
    opened = records_opened(monkeypatch)
    reviewed(story, "begin", "reading", kept_through(tmp_path))
    assert {path for path in opened if path.startswith("blanks/")} == {ROUND}


@pytest.mark.parametrize("body", [b"", b"odd", b"blankbook changes 2 00\n{}", b"\xff\n\xff"])
def test_what_is_damaged_is_not_known(tmp_path: Path, body: bytes) -> None:
    """A file that is not as it was written is no file; nor is one of another code."""
    (tmp_path / keeping.NAME).write_bytes(body)
    assert not any(keeping.load(tmp_path).known.values())
    made = Kept("a")
    made.put("given", "key", 1)
    keeping.save(tmp_path, made)
    assert kept_through(tmp_path, "a").has("given", "key")
    assert not kept_through(tmp_path, "b").has("given", "key")


def test_what_nobody_asks_for_is_forgotten_in_the_end(tmp_path: Path) -> None:
    """The newest stay, and all that was asked for now."""
    made = Kept("a", known={part: {} for part in keeping.PARTS})
    made.known["given"] = {str(number): number for number in range(keeping.MOST + 10)}
    made.get("given", "0")
    made.put("given", "new", 1)
    keeping.save(tmp_path, made)
    found = keeping.load(tmp_path).known["given"]
    assert len(found) == keeping.MOST + 2
    assert {"0", "new", str(keeping.MOST + 9)} <= found.keys()
    assert "1" not in found


def test_it_is_kept_where_a_build_has_been(story: Repository, program: Program) -> None:
    """Not in a folder where none was, and nothing is taken from files that came with a clone."""
    store = story.root / ".blankbook"
    asked = ("changes", "begin", "reading", "--ledger", story.root)
    plain = program(*asked).out
    assert not store.exists()
    store.mkdir()
    assert program(*asked).out == plain
    assert [one.name for one in store.iterdir()] == [keeping.NAME]
    before = (store / keeping.NAME).read_bytes()
    assert program(*asked).out == plain
    assert (store / keeping.NAME).read_bytes() == before
    story.git("add", "--force", ".blankbook")
    (store / keeping.NAME).write_bytes(b"somebody's word")
    assert program(*asked).out == plain
    assert (store / keeping.NAME).read_bytes() == b"somebody's word"


def test_what_was_said_is_said_again(story: Repository, command: Program) -> None:
    """In each form what it was, word for word, and only where all that it follows from is the same.

    What is kept is put where it was found: another text of ours there is what is printed.
    """
    store = story.root / ".blankbook"
    forms = ((), ("--short",), ("--format", "markdown"), ("--json",), ("--exit-code",))
    head = ("changes", "begin", "reading", "--ledger", story.root)
    plain = [command(*head, *form) for form in forms]
    store.mkdir()
    for _ in range(2):
        assert [command(*head, *form) for form in forms] == plain
    assert plain[-1].code == 1
    kept = keeping.load(store)
    assert len(kept.known["said"]) == len(forms) - 1, "the exit code is no other text"
    for name in kept.known["said"]:
        kept.put("said", name, ["words of our own", True])
    keeping.save(store, kept)
    assert command(*head).out == "words of our own\n"
    for other in (("begin", "photo"), ("begin~0", "reading"), ("reading", "begin"), ("begin",)):
        assert "words" not in command("changes", *other, "--ledger", story.root).out
    now = command("changes", "reading", "--ledger", story.root).out
    (story.root / "shop.yaml").unlink()
    assert command("changes", "reading", "--ledger", story.root).out != now


def test_a_store_that_cannot_be_written_is_no_fault(story: Repository, program: Program) -> None:
    """The review is told all the same."""
    store = story.root / ".blankbook"
    (store / keeping.NAME).mkdir(parents=True)
    ended = program("changes", "begin", "reading", "--ledger", story.root)
    assert (ended.code, ended.err) == (0, "")
    assert ROUND in ended.out
    assert [one.name for one in store.iterdir()] == [keeping.NAME]


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
