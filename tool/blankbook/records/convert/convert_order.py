"""From a typed tree to a bulk order."""

import datetime

from blankbook.records.convert.convert_shared import to_day, to_money
from blankbook.records.convert.tree_values import Faults
from blankbook.records.model import BoughtPieces, Order, OrderOutcome, ShirtMoney, Source
from blankbook.records.money import NOTHING, exact_amount
from blankbook.text.yaml_tree import Tree


def to_order(tree: Tree, path: str, _faults: Faults) -> Order:
    """Return one order."""
    return Order(
        source=Source(path),
        key=path.rpartition("/")[2].removesuffix(".yaml"),
        style=tree["style"],
        date=datetime.date.fromisoformat(tree["date"]),
        by=tree["by"],
        client=tree["for"],
        use=tree.get("use", ""),
        needed=tree.get("needed", {}),
        total=tree.get("total", {}),
        give_or_take=tree.get("give_or_take", 0),
        mix=tree.get("mix", {}),
        needed_by=to_day(tree.get("needed_by")),
        enough=tree.get("enough"),
        money=_to_shirt_money(tree.get("money", {})),
        bought=_to_bought(tree["bought"]) if "bought" in tree else None,
        outcome=_to_outcome(tree["outcome"]) if "outcome" in tree else None,
        note=tree.get("note", ""),
    )


def _to_shirt_money(tree: Tree) -> ShirtMoney:
    return ShirtMoney(
        currency=tree.get("currency", ""),
        shirt=to_money(tree.get("shirt")),
        printing=to_money(tree.get("print")),
        refund=to_money(tree.get("refund")),
        short=to_money(tree.get("short")),
        left_over=to_money(tree.get("left_over")),
    )


def _to_bought(tree: Tree) -> BoughtPieces:
    return BoughtPieces(
        date=datetime.date.fromisoformat(tree["date"]),
        pieces=tree["pieces"],
        goods=exact_amount(tree["goods"]),
        currency=tree.get("currency", ""),
        freight=to_money(tree.get("freight")) or NOTHING,
        samples=to_money(tree.get("samples")) or NOTHING,
    )


def _to_outcome(tree: Tree) -> OrderOutcome:
    return OrderOutcome(
        date=datetime.date.fromisoformat(tree["date"]),
        spoiled=tree.get("spoiled", {}),
        short=tree.get("short", {}),
        exchanged=tree.get("exchanged", {}),
        returned=tree.get("returned", {}),
        left_over=tree.get("left_over", {}),
    )
