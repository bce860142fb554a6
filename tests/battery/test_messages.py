"""No message of `check` makes a reader stumble, and none is longer than 20 words."""

from pathlib import Path

from battery.test_battery import ROWS
from blankbook.records.load_ledger import load_ledger
from sentences import MOST_WORDS, stumbling
from support import SMALL_LEDGER


def test_messages_read_well(tmp_path: Path) -> None:
    """What every row of bad input is told, and what to write instead."""
    said = set[str]()
    for number, row in enumerate(ROWS):
        root = tmp_path / str(number)
        for path, text in {**SMALL_LEDGER, **row.files}.items():
            if text is not None:
                (root / path).parent.mkdir(parents=True, exist_ok=True)
                (root / path).write_bytes(text if isinstance(text, bytes) else text.encode())
        row.prepare(root)
        for finding in load_ledger(root, workers=1).findings:
            said |= {finding.message, finding.help}

    assert len(said) > 300
    assert stumbling(said) == {}
    assert [sentence for sentence in said if len(sentence.split()) > MOST_WORDS] == []
