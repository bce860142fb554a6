"""The same function over many things, on more than one core where that pays."""

import gc
import multiprocessing
import os
import pickle
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
    return "fork" in multiprocessing.get_all_start_methods() and os.name == "posix"


def in_processes(
    items: Sequence[Item], work: Callable[[Item], Value], workers: int | None, *, worth: bool
) -> list[Value]:
    """Return ``work(item)`` for every item, in order.

    One process a core, forked, each taking every n-th item; its values come back through a pipe. A
    child that fails is done again here, so that its error is seen where it can be told.
    """
    count = min(workers or cores(), len(items))
    if count < 2 or not worth or not can_fork():
        return [work(item) for item in items]
    children = [_start(items[place::count], work) for place in range(1, count)]
    values: list[Value | None] = [None] * len(items)
    values[0::count] = [work(item) for item in items[0::count]]
    for place, (child, pipe) in enumerate(children, start=1):
        values[place::count] = _collect(child, pipe, items[place::count], work)
    return values  # type: ignore[return-value]


def _start(items: Sequence[Item], work: Callable[[Item], Value]) -> tuple[int, int]:
    """Fork a child that works on *items*; return its number and the pipe that it writes to."""
    reading, writing = os.pipe()
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
    with os.fdopen(pipe, "rb") as stream:
        body = stream.read()
    _, status = os.waitpid(child, 0)
    if status != 0:
        return [work(item) for item in items]
    values: list[Value] = pickle.loads(body)  # noqa: S301 - written by our own child
    return values
