"""A build in which only the commit has changed: the same pages with another foot."""

from pathlib import Path

from blankbook.build.assemble import carry_over, replace_feet
from blankbook.build.build_cache import BuildState
from blankbook.build.build_inputs import BuildInputs
from blankbook.build.file_stamps import HASH_INDEX, digest, stamp_tree
from blankbook.build.page_foot import foot_of_state
from blankbook.build.publish import publish, staging_folder


def publish_new_foot(out: Path, state: BuildState, inputs: BuildInputs) -> None:
    """Publish the site that is there with the new foot, and bring *state* up to date.

    Raises: BrokenSiteError, OSError.
    """
    old_foot = foot_of_state(state)
    state.head, state.day = inputs.commits.head, inputs.commits.day
    pages = [path for path in sorted(inputs.kept_outputs) if path.endswith(".html")]
    with staging_folder(out) as folder:
        site = folder / "site"
        site.mkdir()
        carry_over(sorted(inputs.kept_outputs.keys() - {*pages}), out, site)
        replace_feet(pages, out, site, (old_foot, foot_of_state(state)))
        hashes = {path: digest((site / path).read_bytes()) for path in pages}
        publish(site, out)
    state.outputs = {
        path: [
            *now,
            hashes.get(path) or str(inputs.kept_outputs[path][HASH_INDEX]),
            *inputs.kept_outputs[path][HASH_INDEX + 1 :],
        ]
        for path, now in sorted(stamp_tree(str(out)).items())
        if now
    }
    state.inputs, state.code_stamps = inputs.file_states, inputs.code_stamps
