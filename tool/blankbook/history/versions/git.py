"""The one door to git: nothing that a repository says may run a program.

It reads, and writes nothing but a new repository where a person asks for one. A ledger may be
cloned from anywhere. So no hook, pager, alias, file watcher, text conversion or
credential helper of its configuration is used, no lock is taken, no remote is asked, and every
name goes in as a name.
"""

import os
from collections.abc import Sequence
from pathlib import Path

SECONDS = 60
"""A call that takes longer is given up."""
_QUIET = (
    *("-c", "core.hooksPath=/dev/null", "-c", "core.fsmonitor=false", "-c", "core.pager=cat"),
    *("-c", "core.untrackedCache=false", "-c", "log.showSignature=false", "-c", "gc.auto=0"),
    *("-c", "diff.external=", "-c", "protocol.allow=never", "-c", "core.quotePath=false"),
    *("-c", "log.showRoot=true", "-c", "log.follow=false"),
    *("-c", "submodule.recurse=false", "-c", "log.mailmap=false", "-c", "maintenance.auto=false"),
)
_MINE = {
    "LC_ALL": "C",
    "GIT_OPTIONAL_LOCKS": "0",
    "GIT_TERMINAL_PROMPT": "0",
    "GIT_NO_LAZY_FETCH": "1",
    "GIT_NO_REPLACE_OBJECTS": "1",
    "GIT_ALLOW_PROTOCOL": "",
    "GIT_PAGER": "cat",
}
_KEPT = {"PATH", "HOME", "SYSTEMROOT", "TMPDIR", "XDG_CONFIG_HOME"}


class NoGit(Exception):  # noqa: N818 - what happened
    """Git cannot answer here: why, in words."""


def run_git(root: Path, *arguments: str, given: bytes = b"") -> bytes:
    """Return what git prints about the repository that *root* is in; *given* is its input.

    Raises: NoGit where there is no git, no repository, or no answer.
    """
    import subprocess

    command = ["git", "-C", str(root), "--no-pager", "--no-optional-locks", *_QUIET, *arguments]
    try:
        done = subprocess.run(  # noqa: S603 - no shell, and the names are arguments
            command,
            check=False,
            input=given,
            capture_output=True,
            env=_environment(),
            timeout=SECONDS,
        )
    except FileNotFoundError:
        raise NoGit("git is not installed") from None
    except subprocess.TimeoutExpired:
        raise NoGit(f"git gave no answer within {SECONDS} s") from None
    if done.returncode:
        raise NoGit(_first_line(done.stderr) or f"git ended with {done.returncode}")
    return done.stdout


def make_repository(root: Path) -> bool:
    """Make *root* a git repository; return False where it is inside one already.

    Raises: NoGit where there is no git, or it refuses.
    """
    try:
        if run_git(root, "rev-parse", "--is-inside-work-tree").strip() == b"true":
            return False
    except NoGit as error:
        if "not a git repository" not in str(error):
            raise
    run_git(root, "-c", "init.templateDir=", "init", "--quiet", "--initial-branch=main")
    return True


def _environment() -> dict[str, str]:
    """Return the environment without anything that would send git elsewhere."""
    return {name: value for name, value in os.environ.items() if name in _KEPT} | _MINE


def _first_line(said: bytes) -> str:
    lines = said.decode("utf-8", "replace").strip().splitlines()
    return lines[0].removeprefix("fatal: ") if lines else ""


def fields(printed: bytes) -> Sequence[str]:
    """Return the texts between NULs; bytes that are no UTF-8 are kept as such."""
    return [part.decode("utf-8", "surrogateescape") for part in printed.split(b"\0")]
