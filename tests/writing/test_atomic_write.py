"""A file is the old one or the new one, whole, whatever happens while it is written."""

import errno
import multiprocessing
import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from blankbook.text.writing import atomic_write
from blankbook.text.writing.atomic_write import (
    AlreadyThereError,
    FileChangedError,
    OutsideLedgerError,
    remove_new_file,
    replace_file,
    write_new_file,
)
from blankbook.text.writing.file_diff import file_patch
from blankbook.text.writing.held_folder import InTheWayError

OLD, NEW = b"old: 1\n" * 40, b"new: 22 1/8\n" * 60
CALLS = ("open", "fdopen", "fsync", "fchmod", "link", "replace", "rename", "mkdir")
"""What writing asks of the system, by the names in ``os``; a path's own calls come down to them."""


def leftovers(folder: Path) -> list[str]:
    """Return what should not be there any more."""
    return sorted(
        place.name for place in folder.iterdir() if place.name.startswith(atomic_write.PART_PREFIX)
    )


def test_a_file_is_replaced_with_its_mode(tmp_path: Path) -> None:
    """And nothing is left beside it."""
    place = tmp_path / "r.yaml"
    place.write_bytes(OLD)
    place.chmod(0o640)
    replace_file(place, OLD, NEW, place.parent)
    assert place.read_bytes() == NEW
    assert place.stat().st_mode & 0o777 == 0o640
    assert sorted(p.name for p in tmp_path.iterdir()) == ["r.yaml"]


def test_a_new_file_has_the_usual_mode_and_never_buries_another(tmp_path: Path) -> None:
    """Of two processes that make it, the second gets an error."""
    place = tmp_path / "new" / "deep" / "r.yaml"
    write_new_file(place, NEW, tmp_path)
    with pytest.raises(AlreadyThereError):
        write_new_file(place, OLD, tmp_path)
    assert place.read_bytes() == NEW
    usual = tmp_path / "usual"
    usual.write_bytes(b"")
    assert place.stat().st_mode == usual.stat().st_mode
    assert leftovers(place.parent) == []


def test_a_file_that_was_changed_meanwhile_is_left_alone(tmp_path: Path) -> None:
    """What somebody else wrote is theirs."""
    place = tmp_path / "r.yaml"
    place.write_bytes(b"theirs")
    with pytest.raises(FileChangedError):
        replace_file(place, OLD, NEW, place.parent)
    assert place.read_bytes() == b"theirs"
    assert leftovers(tmp_path) == []


def test_a_link_keeps_leading_to_its_file(tmp_path: Path) -> None:
    """The file is replaced, and not the link."""
    (tmp_path / "a").mkdir()
    (tmp_path / "a/r.yaml").write_bytes(OLD)
    (tmp_path / "r.yaml").symlink_to(tmp_path / "a/r.yaml")
    replace_file(tmp_path / "r.yaml", OLD, NEW, tmp_path)
    assert (tmp_path / "r.yaml").is_symlink()
    assert (tmp_path / "a/r.yaml").read_bytes() == NEW


def test_a_link_that_leads_out_is_refused(tmp_path: Path) -> None:
    """Of the file, of a folder above it, and of a new file's folder, wherever that leads."""
    ledger, other = tmp_path / "ledger", tmp_path / "other"
    (ledger / "in").mkdir(parents=True)
    other.mkdir()
    (other / "r.yaml").write_bytes(OLD)
    (ledger / "r.yaml").symlink_to(other / "r.yaml")
    (ledger / "out").symlink_to(other)
    (ledger / "alias").symlink_to(ledger / "in")
    for place in (ledger / "r.yaml", ledger / "out/r.yaml", ledger / "../other/r.yaml"):
        with pytest.raises(OutsideLedgerError):
            replace_file(place, OLD, NEW, ledger)
    for place in (ledger / "out/new.yaml", ledger / "out/deep/new.yaml"):
        with pytest.raises(InTheWayError, match="a link is in the way") as told:
            write_new_file(place, NEW, ledger)
        assert told.value.filename == str(ledger / "out")
    assert [path.name for path in other.iterdir()] == ["r.yaml"]
    assert (other / "r.yaml").read_bytes() == OLD
    with pytest.raises(InTheWayError):
        write_new_file(ledger / "alias/new.yaml", NEW, ledger)
    assert list((ledger / "in").iterdir()) == []


