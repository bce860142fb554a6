"""What a change of the ledger means, told between real commits."""

import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from blankbook.history.moved.blank_status import BlankStatus, standing_drop
from blankbook.history.report.html_report import html_report
from blankbook.history.report.markdown_report import MOST_MARKDOWN_BYTES, markdown_report
from blankbook.history.report.review_document import review_sections
from blankbook.history.report.text_report import text_report
from blankbook.history.review.make_review import Review, make_review
from blankbook.history.versions.revisions import UnknownRevisionError, find_revision
from blankbook.history.versions.version_pair import read_pair
from made_repositories import Repository
from support import SMALL_LEDGER, Program

STYLE = "blanks/tarn-thrush/h6/style.yaml"
ROUND = "blanks/tarn-thrush/h6/2024-02-12-first.yaml"
NEW_CHART = """\
  - since: 2025-03-01
    source: size sheet of spring 2025, page 3
    unit: cm
    sizes:
      S: {half_chest: 45.72, body_length: 71.12}
      M: {half_chest: 49.53, body_length: 73.66}
      L: {half_chest: 55.88, body_length: 76.2}
"""


@pytest.fixture
def made(tmp_path: Path) -> Repository:
    """A repository with the small ledger in a subfolder, committed once."""
    repository = Repository(tmp_path / "own")
    for path, text in SMALL_LEDGER.items():
        repository.write(f"ledger/{path}", text)
    repository.commit("the ledger begins")
    return repository


def reviewed(made: Repository, old: str = "HEAD", new: str = "") -> Review:
    """Return the review between two versions."""
    root = made.root / "ledger"
    return make_review(read_pair(root, find_revision(root, old), find_revision(root, new)))


def edit(made: Repository, path: str, old: str, new: str) -> None:
    """Change a file of the ledger as a person would."""
    place = made.root / "ledger" / path
    text = place.read_text(encoding="utf-8")
    assert old in text
    place.write_text(text.replace(old, new), encoding="utf-8")


def text_of(review: Review) -> str:
    """Return the text form with its line breaks taken out."""
    return " ".join(text_report(review_sections(review)).split())


def test_nothing_changed_says_so(made: Repository) -> None:
    """Four files, none of them touched."""
    assert not reviewed(made).differs
    assert "nothing differs in meaning" in text_of(reviewed(made))
    assert "4 files not touched" in text_of(reviewed(made))


def test_another_spelling_is_no_change(made: Repository) -> None:
    """20 1/8 is 20.125 and is 51.1175 cm; a comment and the order of pieces mean nothing."""
    edit(made, ROUND, "20 1/8", "51.1175 cm")
    edit(made, STYLE, "half_chest: 18,", "half_chest: 18.0,")
    edit(made, "shop.yaml", "shop:", "# ours\nshop:")
    found = reviewed(made)
    assert not found.differs
    assert "3 files reformatted" in text_of(found)


def test_an_old_chart_edited_is_a_rewrite(made: Repository) -> None:
    """Old to new, the difference in both units, the steps on both sides, and what it touches."""
    edit(made, STYLE, "M: {half_chest: 20,", "M: {half_chest: 20 3/4,")
    text = text_of(reviewed(made))
    assert "M half chest: 20 in → 20 3/4 in (+3/4 in, +1.9 cm), past the tolerance" in text
    assert "S to M half chest: 2 in → 2 3/4 in" in text
    assert "M to L half chest: 2 in → 1 1/4 in" in text
    assert "edited in place" in text
    assert "judged by it: 2024-02-12-first" in text
    assert "the past is rewritten in 1 file, 1 without a reason" in text


