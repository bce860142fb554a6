"""Rules of photos: each is there, and is a picture."""

from collections.abc import Iterator
from pathlib import Path

from blankbook.records.model import Delivery, Round
from blankbook.text.findings import Fault, visible
from blankbook.text.photo_files import photo_fault


def of_record(root: Path, record: Round | Delivery, look: bool) -> Iterator[Fault]:
    """Yield photos that are missing, or that a site cannot show.

    With *look* each picture is decoded as well, which takes time.
    """
    folder = record.source.path.rpartition("/")[0]
    for index, photo in enumerate(record.photos):
        message, remedy = photo_fault(root, folder, photo.file, look)
        if message:
            at = ("photos", index, "file")
            yield Fault(at, "wrong-photo", f"{message}: {visible(photo.file)}", remedy)
