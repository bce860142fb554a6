"""A child process that draws charts while this one does the rest.

Where only a few blanks have changed, loading what draws takes longer than drawing. So the child is
started before anything else is loaded. When this process knows what is to be drawn, the child can.
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

ChartRequest = tuple[Path, "Sequence[AnyChart]"]
"""The folder to draw into, and the charts."""


@contextmanager
def chart_worker(jobs: int | None) -> "Iterator[ChartWorker]":
    """Give a worker; its child process, if it has one, ends with the block."""
    worker = ChartWorker()
    if can_fork() and (jobs or usable_cores()) > 1:
        worker.start()
    try:
        yield worker
    finally:
        worker.stop()


class ChartWorker:
    """Draws charts in a child process; or in this one, where there is no child or it fails."""

    def __init__(self) -> None:
        self._child: Child[dict[str, str]] | None = None
        self._asked: ChartRequest = Path(), ()

    def start(self) -> None:
        """Start the child, which loads what it needs."""
        reading, writing = os.pipe()
        self._child = Child(lambda: _serve(reading, writing))
        os.close(reading)
        self._pipe = os.fdopen(writing, "wb")

    def request(self, folder: Path, charts: "Sequence[AnyChart]") -> None:
        """Ask for *charts* to be drawn into *folder*, and do not wait for them."""
        self._asked = folder, charts
        if self._child and charts:
            with suppress(BrokenPipeError), self._pipe:  # a child that is gone is noticed below
                pickle.dump(self._asked, self._pipe)

    def wait(self) -> dict[str, str]:
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
    """Load what draws, wait for the request, and draw: this is what the child does."""
    os.close(writing)
    import matplotlib.backends.backend_svg  # noqa: F401

    with os.fdopen(reading, "rb") as pipe:
        return _draw(*pickle.load(pipe))  # noqa: S301 - written by our own parent


def _draw(folder: Path, charts: "Sequence[AnyChart]") -> dict[str, str]:
    from blankbook.build.make_files import write_chart

    return {chart.path: write_chart(folder, chart) for chart in charts}
