"""Which function turns a valid, typed tree into a record, by kind of file.

A converter adds a fault where a text is not what it should be, which the schema cannot see. The
record that it returns must not be used then.
"""

from collections.abc import Callable
from typing import Any

from blankbook.records.convert.convert_claims import to_style, to_supplier
from blankbook.records.convert.convert_delivery import to_delivery
from blankbook.records.convert.convert_order import to_order
from blankbook.records.convert.convert_round import to_round
from blankbook.records.convert.convert_shop import to_shop
from blankbook.records.convert.convert_study import to_study
from blankbook.records.convert.tree_values import Faults
from blankbook.text.yaml_tree import Tree

CONVERTERS: dict[str, Callable[[Tree, str, Faults], Any]] = {
    "shop": to_shop,
    "supplier": to_supplier,
    "style": to_style,
    "round": to_round,
    "delivery": to_delivery,
    "order": to_order,
    "study": to_study,
}