def test_a_chart_that_supersedes_is_no_rewrite(made: Repository) -> None:
    """The new one is held against the one before it, whatever its unit; old rounds stay."""
    place = made.root / "ledger" / STYLE
    place.write_text(place.read_text(encoding="utf-8") + NEW_CHART, encoding="utf-8")
    found = reviewed(made)
    assert found.rewritten == ()
    assert [cell.size for chart in found.blanks[0].charts for cell in chart.cells] == ["M"]
    assert "source: size sheet of spring 2025, page 3" in text_of(found)
    assert "M half chest: 20 in → 19 1/2 in (-1/2 in, -1.3 cm)" in text_of(found)


def test_what_a_new_chart_says_is_told_once(made: Repository) -> None:
    """A measure that moved stands above, one that did not is counted, one that came is shown."""
    more = NEW_CHART.replace("body_length: 76.2}", "body_length: 76.2, sleeve_length: 20}")
    made.write(f"ledger/{STYLE}", SMALL_LEDGER[STYLE] + more)
    text = text_of(reviewed(made))
    assert "1 measure told above, 5 as in the chart before" in text
    assert text.count("charts 2025-03-01 sizes") == 1
    assert "charts 2025-03-01 sizes L sleeve length: – → 20 cm" in text
    edit(made, STYLE, "half_chest: 49.53", "half_chest: 50.8")
    assert "0 measures told above, 6 as in the chart before" in text_of(reviewed(made))


def test_a_cell_that_a_new_chart_leaves_out_is_no_fault_of_ours(made: Repository) -> None:
    """What is charted no more has not moved; the review goes on to what has."""
    fewer = NEW_CHART.replace(", body_length: 76.2", "")
    made.write(f"ledger/{STYLE}", SMALL_LEDGER[STYLE] + fewer)
    (chart,) = reviewed(made).blanks[0].charts
    assert [(cell.size, cell.point) for cell in chart.cells] == [("M", "half_chest")]


def test_a_reason_is_a_note_or_a_line_of_the_commit(made: Repository) -> None:
    """A rewrite that says why is told with it."""
    edit(made, ROUND, "20 1/8", "20 1/4")
    assert "no reason is given" in text_of(reviewed(made))
    made.commit("put right\n\nReason: the slip said 1/4")
    assert "reason: the slip said 1/4" in text_of(reviewed(made, "HEAD~1", "HEAD"))
    edit(made, ROUND, "by: rv", "by: rv\nnote: the paper was read wrongly")
    edit(made, ROUND, "20 1/4", "20 3/8")
    assert "reason: the paper was read wrongly" in text_of(reviewed(made))


def test_added_pieces_and_decisions_rewrite_nothing(made: Repository) -> None:
    """What comes to a round is no rewrite of it."""
    place = made.root / "ledger" / ROUND
    more = "decision: {decision: hold, date: 2024-02-20, by: mo, reason: wait}\n"
    place.write_text(place.read_text(encoding="utf-8") + more, encoding="utf-8")
    found = reviewed(made)
    assert found.rewritten == ()
    assert "decision: none → hold, 2024-02-20, by mo" in text_of(found)


SLIPS: dict[str, tuple[Callable[[str], str], str]] = {
    "all by the same": (
        lambda text: (
            text.replace(": 18,", ": 18 1/2,")
            .replace(": 20,", ": 20 1/2,")
            .replace(": 22,", ": 22 1/2,")
        ),
        "half chest: every size moved by the same",
    ),
    "wrong unit": (
        lambda text: text.replace("half_chest: 20,", "half_chest: 50.8,"),
        "the ratio of new to old is 2.54",
    ),
    "an inch": (
        lambda text: text.replace("half_chest: 20,", "half_chest: 21,"),
        "half chest, M: moved by an inch or more",
    ),
    "wrong way": (
        lambda text: text.replace("half_chest: 18,", "half_chest: 20 1/2,"),
        "half chest: S is larger than M",
    ),
    "a copy": (
        lambda text: text.replace(
            "{half_chest: 20, body_length: 29}", "{half_chest: 18, body_length: 28}"
        ),
        "M: the row is a copy of S",
    ),
    "swapped": (
        lambda text: (
            text.replace("half_chest", "x")
            .replace("body_length", "half_chest")
            .replace("x:", "body_length:")
        ),
        "half chest and body length: the columns are swapped",
    ),
}


