"""What is wrong with a photo that a record names: missing, outside the ledger, not a picture."""

import os
import stat
import warnings
from pathlib import Path

MOST_PHOTO_BYTES = 10 << 20
MOST_PIXELS = {"jpeg": 50_000_000, "png": 32_000_000, "webp": 16_000_000}
"""A small file can unpack to gigabytes: what has more pixels is not decoded.

A jpeg is decoded at a fraction of its size, and a webp takes several times its size."""
_MAGIC = {b"\xff\xd8\xff": "jpeg", b"\x89PNG\r\n\x1a\n": "png"}
_ENDINGS = {"jpeg": (".jpg", ".jpeg"), "png": (".png",), "webp": (".webp",)}


def photo_fault(root: Path, folder: str, name: str, look: bool = True) -> tuple[str, str]:
    """Return what is wrong with a photo and what to do, or two empty texts.

    *folder* is the record's folder, relative to the ledger; *name* is what the record says.
    With *look* the picture is decoded too; without it only the file's first bytes are read.
    """
    if _leaves_folder(name):
        return (
            "a photo must stay in this folder or below it",
            "copy it here and write its file name",
        )
    place = root / folder / name
    part = root / folder
    for step in Path(name).parts:
        part = part / step
        if part.is_symlink():
            return "a photo must not be a link", "copy the picture itself here"
    try:
        found = place.lstat()
    except (OSError, ValueError):
        return "there is no such photo", "put it in the folder of this file, or delete these lines"
    return _content_fault(place, found) or (_picture_fault(place) if look else ("", ""))


def _leaves_folder(name: str) -> bool:
    """Say whether a name leads out of its folder, on this system or on another."""
    parts = name.split("/")
    return name.startswith("/") or ".." in parts or "" in parts or "\\" in name or ":" in name


def _content_fault(place: Path, found: os.stat_result) -> tuple[str, str] | None:
    """Return what is wrong by the file's size and first bytes, and what to do, or None."""
    if not stat.S_ISREG(found.st_mode):
        return "a photo must be a plain file", "add the picture itself"
    if not 0 < found.st_size <= MOST_PHOTO_BYTES:
        size = f"{found.st_size:,} bytes"
        most = f"a photo must be at most 10 MiB, which is {MOST_PHOTO_BYTES:,} bytes, and not empty"
        return f"{most}, found {size}", "make it smaller"
    kind = photo_kind(place)
    # A browser goes by the ending, and a decoder by the bytes: the two must agree.
    if not kind or not place.name.lower().endswith(_ENDINGS[kind]):
        what = f"a {kind} picture" if kind else "something else"
        message = f"a photo must be a jpeg, png or webp picture with that ending, found {what}"
        return message, "save it again as .jpg, .png or .webp"
    return None


def _picture_fault(place: Path) -> tuple[str, str]:
    """Return why a picture cannot be shown and what to do, or two empty texts."""
    from PIL import Image

    kind = photo_kind(place)
    most = MOST_PIXELS[kind]
    large = f"a {kind} photo must be at most {most // 10**6} million pixels"
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            opened = Image.open(place, formats=("JPEG", "PNG", "WEBP"))
        with opened as picture:
            wide, high = picture.size
            if wide * high > most:
                return f"{large}, found {wide} by {high}", "make it smaller"
            if getattr(picture, "n_frames", 1) > 1:
                return "a photo must stand still", "save one picture of it"
            picture.draft("RGB", (64, 64))  # a jpeg is decoded at a fraction of its size
            picture.load()
    except Image.DecompressionBombError:
        return large, "make it smaller"
    except Exception:  # a broken picture can raise almost anything in the decoder
        return "a photo must be a picture that can be read", "save it again from where it came"
    return "", ""


def photo_kind(place: Path) -> str:
    """Return ``jpeg``, ``png`` or ``webp`` by the file's first bytes, or nothing."""
    with place.open("rb") as file:
        head = file.read(16)
    if head[:4] == b"RIFF" and head[8:12] == b"WEBP":
        return "webp"
    return next((kind for magic, kind in _MAGIC.items() if head.startswith(magic)), "")
