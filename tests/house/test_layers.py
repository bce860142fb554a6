"""Imports run one way, from the doors to the words; ``ORDER`` is the way."""

import ast
import sys
from collections.abc import Iterator
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

from support import ROOT

PACKAGE = ROOT / "tool" / "blankbook"
ORDER = (
    *("words", "text", "records", "results", "entry", "history", "pages", "build", "commands"),
)

THIRD_PARTY: dict[str, set[str]] = {
    "words": set(),
    "text": {"yaml", "ruamel", "jsonschema", "jsonschema_rs", "referencing", "PIL"},
    "records": set(),
    "results": {"numpy", "scipy"},
    "entry": {"openpyxl"},
    "history": set(),
    "pages": {"markdown", "matplotlib", "numpy", "jinja2", "markupsafe", "PIL", "fontTools"},
    "build": {"matplotlib", "mkdocs"},
    "commands": {"typer", "prompt_toolkit", "rich"},
}
"""What each layer may import from outside the standard library, anywhere in its modules."""

ALSO_CLOSED: dict[str, set[str]] = {
    "results": {"text"},
    "history": {"entry"},
    "records.model": {"text"},
    "records.lengths": {"text"},
}
"""Lower layers that a folder or module must not see, though they are below it."""

TOUCHES_THE_WORLD = {"os", "io", "sys", "time", "pathlib", "subprocess", "random", "logging"}
"""What the pure core must not even ask for."""

HEAVY = {"yaml", "ruamel", "jsonschema", "jsonschema_rs", "referencing", "numpy", "scipy"} | {
    "matplotlib",
    "markdown",
    "mkdocs",
    "rich",
    "jinja2",
    "openpyxl",
    "PIL",
    "multiprocessing",
}
"""What a command may import only once it runs."""


def modules(layer: str) -> list[Path]:
    """Return the modules of one layer."""
    return sorted((PACKAGE / layer).rglob("*.py"))


def imported(path: Path, *, top: bool = False) -> Iterator[tuple[int, str]]:
    """Yield line and full name of everything that a module imports, or imports when loaded."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for node in _when_loaded(tree) if top else ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}:{node.lineno}: write imports in full"
            assert node.module
            yield from ((node.lineno, f"{node.module}.{alias.name}") for alias in node.names)


def _when_loaded(node: ast.AST) -> Iterator[ast.AST]:
    """Yield the nodes that run when the module is loaded: no function bodies, no type checking."""
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda):
            continue
        if isinstance(child, ast.If) and "TYPE_CHECKING" in ast.unparse(child.test):
            continue
        yield child
        yield from _when_loaded(child)


def closed_to(path: Path) -> set[str]:
    """Return the layers that a module must not import."""
    name = ".".join(path.relative_to(PACKAGE).with_suffix("").parts)
    layer = name.partition(".")[0]
    above = set(ORDER[ORDER.index(layer) + 1 :])
    return above | ALSO_CLOSED.get(layer, set()) | ALSO_CLOSED.get(name, set())


def faults(path: Path) -> list[str]:
    """Return what is wrong with the imports of one module, as ``file:line: words``."""
    layer = path.relative_to(PACKAGE).parts[0]
    found = []
    for line, name in imported(path):
        first, _, rest = name.partition(".")
        if first == "blankbook":
            wrong = rest.partition(".")[0] in closed_to(path)
        else:
            wrong = first not in sys.stdlib_module_names and first not in THIRD_PARTY[layer]
        if wrong:
            found.append(f"{path.relative_to(ROOT)}:{line}: {layer} must not import {name}")
    return found


def module_name(path: Path) -> str:
    """Return the dotted name of a module; that of the folder for an ``__init__``."""
    parts = path.relative_to(PACKAGE.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def circle() -> list[str]:
    """Return the modules of a circle of imports, or nothing where there is none.

    An import inside a function or for the type checker counts like any other: the two modules
    cannot be read, moved or tested without each other all the same.
    """
    paths = {module_name(path): path for path in PACKAGE.rglob("*.py")}
    graph = {
        name: {
            full if full in paths else full.rpartition(".")[0]
            for _, full in imported(path)
            if full.partition(".")[0] == PACKAGE.name
        }
        for name, path in paths.items()
    }
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as error:
        return [str(name) for name in error.args[1]]
    return []


@pytest.mark.parametrize("layer", ORDER)
def test_layer_imports_only_what_it_may(layer: str) -> None:
    """No module sees a layer above its own, or a library that is not its layer's."""
    assert [fault for path in modules(layer) for fault in faults(path)] == []


