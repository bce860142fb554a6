"""What runs on a code host: for a shop's ledger, and for this project's own, which is the same.

The steps are run in order, each as the host runs it, in a clone that stands where the host puts
it: on the merge of a branch into the main one. What the host is from memory of its documentation:
`run` goes to `bash -e`, the summary is the file that GITHUB_STEP_SUMMARY names, and a pull request
has the name of its base in GITHUB_BASE_REF.
"""

import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
import yaml

from blankbook.entry.new.host_workflow import workflow_text
from made_repositories import Repository
from support import SMALL_LEDGER
from workflow import PLACE, own_workflow

STYLE = "blanks/tarn-thrush/h6/style.yaml"
ROUND = "blanks/tarn-thrush/h6/2024-02-12-first.yaml"
TEXTS = {"a shop's": workflow_text("1.2.3"), "this project's": own_workflow()}
BLANKBOOK = "https://code.example/blankbook.whl"
ONLY_FOR_PULLS = "github.event_name == 'pull_request'"


def flow_of(whose: str) -> dict[Any, Any]:
    """Return a workflow as data."""
    found: dict[Any, Any] = yaml.safe_load(TEXTS[whose])
    return found


def test_the_project_s_own_workflow_is_the_one_that_shops_get() -> None:
    """But for where the ledger is and what is installed: `python tests/workflow.py` writes it."""
    assert PLACE.read_text(encoding="utf-8") == own_workflow()
    shop, own = (
        {line for line in text.splitlines() if not line.lstrip().startswith("#")}
        for text in TEXTS.values()
    )
    assert shop - own == {"  LEDGER: .", "  BLANKBOOK: ${{ vars.BLANKBOOK }}"}
    assert own - shop == {"  LEDGER: ledger", "  BLANKBOOK: ./"}


@pytest.mark.parametrize("whose", TEXTS)
def test_it_is_allowed_little(whose: str) -> None:
    """It reads; only main publishes, where the owner says so; no name of others is in a command."""
    flow = flow_of(whose)
    triggers = flow[True]  # YAML 1.1 reads the word "on" so
    assert triggers == {"push": {"branches": ["main"]}, "pull_request": None}
    assert flow["permissions"] == {"contents": "read"}
    assert "permissions" not in flow["jobs"]["look"]
    publish = flow["jobs"]["publish"]
    assert publish["permissions"] == {"pages": "write", "id-token": "write"}
    assert publish["if"] == "github.ref == 'refs/heads/main' && vars.PUBLISH == 'yes'"
    assert publish["needs"] == "look"
    assert [one["uses"].split("@")[0] for one in publish["steps"]] == ["actions/deploy-pages"]
    assert "secrets" not in TEXTS[whose]
    steps = flow["jobs"]["look"]["steps"]
    assert all("${{" not in one.get("run", "") for one in steps)
    assert steps[0]["with"] == {"fetch-depth": 0, "persist-credentials": False}
    assert {one["if"] for one in steps if "if" in one} == {ONLY_FOR_PULLS}
    assert steps[-1]["with"]["path"] == "catalogue"


@pytest.mark.parametrize(
    ("address", "taken"),
    [
        ("", False),
        ("blankbook", False),
        ("blankbook==1.2.3", False),
        ("http://x.example/blankbook.whl", False),
        ("--index-url=https://x.example", False),
        (BLANKBOOK, True),
        ("git+https://code.example/blankbook", True),
        ("./kept/blankbook.whl", True),
    ],
)
def test_no_name_is_looked_up_in_an_index(tmp_path: Path, address: str, taken: bool) -> None:
    """What is installed has an address; else the step says what to set, and stops."""
    (install,) = (
        one["run"]
        for one in flow_of("a shop's")["jobs"]["look"]["steps"]
        if "pip" in one.get("run", "")
    )
    (tmp_path / "pip").write_text('#!/bin/sh\necho "$@"\n')
    (tmp_path / "pip").chmod(0o755)
    ended = subprocess.run(
        ["/bin/bash", "-e", "-c", install],
        env={"BLANKBOOK": address, "PATH": str(tmp_path)},
        check=False,
        capture_output=True,
        text=True,
    )
    assert ended.returncode == (0 if taken else 1)
    said = f"install {address}" if taken else "::error::set the variable BLANKBOOK"
    assert ended.stdout.startswith(said)


@dataclass
class Ran:
    """What came of the steps that were run."""

    codes: list[int]
    out: str
    err: str
    summary: str
    site: Path


