"""Hearing of each call that changes the disk, so that one of them can be made to fail."""

import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

WRITING = {
    "os.mkdir", "os.rename", "os.link", "os.symlink", "os.remove", "os.rmdir", "os.chmod",
    "os.truncate", "os.utime",
}  # fmt: skip
_hook: Callable[[str], None] | None = None


def _on_event(event: str, arguments: tuple[Any, ...]) -> None:
    """Tell the hook of each call that changes the disk; it may raise in the call's place."""
    if _hook is None:
        return
    if event in WRITING or (event == "open" and _writes(*arguments)):
        _hook(f"{event} {arguments[0]}")


def _writes(_place: object, mode: object, flags: object) -> bool:
    if isinstance(mode, str):
        return bool(set("wxa+") & set(mode))
    return bool(int(str(flags)) & (os.O_WRONLY | os.O_RDWR | os.O_CREAT))


sys.addaudithook(_on_event)  # stays until the process ends, and is deaf while there is no hook


@contextmanager
def heard(hook: Callable[[str], None]) -> Iterator[None]:
    """Call *hook* before every change of the disk."""
    global _hook  # noqa: PLW0603 - an audit hook cannot be removed
    _hook = hook
    try:
        yield
    finally:
        _hook = None


def nth(number: int, act: Callable[[], None]) -> Callable[[str], None]:
    """Return a hook that acts at the call with that *number*, counted from 1."""
    left = [number]

    def hook(_call: str) -> None:
        left[0] -= 1
        if left[0] == 0:
            act()

    return hook
