"""The same function over many things, on more than one core where that pays."""

import gc
import os
import pickle
import signal
import sys
import warnings
from collections.abc import Callable, Sequence
from typing import TypeVar

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
    children: list[tuple[int, int]] = []
    values: list[Value | None] = [None] * len(items)
    try:
        children.extend(_start(items[place::count], work) for place in range(1, count))
        values[0::count] = [work(item) for item in items[0::count]]
        for place in range(1, count):
            values[place::count] = _collect(*children.pop(0), items[place::count], work)
    finally:
        for child, pipe in children:
            _stop(child, pipe)
    return values  # type: ignore[return-value]


def _stop(child: int, pipe: int) -> None:
    """End a child whose values nobody waits for any more."""
    os.close(pipe)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)


def _start(items: Sequence[Item], work: Callable[[Item], Value]) -> tuple[int, int]:
    """Fork a child that works on *items*; return its number and the pipe that it writes to."""
    reading, writing = os.pipe()
    with warnings.catch_warnings():
        # Newer Pythons warn of threads at a fork: numpy's, which know how to be forked.
        warnings.simplefilter("ignore", DeprecationWarning)
        child = os.fork()
    if child:
        os.close(writing)
        return child, reading
    code = 1
    try:
        os.close(reading)
        gc.freeze()
        body = pickle.dumps([work(item) for item in items], protocol=pickle.HIGHEST_PROTOCOL)
        with os.fdopen(writing, "wb") as pipe:
            pipe.write(body)
        code = 0
    finally:
        os._exit(code)


def _collect(
    child: int, pipe: int, items: Sequence[Item], work: Callable[[Item], Value]
) -> list[Value]:
    try:
        with os.fdopen(pipe, "rb") as stream:
            body = stream.read()
    except BaseException:
        os.kill(child, signal.SIGKILL)
        raise
    finally:
        _, status = os.waitpid(child, 0)
    if status != 0:
        return [work(item) for item in items]
    values: list[Value] = pickle.loads(body)  # noqa: S301 - written by our own child
    return values
