"""A folder for a while: gone at the end, and swept where a killed run has left one."""

import os
import tempfile
from pathlib import Path

import pytest

from blankbook.text.writing.scratch_folder import SCRATCH_PREFIX, scratch_folder


def test_what_killed_runs_left_is_removed_once_it_is_old(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A young one may be in use; a log, a link and a folder of another name are no leftovers."""
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    old, young, other = (tmp_path / f"{name}x" for name in (SCRATCH_PREFIX, "blankbook-y", "mine-"))
    for folder in (old, young, other):
        (folder / "ledger").mkdir(parents=True)
    (tmp_path / "blankbook-1.log").write_text("kept")
    (tmp_path / "blankbook-link").symlink_to(other)
    for place in (old, other, tmp_path / "blankbook-1.log"):
        os.utime(place, (1, 1))
    with scratch_folder() as folder:
        assert folder.is_dir()
        assert not list(folder.iterdir())
    left = {place.name for place in tmp_path.iterdir()}
    assert left == {young.name, other.name, "blankbook-1.log", "blankbook-link"}
    assert (other / "ledger").is_dir()
