"""Which commit a file comes from: right wherever a ledger may stand, and never fatal."""

from pathlib import Path

import pytest

from blankbook.history.versions.file_commits import Commits, head_and_day, head_of, read_commits
from blankbook.history.versions.git import GitError, run_git
from made_repositories import Repository

NAMES = (
    "blanks/a/b/style.yaml",
    "with a space.yaml",
    "with an accent é.yaml",
    'with "quotes" and \\.yaml',
    "with\na line.yaml",
    "\x01odd.yaml",
    ":colon.yaml",
    "-dash.yaml",
)


def known(root: Path) -> Commits:
    """Return what git knows of the files at *root*."""
    return read_commits(root, head_of(root))


@pytest.mark.parametrize("name", NAMES)
def test_each_file_has_its_newest_commit(tmp_path: Path, name: str) -> None:
    """However it is called, and however many commits came after."""
    made = Repository(tmp_path)
    made.write(name, "one")
    made.write("other.yaml", "one")
    first = made.commit()
    place = made.write(name, "two")
    second = made.commit()
    made.commit("nothing new")

    found = known(tmp_path)
    assert found.by_path[name].id == second
    assert found.by_path[name].day == "2026-01-03"
    assert found.by_path[name].has(place.read_bytes())
    assert not found.by_path[name].has(b"three")
    assert found.by_path["other.yaml"].id == first


def test_a_ledger_in_a_subfolder_knows_its_own_files_by_their_place_in_it(tmp_path: Path) -> None:
    """And nothing outside of it."""
    made = Repository(tmp_path)
    made.write("ledger/shop.yaml", "one")
    made.write("else.txt", "one")
    made.commit()
    assert set(known(tmp_path / "ledger").by_path) == {"shop.yaml"}


def test_a_merge_is_one_commit_for_what_it_brought(tmp_path: Path) -> None:
    """The branch that the ledger stands on says when a file came."""
    made = Repository(tmp_path)
    made.write("a.yaml", "one")
    made.commit()
    made.git("checkout", "--quiet", "-b", "side")
    made.write("b.yaml", "one")
    made.commit()
    made.git("checkout", "--quiet", "main")
    made.write("c.yaml", "one")
    made.commit()
    made.git("merge", "--quiet", "--no-ff", "side", "--message", "side")
    head = made.git("rev-parse", "HEAD").strip()
    assert known(tmp_path).by_path["b.yaml"].id == head


def test_nothing_is_known_without_a_commit(tmp_path: Path) -> None:
    """No repository, or one in which nothing was committed: no answer, and no fault."""
    assert known(tmp_path) == Commits()
    Repository(tmp_path)
    assert known(tmp_path) == Commits()


