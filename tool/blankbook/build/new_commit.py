"""A build in which nothing but the commit has changed: the same pages with another foot."""

from pathlib import Path

from blankbook.build.assemble import carry_over, put_feet
from blankbook.build.build_cache import State
from blankbook.build.changed_files import Survey
from blankbook.build.file_stamps import HASH, digest, tree
from blankbook.build.page_foot import foot_of
from blankbook.build.publish import publish, staging


def new_foot(out: Path, state: State, seen: Survey) -> None:
    """Publish the site that is there with the foot of now; *state* is brought up to date.

    Raises: BrokenSite, OSError.
    """
    old = foot_of(state)
    state.head, state.day = seen.commits.head, seen.commits.day
    pages = [path for path in sorted(seen.held) if path.endswith(".html")]
    with staging(out) as folder:
        site = folder / "site"
        site.mkdir()
        carry_over(sorted(seen.held.keys() - {*pages}), out, site)
        put_feet(pages, out, site, (old, foot_of(state)))
        hashes = {path: digest((site / path).read_bytes()) for path in pages}
        publish(site, out)
    state.outputs = {
        path: [*now, hashes.get(path) or str(seen.held[path][HASH]), *seen.held[path][HASH + 1 :]]
        for path, now in sorted(tree(str(out)).items())
        if now
    }
    state.inputs, state.code_stamps = seen.inputs, seen.code_stamps
