"""What the documents show is what the program does."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

from battery.bad_input import ROUND
from blankbook.commands.shared.errors import EXIT_CODES
from blankbook.records.load_ledger import load_ledger
from blankbook.words.answers import SIGNS, Answer
from blankbook.words.check_titles import CHECK_TITLES
from command_pages import COMMANDS, ROOT_COMMAND
from readme import (
    DOCUMENTS,
    DRAWN,
    PICTURE,
    README,
    Block,
    blocks,
    fill_scratch,
    shortened,
    shown_and_printed,
)
from shares import share
from support import ROOT, SMALL_LEDGER, LedgerMaker, Program

TEXT = README.read_text(encoding="utf-8")
TEXTS = {document.name: document.read_text(encoding="utf-8") for document in DOCUMENTS}
EVERYTHING = "\n".join(TEXTS.values())
WITH_EXAMPLES = [name for name, text in TEXTS.items() if any(b.rest == "run" for b in blocks(text))]
RUN = [README.name, *share([name for name in WITH_EXAMPLES if name != README.name], one_in=3)]
"""The documents whose examples are run: README.md always."""
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
PACKAGE = ROOT / "tool" / "blankbook"
LAYERS = sorted(path.parent.name for path in PACKAGE.glob("*/__init__.py"))


def of_kind(kind: str, rest: str, text: str = TEXT) -> list[Block]:
    """Return the blocks of one kind."""
    return [block for block in blocks(text) if (block.kind, block.rest) == (kind, rest)]


def test_every_command_is_mentioned() -> None:
    """A command that no document names is one that nobody finds."""
    assert [name for name in COMMANDS if f"blankbook {name}" not in EVERYTHING] == []


def test_every_option_is_mentioned() -> None:
    """Each option of each command stands in the handbook, spelt as it is typed."""
    options = {
        option
        for command in (ROOT_COMMAND, *COMMANDS.values())
        for parameter in command.params
        for option in parameter.opts
        if option.startswith("--")
    }

    assert len(options) > 5
    assert [option for option in sorted(options) if f"`{option}" not in EVERYTHING] == []


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
    assert [
        c for c, says in EXIT_CODES.items() if f"| `{c}` | {says} |" not in TEXTS["commands.md"]
    ] == []


def test_every_answer_and_advice_is_explained() -> None:
    """Shape, word and meaning, as the program declares them."""
    page = TEXTS["answers.md"]
    rows = {word: f"| {s.shape} {word} | {s.meaning} |" for word, s in SIGNS.items()}

    assert [word for word, row in rows.items() if row not in page] == []
    assert [answer for answer in Answer if rows[answer] not in TEXT] == []


def test_every_check_is_named() -> None:
    """What is asked of a blank is listed by the key that shop.yaml and the JSON use."""
    assert [key for key in CHECK_TITLES if f"`{key}`" not in TEXTS["files.md"]] == []


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


@pytest.mark.parametrize("name", RUN)
def test_shown_output_is_what_is_printed(name: str, tmp_path: Path) -> None:
    """Every command of a document is run, and prints what stands below it."""
    for block, command, printed in shown_and_printed(TEXTS[name], tmp_path):
        assert printed == block.text, f"{command}: python tests/readme.py {name} writes it anew"
        assert "blankbook has a fault" not in printed
    if name == README.name:
        drawn, shown = (
            (place.read_text(encoding="utf-8")) for place in (tmp_path / DRAWN, PICTURE)
        )
        assert title_of(drawn) == title_of(shown), "python tests/readme.py README.md draws it anew"


def title_of(drawing: str) -> str:
    """Return what a drawing says it shows; its lines hang on the library that draws."""
    return drawing.partition("<title>")[2].partition("</title>")[0]


def test_ledger_of_the_handbook_has_no_fault(tmp_path: Path, program: Program) -> None:
    """The files that a newcomer copies are right as they stand."""
    folder = tmp_path / "scratch"
    fill_scratch(folder, blocks(TEXTS["files.md"]))
    (own,) = (path for path in folder.iterdir() if path.name != "ledger")

    ended = program("check", "--ledger", own)

    assert (ended.code, ended.out) == (0, "")


def test_fragments_of_files_are_right(ledger_factory: LedgerMaker) -> None:
    """What the handbook shows of a round and of shop.yaml has no fault where it belongs."""
    fragments = [block.text for block in of_kind("yaml", "", EVERYTHING)]
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


@pytest.mark.parametrize("document", [*TEXTS, "DEVELOPERS.md"])
def test_named_files_exist(document: str) -> None:
    """A path in backticks that looks like one of the project's is one."""
    text = TEXTS.get(document, DEVELOPERS)
    inline = re.sub(r"^```.*?^```$", "", text, flags=re.MULTILINE | re.DOTALL)
    named = set(
        re.findall(r"`((?:tool|schemas|site|tests|ledger|\.ci|\.github)/[\w./-]*)`", inline)
    )
    made = {"ledger/catalogue/", "ledger/catalogue/index.html", "ledger/.blankbook/"}
    looked_up = sorted(path for path in named - made if "NAME" not in path)

    assert looked_up or document in TEXTS
    assert [path for path in looked_up if not (ROOT / path).exists()] == []


def test_modules_named_to_developers_exist() -> None:
    """The same for modules that are named within the tool."""
    named = set(re.findall(rf"`((?:{'|'.join(LAYERS)})/[\w./]+)`", DEVELOPERS))
    looked_up = sorted(path for path in named if "NAME" not in path)

    assert len(looked_up) > 10
    assert [path for path in looked_up if not (PACKAGE / path).exists()] == []


def test_every_folder_of_tests_is_described() -> None:
    """A contributor finds where a test belongs."""
    folders = {path.parent.name for path in (ROOT / "tests").glob("*/test_*.py")} - set(LAYERS)

    assert [name for name in sorted(folders) if f"| `tests/{name}/` |" not in DEVELOPERS] == []


def test_every_layer_is_described() -> None:
    """The table of folders is that of the package."""
    assert [name for name in LAYERS if f"| `{name}` |" not in DEVELOPERS] == []


def test_documents_are_for_this_python() -> None:
    """What the README asks for is what the package asks for."""
    assert "Python 3.11" in TEXT
    assert sys.version_info >= (3, 11)
