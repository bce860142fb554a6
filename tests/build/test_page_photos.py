"""Photos on the site: smaller, upright, clean, and drawn once."""

import io
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from blankbook.build.build_site import build_site
from blankbook.pages.blank.page_photos import LARGE, SMALL
from building import PAGE, ROUND
from markup import PublishedMarkup
from support import SMALL_LEDGER, LedgerMaker

NAME = "left sleeve.jpg"
SHOWS = "the left sleeve, <b>after</b> five washes"
FOLDER = ROUND.rpartition("/")[0]


def photo(size: tuple[int, int], mode: str = "RGB", form: str = "JPEG", **settings: Any) -> bytes:
    """Return a picture, its left half dark and its right half light."""
    picture = Image.new("RGB", size, "white")
    picture.paste("navy", (0, 0, size[0] // 2, size[1]))
    stream = io.BytesIO()
    picture.convert(mode).save(stream, form, **settings)
    return stream.getvalue()


def notes() -> Image.Exif:
    """Return what a phone writes into a photo: turned, when, with what, and where."""
    exif = Image.Exif()
    exif[0x0112] = 6
    exif[0x010F] = "MAKER-CANARY"
    exif[0x0132] = "2026:03:02 10:11:12"
    exif.get_ifd(0x8825)[2] = (51.0, 30.0, 0.0)
    return exif


def with_photo(maker: LedgerMaker, content: bytes, name: str = NAME) -> Path:
    text = SMALL_LEDGER[ROUND] + f"photos: [{{file: {name}, shows: '{SHOWS}'}}]\n"
    return maker({ROUND: text, f"{FOLDER}/{name}": content})


def pictures(root: Path) -> dict[str, Path]:
    """Return the published pictures by what they are: small or large."""
    found = sorted((root / "catalogue").rglob("*.jpg"))
    return {"small" if "small" in place.name else "large": place for place in found}


def test_a_photo_is_turned_made_smaller_and_cleaned(ledger_factory: LedgerMaker) -> None:
    """A phone's 2400 by 1800, to be turned, with place, time and maker: none of it is published."""
    content = photo((2400, 1800), exif=notes())
    assert b"MAKER-CANARY" in content
    root = with_photo(ledger_factory, content)
    build_site(root, root / "catalogue")
    found = pictures(root)
    for kind, most in (("small", SMALL), ("large", LARGE)):
        body = found[kind].read_bytes()
        assert b"CANARY" not in body
        assert b"Exif" not in body
        with Image.open(io.BytesIO(body)) as picture:
            assert picture.size == (most * 3 // 4, most)
            assert not picture.getexif()
            top, bottom = (picture.getpixel((most // 3, y)) for y in (most // 4, most * 3 // 4))
            assert top != bottom  # what was left is on top now


def test_the_page_shows_it_with_its_words(ledger_factory: LedgerMaker) -> None:
    root = with_photo(ledger_factory, photo((600, 300)))
    build_site(root, root / "catalogue")
    page = PublishedMarkup((root / "catalogue" / PAGE).read_text(encoding="utf-8"))
    (shown,) = (image for image in page.all("img") if image.get("src").endswith(".jpg"))
    assert shown.get("alt") == SHOWS
    assert (shown.get("width"), shown.get("height")) == ("480", "240")
    assert shown.get("loading") == "lazy"
    assert any(anchor.get("href").endswith(".jpg") for anchor in page.all("a"))


@pytest.mark.parametrize(
    ("content", "name"),
    [
        (photo((40, 30), "CMYK"), "a.jpg"),
        (photo((40, 30), "RGBA", "PNG"), "a.png"),
        (photo((40, 30), "P", "PNG"), "a.png"),
        (photo((40, 30), "L", "WEBP"), "a.webp"),
        (photo((1, 3000), "RGB", "PNG"), "a.png"),
    ],
    ids=["print colours", "see-through", "palette", "grey", "thin"],
)
def test_every_kind_of_picture_is_published(
    content: bytes, name: str, ledger_factory: LedgerMaker
) -> None:
    root = with_photo(ledger_factory, content, name)
    build_site(root, root / "catalogue")
    assert set(pictures(root)) == {"small", "large"}


def test_a_picture_is_drawn_once_and_gone_when_it_is_no_longer_named(
    ledger_factory: LedgerMaker,
) -> None:
    root = with_photo(ledger_factory, photo((600, 300)))
    build_site(root, root / "catalogue")
    before = {place: place.stat().st_ino for place in pictures(root).values()}
    (root / ROUND).write_text(
        (root / ROUND).read_text(encoding="utf-8") + "note: another word\n", encoding="utf-8"
    )
    build_site(root, root / "catalogue")
    assert {place: place.stat().st_ino for place in pictures(root).values()} == before
    (root / FOLDER / NAME).write_bytes(photo((300, 600)))
    build_site(root, root / "catalogue")
    with Image.open(pictures(root)["small"]) as picture:
        assert picture.size == (240, 480)
    (root / ROUND).write_text(SMALL_LEDGER[ROUND], encoding="utf-8")
    build_site(root, root / "catalogue")
    assert pictures(root) == {}
