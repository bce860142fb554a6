"""A hook before each call that changes the disk, so that one of them can be made to fail."""

import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

WRITING_EVENTS = {
    "os.mkdir", "os.rename", "os.link", "os.symlink", "os.remove", "os.rmdir", "os.chmod",
    "os.truncate", "os.utime",
}  # fmt: skip
_hook: Callable[[str], None] | None = None


def _on_event(event: str, arguments: tuple[Any, ...]) -> None:
    """Run the hook before a call that changes the disk; it may raise instead of the call."""
    if _hook is None:
        return
    if event in WRITING_EVENTS or (event == "open" and _writes(*arguments)):
        _hook(f"{event} {arguments[0]}")


def _writes(_place: object, mode: object, flags: object) -> bool:
    if isinstance(mode, str):
        return bool(set("wxa+") & set(mode))
    return bool(int(str(flags)) & (os.O_WRONLY | os.O_RDWR | os.O_CREAT))


sys.addaudithook(_on_event)  # stays until the process ends, and is deaf while there is no hook


@contextmanager
def before_each_write(hook: Callable[[str], None]) -> Iterator[None]:
    """Call *hook* before every change of the disk."""
    global _hook  # noqa: PLW0603 - an audit hook cannot be removed
    _hook = hook
    try:
        yield
    finally:
        _hook = None


def act_at_call(number: int, act: Callable[[], None]) -> Callable[[str], None]:
    """Return a hook that calls *act* at one call, by its *number* from 1."""
    left = [number]

    def hook(_call: str) -> None:
        left[0] -= 1
        if left[0] == 0:
            act()

    return hook
