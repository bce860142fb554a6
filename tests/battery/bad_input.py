"""Bad input: what stands in the ledger, and the one finding that must come of it."""

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from support import SMALL_LEDGER

SHOP = "shop.yaml"
SUPPLIER = "suppliers/tarn-thrush.yaml"
STYLE = "blanks/tarn-thrush/h6/style.yaml"
FOLDER = "blanks/tarn-thrush/h6"
ROUND = f"{FOLDER}/2024-02-12-first.yaml"

Files = dict[str, str | bytes | None]


def prepare_nothing(_root: Path) -> None:
    """Prepare nothing: the files say it all."""


@dataclass(frozen=True, slots=True)
class BadInput:
    """One kind of bad input. An empty ``rule`` means that there must be no finding."""

    key: str
    files: Files
    rule: str
    place: str = ""
    """``path:line:column`` of the finding."""
    level: str = "error"
    prepare: Callable[[Path], None] = field(default=prepare_nothing)
    """Makes what texts cannot: links, folders, rights."""
    others: int = 0
    """How many further findings there may be, where it holds several mistakes."""


def replaced_in(path: str, old: str, new: str, count: int = 1) -> Files:
    """Return the small ledger's file at *path* with one text replaced by another."""
    assert SMALL_LEDGER[path].count(old) >= 1, f"{old!r} is not in {path}"
    return {path: SMALL_LEDGER[path].replace(old, new, count)}


def appended_to(path: str, text: str) -> Files:
    """Return the small ledger's file at *path* with *text* after its end."""
    return {path: SMALL_LEDGER[path] + text}


def half_chest_of(text: str) -> Files:
    """Return the round with *text* as the half chest of its first piece."""
    return replaced_in(ROUND, "20 1/8", text)


def whole_file(path: str, text: str | bytes) -> Files:
    """Return the file at *path* as *text* and nothing else."""
    return {path: text}


def bytes_replaced_in(path: str, old: bytes, new: bytes) -> Files:
    return {path: SMALL_LEDGER[path].encode().replace(old, new, 1)}


def make_link(path: str, target: str) -> Callable[[Path], None]:
    def prepare(root: Path) -> None:
        (root / path).unlink(missing_ok=True)
        (root / path).symlink_to(target)

    return prepare


def make_folder(path: str) -> Callable[[Path], None]:
    def prepare(root: Path) -> None:
        (root / path).unlink(missing_ok=True)
        (root / path).mkdir()

    return prepare


def make_pipe(path: str) -> Callable[[Path], None]:
    def prepare(root: Path) -> None:
        import os

        (root / path).unlink(missing_ok=True)
        os.mkfifo(root / path)

    return prepare


def make_sparse(path: str) -> Callable[[Path], None]:
    def prepare(root: Path) -> None:
        with (root / path).open("wb") as file:
            file.truncate(1 << 30)

    return prepare


def rename_oddly(root: Path) -> None:
    """Give the round a name that is not UTF-8."""
    (root / ROUND).rename(root / FOLDER / "2024-02-12-\udcff.yaml")
