"""The same function over many things, on more than one core where that pays."""

import gc
import os
import pickle
import signal
import sys
import warnings
from collections.abc import Callable, Sequence
from typing import Any, Generic, NoReturn, TypeVar

Item = TypeVar("Item")
Value = TypeVar("Value")


def cores() -> int:
    """Return the number of cores that this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def can_fork() -> bool:
    """Say whether a copy of this process is cheap and safe."""
    return hasattr(os, "fork") and sys.platform != "darwin"  # where system libraries forbid it


class ChildFailed(Exception):  # noqa: N818 - what happened
    """A child ended without its value."""


class Child(Generic[Value]):
    """A copy of this process that does one piece of work, and hands back what comes of it."""

    def __init__(self, work: Callable[[], Value]) -> None:
        self._reading, writing = os.pipe()
        with warnings.catch_warnings():
            # Newer Pythons warn of threads at a fork: numpy's, which know how to be forked.
            warnings.simplefilter("ignore", DeprecationWarning)
            self._number = os.fork()
        if self._number == 0:
            _work(work, self._reading, writing)
        os.close(writing)

    def value(self) -> Value:
        """Wait for the value.

        Raises: ChildFailed.
        """
        try:
            with os.fdopen(self._reading, "rb") as stream:
                body = stream.read()
        except BaseException:
            os.kill(self._number, signal.SIGKILL)
            raise
        finally:
            _, status = os.waitpid(self._number, 0)
        if status != 0:
            raise ChildFailed
        made: Value = pickle.loads(body)  # noqa: S301 - written by our own child
        return made

    def stop(self) -> None:
        """End it; nobody waits for its value any more."""
        os.close(self._reading)
        os.kill(self._number, signal.SIGKILL)
        os.waitpid(self._number, 0)


def _work(work: Callable[[], Any], reading: int, writing: int) -> NoReturn:
    """Be a child: work, write what comes of it, and end without any of the parent's tidying."""
    code = 1
    try:
        os.close(reading)
        gc.freeze()
        body = pickle.dumps(work(), protocol=pickle.HIGHEST_PROTOCOL)
        with os.fdopen(writing, "wb") as pipe:
            pipe.write(body)
        code = 0
    finally:
        os._exit(code)


def in_processes(
    items: Sequence[Item], work: Callable[[Item], Value], workers: int | None, *, worth: bool
) -> list[Value]:
    """Return ``work(item)`` for every item, in order.

    One process a core, forked, each taking every n-th item; its values come back through a pipe. A
    child that fails is done again here, so that its error is seen where it can be told. No child
    outlives an error or an interrupt here.
    """
    count = min(workers or cores(), len(items))
    if count < 2 or not worth or not can_fork():
        return [work(item) for item in items]
    shares = [items[place::count] for place in range(count)]
    children: list[Child[list[Value]]] = []
    try:
        for share in shares[1:]:
            children.append(Child(lambda share=share: [work(item) for item in share]))  # type: ignore[misc] # noqa: PERF401
        parts = [[work(item) for item in shares[0]]]
        for share in shares[1:]:
            parts.append(_collect(children.pop(0), share, work))  # noqa: PERF401
    finally:
        for child in children:
            child.stop()
    return [parts[place % count][place // count] for place in range(len(items))]


def _collect(
    child: Child[list[Value]], share: Sequence[Item], work: Callable[[Item], Value]
) -> list[Value]:
    try:
        return child.value()
    except ChildFailed:
        return [work(item) for item in share]
