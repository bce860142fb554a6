"""The code that turns records into pages, as one hash: our own files, and the libraries they use.

Reading every source file takes longer than a build in which nothing has changed. So the hash is
kept together with the stamps of the files that it was made from, and made anew when one differs.
"""

import os
import sys
from collections.abc import Iterator, Mapping
from importlib.util import find_spec

from blankbook.build.file_stamps import Stamp, digest, file_stamp

OUR_PACKAGES = (
    "blankbook",
    "blankbook.handbook",
    "blankbook.schemas",
    "blankbook.templates",
    "blankbook.theme",
)
LEFT_OUT = {"__pycache__", "commands", "handbook", "schemas", "templates", "theme"}
"""Folders of the package that are not hashed with it: commands make no page, and the others are
packages of their own in `OUR_PACKAGES`."""
# Another version of one of these may draw or write another page.
LIBRARIES = (
    *("jinja2", "jsonschema", "markdown", "markupsafe", "matplotlib"),
    *("mkdocs", "numpy", "scipy", "yaml"),
)


def code_fingerprint(known: Mapping[str, Stamp], made: str) -> tuple[str, dict[str, Stamp]]:
    """Return the hash of the code, and the stamps it was made from.

    *made* and *known* are those of an earlier build; with the same stamps nothing is read again.
    """
    places = {**_ours(), **_libraries()}
    stamps = {name: found for name, place in places.items() if (found := file_stamp(place))}
    if made and stamps == known:
        return made, stamps
    return _hash(places), stamps


def _ours() -> dict[str, str]:
    """Return our files by a name that is the same in a checkout and in a wheel."""
    found = {}
    for package in OUR_PACKAGES:
        spec = find_spec(package)
        for folder in (spec.submodule_search_locations or ()) if spec else ():
            for place in _files(folder):
                found[f"{package}/{os.path.relpath(place, folder)}"] = place
    return found


def _files(folder: str) -> Iterator[str]:
    with os.scandir(folder) as entries:
        for entry in entries:
            if entry.is_dir():
                if entry.name not in LEFT_OUT:
                    yield from _files(entry.path)
            elif not entry.name.endswith(".pyc"):
                yield entry.path


def _libraries() -> dict[str, str]:
    """Return the first file of each library; another version has another file there."""
    specs = {name: find_spec(name) for name in LIBRARIES}
    return {name: spec.origin for name, spec in specs.items() if spec and spec.origin}


def _hash(places: Mapping[str, str]) -> str:
    from importlib.metadata import version
    from pathlib import Path

    parts: list[str | bytes] = [sys.implementation.cache_tag or "", sys.version]
    for name, place in sorted(places.items()):
        is_library = name in LIBRARIES
        distribution = _DISTRIBUTIONS.get(name, name)
        parts += [name, version(distribution) if is_library else Path(place).read_bytes()]
    return digest(*parts)


_DISTRIBUTIONS = {"yaml": "pyyaml"}
