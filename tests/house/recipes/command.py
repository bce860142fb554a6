"""Print the names of all suppliers: a command that nobody needs."""

from house.recipes.invented import Addition, Invented, in_map, in_tool

COMMAND = '''\
"""The `suppliers` command: the names of all suppliers."""

import typer

from blankbook.commands.shared.errors import CLEAN, BlankbookError
from blankbook.commands.shared.ledger_root import LedgerOption, ledger_root


def suppliers(ledger: LedgerOption = None) -> int:
    """Print the names of all suppliers, one a line."""
    from blankbook.records.load_ledger import load_ledger

    loaded = load_ledger(ledger_root(ledger), only=(), pictures=False)
    if loaded.ledger is None:
        raise BlankbookError("shop.yaml has faults", "run blankbook check to see where")
    for _, supplier in sorted(loaded.ledger.suppliers.items()):
        typer.echo(supplier.name)
    return CLEAN
'''

SUPPLIERS = Invented(
    name="suppliers",
    additions=(
        in_tool("commands/suppliers.py", COMMAND),
        in_map("commands", "suppliers: the names of all suppliers"),
        in_tool(
            "commands/main.py",
            "from blankbook.commands.suppliers import suppliers\n",
            "\n",
            "from blankbook.commands.shared.visible_streams",
        ),
        in_tool(
            "commands/main.py",
            "blankbook suppliers             the names of all suppliers\n",
            "blankbook build",
            "_ABOUT",
        ),
        in_tool(
            "commands/main.py",
            'app.command(epilog=epilog_of("suppliers"))(suppliers)\n',
            "app.command(",
        ),
        in_tool(
            "words/handbook_topics.py", '    "suppliers": "deliveries",\n', "}", "COMMAND_TOPICS"
        ),
        Addition("tests/command_pages.py", '        "suppliers",\n', "    ),", '    "commands": ('),
    ),
    tests=(
        "tests/house/test_documents.py::test_every_command_is_mentioned",
        "tests/house/test_documents.py::test_every_option_is_mentioned",
        "tests/house/test_documents.py::test_every_command_says_what_it_does",
        "tests/house/test_handbook.py::test_pages_of_commands_are_the_programs_own_help[commands]",
        "tests/house/test_handbook.py::test_every_command_stands_on_one_page",
        "tests/house/test_handbook.py::test_help_of_every_command_names_its_topic",
        "tests/house/test_imports.py",
    ),
    arguments=("suppliers",),
    shows={"": "Tarn & Thrush Blanks"},
)
