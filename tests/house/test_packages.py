"""What travels in the wheel: the package list is kept by hand, and this keeps it honest."""

import ast
import re
import tomllib
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from support import ROOT

PROJECT: dict[str, Any] = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
SETUPTOOLS: dict[str, Any] = PROJECT["tool"]["setuptools"]
MAPPED: dict[str, str] = {
    name: folder for name, folder in SETUPTOOLS["package-dir"].items() if name
}
PACKAGE = ROOT / "tool" / "blankbook"
NOT_SHIPPED = {"__pycache__", "__init__.py"}


def test_package_list_is_what_is_on_disk() -> None:
    """A forgotten subpackage works in an editable install and is missing in the wheel."""
    tool = ROOT / "tool"
    found = {".".join(p.parent.relative_to(tool).parts) for p in tool.rglob("__init__.py")}

    assert sorted(found | set(MAPPED)) == sorted(SETUPTOOLS["packages"])


def test_package_list_has_no_repeats() -> None:
    """Every package is named once."""
    assert len(SETUPTOOLS["packages"]) == len(set(SETUPTOOLS["packages"]))


@pytest.mark.parametrize("name", MAPPED)
def test_mapped_folder_is_a_package(name: str) -> None:
    """Without ``__init__.py`` the wheel looks fine and the editable install cannot see it."""
    assert (ROOT / MAPPED[name] / "__init__.py").is_file()


@pytest.mark.parametrize("name", MAPPED)
def test_every_file_of_a_mapped_folder_travels(name: str) -> None:
    """Each schema, template and asset matches a pattern that puts it into the wheel."""
    folder = ROOT / MAPPED[name]
    taken = {path for pattern in SETUPTOOLS["package-data"][name] for path in folder.glob(pattern)}
    inside = [p for p in folder.rglob("*") if p.is_file()]
    shipped = [path for path in inside if not NOT_SHIPPED & set(path.parts)]

    assert shipped, f"{name} is empty"
    assert [path for path in shipped if path not in taken] == []


def test_other_files_of_the_tool_travel() -> None:
    """A file that is no Python module needs a line in package-data, or it stays at home."""
    tool = ROOT / "tool" / "blankbook"
    kept = {
        path
        for package, patterns in SETUPTOOLS["package-data"].items()
        if package not in MAPPED
        for pattern in patterns
        for path in tool.parent.joinpath(*package.split(".")).glob(pattern)
    }
    other = {p for p in tool.rglob("*") if p.is_file() and p.suffix not in {".py", ".pyc"}}

    assert other - kept == set()


@pytest.mark.parametrize("name", MAPPED)
def test_resources_are_found_where_code_looks(name: str) -> None:
    """Code reads ``files("blankbook.schemas")``, true in a wheel and in an editable install."""
    assert files(name).is_dir()


def test_theme_is_known_to_the_renderer() -> None:
    """The theme is found by its entry point, and its folder holds what a theme must."""
    assert PROJECT["project"]["entry-points"]["mkdocs.themes"] == {"blankbook": "blankbook.theme"}
    assert (ROOT / MAPPED["blankbook.theme"] / "mkdocs_theme.yml").is_file()


def test_version_is_written_once_alike() -> None:
    """The package and its metadata tell the same version."""
    from blankbook import __version__

    assert PROJECT["project"]["version"] == __version__


def test_top_level_holds_only_what_is_agreed() -> None:
    """Ten names at the top, and dot files."""
    agreed = {"pyproject.toml", "README.md", "DEVELOPERS.md"}
    agreed |= {"ledger", "schemas", "tool", "site", "tests"}
    made = {"build", "dist"}  # git-ignored
    found = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}

    assert found - made <= agreed


FOLDERS = [path.parent for path in sorted(PACKAGE.rglob("__init__.py"))]


@pytest.mark.parametrize("folder", FOLDERS, ids=str)
def test_each_folder_says_what_its_modules_hold(folder: Path) -> None:
    """The docstring of a folder names each module and folder in it: it is the newcomer's map."""
    said = ast.get_docstring(ast.parse((folder / "__init__.py").read_text(encoding="utf-8"))) or ""
    modules = {path.stem for path in folder.glob("*.py")} - {"__init__", "__main__"}
    folders = {path.name for path in FOLDERS if path.parent == folder}

    assert modules | folders <= set(re.findall(r"\w+", said))