def test_links_that_lead_to_each_other_are_told(tmp_path: Path) -> None:
    """As the system tells it, with the name that was meant."""
    for name, other in (("a.yaml", "b.yaml"), ("b.yaml", "a.yaml")):
        (tmp_path / name).symlink_to(tmp_path / other)
    with pytest.raises(OSError, match="symbolic links") as told:
        replace_file(tmp_path / "a.yaml", OLD, NEW, tmp_path)
    assert told.value.errno == errno.ELOOP
    assert told.value.filename == str(tmp_path / "a.yaml")


def test_a_new_file_does_not_go_through_a_link(tmp_path: Path) -> None:
    """A link that leads nowhere is there, and stays."""
    (tmp_path / "r.yaml").symlink_to(tmp_path / "nowhere")
    with pytest.raises(AlreadyThereError):
        write_new_file(tmp_path / "r.yaml", NEW, tmp_path)
    assert not (tmp_path / "nowhere").exists()


def test_a_file_that_nobody_may_write_to_is_left_alone(tmp_path: Path) -> None:
    """Although its folder would let it be replaced."""
    place = tmp_path / "r.yaml"
    place.write_bytes(OLD)
    place.chmod(0o444)
    with pytest.raises(PermissionError, match="not to be written to") as told:
        replace_file(place, OLD, NEW, tmp_path)
    assert told.value.filename == str(place)
    assert place.read_bytes() == OLD


def test_a_new_file_is_taken_back_with_its_folders(tmp_path: Path) -> None:
    """Only those that were made for it, and only while it is what was written."""
    (tmp_path / "kept").mkdir()
    place = tmp_path / "kept/new/deep/r.yaml"
    made = write_new_file(place, NEW, tmp_path)
    remove_new_file(place, NEW, made, tmp_path)
    assert [path.name for path in tmp_path.rglob("*")] == ["kept"]
    made = write_new_file(place, NEW, tmp_path)
    place.write_bytes(OLD)
    remove_new_file(place, NEW, made, tmp_path)
    assert place.read_bytes() == OLD


def test_a_lock_that_is_held_is_told_after_a_while(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """And nothing was written; as soon as it is let go, writing goes on."""
    place = tmp_path / "r.yaml"
    place.write_bytes(OLD)
    monkeypatch.setattr(atomic_write, "LOCK_SECONDS", 0.05)
    handle = os.open(tmp_path, os.O_RDONLY)
    fcntl = pytest.importorskip("fcntl", reason="only Unix has it")
    fcntl.flock(handle, fcntl.LOCK_EX)
    with pytest.raises(OSError, match="somebody else is writing here") as told:
        replace_file(place, OLD, NEW, tmp_path)
    assert told.value.errno == errno.EBUSY
    assert place.read_bytes() == OLD
    os.close(handle)
    replace_file(place, OLD, NEW, tmp_path)
    assert place.read_bytes() == NEW


def test_what_a_killed_run_left_is_swept_away_once_it_is_old(tmp_path: Path) -> None:
    """A young one may belong to somebody who is writing now."""
    old, young = (tmp_path / f"{atomic_write.PART_PREFIX}{name}" for name in ("old", "young"))
    for left in (old, young):
        left.write_bytes(b"half")
    os.utime(old, (1, 1))
    write_new_file(tmp_path / "r.yaml", NEW, tmp_path)
    assert leftovers(tmp_path) == [young.name]


def fail_nth_call(monkeypatch: pytest.MonkeyPatch, name: str, at: int, number: int) -> list[int]:
    """Make one call of a kind fail, by its number; return a list that counts the calls."""
    calls = [0]
    true: Callable[..., Any] = getattr(os, name)

    def instead(*arguments: Any, **more: Any) -> Any:
        calls[0] += 1
        if calls[0] == at:
            raise OSError(number, os.strerror(number))
        return true(*arguments, **more)

    monkeypatch.setattr(os, name, instead)
    return calls


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EACCES, errno.EROFS, errno.EIO])
@pytest.mark.parametrize("name", CALLS)
@pytest.mark.parametrize("at", [1, 2, 3])
@pytest.mark.parametrize("new", [True, False])
def test_a_fault_of_the_system_leaves_old_or_new(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str, at: int, number: int, new: bool
) -> None:
    """At any call there is an error, the file is whole, and nothing is left beside it."""
    place = tmp_path / "r.yaml"
    if not new:
        place.write_bytes(OLD)
    else:
        place = tmp_path / "new/deep/r.yaml"
    with monkeypatch.context() as patched:
        fail_nth_call(patched, name, at, number)
        try:
            if new:
                write_new_file(place, NEW, tmp_path)
            else:
                replace_file(place, OLD, NEW, place.parent)
        except OSError as error:
            assert error.errno == number  # noqa: PT017 - only a fault that was made may be told
            assert error.filename in {str(place), str(place.parent)}  # noqa: PT017 - what is meant
    body = place.read_bytes() if place.exists() else None
    assert body in ((None, NEW) if new else (OLD, NEW))
    assert [path.name for path in tmp_path.rglob("*") if path.is_file()] == [place.name] * bool(
        body
    )
    assert bool(body) == place.parent.exists()