def test_nothing_is_known_without_git(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A machine without git builds the same site, without commits."""
    made = Repository(tmp_path)
    made.write("a.yaml", "one")
    made.commit()
    monkeypatch.setenv("PATH", str(tmp_path))
    assert known(tmp_path) == Commits()
    with pytest.raises(GitError, match="not installed"):
        run_git(tmp_path, "status")


def test_a_detached_head_and_a_shallow_clone_say_what_they_have(tmp_path: Path) -> None:
    """What was fetched is told; a file from before counts to the oldest commit there is."""
    made = Repository(tmp_path / "whole")
    made.write("a.yaml", "one")
    first = made.commit()
    made.write("b.yaml", "one")
    second = made.commit()
    made.git("clone", "--quiet", "--depth=1", f"file://{made.root}", str(tmp_path / "shallow"))
    assert {commit.id for commit in known(tmp_path / "shallow").by_path.values()} == {second}
    made.git("checkout", "--quiet", first)
    assert known(made.root).by_path["a.yaml"].id == first
    assert "b.yaml" not in known(made.root).by_path


def test_a_worktree_and_a_submodule_are_read_like_any_other(tmp_path: Path) -> None:
    """There .git is a file that leads elsewhere."""
    made = Repository(tmp_path / "own")
    made.write("a.yaml", "one")
    first = made.commit()
    made.git("worktree", "add", "--quiet", str(tmp_path / "beside"))
    assert known(tmp_path / "beside").by_path["a.yaml"].id == first
    outer = Repository(tmp_path / "outer")
    outer.git(
        "-c", "protocol.file.allow=always", "submodule", "--quiet", "add", str(made.root), "inside"
    )
    outer.commit()
    assert known(outer.root / "inside").by_path["a.yaml"].id == first


HOSTILE = {
    "core.fsmonitor": "touch {}",
    "core.sshCommand": "touch {}",
    "diff.external": "touch {}",
    "core.pager": "touch {}",
    "log.showSignature": "true",
    "gpg.program": "touch {}",
    "diff.odd.textconv": "touch {}",
    "filter.odd.clean": "touch {}",
    "filter.odd.smudge": "touch {}",
    "alias.log": "!touch {}",
}


@pytest.mark.parametrize("setting", HOSTILE)
def test_no_setting_of_a_repository_runs_a_program(tmp_path: Path, setting: str) -> None:
    """A ledger that came from somebody else is only read."""
    made = Repository(tmp_path / "own")
    made.write(".gitattributes", "*.yaml diff=odd filter=odd\n")
    made.write("a.yaml", "one")
    first = made.commit()
    made.write("a.yaml", "two")
    canary = tmp_path / "canary"
    made.git("config", setting, HOSTILE[setting].format(canary))
    assert known(made.root).by_path["a.yaml"].id == first
    assert not canary.exists()


def test_no_variable_leads_git_elsewhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What the caller's environment says about repositories is not about this ledger."""
    made = Repository(tmp_path / "own")
    made.write("a.yaml", "one")
    first = made.commit()
    other = Repository(tmp_path / "other")
    other.commit()
    monkeypatch.setenv("GIT_DIR", str(other.root / ".git"))
    monkeypatch.setenv("GIT_EXTERNAL_DIFF", f"touch {tmp_path / 'canary'}")
    assert known(made.root).by_path["a.yaml"].id == first
    assert not (tmp_path / "canary").exists()


def test_no_lock_is_taken_and_nothing_is_written(tmp_path: Path) -> None:
    """The repository is byte for byte as it was."""
    made = Repository(tmp_path)
    made.write("a.yaml", "one")
    made.commit()
    before = {place: place.stat().st_mtime_ns for place in sorted(tmp_path.rglob("*"))}
    known(tmp_path)
    assert {place: place.stat().st_mtime_ns for place in sorted(tmp_path.rglob("*"))} == before


def test_hashes_of_either_length_are_git_s_own(tmp_path: Path) -> None:
    """What git says of a file's bytes, in a repository of the old kind and of the new one."""
    from blankbook.history.versions.file_commits import blob_hash

    for kind in ("sha1", "sha256"):
        made = Repository(tmp_path / kind, "--object-format", kind)
        place = made.write("a.yaml", "one")
        head = made.commit()
        wanted = made.git("hash-object", "a.yaml").strip()
        assert blob_hash(place.read_bytes(), head) == wanted
        assert known(made.root).by_path["a.yaml"].has(place.read_bytes())


@pytest.mark.parametrize("encoding", ["UTF-16", "UTF-32", "cp1252", "EBCDIC-US"])
def test_a_reason_is_read_in_any_encoding_that_git_is_told(tmp_path: Path, encoding: str) -> None:
    """The settings of git may have it print in another one than UTF-8."""
    one = Repository(tmp_path)
    one.write("shop.yaml", "shop: x\n")
    one.commit("22½ is wider, says größe")
    one.git("config", "i18n.logOutputEncoding", encoding)
    assert run_git(tmp_path, "log", "-1", "--format=%s").decode().strip() == (
        "22½ is wider, says größe"
    )
    assert read_commits(tmp_path, *head_and_day(tmp_path)).by_path.keys() == {"shop.yaml"}
