"""From a valid, typed tree to records. What the schema cannot see in a text is found here.

Every function returns the record; where a fault was added to ``faults``, it is not to be used.
"""

from collections.abc import Callable
from typing import Any

from blankbook.records.convert.convert_claims import style, supplier
from blankbook.records.convert.convert_delivery import delivery
from blankbook.records.convert.convert_round import round_
from blankbook.records.convert.convert_shop import shop
from blankbook.records.convert.convert_study import study
from blankbook.records.convert.tree_values import Faults
from blankbook.text.yaml_tree import Tree

CONVERTERS: dict[str, Callable[[Tree, str, Faults], Any]] = {
    "shop": shop,
    "supplier": supplier,
    "style": style,
    "round": round_,
    "delivery": delivery,
    "study": study,
}