@pytest.mark.parametrize("new", [True, False])
def test_the_disk_is_asked_to_keep_the_bytes_before_the_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, new: bool
) -> None:
    """A power cut then finds the old file or the new one, and each folder that was made."""
    told: list[str] = []
    true = {name: getattr(os, name) for name in ("fsync", "link", "replace")}

    def kept(handle: int) -> str:
        folders = {"top": tmp_path, "a": tmp_path / "a", "b": tmp_path / "a/b"}
        there = {name: folder.stat() for name, folder in folders.items() if folder.exists()}
        held = os.fstat(handle)
        return next((n for n, found in there.items() if os.path.samestat(found, held)), "bytes")

    def noted(name: str) -> Callable[..., Any]:
        def instead(*some: Any, **more: Any) -> Any:
            told.append(f"keep {kept(some[0])}" if name == "fsync" else name)
            return true[name](*some, **more)

        return instead

    place = tmp_path / ("a/b/r.yaml" if new else "r.yaml")
    if not new:
        place.write_bytes(OLD)
    with monkeypatch.context() as patched:
        for name in true:
            patched.setattr(os, name, noted(name))
        if new:
            write_new_file(place, NEW, tmp_path)
        else:
            replace_file(place, OLD, NEW, tmp_path)
    wanted = {
        True: ["keep bytes", "link", "keep b", "keep a", "keep top"],
        False: ["keep bytes", "replace", "keep top"],
    }
    assert told == wanted[new]


