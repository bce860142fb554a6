"""A bulk order from the door: worked out, written, listed from a client's table, and closed."""

import json
from pathlib import Path

import pytest

from support import LedgerMaker, Program

BLANK = "tarn-thrush/h6"
FOLDER = f"blanks/{BLANK}"
PRICES = """\
prices:
  - since: 2024-01-08
    each: 4.60
    extra: {L: 0.40}
    together: order
    breaks: [{from: 36, each: 4.00}]
supply:
  - {since: 2024-01-08, freight: 12.00, free_from: 400, lead_time_days: 6}
"""
ORDER = ("--for", "the choir", "--by", "rv", "--day", "2026-05-04")


@pytest.fixture
def shop(ledger_factory: LedgerMaker, small_ledger_files: dict[str, str]) -> Path:
    """Return the small ledger with prices and terms."""
    style = f"{FOLDER}/style.yaml"
    return ledger_factory({style: small_ledger_files[style] + PRICES})


def test_an_order_is_worked_out_and_written(shop: Path, command: Program) -> None:
    """The screen says what to buy; the file holds what was typed, and passes its check."""
    ended = command(
        "order", BLANK, "--ledger", shop, "--need", "black:S=4,M=14,L=10", *ORDER,
        "--needed-by", "2026-06-01", "--shirt", "18.00", "--print", "3.20", "--word", "choir",
    )  # fmt: skip
    written = (shop / FOLDER / "2026-05-04-choir-order.yaml").read_text()

    assert ended.code == 0, ended.err
    assert "more pieces cost less: 36 for " in ended.out
    assert "Order by 2026-05-26" in ended.out
    assert "taxes, contracts and consumer law are not" in ended.out
    assert max(map(len, ended.out.splitlines())) <= 80
    assert len(ended.out.splitlines()) <= 40
    assert "needed:\n  black: {S: 4, M: 14, L: 10}\n" in written
    assert "money: {shirt: 18.00, print: 3.20}\n" in written
    assert command("check", "--ledger", shop).code == 0


def test_what_is_said_is_the_same_as_data(shop: Path, command: Program) -> None:
    """Parts of the risk add up to the whole, and the cost is goods and freight."""
    ended = command(
        "order", BLANK, "--ledger", shop, "--need", "M=20,L=10", *ORDER, "--json", "--dry-run"
    )
    data = json.loads(ended.out)
    cents = [round(float(part["cost"]) * 100) for part in data["risk"]["parts"]]

    assert sum(cents) == round(float(data["risk"]["total"]) * 100)
    assert all(part["finding"] for part in data["risk"]["parts"])
    goods, freight = float(data["cost"]["goods"]), float(data["cost"]["freight"])
    assert float(data["cost"]["total"]) == pytest.approx(goods + freight)
    assert data["written"] is False
    assert "what a shirt sells for" in data["unstated"]
    assert not list((shop / FOLDER).glob("*-order.yaml"))


@pytest.mark.parametrize(
    ("flags", "says"),
    [
        (("--need", "M=0"), "must be at least 1, found 0"),
        (("--need", "M=2.5"), "must be a whole number"),
        (("--need", "XM=2"), "unknown size XM"),
        (("--need", "M=2", "--needed-by", "2026-05-01"), "that is past"),
        (("--need", "M=2", "--total", "black=4"), "contradict each other"),
        (("--need", "M=2", "--shirt", "dear"), "must be a number"),
        (("--total", "black=40"), "no earlier order for this use"),
        (("--need", "M=2,M=3"), "M=3"),
    ],
)
def test_a_flag_that_cannot_be_is_refused(
    flags: tuple[str, ...], says: str, shop: Path, command: Program
) -> None:
    """Nothing is written, and the message names what is wrong."""
    ended = command("order", BLANK, "--ledger", shop, *flags, *ORDER)

    assert ended.code == 2
    assert says in ended.err
    assert not list((shop / FOLDER).glob("*-order.yaml"))


def test_a_blank_without_a_price_is_not_worked_out(
    ledger_factory: LedgerMaker, command: Program
) -> None:
    """What is not stated is asked for, and never assumed."""
    root = ledger_factory()
    ended = command("order", BLANK, "--ledger", root, "--need", "M=2", *ORDER)

    assert ended.code == 2
    assert "no price of tarn-thrush/h6 is stated" in ended.err


def test_an_order_to_stock_takes_the_critical_fractile(shop: Path, command: Program) -> None:
    """Dear to be short of, more is bought; dear to keep, less."""

    def bought(*flags: str) -> int:
        ended = command(
            "order", BLANK, "--ledger", shop, "--total", "black=60", "--give-or-take", "15",
            "--mix", "S=1,M=3,L=2", *ORDER, *flags, "--json", "--dry-run",
        )  # fmt: skip
        data = json.loads(ended.out)
        assert len(data["stock"]) == 3
        return sum(data["needed"]["black"].values())

    assert bought("--short", "20", "--left-over", "4.50") > 60
    assert bought("--short", "0.50", "--left-over", "0") < 60


def test_what_was_bought_and_how_it_went_are_added(shop: Path, command: Program) -> None:
    """The open order takes the purchase, then the outcome; what was written stays as it was."""
    made = ("order", BLANK, "--ledger", shop, "--need", "M=20,L=10", *ORDER)
    assert command(*made).code == 0
    place = shop / FOLDER / "2026-05-04-bulk-order.yaml"
    before = place.read_text()
    day = ("--day", "2026-05-06")
    early = command("outcome", BLANK, "--ledger", shop, "--spoiled", "M=1", *day)
    assert early.code == 2
    assert "nothing was bought for it yet" in early.err
    paid = ("--bought", "black:M=23,L=12", "--goods", "145.80", "--freight", "12")
    assert command("outcome", BLANK, "--ledger", shop, *paid, *day).code == 0
    wrong = command("outcome", BLANK, "--ledger", shop, "--spoiled", "M=30", "--day", "2026-05-20")
    assert wrong.code == 2
    assert "must be at most the 23 bought, found 30" in wrong.err
    went = ("--spoiled", "M=1", "--returned", "L=1", "--day", "2026-05-20")
    assert command("outcome", BLANK, "--ledger", shop, *went).code == 0
    after = place.read_text()

    assert after.startswith(before)
    assert command("check", "--ledger", shop).code == 0
    assert command("outcome", BLANK, "--ledger", shop, *went).code == 2
