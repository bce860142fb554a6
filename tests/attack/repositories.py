"""Clones whose settings, links and memories are hostile: nothing runs, nothing leaks."""

import shutil
from collections.abc import Callable
from pathlib import Path

from attack.ledgers import command
from attack.tally import Tally
from building import ROUND, site_files
from made_repositories import Repository
from support import SMALL_LEDGER

RUNS = (
    "core.fsmonitor", "core.pager", "core.editor", "core.sshCommand", "core.askPass",
    "core.gitProxy", "diff.external", "diff.x.textconv", "diff.x.command", "filter.x.clean",
    "filter.x.smudge", "filter.x.process", "gpg.program", "gpg.ssh.program", "credential.helper",
    "sequence.editor", "interactive.diffFilter", "pager.log", "pager.diff", "pager.show",
    "alias.log", "alias.ls-files", "alias.rev-parse", "uploadpack.packObjectsHook",
    "merge.x.driver", "trailer.x.command", "browser.x.cmd", "man.x.cmd", "log.mailmap",
)  # fmt: skip
"""Settings of a repository that name a program, or could."""
ODD = {
    "i18n.logOutputEncoding": ("UTF-16", "UTF-32", "cp1252", "nonsense"),
    "i18n.commitEncoding": ("UTF-16", "cp1252"),
    "core.quotePath": ("true",),
    "log.showSignature": ("true",),
    "log.date": ("relative",),
    "log.decorate": ("full",),
    "format.pretty": ("%x1b[2J%h",),
    "color.ui": ("always",),
    "color.diff": ("always",),
    "diff.noprefix": ("true",),
    "diff.renames": ("copies",),
    "core.abbrev": ("4",),
    "core.worktree": ("/tmp",),
    "core.bare": ("true",),
    "core.symlinks": ("false",),
    "core.ignoreCase": ("true",),
    "core.precomposeUnicode": ("true",),
    "extensions.worktreeConfig": ("true",),
    "include.path": ("/dev/zero", "/etc/passwd"),
    "index.version": ("4",),
}
"""Other settings that could change what git prints, or where it looks."""
LINKS = (
    ".blankbook", ".blankbook/lock", "catalogue", "suppliers/other.yaml", "measuring",
    "blanks/tarn-thrush/h7", "blanks/tarn-thrush/h6/c.png", "shop.yaml", "schemas", ".git/hooks",
)  # fmt: skip
LINES = (("check",), ("vet",), ("build",), ("changes", "HEAD~1"), ("changes", "HEAD~1", "HEAD"),
         ("measuring",), ("enter", ROUND, "--put", "L-black-1.hem_width=20"))  # fmt: skip


def run_repositories(folder: Path) -> Tally:
    """Return how many repositories were tried, and what they got done."""
    tally = Tally("hostile repositories")
    for name in RUNS:
        _try(tally, folder, name, lambda one, name=name: _runs(one, name))  # type: ignore[misc]
    for name, values in ODD.items():
        for value in values:
            _try(
                tally,
                folder,
                f"{name}={value}",
                lambda one, name=name, value=value: one.git("config", name, value),  # type: ignore[misc]
            )
    for path in LINKS:
        for target in ("outside", "outside/keys", "outside/missing", "ledger/suppliers"):
            _try(
                tally,
                folder,
                f"{path} -> {target}",
                lambda one, path=path, target=target: _link(one, path, target),  # type: ignore[misc]
            )
    _try(tally, folder, "hooks", _hooks)
    _try(tally, folder, "tracked memory", _tracked)
    return tally.end()


def _runs(one: Repository, name: str) -> None:
    one.git("config", name, f"touch {one.root.parent / 'ran'}; cat")


def _link(one: Repository, path: str, target: str) -> None:
    place = one.root / path
    if place.is_dir() and not place.is_symlink():
        shutil.rmtree(place)
    place.unlink(missing_ok=True)
    place.parent.mkdir(exist_ok=True)
    place.symlink_to(one.root.parent / target)


def _hooks(one: Repository) -> None:
    for name in ("pre-commit", "post-checkout", "post-index-change", "reference-transaction"):
        hook = one.root / ".git/hooks" / name
        hook.parent.mkdir(exist_ok=True)
        hook.write_text(f"#!/bin/sh\ntouch {one.root.parent / 'ran'}\n")
        hook.chmod(0o755)


def _tracked(one: Repository) -> None:
    command("build", "--ledger", one.root)
    page = one.root / "catalogue/index.html"
    page.write_text(page.read_text().replace("</main>", "FORGED</main>"))
    one.git("add", "--force", "--all")
    one.git("commit", "--quiet", "--message", "forged")


def _try(tally: Tally, folder: Path, name: str, prepare: Callable[[Repository], object]) -> None:
    """Run every command in a repository that was prepared; note what it got done."""
    root, outside = folder / "ledger", folder / "outside"
    for path, text in SMALL_LEDGER.items():
        (root / path).parent.mkdir(parents=True, exist_ok=True)
        (root / path).write_text(text)
    (root / ".gitattributes").write_text("*.yaml diff=x filter=x merge=x\n")
    outside.mkdir()
    (outside / "keys").write_text("the only copy\n")
    one = Repository(root)
    one.commit("one")
    (root / ROUND).write_text(SMALL_LEDGER[ROUND].replace("20 1/8", "20 1/4"))
    one.commit("\x1b[2Jtwo ½")
    prepare(one)
    before = site_files(outside)
    for line in LINES:
        ended = command(*line, "--ledger", root)
        tally.counts["commands"] += 1
        if ended.code not in {0, 1, 2, 3} or "\x1b" in ended.out + ended.err:
            tally.through.append(f"{name}: {line} ended with {ended.code}: {ended.err[:100]!r}")
    tally.counts["repositories"] += 1
    if (folder / "ran").exists():
        tally.through.append(f"{name}: a program ran")
    if site_files(outside) != before:
        tally.through.append(f"{name}: something outside was changed")
    index = root / "catalogue/index.html"
    if index.is_file() and "FORGED" in index.read_text():
        tally.through.append(f"{name}: a forged page was kept")
    for place in folder.iterdir():
        shutil.rmtree(place) if place.is_dir() else place.unlink()