def test_on_a_disk_without_links_nothing_is_buried(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A new file gets its name there too, and one that is there stays."""

    def refuse(*_: Any, **_more: Any) -> None:
        raise OSError(errno.EPERM, os.strerror(errno.EPERM))

    monkeypatch.setattr(os, "link", refuse)
    write_new_file(tmp_path / "r.yaml", NEW, tmp_path)
    with pytest.raises(AlreadyThereError):
        write_new_file(tmp_path / "r.yaml", OLD, tmp_path)
    assert (tmp_path / "r.yaml").read_bytes() == NEW
    assert leftovers(tmp_path) == []


def test_a_full_disk_is_told_and_the_old_file_stays(tmp_path: Path) -> None:
    """Where no byte more can be written: the system's own limit of a file's size stands for it."""
    place = tmp_path / "r.yaml"
    place.write_bytes(OLD)
    code = (
        "import resource, signal, sys, pathlib\n"
        "from blankbook.text.writing.atomic_write import replace_file\n"
        "signal.signal(signal.SIGXFSZ, signal.SIG_IGN)\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (100, 100))\n"
        "place = pathlib.Path(sys.argv[1])\n"
        "replace_file(place, place.read_bytes(), b'x' * 1000, place.parent)\n"
    )
    done = subprocess.run([sys.executable, "-c", code, str(place)], capture_output=True)  # noqa: PLW1510
    assert b"File too large" in done.stderr
    assert place.read_bytes() == OLD
    assert leftovers(tmp_path) == []


WRITER = """
import pathlib, sys
from blankbook.text.writing.atomic_write import replace_file
place = pathlib.Path(sys.argv[1])
print("ready", flush=True)
while True:
    old = place.read_bytes()
    number = int(old.split(b"\\n", 1)[0].split(b": ")[1]) + 1
    replace_file(place, old, (b"number: %d\\n" % number) * 2000, place.parent)
"""


def number_of_whole_file(body: bytes) -> int:
    """Return the number that every line of the file says; a half-written one does not."""
    lines = body.splitlines()
    assert len(lines) == 2000
    assert len(set(lines)) == 1
    return int(lines[0].split(b": ")[1])


def test_a_process_killed_at_any_moment_leaves_a_whole_file(tmp_path: Path) -> None:
    """Twenty-five times, at a random moment each."""
    place = tmp_path / "r.yaml"
    place.write_bytes(b"number: 0\n" * 2000)
    dice, last = random.Random(20261125), 0
    for _ in range(25):
        with subprocess.Popen(
            [sys.executable, "-c", WRITER, str(place)], stdout=subprocess.PIPE
        ) as writer:
            assert writer.stdout
            writer.stdout.readline()
            give_up = time.monotonic() + 20
            while number_of_whole_file(place.read_bytes()) == last and time.monotonic() < give_up:
                time.sleep(0.001)
            time.sleep(dice.uniform(0.0, 0.02))
            writer.send_signal(signal.SIGKILL)
        now = number_of_whole_file(place.read_bytes())
        assert now > last
        last = now
    assert last >= 25


def _steps(place: Path, until: int) -> None:
    """Replace a file in a process that dies at one call to the system, by its number."""
    calls = 0
    for name in CALLS:
        true = getattr(os, name)

        def instead(*arguments: Any, _true: Any = true, **more: Any) -> Any:
            nonlocal calls
            calls += 1
            if calls == until:
                os._exit(9)
            return _true(*arguments, **more)

        setattr(os, name, instead)
    replace_file(place, OLD, NEW, place.parent)
    os._exit(0)


def test_a_process_that_dies_between_any_two_calls_leaves_a_whole_file(tmp_path: Path) -> None:
    """Every step is the last one once; after the last of them the new file is there."""
    place = tmp_path / "r.yaml"
    context = multiprocessing.get_context("fork")
    seen = []
    for until in range(1, 40):
        place.write_bytes(OLD)
        child = context.Process(target=_steps, args=(place, until))
        child.start()
        child.join()
        assert place.read_bytes() in (OLD, NEW)
        seen.append(place.read_bytes() == NEW)
        if child.exitcode == 0:
            break
    else:
        raise AssertionError("it never ended by itself")
    assert len(seen) > 4
    assert seen[-1]
    assert seen == sorted(seen)


def _adding(place: Path, name: int) -> None:
    """Add twenty lines to a file, in a process of its own, each until it is said to be written."""
    for count in range(20):
        while True:
            old = place.read_bytes()
            try:
                replace_file(place, old, old + b"%d-%d\n" % (name, count), place.parent)
            except FileChangedError:
                continue
            break
    os._exit(0)


def test_of_some_that_write_at_once_all_but_one_are_told(tmp_path: Path) -> None:
    """No change is lost: each that was said to be written is there, once."""
    place = tmp_path / "r.yaml"
    place.write_bytes(b"")
    context = multiprocessing.get_context("fork")
    children = [context.Process(target=_adding, args=(place, name)) for name in range(4)]
    for child in children:
        child.start()
    for child in children:
        child.join()
    assert [child.exitcode for child in children] == [0] * 4
    wanted = [b"%d-%d\n" % (name, count) for name in range(4) for count in range(20)]
    assert sorted(place.read_bytes().splitlines(keepends=True)) == sorted(wanted)


def test_a_difference_names_file_and_lines() -> None:
    """What a person sees before anything is written; a new file is all new."""
    told = file_patch("a.yaml", b"a: 1\nb: 2", b"a: 1\nb: 3")
    assert told.splitlines()[-4:] == ["-b: 2", "\\ no line end", "+b: 3", "\\ no line end"]
    assert file_patch("a.yaml", None, b"a: 1\n").startswith("--- /dev/null\n+++ b/a.yaml\n")
