"""The same function over many items, on more than one core where that saves time."""

import contextlib
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


def usable_cores() -> int:
    """Return the number of cores that this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def can_fork() -> bool:
    """Say whether this process can be copied cheaply and safely."""
    # On macOS, system libraries may crash in a copy.
    return hasattr(os, "fork") and sys.platform != "darwin"


class ChildFailedError(Exception):
    """A child ended without its value."""


class Child(Generic[Value]):
    """A copy of this process that does one piece of work and sends back its value.

    Only where `can_fork` says so.
    """

    def __init__(self, work: Callable[[], Value]) -> None:
        self._reading, writing = os.pipe()
        parent = os.getpid()
        with warnings.catch_warnings():
            # Newer Pythons warn of threads at a fork: numpy's, which know how to be forked.
            warnings.simplefilter("ignore", DeprecationWarning)
            self._number = os.fork()
        if self._number == 0:
            _end_with(parent)
            _work_as_child(work, self._reading, writing)
        os.close(writing)

    def value(self) -> Value:
        """Wait for the value.

        Raises: ChildFailedError.
        """
        try:
            with os.fdopen(self._reading, "rb") as stream:
                body = stream.read()
        except BaseException:  # also an interrupt: the child must not go on alone
            os.kill(self._number, signal.SIGKILL)
            raise
        finally:
            _, status = os.waitpid(self._number, 0)
        if status != 0:
            raise ChildFailedError
        made: Value = pickle.loads(body)  # noqa: S301 - written by our own child
        return made

    def stop(self) -> None:
        """End the child; its value is no longer wanted."""
        os.close(self._reading)
        os.kill(self._number, signal.SIGKILL)
        os.waitpid(self._number, 0)


_PARENT_DEATH_SIGNAL = 1
"""What Linux calls PR_SET_PDEATHSIG (prctl(2))."""


def _end_with(parent: int) -> None:
    """Have the system end this child with its *parent*, where it can.

    The child of a killed build would else go on drawing into a folder that the next build sweeps.
    """
    if sys.platform.startswith("linux"):
        import ctypes

        with contextlib.suppress(OSError, AttributeError):
            ctypes.CDLL(None).prctl(_PARENT_DEATH_SIGNAL, signal.SIGKILL)
        if os.getppid() != parent:  # it was killed before it could be asked for
            os._exit(1)


def _work_as_child(work: Callable[[], Any], reading: int, writing: int) -> NoReturn:
    """Do the work of a child, send its value, and exit without the parent's clean-up."""
    code = 1
    try:
        os.close(reading)
        gc.freeze()  # looking at the parent's objects would copy their memory
        body = pickle.dumps(work(), protocol=pickle.HIGHEST_PROTOCOL)
        with os.fdopen(writing, "wb") as pipe:
            pipe.write(body)
        code = 0
    finally:
        os._exit(code)


def map_in_processes(
    items: Sequence[Item], work: Callable[[Item], Value], workers: int | None, *, worth: bool
) -> list[Value]:
    """Return ``work(item)`` for every item, in order.

    A process for each core takes every n-th item, and sends its values back through a pipe. The
    work of a child that fails is done again in this process, so that its error is raised here. No
    child outlives an error or an interrupt.
    """
    count = min(workers or usable_cores(), len(items))
    if count < 2 or not worth or not can_fork():
        return [work(item) for item in items]
    shares = [items[place::count] for place in range(count)]
    children: list[Child[list[Value]]] = []
    try:
        for share in shares[1:]:
            children.append(Child(lambda share=share: [work(item) for item in share]))  # type: ignore[misc] # noqa: PERF401
        parts = [[work(item) for item in shares[0]]]
        for share in shares[1:]:
            parts.append(_value_or_redo(children.pop(0), share, work))  # noqa: PERF401
    finally:
        for child in children:
            child.stop()
    return [parts[place % count][place // count] for place in range(len(items))]


def _value_or_redo(
    child: Child[list[Value]], share: Sequence[Item], work: Callable[[Item], Value]
) -> list[Value]:
    try:
        return child.value()
    except ChildFailedError:
        return [work(item) for item in share]
