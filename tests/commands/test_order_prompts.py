"""Orders at a terminal: what is needed, and afterwards how it went, question by question."""

from pathlib import Path

from support import LedgerMaker
from terminals import Terminal

BLANK = "tarn-thrush/h6"
FOLDER = f"blanks/{BLANK}"


def answer(terminal: Terminal, question: str, keys: str) -> None:
    """Wait for a question and answer it."""
    terminal.until(question)
    terminal.key(f"{keys}\r")


def test_an_order_and_its_outcome_are_asked_for(
    ledger_factory: LedgerMaker, small_ledger_files: dict[str, str]
) -> None:
    """Every question has its answer in the file; what is left empty is left out."""
    style = f"{FOLDER}/style.yaml"
    priced = small_ledger_files[style] + "prices: [{since: 2024-01-08, each: 4.60}]\n"
    root: Path = ledger_factory({style: priced})
    terminal = Terminal(root, BLANK, "--day", "2026-05-04", door="order")
    answer(terminal, "the colours", "black")
    answer(terminal, "how many of black", "M=12,L=9")
    answer(terminal, "what the shirts are for", "")
    answer(terminal, "needed by", "2026-06-01")
    answer(terminal, "what a finished shirt sells for", "18")
    answer(terminal, "who works it out", "rv")
    answer(terminal, "for whom", "the choir")
    terminal.until("wrote ")
    assert terminal.end() == 0
    place = root / FOLDER / "2026-05-04-bulk-order.yaml"
    text = place.read_text()
    assert "for: the choir" in text
    assert "black: {M: 12, L: 9}" in text
    assert "use:" not in text

    terminal = Terminal(root, BLANK, "--day", "2026-05-05", door="outcome")
    answer(terminal, "the colours that were bought", "black")
    answer(terminal, "how many of black", "M=14,L=10")
    answer(terminal, "what the pieces cost together", "110.40")
    answer(terminal, "what freight cost", "")
    answer(terminal, "what further samples before cost", "")
    terminal.until("wrote ")
    assert terminal.end() == 0

    terminal = Terminal(root, BLANK, "--day", "2026-05-20", door="outcome")
    answer(terminal, "spoiled in the shop", "M=1")
    answer(terminal, "could not be delivered", "")
    answer(terminal, "were exchanged", "L=1")
    answer(terminal, "were refunded", "")
    answer(terminal, "left over", "")
    terminal.until("wrote ")
    assert terminal.end() == 0
    text = place.read_text()

    assert "spoiled" in text
    assert "M: 1" in text
    assert "short" not in text
