"""Break a build at every single call that changes something on the disk, one after the other.

``python every_call.py LEDGER full|kill|stop FIRST STEP`` where LEDGER has a site in ``catalogue``,
made before the last change to a record. For every n after FIRST, by STEP, a child of this process
builds; at its n-th such call the disk is full from then on, the process is killed, or it is
interrupted. Prints a line for everything that was not as it must be, then how many calls it was.
"""

import contextlib
import errno
import os
import shutil
import signal
import sys
from pathlib import Path
from typing import Any

from blankbook.build import build_site

_CHANGES = {
    "os.mkdir",
    "os.rename",
    "os.link",
    "os.symlink",
    "os.remove",
    "os.rmdir",
    "os.chmod",
    "os.utime",
    "os.truncate",
}
_FREES = {"os.remove", "os.rmdir"}
"""What still works on a full disk."""
_WRITING = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC
PUBLISHED, FULL = 0, 3


def contents(site: Path) -> dict[str, bytes]:
    """Return every file of a site."""
    return {
        path.relative_to(site).as_posix(): path.read_bytes()
        for path in sorted(site.rglob("*"))
        if path.is_file()
    }


class Breaker:
    """Counts the calls that change something, and breaks the n-th."""

    def __init__(self, how: str, at: int) -> None:
        self.how, self.at, self.calls = how, at, 0

    def __call__(self, event: str, arguments: tuple[Any, ...]) -> None:
        """Look at one event of the interpreter, before it happens."""
        if not _changes(event, arguments):
            return
        self.calls += 1
        if self.how == "full" and self.calls >= self.at and event not in _FREES:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), str(arguments[0]))
        if self.how == "kill" and self.calls == self.at:
            os.kill(os.getpid(), signal.SIGKILL)
        if self.how == "stop" and self.calls == self.at:
            raise KeyboardInterrupt


def _changes(event: str, arguments: tuple[Any, ...]) -> bool:
    if event == "open":
        path, _, flags = arguments
        return bool(flags & _WRITING) and path != os.devnull
    return event in _CHANGES


def build_broken(root: Path, breaker: Breaker) -> int:
    """Build in a child whose calls go through *breaker*; return how it ended."""
    child = os.fork()
    if child:
        return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    code = 1
    try:
        sys.addaudithook(breaker)
        build_site.build_site(root, root / "catalogue", jobs=1)
        code = PUBLISHED if breaker.calls >= breaker.at else 99
    except OSError as error:
        code = FULL if error.errno == errno.ENOSPC else 1
    except KeyboardInterrupt:
        code = 130
    finally:
        os._exit(code)


def main(root: Path, how: str, first: int, step: int) -> None:
    """Break the build at every call, or at those of a share."""
    site, aside = root / "catalogue", root / "aside"
    before = Aside(root, aside)
    build_site.build_site(root, root.parent / "fresh", fresh=True)
    old, new = contents(site), contents(root.parent / "fresh")
    assert old != new
    before.keep()
    allowed = {"full": {FULL, PUBLISHED}, "kill": {-signal.SIGKILL}, "stop": {130, PUBLISHED}}[how]
    for at in range(first + 1, 10_000, step):
        before.bring_back()
        code = build_broken(root, Breaker(how, at))
        if code == 99:
            print(at - 1, "calls")  # noqa: T201 - a script
            return
        for wrong in _wrong(root, how, code, allowed, (old, new)):
            print(f"call {at}: {wrong}")  # noqa: T201 - a script


def _wrong(root: Path, how: str, code: int, allowed: set[int], sites: tuple[Any, Any]) -> list[str]:
    """Return what is not as it must be after one broken build."""
    wrong = [] if code in allowed else [f"it ended with {code}"]
    if contents(root / "catalogue") not in sites:
        wrong.append("the site is neither the old one nor the new one")
    left = list(root.glob("catalogue.*"))
    if left and how == "full":  # an interrupt of the tidying itself leaves something
        wrong.append(f"left behind: {[file.name for file in left]}")
    try:
        build_site.build_site(root, root / "catalogue", jobs=1)
    except Exception as error:
        wrong.append(f"the next build fails: {error!r}")
    if contents(root / "catalogue") != sites[1]:
        wrong.append("the next build is not the new site")
    if list(root.glob("catalogue.*")):
        wrong.append("the next build does not tidy up")
    return wrong


class Aside:
    """The old site and what is known of it, to start from again and again."""

    def __init__(self, root: Path, aside: Path) -> None:
        self.places = [(root / name, aside / name) for name in ("catalogue", ".blankbook")]

    def keep(self) -> None:
        """Copy everything aside."""
        for place, kept in self.places:
            _mirror(place, kept)

    def bring_back(self) -> None:
        """Copy everything back, times included, and remove what else there is."""
        for left in self.places[0][0].parent.glob("catalogue.*"):
            shutil.rmtree(left)
        for place, kept in self.places:
            _mirror(kept, place)


def _mirror(source: Path, target: Path) -> None:
    with contextlib.suppress(FileNotFoundError):
        shutil.rmtree(target)
    shutil.copytree(source, target)


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2], int(sys.argv[3]), int(sys.argv[4]))
