"""Photos as the site shows them: smaller, upright, and with nothing in them but the picture.

A photo from a phone says where, when and with what it was taken. None of that is published: the
picture is read, turned upright, drawn anew at two sizes, and written without any notes.
"""

import io
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from blankbook.pages.blank.round_types import PagePhoto, PictureLink
from blankbook.text.digests import digest

if TYPE_CHECKING:
    from PIL import Image

    from blankbook.records.model import Blank, Delivery, Round

LARGE, SMALL = 1600, 480
"""Pixels of the longer side: to look at closely, and on the page."""
QUALITY = 82
_UPRIGHT = {5, 6, 7, 8}
"""Values of the EXIF orientation in which width and height change places."""
_ORIENTATION = 0x0112


@dataclass(frozen=True, slots=True)
class Picture:
    """One photo, as the site has it."""

    source: Path
    key: str
    """A hash of its bytes: the same photo, the same pictures."""
    large: str
    small: str
    """Where the two go, relative to the site."""
    width: int
    height: int
    """Of the small one, pixels."""

    @property
    def link(self) -> PictureLink:
        """What a page needs to show it."""
        return PictureLink(self.large, self.small, self.width, self.height)


def pictures_of(root: Path, blank: "Blank") -> dict[str, Picture]:
    """Return the pictures that a blank's records name, by their path in the ledger."""
    named = [(round_.source.path, round_.photos) for round_ in blank.rounds]
    named += [(delivery.source.path, delivery.photos) for delivery in blank.deliveries]
    paths = (f"{path.rpartition('/')[0]}/{photo.file}" for path, own in named for photo in own)
    return {path: _picture(root / path, blank.style.key, path) for path in paths}


def _picture(place: Path, blank: str, path: str) -> Picture:
    from PIL import Image

    with Image.open(place) as opened:
        size = opened.size
        turned = opened.getexif().get(_ORIENTATION) in _UPRIGHT
    wide, high = reversed(size) if turned else size
    scale = min(1.0, SMALL / max(wide, high))
    name = f"photos/{blank}/{digest(path)[:12]}"
    return Picture(
        place,
        digest(place.read_bytes()),
        f"{name}.jpg",
        f"{name}-small.jpg",
        max(1, round(wide * scale)),
        max(1, round(high * scale)),
    )


def jpeg_bytes(picture: Picture, most: int) -> bytes:
    """Return a picture as JPEG, its longer side at most *most* pixels, without any notes."""
    from PIL import Image, ImageOps

    with Image.open(picture.source) as opened:
        # A JPEG is made smaller while it is decoded, which saves most of the time and memory.
        opened.draft("RGB", (2 * most, 2 * most))
        # Any other is made smaller before anything else: each copy of it takes as much memory.
        seen = (
            opened if opened.mode in {"L", "RGB", "RGBA"} else opened.convert(_plain_mode(opened))
        )
        seen.thumbnail((most, most), Image.Resampling.LANCZOS, reducing_gap=3.0)
        plain = _on_white(ImageOps.exif_transpose(seen))
        # A new picture has none of the notes that the old one carries along.
        clean = Image.new("RGB", plain.size)
        clean.paste(plain)
    stream = io.BytesIO()
    clean.save(stream, "JPEG", quality=QUALITY, optimize=True)
    return stream.getvalue()


def _plain_mode(picture: "Image.Image") -> str:
    return "RGBA" if picture.mode in _CLEAR or "transparency" in picture.info else "RGB"


_CLEAR = frozenset({"RGBA", "LA", "PA"})
"""Kinds of picture that may be transparent."""


def _on_white(picture: "Image.Image") -> "Image.Image":
    """Return a picture in plain colours, on white where it is transparent: JPEG cannot be."""
    from PIL import Image

    if _plain_mode(picture) == "RGBA":
        seen = picture.convert("RGBA")
        ground = Image.new("RGBA", seen.size, "white")
        return Image.alpha_composite(ground, seen).convert("RGB")
    return picture.convert("RGB")


def photos_of(record: "Round | Delivery", pictures: Mapping[str, Picture]) -> tuple[PagePhoto, ...]:
    """Return the photos of a record; *pictures* are those of its blank, by path in the ledger."""
    folder = record.source.path.rpartition("/")[0]
    found = ((photo, pictures.get(f"{folder}/{photo.file}")) for photo in record.photos)
    return tuple(
        PagePhoto(photo.file, photo.shows, picture.link if picture else None)
        for photo, picture in found
    )