class Host:
    """A machine that has fetched a repository, with an installer that notes what it was asked."""

    def __init__(self, folder: Path, whose: str) -> None:
        self.flow = flow_of(whose)
        self.folder = folder
        self.ledger = "" if self.flow["env"]["LEDGER"] == "." else f"{self.flow['env']['LEDGER']}/"
        self.origin = Repository(folder / "origin")
        for path, text in SMALL_LEDGER.items():
            self.origin.write(self.ledger + path, text)
        self.origin.commit("the ledger begins")
        (folder / "bin").mkdir()
        self.tool("pip", f'echo "$@" >> "{folder}/installed"')
        self.tool("blankbook", f'exec "{sys.executable}" -m blankbook "$@"')

    def tool(self, name: str, line: str) -> None:
        """Put a program where the steps find it."""
        place = self.folder / "bin" / name
        place.write_text(f"#!/bin/sh\n{line}\n")
        place.chmod(0o755)

    def branch(self, path: str, old: str, new: str) -> None:
        """Change a file on a branch of its own, as a contributor would."""
        self.origin.git("checkout", "--quiet", "-b", "change")
        place = self.origin.root / self.ledger / path
        text = place.read_text(encoding="utf-8")
        assert old in text
        place.write_text(text.replace(old, new), encoding="utf-8")
        self.origin.commit("a change")
        self.origin.git("checkout", "--quiet", "main")

    def fetched(self) -> Repository:
        """Return the host's clone, on the merge of the branch into main, as for a request."""
        self.origin.git("checkout", "--quiet", "-b", "merge")
        self.origin.git("merge", "--quiet", "--no-ff", "--message", "merge", "change")
        self.origin.git("checkout", "--quiet", "main")
        self.origin.git("clone", "--quiet", str(self.origin.root), str(self.folder / "work"))
        clone = Repository(self.folder / "work")
        clone.git("checkout", "--quiet", "--detach", "origin/merge")
        return clone

    def run(self, root: Path, event: str) -> Ran:
        """Run the steps in order until one fails."""
        summary = self.folder / "summary.md"
        summary.write_text("")
        given = {
            name: value.replace("${{ vars.BLANKBOOK }}", BLANKBOOK)
            for name, value in self.flow["env"].items()
        } | {
            "PATH": f"{self.folder / 'bin'}:{os.environ['PATH']}",
            "HOME": str(self.folder),
            "CI": "true",
            "GITHUB_ACTIONS": "true",
            "GITHUB_STEP_SUMMARY": str(summary),
            "GITHUB_BASE_REF": "main" if event == "pull_request" else "",
        }
        assert "${{" not in str(given)
        ran = Ran([], "", "", "", root / "catalogue")
        for step in self.flow["jobs"]["look"]["steps"]:
            left_out = step.get("if") == ONLY_FOR_PULLS and event != "pull_request"
            if "run" not in step or left_out:
                continue
            script = self.folder / "step.sh"
            script.write_text(step["run"])
            ended = subprocess.run(
                ["bash", "-e", str(script)],
                cwd=root,
                env=given,
                capture_output=True,
                text=True,
                check=False,
            )
            ran.codes.append(ended.returncode)
            ran.out += ended.stdout
            ran.err += ended.stderr
            if ended.returncode:
                break
        ran.summary = summary.read_text(encoding="utf-8")
        return ran


@pytest.mark.seldom(3)
@pytest.mark.parametrize("whose", TEXTS)
def test_a_pull_request_is_reviewed_checked_and_built(tmp_path: Path, whose: str) -> None:
    """The summary says what changes and nothing else of it; the site is there to be looked at."""
    host = Host(tmp_path, whose)
    host.branch(STYLE, "M: {half_chest: 20,", "M: {half_chest: 20 3/4,")
    clone = host.fetched()
    ran = host.run(clone.root, "pull_request")
    assert ran.codes == [0, 0, 0, 0], ran.err
    assert "20 in | 20 3/4 in | \\+3/4 in, +1.9 cm" in ran.summary
    assert "the past is rewritten in 1 file, 1 without a reason" in ran.summary
    assert (ran.site / "index.html").is_file()
    assert not [one for one in ran.site.rglob("*") if one.is_symlink()]
    own = "./" if whose == "this project's" else BLANKBOOK
    assert (tmp_path / "installed").read_text().strip() == f"install {own}"
    assert "\x1b" not in ran.out + ran.err + ran.summary


@pytest.mark.night
def test_what_came_to_main_meanwhile_is_no_change_of_the_request(tmp_path: Path) -> None:
    """A job that is run again days later fetches a newer main than the one it was merged into."""
    host = Host(tmp_path, "a shop's")
    host.branch(STYLE, "H6 heavy tee", "H6 heavy T-shirt")
    clone = host.fetched()
    host.origin.write("suppliers/osierbank.yaml", "supplier: osierbank\nname: Osierbank\n")
    host.origin.commit("meanwhile")
    clone.git("fetch", "--quiet", "origin")
    ran = host.run(clone.root, "pull_request")
    assert "H6 heavy T-shirt" in ran.summary
    assert "osierbank" not in ran.summary


@pytest.mark.parametrize("whose", TEXTS)
def test_a_fault_is_told_beside_its_line_and_in_the_review(tmp_path: Path, whose: str) -> None:
    """The job stops before the site, and the review was written all the same."""
    host = Host(tmp_path, whose)
    host.branch(ROUND, "20 1/8", "'20 1/3\\n::error::x, %25'")
    ran = host.run(host.fetched().root, "pull_request")
    assert ran.codes == [0, 0, 1]
    (line,) = [one for one in ran.out.splitlines() if one.startswith("::")]
    assert line.startswith(f"::error file={host.ledger}{ROUND},line=11,col=")
    assert "title=not-a-length::" in line
    assert "cannot be compared" in ran.summary
    assert not ran.site.exists()


@pytest.mark.night
def test_a_push_to_main_has_no_review(tmp_path: Path) -> None:
    """There is nothing to compare with; it is checked and built."""
    host = Host(tmp_path, "a shop's")
    ran = host.run(host.origin.root, "push")
    assert (ran.codes, ran.summary) == ([0, 0, 0], "")
    assert (ran.site / "index.html").is_file()


@pytest.mark.night
def test_the_request_that_brings_the_ledger_is_reviewed(tmp_path: Path) -> None:
    """Before it there was none: everything came."""
    host = Host(tmp_path, "this project's")
    host.origin.git("rm", "-rq", "ledger")
    host.origin.write("notes.txt", "no ledger yet\n")
    host.origin.commit("no ledger")
    host.origin.git("checkout", "--quiet", "-b", "change")
    for path, text in SMALL_LEDGER.items():
        host.origin.write(f"ledger/{path}", text)
    host.origin.commit("the ledger")
    host.origin.git("checkout", "--quiet", "main")
    ran = host.run(host.fetched().root, "pull_request")
    assert ran.codes == [0, 0, 0, 0], ran.err
    assert "1 blank touched" in ran.summary
