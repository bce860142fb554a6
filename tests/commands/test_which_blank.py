"""Which blank is meant, and what is said where none can be judged."""

from support import LedgerMaker, Program

ROUND = "blanks/tarn-thrush/h6/2024-02-12-first.yaml"


def test_a_style_without_its_supplier_is_found(
    ledger_factory: LedgerMaker, command: Program
) -> None:
    """Who types the style alone is told the whole name."""
    ended = command("vet", "h6", "--ledger", ledger_factory())

    assert ended.code == 2
    assert "help: did you mean tarn-thrush/h6?" in ended.err


def test_a_ledger_whose_blanks_all_have_faults_is_not_called_empty(
    ledger_factory: LedgerMaker, command: Program, small_ledger_files: dict[str, str]
) -> None:
    """The files are there; asking for new ones would send the shop the wrong way."""
    faulty = small_ledger_files[ROUND].replace("size: M", "size: XM")
    ended = command("vet", "--ledger", ledger_factory({ROUND: faulty}))

    assert (ended.code, ended.out) == (1, "no blank is free of faults\n")
    assert "run blankbook check" in ended.err