@pytest.mark.parametrize("slip", SLIPS)
def test_what_looks_like_a_slip_is_named(made: Repository, slip: str) -> None:
    """Each pattern by its name, on the smallest chart that has it."""
    change, says = SLIPS[slip]
    place = made.root / "ledger" / STYLE
    place.write_text(change(place.read_text(encoding="utf-8")), encoding="utf-8")
    assert says in text_of(reviewed(made))


def test_a_broken_file_in_the_past_is_told_and_not_fatal(made: Repository) -> None:
    """The blank is judged now; what it was is not known."""
    good = (made.root / "ledger" / ROUND).read_text(encoding="utf-8")
    made.write(f"ledger/{ROUND}", good.replace("pieces:", "pieces: ["))
    made.commit("broken")
    made.write(f"ledger/{ROUND}", good)
    text = text_of(reviewed(made))
    assert "cannot be compared: has a fault before, line" in text
    assert "before there is no such blank without a fault" in text


def test_a_renamed_blank_is_told_as_renamed(made: Repository) -> None:
    """The folder, the key in its files, and nothing else."""
    folder = made.root / "ledger/blanks/tarn-thrush"
    (folder / "h6").rename(folder / "h7")
    for place in (folder / "h7").iterdir():
        text = place.read_text(encoding="utf-8").replace("tarn-thrush/h6", "tarn-thrush/h7")
        place.write_text(text, encoding="utf-8")
    found = reviewed(made)
    assert {file.status for file in found.files} == {"renamed"}
    assert found.rewritten == ()


def test_a_removed_round_is_a_rewrite(made: Repository) -> None:
    """Evidence that is gone is told before anything else of its file."""
    (made.root / "ledger" / ROUND).unlink()
    assert [file.path for file in reviewed(made).rewritten] == [ROUND]


def test_a_removed_supplier_is_told_for_its_blanks(made: Repository) -> None:
    """They have a fault from then on, though none of their own files was touched."""
    (made.root / "ledger/suppliers/tarn-thrush.yaml").unlink()
    assert "tarn-thrush/h6: standing and decisions" in text_of(reviewed(made))
    made.commit("gone")
    (blank,) = reviewed(made, "HEAD~1", "HEAD").blanks
    assert blank.before is not None
    assert blank.after is None


def test_the_worst_comes_first() -> None:
    """One that is gone, then by how far the standing fell; what got better is no fall."""
    status = BlankStatus("x", "may be ordered", "", "approved", "", (), {})
    stands = {
        kind: replace(status, standing=kind)
        for kind in ("may be ordered", "may be ordered on conditions", "wait", "do not order")
    }
    assert standing_drop(stands["do not order"], None) > standing_drop(
        stands["may be ordered"], stands["do not order"]
    )
    assert [standing_drop(status, stand) for stand in stands.values()] == [0, 1, 2, 3]
    assert (
        standing_drop(stands["do not order"], status)
        == standing_drop(None, stands["do not order"])
        == 0
    )


def test_versions_by_commit_branch_tag_and_day(made: Repository) -> None:
    """All of them lead to the same commit."""
    root = made.root / "ledger"
    first = made.git("rev-parse", "HEAD").strip()
    made.git("tag", "spring")
    made.day = 20
    made.commit("later")
    for name in (first, first[:9], "spring", "HEAD~1", "2026-01-10"):
        assert find_revision(root, name).commit == first
    assert find_revision(root, "main").commit != first


