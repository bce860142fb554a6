"""The help for a size that the style does not list."""

import pytest

from support import LedgerMaker, Program

ROUND = "blanks/tarn-thrush/h6/2024-02-12-first.yaml"


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("XM", "help: did you mean M? or add XM to sizes in style.yaml\n"),
        ("m", "help: did you mean M?\n"),
    ],
)
def test_an_unlisted_size_may_be_a_slip_or_new(
    typed: str,
    meant: str,
    ledger_factory: LedgerMaker,
    command: Program,
    small_ledger_files: dict[str, str],
) -> None:
    """A size that only looks alike may be one that the style lacks."""
    text = small_ledger_files[ROUND].replace("size: M", f"size: {typed}")
    ended = command("check", "--ledger", ledger_factory({ROUND: text}))

    assert meant in ended.out
