"""Putting the new site together beside the old one, and looking at it before it is published."""

import os
import shutil
from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass, field
from pathlib import Path

from blankbook.build.build_errors import BrokenSite
from blankbook.build.file_stamps import HASH, Known, digest, tree
from blankbook.build.make_files import Body, Made
from blankbook.build.page_foot import with_foot
from blankbook.build.publish import mark


@dataclass(slots=True)
class Site:
    """All that belongs to the new site."""

    name: str
    public: bool = False
    """Whether it is for outsiders."""
    foot: str = ""
    """What every page says at its end."""
    old_foot: str = ""
    """What the pages of the old site say there."""
    specs: dict[str, str] = field(default_factory=dict)
    """By path: the key of every page and chart."""
    bodies: list[Body] = field(default_factory=list)
    """Pages that are new."""
    charts: dict[str, str] = field(default_factory=dict)
    """By path: the hash of each chart that is new."""

    @property
    def frame(self) -> str:
        """What stands on every page, around what is its own."""
        return f"{self.name}\npublic" if self.public else self.name

    def take(self, made: Made) -> None:
        """Add what was made."""
        self.specs.update(made.specs)
        self.bodies += made.bodies
        self.charts.update(made.charts)


def write_pages(site: Site, target: Path) -> None:
    """Write the new pages, and what the theme brings along, to the new folder *target*."""
    from blankbook.build.mkdocs_adapter import render_site

    bodies = sorted(site.bodies, key=lambda body: body.path)
    render_site(bodies, site.name, target, foot=site.foot, public=site.public)
    if site.public:  # its pages ask for no script, and take no readings
        for only_inside in (*(target / "assets").glob("*.js"), target / "assets/table.css"):
            only_inside.unlink()


def put_together(site: Site, charts: Path, target: Path, out: Path, held: Known) -> dict[str, str]:
    """Add to the pages in *target* all that is missing; return the hash of every file.

    New charts are moved there from the folder *charts*; whatever is not new comes from the old site
    at *out*, which has what is *held*.
    Raises: BrokenSite, OSError.
    """
    if charts.is_dir():
        for part in sorted(charts.iterdir()):
            part.rename(target / part.name)
    mark(target)
    new = {body.path for body in site.bodies} | site.charts.keys()
    kept = {path for path in site.specs if path not in new}
    again = {path for path in kept if path.endswith(".html") and site.foot != site.old_foot}
    carry_over(sorted(kept - again), out, target)
    put_feet(sorted(again), out, target, (site.old_foot, site.foot))
    written = tree(str(target))
    _look_at(site, target, written, out, held)
    own = {**site.charts, **{path: str(held[path][HASH]) for path in kept - again}}
    return {p: own.get(p) or digest((target / p).read_bytes()) for p in sorted(written)}


def carry_over(paths: Iterable[str], old: Path, new: Path) -> None:
    """Bring files of the old site into the new one, without copying where the disk can."""
    folders = set()
    link: Callable[[str, str], None] = os.link
    for path in paths:
        folder = path.rpartition("/")[0]
        if folder not in folders:
            (new / folder).mkdir(parents=True, exist_ok=True)
            folders.add(folder)
        try:
            link(f"{old}/{path}", f"{new}/{path}")
        except OSError:
            link = _copy
            _copy(f"{old}/{path}", f"{new}/{path}")


def put_feet(paths: Iterable[str], old: Path, new: Path, feet: tuple[str, str]) -> None:
    """Bring pages of the old site into the new one; of *feet*, the second replaces the first.

    Raises: BrokenSite, OSError.
    """
    for path in paths:
        place = new / path
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(with_foot((old / path).read_bytes(), *feet))


def _copy(old: str, new: str) -> None:
    shutil.copyfile(old, new, follow_symlinks=False)


def _look_at(site: Site, target: Path, written: Collection[str], out: Path, held: Known) -> None:
    """Hold the finished site against what was planned, and follow its links.

    Raises: BrokenSite.
    """
    from blankbook.build.link_check import broken_links

    wrong = [f"{path} was not made" for path in sorted(site.specs.keys() - set(written))]
    new = [body.path for body in site.bodies]
    every = [path for path in site.specs if path.endswith(".html") and path in written]
    pages = new if _nothing_lost(new, target, written, out, held) else every
    wrong += broken_links(target, pages, written)
    if wrong:
        raise BrokenSite("; ".join(wrong[:5]))


def _nothing_lost(
    new: Iterable[str], target: Path, written: Collection[str], out: Path, held: Known
) -> bool:
    """Say whether all that a kept page may lead to is still there: its links held once."""
    from blankbook.build.link_check import ids

    return all(path in written for path in held) and all(
        path in held and ids(out / path) <= ids(target / path) for path in new
    )
