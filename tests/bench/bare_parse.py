"""The least that reading a ledger can cost: every file parsed in C into plain text, on one core.

No check of anything, no position, no type: ``python bare_parse.py LEDGER``. Frozen, so that figures
of different days can be compared.
"""

import gc
import sys
from pathlib import Path
from typing import Any

import yaml


class _Parser(yaml.cyaml.CParser):  # type: ignore[misc, name-defined]
    """libyaml's parser, with nothing guessed about a scalar's type."""

    def resolve(self, *_: Any) -> str:
        return "str"

    def descend_resolver(self, *_: Any) -> None:
        """Nothing depends on the place."""

    def ascend_resolver(self) -> None:
        """Nothing depends on the place."""


def parse(text: bytes) -> Any:
    """Return mappings, lists and text."""
    return _plain(_Parser(text).get_single_node())


def _plain(node: Any) -> Any:
    if isinstance(node, yaml.ScalarNode):
        return node.value
    if isinstance(node, yaml.MappingNode):
        return {key.value: _plain(value) for key, value in node.value}
    return [_plain(child) for child in node.value]


def main(root: Path) -> int:
    """Parse every record below *root*; return how many there were."""
    gc.disable()
    return sum(1 for place in sorted(root.rglob("*.yaml")) if parse(place.read_bytes()))


if __name__ == "__main__":
    print(main(Path(sys.argv[1])), "files")  # noqa: T201 - a script