def test_no_imports_run_in_a_circle() -> None:
    """No module needs, by any road, a module that needs it."""
    assert circle() == []


@pytest.mark.parametrize(
    "text",
    [
        "from blankbook.words import first\n",
        "from blankbook.words.first import NAME\n",
        "def late():\n    import blankbook.words.first\n",
        "if TYPE_CHECKING:\n    from blankbook.words.first import NAME\n",
    ],
)
def test_circle_is_seen(text: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The test of circles can fail: at load, in a function, and for the type checker alone."""
    package = tmp_path / "blankbook"
    (package / "words").mkdir(parents=True)
    (package / "words" / "first.py").write_text("from blankbook.words.second import NAME\n")
    (package / "words" / "second.py").write_text(text)
    monkeypatch.setattr(f"{__name__}.PACKAGE", package)

    assert set(circle()) == {"blankbook.words.first", "blankbook.words.second"}


def test_every_folder_is_a_layer() -> None:
    """A new folder needs a place in the order."""
    folders = {path.name for path in PACKAGE.iterdir() if (path / "__init__.py").exists()}

    assert folders == set(ORDER)


def test_every_layer_holds_modules() -> None:
    """The test looks at something in every layer."""
    assert all(modules(layer) for layer in ORDER)


def test_results_ask_nothing_of_the_world() -> None:
    """The core knows no file, clock, environment or terminal."""
    asked = [
        f"{path.name}:{line}: {name}"
        for path in modules("results")
        for line, name in imported(path)
        if name.partition(".")[0] in TOUCHES_THE_WORLD
        or name in {"datetime.datetime", "scipy.stats"}
        or name.startswith("scipy.stats")
    ]

    assert asked == []


def test_results_call_nothing_that_opens_or_prints() -> None:
    """No builtin of the core reaches outside either; nor does it ask a date for today."""
    calls = [
        f"{path.name}:{node.lineno}"
        for path in modules("results")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call)
        and ast.unparse(node.func) in {"open", "print", "input", "date.today", "exec", "eval"}
    ]

    assert calls == []


def test_core_uses_only_the_special_functions_of_scipy() -> None:
    """scipy.special is cheap to import and scipy.stats is not; both are imported when used."""
    names = {name for path in modules("results") for _, name in imported(path) if "scipy" in name}
    at_load = [name for p in modules("results") for _, name in imported(p, top=True)]

    assert all(name.startswith("scipy.special") for name in names)
    assert not [name for name in at_load if name.startswith("scipy")]


def test_pages_never_use_pyplot() -> None:
    """Pyplot keeps figures in a global and picks a window system; Figure does neither."""
    names = [name for path in modules("pages") for _, name in imported(path)]

    assert not [name for name in names if "pyplot" in name or "pylab" in name]


def test_commands_load_nothing_heavy() -> None:
    """Help must come at once, so a command imports what it needs when it runs."""
    heavy = [
        f"{path.name}:{line}: {name}"
        for path in modules("commands")
        for line, name in imported(path, top=True)
        if name.partition(".")[0] in HEAVY
    ]

    assert heavy == []


@pytest.mark.parametrize(
    ("layer", "text"),
    [
        ("words", "from blankbook.results.result_types import Check\n"),
        ("results", "from blankbook.text.findings import Finding\n"),
        ("results", "import yaml\n"),
        ("pages", "def late():\n    from blankbook.commands.main import run\n"),
        ("text", "import matplotlib.figure\n"),
    ],
)
def test_wrong_import_is_seen(
    layer: str, text: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The test itself can fail: each of these imports is one that no module may have."""
    module = tmp_path / layer / "wrong.py"
    module.parent.mkdir()
    module.write_text(text)
    monkeypatch.setattr(f"{__name__}.PACKAGE", tmp_path)
    monkeypatch.setattr(f"{__name__}.ROOT", tmp_path)

    assert len(faults(module)) == 1
