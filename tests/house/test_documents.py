"""What the documents show is what the program does."""

import re
import subprocess
import sys
from pathlib import Path

import pytest
import typer

from battery.bad_input import ROUND
from blankbook.commands.main import app
from blankbook.commands.shared.errors import EXIT_CODES
from blankbook.records.load_ledger import load_ledger
from blankbook.words.answers import SIGNS
from blankbook.words.check_titles import CHECK_TITLES
from readme import README, Block, blocks, fill_scratch, shortened, shown_and_printed
from support import ROOT, SMALL_LEDGER, LedgerMaker, Program

TEXT = README.read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
ROOT_COMMAND = typer.main.get_command(app)


def every_command(group: object, before: str = "") -> dict[str, typer.core.TyperCommand]:
    """Return the commands by the words they are called with, those of a group among them."""
    found: dict[str, typer.core.TyperCommand] = {}
    for name, command in getattr(group, "commands").items():  # noqa: B009
        inner = hasattr(command, "commands")
        found |= (
            every_command(command, f"{before}{name} ") if inner else {f"{before}{name}": command}
        )
    return found


COMMANDS = every_command(ROOT_COMMAND)


def of_kind(kind: str, rest: str) -> list[Block]:
    """Return the README's blocks of one kind."""
    return [block for block in blocks(TEXT) if (block.kind, block.rest) == (kind, rest)]


def test_every_command_is_mentioned() -> None:
    """A command that no document names is one that nobody finds."""
    assert [name for name in COMMANDS if f"blankbook {name}" not in TEXT] == []


def test_every_option_is_mentioned() -> None:
    """Each option of each command stands in the README, spelt as it is typed."""
    options = {
        option
        for command in (ROOT_COMMAND, *COMMANDS.values())
        for parameter in command.params
        for option in parameter.opts
        if option.startswith("--")
    }

    assert len(options) > 5
    assert [option for option in sorted(options) if f"`{option}" not in TEXT] == []


def test_every_command_says_what_it_does() -> None:
    """Help opens with a sentence, and each option has its own."""
    silent = [
        f"{name} {parameter.name}"
        for name, command in COMMANDS.items()
        for parameter in command.params
        if not getattr(parameter, "help", "")
    ]

    assert [name for name, command in COMMANDS.items() if not command.help] == []
    assert silent == []


def test_every_exit_code_is_explained() -> None:
    """The table of exit codes is the program's own."""
    assert [c for c, says in EXIT_CODES.items() if f"| `{c}` | {says} |" not in TEXT] == []


def test_every_answer_and_advice_is_explained() -> None:
    """Shape, word and meaning, as the program declares them."""
    missing = [
        word for word, s in SIGNS.items() if f"| {s.shape} {word} | {s.meaning} |" not in TEXT
    ]

    assert missing == []


def test_every_check_is_named() -> None:
    """What is asked of a blank is listed by the key that shop.yaml and the JSON use."""
    assert [key for key in CHECK_TITLES if f"`{key}`" not in TEXT] == []


def test_two_commands_open_the_readme() -> None:
    """One line each; .ci/run runs exactly these."""
    machine = of_kind("sh", "machine")
    extracted = [
        subprocess.run(
            [ROOT / ".ci" / "readme-command", str(number)],
            capture_output=True,
            check=True,
            text=True,
        ).stdout
        for number in (1, 2)
    ]

    assert [block.text for block in machine] == extracted
    assert [text.count("\n") for text in extracted] == [1, 1]
    assert all("-m venv" in text for text in extracted)


def test_shown_output_is_what_is_printed(tmp_path: Path) -> None:
    """Every command of the README is run, and prints what stands below it."""
    pairs = list(shown_and_printed(TEXT, tmp_path))

    assert len(pairs) >= 4
    for block, command, printed in pairs:
        assert printed == block.text, f"{command}: python tests/readme.py writes it anew"


def test_ledger_of_the_readme_has_no_fault(tmp_path: Path, program: Program) -> None:
    """The files that a newcomer copies are right as they stand."""
    folder = tmp_path / "scratch"
    fill_scratch(folder, blocks(TEXT))
    (own,) = (path for path in folder.iterdir() if path.name != "ledger")

    ended = program("check", "--ledger", own)

    assert (ended.code, ended.out) == (0, "")


def test_fragments_of_files_are_right(ledger_factory: LedgerMaker) -> None:
    """What the README shows of a round and of shop.yaml has no fault where it belongs."""
    fragments = [block.text for block in of_kind("yaml", "")]
    rounds = [text for text in fragments if "decorated:" in text]
    shops = [text for text in fragments if text.startswith("required:")]
    assert (len(rounds), len(shops)) == (1, 1)
    head = SMALL_LEDGER[ROUND].partition("pieces:")[0]
    shop = SMALL_LEDGER["shop.yaml"].replace("required: [size_against_chart, grade_steps]\n", "")

    root = ledger_factory({ROUND: head + rounds[0], "shop.yaml": shop + shops[0]})

    assert load_ledger(root, workers=1).findings == ()


def test_cut_marks_what_it_leaves_out() -> None:
    """A shortened output says so; a whole one is whole."""
    assert shortened("a\nb\nc\n", "head=2") == "a\nb\n…\n"
    assert shortened("a\nb\n", "head=2") == "a\nb\n"
    assert shortened("a\nb\n", "") == "a\nb\n"


@pytest.mark.parametrize("document", ["README.md", "DEVELOPERS.md"])
def test_named_files_exist(document: str) -> None:
    """A path in backticks that looks like one of the project's is one."""
    text = (ROOT / document).read_text(encoding="utf-8")
    inline = re.sub(r"^```.*?^```$", "", text, flags=re.MULTILINE | re.DOTALL)
    named = set(
        re.findall(r"`((?:tool|schemas|site|tests|ledger|\.ci|\.github)/[\w./-]*)`", inline)
    )
    made = {"ledger/catalogue/", "ledger/catalogue/index.html", "ledger/.blankbook/"}

    assert named
    assert [path for path in sorted(named - made) if not (ROOT / path).exists()] == []


def test_modules_named_to_developers_exist() -> None:
    """The same for modules that are named within the tool."""
    layers = "words|text|records|results|entry|history|pages|commands"
    named = set(re.findall(rf"`((?:{layers})/[\w./]+)`", DEVELOPERS))

    assert len(named) > 10
    assert [p for p in sorted(named) if not (ROOT / "tool" / "blankbook" / p).exists()] == []


def test_every_folder_of_tests_is_described() -> None:
    """A contributor finds where a test belongs."""
    folders = {path.parent.name for path in (ROOT / "tests").glob("*/test_*.py")}

    assert [name for name in sorted(folders) if f"| `tests/{name}/` |" not in DEVELOPERS] == []


def test_documents_are_for_this_python() -> None:
    """What the README asks for is what the package asks for."""
    assert "Python 3.11" in TEXT
    assert sys.version_info >= (3, 11)
