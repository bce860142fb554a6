"""The new site: put together beside the old one, and checked before it is published."""

import os
import shutil
from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass, field
from pathlib import Path

from blankbook.build.build_errors import BrokenSiteError
from blankbook.build.file_stamps import HASH_INDEX, FileStates, digest, stamp_tree
from blankbook.build.make_files import MadeFiles, PageBody
from blankbook.build.page_foot import replace_foot
from blankbook.build.trust.output_place import write_mark


@dataclass(slots=True)
class NewSite:
    """What is known of the new site while it is made."""

    name: str
    public: bool = False
    """Whether it is for outsiders."""
    foot: str = ""
    """The foot of every page."""
    old_foot: str = ""
    """The foot that the pages of the old site have."""
    specs: dict[str, str] = field(default_factory=dict)
    """By path: the key of every page and chart, new or not."""
    bodies: list[PageBody] = field(default_factory=list)
    """Pages that are new."""
    charts: dict[str, str] = field(default_factory=dict)
    """By path: the hash of each chart, and of each other file, that is new."""

    @property
    def frame(self) -> str:
        """What surrounds every page, as a part of its key."""
        return f"{self.name}\npublic" if self.public else self.name

    def add(self, made: MadeFiles) -> None:
        """Add pages and charts that were made."""
        self.specs.update(made.specs)
        self.bodies += made.bodies
        self.charts.update(made.charts)


def write_pages(site: NewSite, target: Path) -> None:
    """Write the new pages, and the theme's own files, to the new folder *target*."""
    from blankbook.build.mkdocs_adapter import render_site

    bodies = sorted(site.bodies, key=lambda body: body.path)
    render_site(bodies, site.name, target, foot=site.foot, public=site.public)
    if site.public:  # a site for outsiders needs no script, and takes no readings
        sheets = [target / "assets" / f"{name}.css" for name in ("catalogue", "handbook", "table")]
        for only_inside in (*(target / "assets").glob("*.js"), *sheets):
            only_inside.unlink()


def assemble_site(
    site: NewSite, charts: Path, target: Path, out: Path, kept_outputs: FileStates
) -> dict[str, str]:
    """Add to the pages in *target* all that is missing; return the hash of every file by its path.

    New charts are moved there from the folder *charts*. What is not new comes from the old site at
    *out*, which has *kept_outputs*.
    Raises: BrokenSiteError, OSError.
    """
    if charts.is_dir():
        for part in sorted(charts.iterdir()):
            part.rename(target / part.name)
    write_mark(target)
    new = {body.path for body in site.bodies} | site.charts.keys()
    kept = {path for path in site.specs if path not in new}
    new_feet = {path for path in kept if path.endswith(".html") and site.foot != site.old_foot}
    carry_over(sorted(kept - new_feet), out, target)
    replace_feet(sorted(new_feet), out, target, (site.old_foot, site.foot))
    written = stamp_tree(str(target))
    _check_site(site, target, written, out, kept_outputs)
    own = {**site.charts, **{path: str(kept_outputs[path][HASH_INDEX]) for path in kept - new_feet}}
    return {p: own.get(p) or digest((target / p).read_bytes()) for p in sorted(written)}


def carry_over(paths: Iterable[str], old: Path, new: Path) -> None:
    """Bring files of the old site into the new one, as links where the disk knows them."""
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


def replace_feet(paths: Iterable[str], old: Path, new: Path, feet: tuple[str, str]) -> None:
    """Bring pages of the old site into the new one; of *feet*, the second replaces the first.

    Raises: BrokenSiteError, OSError.
    """
    for path in paths:
        place = new / path
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(replace_foot((old / path).read_bytes(), *feet))


def _copy(old: str, new: str) -> None:
    shutil.copyfile(old, new, follow_symlinks=False)


def _check_site(
    site: NewSite, target: Path, written: Collection[str], out: Path, kept_outputs: FileStates
) -> None:
    """Check the finished site against what was planned, and follow its links.

    Raises: BrokenSiteError.
    """
    from blankbook.build.link_check import broken_links

    wrong = [f"{path} was not made" for path in sorted(site.specs.keys() - set(written))]
    new = [body.path for body in site.bodies]
    every = [path for path in site.specs if path.endswith(".html") and path in written]
    # the links of kept pages were followed by an earlier build, and hold while their targets do
    pages = new if _keeps_all_targets(new, target, written, out, kept_outputs) else every
    wrong += broken_links(target, pages, written)
    if wrong:
        raise BrokenSiteError("; ".join(wrong[:5]))


def _keeps_all_targets(
    new: Iterable[str], target: Path, written: Collection[str], out: Path, kept_outputs: FileStates
) -> bool:
    """Say whether every file and place that a kept page may lead to is still there."""
    from blankbook.build.link_check import page_ids

    return all(path in written for path in kept_outputs) and all(
        path in kept_outputs and page_ids(out / path) <= page_ids(target / path) for path in new
    )
