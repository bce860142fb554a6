"""The fast way from text to values and the careful one read the same, and tell the same places."""

import random
from pathlib import Path
from typing import Any

import pytest

from blankbook.text import yaml_nodes, yaml_tree
from blankbook.text.decoding import decode
from blankbook.text.findings import UnreadableError
from text.mutations import mutate

SAMPLES = {
    "round": """\
style: a/b
by: r.v # who
bought: {date: 2024-02-03, each: 4.60}
pieces:
  - piece: M-1
    received: {half_chest: 20 1/8, hem_width: [1, "2"]}
    washed:
      - {cycles: 1, half_chest: 20}
  - {piece: 'it''s', size: L}
note: >-
  Two lines, 22" wide:
  and more.
""",
    "style": """\
name: "H6 \\u00bd heavy"
sizes: [S, M, L]
charts:
- since: 2024-01-08
  sizes:
    S: {half_chest: 18, body_length: 28}
    M: {half_chest: 20}
note: |
  # no comment

  kept
empty:
""",
    "odd": """\
a b: c d
"q": 'x' # y
k: [a, {b: c}, [d]]
m: {a: , b, "c": d}
p: plain
  goes on
  and on
z: http://x.y/?a=b&c#d
""",
}


def outcome(compose: Any, text: str) -> Any:
    """Return the values and places that one way reads, or the rule that refuses the text."""
    try:
        root = compose(text)
        return yaml_tree._build(root, text) if root is not None else None, node_places(root)
    except UnreadableError as error:
        return error.rule


def node_places(node: Any) -> Any:
    """Return the places of all nodes."""
    if node is None:
        return None
    here = (node.start_mark.line, node.start_mark.column)
    if node.id == "scalar":
        # An empty value has no place of its own; its key stands for it.
        return here if node.value or node.style else None
    inner = [
        node_places(below)
        for pair in node.value
        for below in (pair if node.id == "mapping" else [pair])
    ]
    return here, inner


def parsers_differ(text: str) -> bool | None:
    """Say whether the two ways differ; None where only the careful one is taken anyway."""
    if not yaml_nodes.is_plain_yaml(text):
        return None
    root = yaml_nodes._compose_fast(text)
    if root is None or root.id != "mapping":
        return None
    return bool(
        outcome(yaml_nodes._compose_fast, text) != outcome(yaml_nodes._compose_carefully, text)
    )


@pytest.fixture(autouse=True)
def _needs_the_fast_way() -> None:
    if yaml_nodes._fast_composer() is None:
        pytest.skip("PyYAML was built without its C parser here")


def test_the_demo_ledger_reads_the_same_both_ways(demo_ledger: Path) -> None:
    """Every file of the demo shop goes the fast way, and means the same on the careful one."""
    files = sorted(demo_ledger.rglob("*.yaml"))
    assert len(files) > 40
    assert {parsers_differ(decode(file.read_bytes())) for file in files} == {False}


@pytest.mark.parametrize("sample", SAMPLES)
@pytest.mark.parametrize("seed", range(4))
def test_damaged_texts_read_the_same_both_ways(sample: str, seed: int) -> None:
    """Of 300 seeded mutations a sample and seed (3,600), none means two things."""
    chance = random.Random(f"{sample} {seed}")
    texts = [mutate(SAMPLES[sample], chance) for _ in range(300)]
    told = {text: parsers_differ(text) for text in texts}
    assert [text for text, different in told.items() if different] == []
    assert sum(different is False for different in told.values()) > 30, (
        "hardly any went the fast way"
    )


def test_damaged_demo_files_read_the_same_both_ways(demo_ledger: Path) -> None:
    """So do 200 mutations of the demo shop's own files."""
    chance = random.Random(7)
    files = sorted(demo_ledger.rglob("*.yaml"))
    texts = [mutate(decode(chance.choice(files).read_bytes()), chance) for _ in range(200)]
    assert [text for text in texts if parsers_differ(text)] == []
