"""A helper that draws while we do the rest.

Where only a few blanks have changed, loading what draws takes longer than drawing. So a child is
started before anything else is loaded; by the time that we know what is to be drawn, it can.
"""

import os
import pickle
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING

from blankbook.records.processes import Child, ChildFailedError, can_fork, usable_cores

if TYPE_CHECKING:
    from blankbook.pages.page_spec import AnyChart

Asked = tuple[Path, "Sequence[AnyChart]"]


@contextmanager
def drawing(jobs: int | None) -> "Iterator[Drawer]":
    """Give a helper; its child, if it has one, ends with the block."""
    drawer = Drawer()
    if can_fork() and (jobs or usable_cores()) > 1:
        drawer.start()
    try:
        yield drawer
    finally:
        drawer.stop()


class Drawer:
    """Charts drawn by a child; or here, where there is none or it fails."""

    def __init__(self) -> None:
        self._child: Child[dict[str, str]] | None = None
        self._asked: Asked = Path(), ()

    def start(self) -> None:
        """Start the child, which loads what it needs."""
        reading, writing = os.pipe()
        self._child = Child(lambda: _serve(reading, writing))
        os.close(reading)
        self._pipe = os.fdopen(writing, "wb")

    def ask(self, folder: Path, charts: "Sequence[AnyChart]") -> None:
        """Have *charts* drawn into *folder*, and go on meanwhile."""
        self._asked = folder, charts
        if self._child and charts:
            with suppress(BrokenPipeError), self._pipe:  # a child that is gone is noticed below
                pickle.dump(self._asked, self._pipe)

    def drawn(self) -> dict[str, str]:
        """Wait for the charts; return the hash of each by its path.

        Raises: OSError.
        """
        if self._child and self._asked[1]:
            child, self._child = self._child, None
            with suppress(ChildFailedError):
                return child.value()
        return _draw(*self._asked)

    def stop(self) -> None:
        """End the child if it is still there."""
        if self._child:
            with suppress(BrokenPipeError):
                self._pipe.close()
            self._child.stop()
            self._child = None


def _serve(reading: int, writing: int) -> dict[str, str]:
    """Be the child: load, wait to be asked, draw."""
    os.close(writing)
    import matplotlib.backends.backend_svg  # noqa: F401

    with os.fdopen(reading, "rb") as pipe:
        return _draw(*pickle.load(pipe))  # noqa: S301 - written by our own parent


def _draw(folder: Path, charts: "Sequence[AnyChart]") -> dict[str, str]:
    from blankbook.build.make_files import draw_into

    return {chart.path: draw_into(folder, chart) for chart in charts}
