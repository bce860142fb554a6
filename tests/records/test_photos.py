"""Photos beside a round: pictures in its own folder, by their bytes and not by their name alone."""

import io
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from battery.bad_input import FOLDER, ROUND, appended_to
from blankbook.records.load_ledger import load_ledger
from blankbook.text.photo_files import MOST_PHOTO_BYTES
from support import LedgerMaker


def picture_bytes(
    form: str, size: tuple[int, int] = (8, 8), *, mode: str = "RGB", **settings: Any
) -> bytes:
    """Return a picture of one form and colour."""
    stream = io.BytesIO()
    Image.new(mode, size, "white").save(stream, form, **settings)
    return stream.getvalue()


PNG, JPEG, WEBP = (picture_bytes(form) for form in ("PNG", "JPEG", "WEBP"))
MOVING = picture_bytes("PNG", save_all=True, append_images=[Image.new("RGB", (8, 8), "red")])
HUGE = picture_bytes("PNG", (9000, 9000), mode="1")
MESSAGES = {
    "leaves": "a photo must stay in this folder or below it",
    "missing": "there is no such photo",
    "link": "a photo must not be a link",
    "plain": "a photo must be a plain file",
    "size": "a photo must be at most 10 MiB, which is 10,485,760 bytes, and not empty",
    "kind": "a photo must be a jpeg, png or webp picture with that ending",
    "still": "a photo must stand still",
    "pixels": "a png photo must be at most 32 million pixels",
    "damaged": "a photo must be a picture that can be read",
}


def photo_messages(root: Path) -> list[str]:
    """Return the messages about the ledger's photos, without the names that they end with."""
    found = load_ledger(root, workers=1).findings
    assert all(
        (finding.rule, finding.path, finding.line) == ("wrong-photo", ROUND, 17)
        for finding in found
    )
    return [finding.message.partition(":")[0].partition(", found")[0] for finding in found]


def ledger_with_photo(maker: LedgerMaker, name: str, content: bytes | None) -> Path:
    """Return a ledger whose round names a photo, which has this content if it has any."""
    text = appended_to(ROUND, f"photos:\n  - {{file: '{name}', shows: collar}}\n")
    return maker(text | ({f"{FOLDER}/{name}": content} if content is not None else {}))


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("c.png", PNG),
        ("c.PNG", PNG),
        ("c.jpg", JPEG),
        ("c.jpeg", JPEG),
        ("c.webp", WEBP),
        ("collars/left side.png", PNG),
        ("c.png", PNG.ljust(MOST_PHOTO_BYTES, b"x")),
    ],
)
def test_a_picture_in_the_rounds_folder_is_fine(
    name: str, content: bytes, ledger_factory: LedgerMaker
) -> None:
    """Beside the file or in a folder below, up to the very limit."""
    assert photo_messages(ledger_with_photo(ledger_factory, name, content)) == []


@pytest.mark.parametrize(
    ("name", "content", "said"),
    [
        ("c.png", None, "missing"),
        ("../c.png", PNG, "leaves"),
        ("a/../../c.png", None, "leaves"),
        ("/etc/passwd", None, "leaves"),
        ("file:///etc/passwd", None, "leaves"),
        ("https://example.org/c.png", None, "leaves"),
        ("C:c.png", None, "leaves"),
        ("a\\c.png", None, "leaves"),
        ("a//c.png", None, "leaves"),
        ("c.png", b"", "size"),
        ("c.png", PNG.ljust(MOST_PHOTO_BYTES + 1, b"x"), "size"),
        ("c.jpg", b"<html><script>", "kind"),
        ("c.svg", b"<svg/>", "kind"),
        ("c.jpg", PNG, "kind"),
        ("c.png", JPEG, "kind"),
        ("c", PNG, "kind"),
        ("c.png", MOVING, "still"),
        ("c.png", HUGE, "pixels"),
        ("c.png", PNG[:50], "damaged"),
        ("c.jpg", JPEG[:300], "damaged"),
        ("c.webp", WEBP[:40], "damaged"),
        ("c.png", b"\x89PNG\r\n\x1a\n" + b"\x00" * 40, "damaged"),
    ],
)
def test_anything_else_is_told(
    name: str, content: bytes | None, said: str, ledger_factory: LedgerMaker
) -> None:
    """One finding each, in the line that names the photo."""
    assert photo_messages(ledger_with_photo(ledger_factory, name, content)) == [MESSAGES[said]]


@pytest.mark.parametrize(
    ("name", "prepare", "said"),
    [
        ("c.png", lambda place: place.mkdir(), "plain"),
        ("c.png", os.mkfifo, "plain"),
        ("c.png", lambda place: place.symlink_to("/etc/passwd"), "link"),
        ("c.png", lambda place: place.symlink_to("style.yaml"), "link"),
        ("p/c.png", lambda place: place.parent.symlink_to("/"), "link"),
    ],
    ids=["folder", "pipe", "link out", "link within", "linked folder"],
)
def test_what_is_no_plain_file_is_never_opened(
    name: str, prepare: Callable[[Path], None], said: str, ledger_factory: LedgerMaker
) -> None:
    """A pipe would hang, and a link may lead anywhere."""
    root = ledger_with_photo(ledger_factory, name, None)
    prepare(root / FOLDER / name)
    assert photo_messages(root) == [MESSAGES[said]]
