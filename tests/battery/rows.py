"""Bad input, a row each: what stands in the ledger, and the one finding that must come of it."""

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


def nothing(_root: Path) -> None:
    """Prepare nothing: the files say it all."""


@dataclass(frozen=True, slots=True)
class Row:
    """One kind of bad input. An empty ``rule`` means that nothing must be found."""

    key: str
    files: Files
    rule: str
    place: str = ""
    """``path:line:column`` of the finding."""
    level: str = "error"
    prepare: Callable[[Path], None] = field(default=nothing)
    """What files alone cannot say: links, folders, rights."""
    others: int = 0
    """How many further findings the row may have, where the mistakes are several."""


def changed(path: str, old: str, new: str, count: int = 1) -> Files:
    """Return the small ledger's file at *path* with one text put for another."""
    assert SMALL_LEDGER[path].count(old) >= 1, f"{old!r} is not in {path}"
    return {path: SMALL_LEDGER[path].replace(old, new, count)}


def added(path: str, text: str) -> Files:
    """Return the small ledger's file at *path* with *text* after its end."""
    return {path: SMALL_LEDGER[path] + text}


def read_as(text: str) -> Files:
    """Return the round with *text* as the half chest of its first piece."""
    return changed(ROUND, "20 1/8", text)


def of_lines(path: str, text: str | bytes) -> Files:
    """Return the file at *path* as *text* and nothing else."""
    return {path: text}


def with_bytes(path: str, old: bytes, new: bytes) -> Files:
    return {path: SMALL_LEDGER[path].encode().replace(old, new, 1)}


def link(path: str, target: str) -> Callable[[Path], None]:
    def prepare(root: Path) -> None:
        (root / path).unlink(missing_ok=True)
        (root / path).symlink_to(target)

    return prepare


def folder(path: str) -> Callable[[Path], None]:
    def prepare(root: Path) -> None:
        (root / path).unlink(missing_ok=True)
        (root / path).mkdir()

    return prepare


def pipe(path: str) -> Callable[[Path], None]:
    def prepare(root: Path) -> None:
        import os

        (root / path).unlink(missing_ok=True)
        os.mkfifo(root / path)

    return prepare


def sparse(path: str) -> Callable[[Path], None]:
    def prepare(root: Path) -> None:
        with (root / path).open("wb") as file:
            file.truncate(1 << 30)

    return prepare


def odd_name(root: Path) -> None:
    """Give the round a name that is not UTF-8."""
    (root / ROUND).rename(root / FOLDER / "2024-02-12-\udcff.yaml")
