"""Each recipe of DEVELOPERS.md is followed to the letter, on a copy of the project.

An invented thing goes into the files that the recipe lists, and into no other. Then the commands
that it names are run, quick tests, and the program. A recipe that forgets a file fails here.
"""

import os
import re
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

from house.recipes.chart import COLOUR_COUNTS
from house.recipes.check import COLOURS
from house.recipes.command import SUPPLIERS
from house.recipes.field import ROOM
from house.recipes.invented import Addition, Invented
from house.recipes.kind_of_file import RECALLS
from house.recipes.page import ROLL_CALL
from house.recipes.point import YOKE
from shares import NIGHT, share
from support import ROOT, SMALL_LEDGER

RECIPES: Mapping[str, Invented] = {
    "A field": ROOM,
    "A point of measure": YOKE,
    "A check": COLOURS,
    "A chart": COLOUR_COUNTS,
    "A page": ROLL_CALL,
    "A command": SUPPLIERS,
    "A kind of file": RECALLS,
}
"""By heading in DEVELOPERS.md."""
SETTINGS = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
MAPPED = {
    name: folder for name, folder in SETTINGS["tool"]["setuptools"]["package-dir"].items() if name
}
"""By package: its folder at the top, which an installation puts in place, and a link here."""


WRITTEN = {
    "python -m blankbook.text.write_schemas": "schemas/words.schema.json",
    "python tests/readme.py commands.md": "site/handbook/commands.md",
}
"""By command that a recipe may name: the file that it writes."""


def sections() -> dict[str, str]:
    """Return the recipes of DEVELOPERS.md by their headings."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    parts = re.split(
        r"^### ", text.partition("\n## Recipes\n")[2].partition("\n## ")[0], flags=re.MULTILINE
    )
    return {part.partition("\n")[0]: part.partition("\n")[2] for part in parts[1:]}


def listed_files(recipe: str, name: str) -> Iterator[str]:
    """Yield the files that a recipe lists: the path that opens each step, and the maps of folders.

    The map of a folder stands in its ``__init__``, and takes a line for each new module.
    """
    for path in re.findall(r"^\d+\. `([^`]+)`", recipe, flags=re.MULTILINE):
        at_top = path.partition("/")[0] in {"tests", "schemas", "site", "ledger"}
        full = path if at_top else f"tool/blankbook/{path}"
        yield full.replace("NAME", name)
        if "NAME" in full and full.endswith(".py") and not at_top:
            yield f"{full.rpartition('/')[0]}/__init__.py"
    yield from (path for command, path in WRITTEN.items() if f"`{command}`" in recipe)


def copy_project(target: Path) -> None:
    """Copy what git knows of the project, with what is not committed yet."""
    command = ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
    for path in filter(None, done.stdout.split("\0")):
        if (ROOT / path).is_file():
            (target / path).parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(ROOT / path, target / path)
    for package, folder in MAPPED.items():
        (target / "tool" / package.replace(".", "/")).symlink_to(target / folder)


def texts(folder: Path) -> dict[str, bytes]:
    """Return what every file of a copy holds, but for what is compiled or kept for the next run."""
    found = (Path(place, name) for place, _, names in os.walk(folder) for name in names)
    left = {"__pycache__", ".mypy_cache", ".ruff_cache"}
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in found
        if not left & set(path.parts)
    }


def add(addition: Addition, folder: Path) -> None:
    """Write one addition into a copy."""
    place = folder / addition.path
    if not addition.before:
        assert not place.exists(), addition.path
        place.write_text(addition.text, encoding="utf-8")
        return
    lines = place.read_text(encoding="utf-8").splitlines(keepends=True)
    starts = [at for at, line in enumerate(lines) if line.startswith(addition.after)]
    assert starts, f"{addition.path}: no line begins with {addition.after!r}"
    first = starts[0] + bool(addition.after)
    ends = [at for at in range(first, len(lines)) if lines[at].startswith(addition.before)]
    assert ends, f"{addition.path}: no line begins with {addition.before!r}"
    lines.insert(ends[0], addition.text)
    place.write_text("".join(lines), encoding="utf-8")


def run(arguments: list[str], folder: Path, copy: Path, code: int = 0) -> str:
    """Run Python in a folder with the program of the copy; return what it printed on either stream.

    The test fails where the command ends otherwise than with *code*.
    """
    own = {name: value for name, value in os.environ.items() if not name.startswith("PYTEST")}
    own.pop(NIGHT, None)
    env = {**own, "PYTHONPATH": str(copy / "tool"), "PYTHONDONTWRITEBYTECODE": "1"}
    command = [sys.executable, *arguments]
    done = subprocess.run(command, cwd=folder, env=env, capture_output=True, text=True, check=False)
    said = done.stdout + done.stderr
    assert done.returncode == code, said[-6000:]
    return said


def write_ledger(thing: Invented, folder: Path) -> None:
    """Write the small ledger with what the invented thing puts into it."""
    files = dict(SMALL_LEDGER)
    for path, (old, new) in thing.ledger.items():
        text = files.get(path, "")
        assert old in text, path
        files[path] = text.replace(old, new) if old else text + new
    for path, text in files.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_text(text, encoding="utf-8")


def test_each_recipe_has_an_invented_thing() -> None:
    """None is left out, and none is a heading that nobody wrote."""
    assert set(sections()) == set(RECIPES)


def test_recipes_stay_short() -> None:
    """All that a contributor must read first is 8 kB at most; a point of measure is four files."""
    assert (ROOT / "DEVELOPERS.md").stat().st_size <= 8_000
    by_hand = set(listed_files(sections()["A point of measure"], "NAME"))
    assert len(by_hand - {"schemas/words.schema.json"}) <= 4


@pytest.mark.parametrize("heading", share(sorted(RECIPES), one_in=len(RECIPES)))
def test_recipe_adds_a_thing(heading: str, tmp_path: Path) -> None:
    """The files that change are those that the recipe lists, and nothing else was needed."""
    recipe, thing = sections()[heading], RECIPES[heading]
    copy, ledger = tmp_path / "copy", tmp_path / "ledger"
    copy_project(copy)
    before = texts(copy)
    for addition in thing.additions:
        add(addition, copy)
    for command in re.findall(r"`python ([^`]+)`", recipe):
        run(command.split(), copy, copy)
    after = texts(copy)

    changed = {path for path in after if after[path] != before.get(path)}
    assert changed == set(listed_files(recipe, thing.name))
    python = sorted(path for path in changed if path.endswith(".py"))
    run(["-m", "ruff", "check", "-q", *python], copy, copy)
    run(["-m", "pytest", "-q", "-x", "-p", "no:cacheprovider", *thing.tests], copy, copy)
    write_ledger(thing, ledger)
    printed = run(["-m", "blankbook", *thing.arguments], ledger, copy, thing.code)
    for place, text in thing.shows.items():
        assert text in ((ledger / place).read_text() if place else printed), place