@pytest.mark.parametrize("name", ["--output=x", "-p", "nowhere", "2019-01-01", "HEAD:ledger", ""])
def test_what_is_no_version_is_refused(made: Repository, name: str, program: Program) -> None:
    """In words, with exit code 2, and nothing is run or written."""
    before = sorted(made.root.rglob("*"))
    if name:
        with pytest.raises(UnknownRevisionError):
            find_revision(made.root / "ledger", name)
    ended = program("changes", "--ledger", made.root / "ledger", "--", name)
    assert ended.code == 2
    assert "Traceback" not in ended.err
    assert sorted(made.root.rglob("*")) == before


def test_without_git_it_says_what_is_missing(tmp_path: Path, program: Program) -> None:
    """No repository, then one without a commit."""
    (tmp_path / "shop.yaml").write_text(SMALL_LEDGER["shop.yaml"])
    ended = program("changes", "--ledger", tmp_path)
    assert (ended.code, "the ledger is not in git" in ended.err) == (3, True)
    Repository(tmp_path)
    ended = program("changes", "--ledger", tmp_path)
    assert (ended.code, "nothing is committed yet" in ended.err) == (2, True)


@pytest.mark.seldom(3)
def test_the_same_in_every_form(made: Repository, program: Program) -> None:
    """Text, Markdown, JSON and a page tell one object; the exit code is asked for."""
    edit(made, STYLE, "M: {half_chest: 20,", "M: {half_chest: 20 3/4,")
    root = made.root / "ledger"
    ends = {
        form: program("changes", "--ledger", root, "--format", form, "--exit-code")
        for form in ("text", "markdown", "json", "html")
    }
    assert {end.code for end in ends.values()} == {1}
    assert all("20 3/4" in end.out for end in ends.values())
    (cell,) = json.loads(ends["json"].out)["blanks"][0]["charts"][0]["cells"]
    assert cell == {
        "size": "M", "point": "half_chest", "old": 508.0, "new": 527.05, "by": 19.05,
        "past_tolerance": True,
    }  # fmt: skip
    assert program("changes", "--ledger", root).code == 0


def test_markup_in_a_record_stays_text(made: Repository) -> None:
    """Nothing that a record says becomes a tag, a link, a mention or another cell."""
    odd = "'<img src=x> | @mo #12 [a](http://b) `c`'"
    edit(made, ROUND, "by: rv", f"by: rv\nnote: {odd}")
    parts = review_sections(reviewed(made))
    markdown, page = markdown_report(parts), html_report(parts)
    assert "<img" not in markdown
    assert "@mo" not in markdown
    assert "[a](" not in markdown
    assert "&#124; &#64;&#8203;mo &#35;&#8203;12" in markdown
    assert "<img" not in page


def test_two_thousand_changes_fit_into_a_summary(made: Repository) -> None:
    """At most 60 kB, and what is left out is counted."""
    edit(made, ROUND, "20 1/8", "20 1/4")
    found = reviewed(made)
    (file,) = found.files
    many = tuple(replace(file, path=f"{file.path}-{n}") for n in range(2000))
    parts = review_sections(replace(found, files=many))
    markdown = markdown_report(parts)
    assert 50_000 < len(markdown.encode()) <= MOST_MARKDOWN_BYTES
    told_of = markdown.count("the past is rewritten\n")
    assert f"{len(parts) - 1 - markdown.count('### ') + 1} more parts are left out" in markdown
    assert 0 < told_of < 2000
    assert "no change in meaning" in markdown


def test_git_diff_shows_facts_and_never_fails(made: Repository, program: Program) -> None:
    """As a textconv: another spelling is no difference, and what cannot be read comes as it is."""
    root = made.root / "ledger"
    before = program("changes", "--textconv", root / ROUND)
    assert "pieces / M-black-1 / received / half_chest: 20 1/8 in" in before.out
    broken = made.write("ledger/odd.yaml", "pieces: [\n<<<<<<< mine\n")
    ended = program("changes", "--textconv", broken)
    assert (ended.code, ended.out) == (0, "pieces: [\n<<<<<<< mine\n")
    assert program("changes", "--textconv", root / "nowhere").code == 0


