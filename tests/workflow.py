"""Write this project's own workflow of the demo ledger: `python tests/workflow.py`.

It is the one that `blankbook start` writes into a new shop's ledger, but for where the ledger is
and what is installed. `tests/commands/test_workflow.py` holds the file to it, and runs its steps.
"""

from blankbook import __version__
from blankbook.entry.new.host_workflow import workflow_text
from support import ROOT

PLACE = ROOT / ".github/workflows/ledger.yml"
_HEAD = "# Written by tests/workflow.py, from what `blankbook start` writes for a shop.\n"
_OWN = {
    "  LEDGER: .\n": "  LEDGER: ledger\n",
    "  BLANKBOOK: ${{ vars.BLANKBOOK }}\n": "  BLANKBOOK: ./\n",
}


def own_workflow() -> str:
    """Return the text of this project's own workflow."""
    text = workflow_text(__version__)
    note = text[text.index("  # What is installed") : text.index("  BLANKBOOK:")]
    text = text.replace(note, "  # What is installed: the program as this commit has it.\n")
    for line, own in _OWN.items():
        assert text.count(line) == 1
        text = text.replace(line, own)
    return _HEAD + text


if __name__ == "__main__":
    PLACE.write_text(own_workflow(), encoding="utf-8")
