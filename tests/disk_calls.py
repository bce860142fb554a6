"""A hook before each call that changes the disk, so that one of them can be made to fail."""

import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

WRITING_EVENTS = {
    "os.mkdir", "os.rename", "os.link", "os.symlink", "os.remove", "os.rmdir", "os.chmod",
    "os.truncate", "os.utime",
}  # fmt: skip
_FOLDER_AT = {
    "os.mkdir": 2, "os.rename": 2, "os.link": 2, "os.remove": 1, "os.rmdir": 1, "os.chmod": 2,
}  # fmt: skip
"""By event: which of its arguments is the open folder that a name is in; -1 stands for none."""
_hook: Callable[[str], None] | None = None


def _on_event(event: str, arguments: tuple[Any, ...]) -> None:
    """Run the hook before a call that changes the disk; it may raise instead of the call."""
    if _hook is None:
        return
    if event in WRITING_EVENTS or (event == "open" and _writes(*arguments)):
        at = _FOLDER_AT.get(event)
        folder = _opened_from[-1] if event == "open" else arguments[at] if at else None
        _hook(f"{event} {_whole(str(arguments[0]), folder)}")


_opened_from: list[int | None] = [None]
_open = os.open


def _open_noted(*some: Any, dir_fd: int | None = None, **more: Any) -> int:
    """Open a file, and note the folder that it is opened from: the event does not say that."""
    _opened_from.append(dir_fd)
    try:
        return _open(*some, dir_fd=dir_fd, **more)
    finally:
        _opened_from.pop()


def _whole(place: str, folder: int | None) -> str:
    """Return the whole path of a name in an open folder, where the system tells that."""
    own = f"/proc/self/fd/{folder}"
    here = folder not in {None, -1} and not Path(place).is_absolute() and Path(own).is_symlink()
    return f"{Path(own).readlink()}/{place}" if here else place


def _writes(_place: object, mode: object, flags: object) -> bool:
    if isinstance(mode, str):
        return bool(set("wxa+") & set(mode))
    return bool(int(str(flags)) & (os.O_WRONLY | os.O_RDWR | os.O_CREAT))


sys.addaudithook(_on_event)  # stays until the process ends, and is deaf while there is no hook


@contextmanager
def before_each_write(hook: Callable[[str], None]) -> Iterator[None]:
    """Call *hook* before every change of the disk."""
    global _hook
    _hook, os.open = hook, _open_noted
    try:
        yield
    finally:
        _hook, os.open = None, _open


def act_at_call(number: int, act: Callable[[], None]) -> Callable[[str], None]:
    """Return a hook that calls *act* at one call, by its *number* from 1."""
    left = [number]

    def hook(_call: str) -> None:
        left[0] -= 1
        if left[0] == 0:
            act()

    return hook