def test_two_branches_merge_without_conflict(made: Repository) -> None:
    """Each adds a round to one blank; one edits its style; both are there after the merge."""
    text = SMALL_LEDGER[ROUND]
    made.git("checkout", "--quiet", "-b", "side")
    folder = "ledger/blanks/tarn-thrush/h6"
    made.write(f"{folder}/2024-05-06-side.yaml", text.replace("2024-02-12", "2024-05-06"))
    made.commit("side")
    made.git("checkout", "--quiet", "main")
    made.write(f"{folder}/2024-06-03-main.yaml", text.replace("2024-02-12", "2024-06-03"))
    edit(made, STYLE, "H6 heavy tee", "H6 heavy T-shirt")
    made.commit("main")
    made.git("merge", "--quiet", "--message", "both", "side")
    found = reviewed(made, "HEAD~1", "HEAD")
    assert [file.path for file in found.files] == ["blanks/tarn-thrush/h6/2024-05-06-side.yaml"]


def test_hostile_settings_run_nothing(made: Repository, tmp_path: Path) -> None:
    """The whole review, on a repository whose settings name programs."""
    made.write(".gitattributes", "*.yaml diff=odd filter=odd\n")
    edit(made, ROUND, "20 1/8", "20 1/4")
    made.commit()
    canary = tmp_path / "canary"
    for setting in ("core.fsmonitor", "diff.external", "diff.odd.textconv", "filter.odd.smudge"):
        made.git("config", setting, f"touch {canary}")
    assert reviewed(made, "HEAD~1", "HEAD").differs
    assert not canary.exists()


def test_odd_names_and_links_are_no_way_out(made: Repository) -> None:
    """Names that no record has are left alone; a link in a commit is not followed."""
    folder = made.root / "ledger/blanks/tarn-thrush/h6"
    (folder / "2024-07-01-link.yaml").symlink_to("/etc/hostname")
    made.write("ledger/blanks/tarn-thrush/h6/mit Umlaut ü.yaml", "style: tarn-thrush/h6\n")
    made.commit("odd")
    found = reviewed(made, "HEAD~1", "HEAD")
    assert [(file.path, file.status) for file in found.files] == [
        ("blanks/tarn-thrush/h6/mit Umlaut ü.yaml", "cannot be compared")
    ]


def test_a_worktree_a_detached_head_and_a_shallow_clone(made: Repository, tmp_path: Path) -> None:
    """Each answers for what it has."""
    edit(made, ROUND, "20 1/8", "20 1/4")
    made.commit()
    made.git("worktree", "add", "--quiet", "--detach", str(tmp_path / "beside"), "HEAD")
    root = tmp_path / "beside/ledger"
    pair = read_pair(root, find_revision(root, "HEAD~1"), find_revision(root, ""))
    assert make_review(pair).differs
    made.git("clone", "--quiet", "--depth=1", f"file://{made.root}", str(tmp_path / "shallow"))
    with pytest.raises(UnknownRevisionError, match="only a part of the history"):
        find_revision(tmp_path / "shallow/ledger", "HEAD~1")


def test_bytes_that_were_not_fetched_are_told(
    made: Repository, tmp_path: Path, program: Program
) -> None:
    """A clone without old bytes asks no remote for them, and says so."""
    edit(made, ROUND, "20 1/8", "20 1/4")
    made.commit()
    made.git("config", "uploadpack.allowFilter", "true")
    source = f"file://{made.root}"
    made.git("clone", "--quiet", "--filter=blob:none", source, str(tmp_path / "partial"))
    ended = program("changes", "HEAD~1", "HEAD", "--ledger", tmp_path / "partial/ledger")
    assert (ended.code, ended.out) == (3, "")
    assert "git cannot tell what changed" in ended.err
    assert "fetch" in ended.err
