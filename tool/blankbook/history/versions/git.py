"""The one door to git: nothing that a repository says may run a program.

It reads, and writes nothing but a new repository where a person asks for one. A ledger may be
cloned from anywhere. So git uses no hook, pager, alias, file watcher, text conversion or credential
helper of its configuration, takes no lock, asks no remote, and gets every name as a name.
"""

import os
from collections.abc import Sequence
from pathlib import Path

TIMEOUT_SECONDS = 60
"""A call that takes longer is given up."""
# Each of these keys, set in a repository's own configuration, would run a program, write to the
# repository, or change what is printed.
_OVERRIDES = (
    *("-c", "core.hooksPath=/dev/null", "-c", "core.fsmonitor=false", "-c", "core.pager=cat"),
    *("-c", "core.untrackedCache=false", "-c", "log.showSignature=false", "-c", "gc.auto=0"),
    *("-c", "diff.external=", "-c", "protocol.allow=never", "-c", "core.quotePath=false"),
    *("-c", "i18n.logOutputEncoding=UTF-8"),
    *("-c", "log.showRoot=true", "-c", "log.follow=false"),
    *("-c", "submodule.recurse=false", "-c", "log.mailmap=false", "-c", "maintenance.auto=false"),
)
_OUR_ENVIRONMENT = {
    "LC_ALL": "C",
    "GIT_OPTIONAL_LOCKS": "0",
    "GIT_TERMINAL_PROMPT": "0",
    "GIT_NO_LAZY_FETCH": "1",
    "GIT_NO_REPLACE_OBJECTS": "1",
    "GIT_ALLOW_PROTOCOL": "",
    "GIT_PAGER": "cat",
}
_PASSED_ON = {"PATH", "HOME", "SYSTEMROOT", "TMPDIR", "XDG_CONFIG_HOME"}
"""What git gets of our own environment. A hook sets ``GIT_DIR`` and its like, which would send git
to another repository."""


class GitError(Exception):
    """Git cannot answer here; the message says why."""


def run_git(root: Path, *arguments: str, stdin: bytes = b"") -> bytes:
    """Return what git prints about the repository that *root* is in.

    Raises: GitError where there is no git, no repository, or no answer.
    """
    import subprocess

    command = ["git", "-C", str(root), "--no-pager", "--no-optional-locks", *_OVERRIDES, *arguments]
    try:
        done = subprocess.run(  # noqa: S603 - no shell, and the names are arguments
            command,
            check=False,
            input=stdin,
            capture_output=True,
            env=_environment(),
            timeout=TIMEOUT_SECONDS,
        )
    except FileNotFoundError:
        raise GitError("git is not installed") from None
    except subprocess.TimeoutExpired:
        raise GitError(f"git gave no answer within {TIMEOUT_SECONDS} s") from None
    if done.returncode:
        raise GitError(_first_line(done.stderr) or f"git ended with {done.returncode}")
    return done.stdout


def make_repository(root: Path) -> bool:
    """Make *root* a git repository; return False where it is inside one already.

    Raises: GitError where there is no git, or it refuses; InTheWayError where `.git` is a link.
    """
    from blankbook.text.writing.held_folder import InTheWayError

    if (root / ".git").is_symlink():
        raise InTheWayError(root / ".git")
    try:
        if run_git(root, "rev-parse", "--is-inside-work-tree").strip() == b"true":
            return False
    except GitError as error:
        if "not a git repository" not in str(error):
            raise
    # a template could bring hooks into the new repository
    run_git(root, "-c", "init.templateDir=", "init", "--quiet", "--initial-branch=main")
    return True


def _environment() -> dict[str, str]:
    ours = {name: value for name, value in os.environ.items() if name in _PASSED_ON}
    return ours | _OUR_ENVIRONMENT


def is_shallow(root: Path) -> bool:
    """Say whether only a part of the history was fetched.

    Raises: GitError.
    """
    return run_git(root, "rev-parse", "--is-shallow-repository").strip() == b"true"


def _first_line(printed: bytes) -> str:
    lines = printed.decode("utf-8", "replace").strip().splitlines()
    return lines[0].removeprefix("fatal: ") if lines else ""


def nul_separated(printed: bytes) -> Sequence[str]:
    """Return the texts between NULs; bytes that are no UTF-8 are kept as such."""
    return [part.decode("utf-8", "surrogateescape") for part in printed.split(b"\0")]
