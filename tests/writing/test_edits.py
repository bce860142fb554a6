"""An edit changes what is meant and not one byte besides, in any form that a record may have."""

import copy
import io
import os
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from ruamel.yaml import YAML

from blankbook.text.tree import read_tree
from blankbook.text.writing.edits import CannotEdit, add_item, remove, set_value
from writing.written import POINTS, Written, rounds

EXAMPLES = int(os.environ.get("BLANKBOOK_EDIT_EXAMPLES", "400"))
"""Of each property; thousands on demand, which is how they were first proved."""
KEEN = settings(
    max_examples=EXAMPLES, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck)
)
VALUES = st.one_of(
    st.sampled_from(("22 1/8", "21 15/16", "56.2 cm", "-", "yes", "a: b", "it's # so", "{x}", "é")),
    st.text(st.characters(codec="utf-8", exclude_categories=("C", "Z")), min_size=1, max_size=12),
    st.lists(st.sampled_from(("22", "22 1/8", "22 1/4")), min_size=2, max_size=3),
)


def outside(body: bytes) -> Any:
    """Return what ruamel.yaml reads, every scalar as its text: a reader that is not ours."""
    yaml = YAML(typ="safe", pure=True)
    node = yaml.compose(io.StringIO(body.decode("utf-8-sig")))
    return _plain(node)


def _plain(node: Any) -> Any:
    if node.id == "scalar":
        return node.value if node.value or node.style else None
    if node.id == "sequence":
        return [_plain(one) for one in node.value]
    return {key.value: _plain(value) for key, value in node.value}


def kept(old: bytes, new: bytes) -> tuple[bytes, bytes]:
    """Return what was taken out and what was put in, between what both have in common."""
    start = _alike(old, new)
    end = _alike(old[start:][::-1], new[start:][::-1])
    return old[start : len(old) - end], new[start : len(new) - end]


def _alike(one: bytes, other: bytes) -> int:
    pairs = zip(one, other, strict=False)
    return next((n for n, (a, b) in enumerate(pairs) if a != b), min(len(one), len(other)))


def number_of_pieces(one: Written) -> int:
    """Return how many pieces a round has."""
    return len(one.tree["pieces"])


@KEEN
@given(rounds(), st.data())
def test_a_value_is_set(one: Written, data: st.DataObject) -> None:
    """A reading that is there, is not there, or whose whole stage is not there yet."""
    at = data.draw(st.integers(0, number_of_pieces(one) - 1))
    point = data.draw(st.sampled_from(POINTS))
    value = data.draw(VALUES)
    way = data.draw(
        st.sampled_from(
            (("pieces", at, "received", point), ("pieces", at, "note"), ("lot",), ("by",))
        )
    )
    wanted = copy.deepcopy(one.tree)
    holder: Any = wanted
    for step in way[:-1]:
        if isinstance(holder, dict) and holder.get(step) is None:
            holder[step] = {}
        holder = holder[step]
    holder[way[-1]] = value
    new = set_value(one.body, way, value)  # no form that people leave is refused
    assert outside(new) == wanted
    taken, put = kept(one.body, new)
    assert taken.count(b"\n") <= max(1, _lines_of(one, way))
    assert b"#" not in taken or "#" in str(_old(one, way))
    assert len(put) < 80
    assert new.startswith(b"\xef\xbb\xbf") == one.body.startswith(b"\xef\xbb\xbf")
    assert (b"\r\n" in one.body) or (b"\r" not in new)
    if b"\r\n" in one.body:
        assert new.count(b"\n") == new.count(b"\r\n")


def _old(one: Written, way: tuple[str | int, ...]) -> Any:
    node: Any = one.tree
    for step in way:
        node = node.get(step) if isinstance(node, dict) else node[step]
        if node is None:
            return ""
    return node


def _lines_of(one: Written, way: tuple[str | int, ...]) -> int:
    return str(_old(one, way)).count("\n") + 1


@KEEN
@given(rounds(), st.data())
def test_an_item_is_added(one: Written, data: st.DataObject) -> None:
    """A piece, a stage after washing, or the first item of a list that was not there."""
    at = data.draw(st.integers(0, number_of_pieces(one) - 1))
    way, item, value = data.draw(
        st.sampled_from(
            (
                (("pieces",), "piece: M-1\nsize: M", {"piece": "M-1", "size": "M"}),
                (("pieces",), "{piece: M-1, size: M}", {"piece": "M-1", "size": "M"}),
                (("pieces", at, "washed"), "{cycles: 5, hem_width: 20}", _WASHED),
                (("swatches",), "{mass: 1.87 g}", {"mass": "1.87 g"}),
                (("photos",), "{file: a.jpg}", {"file": "a.jpg"}),
            )
        )
    )
    wanted = copy.deepcopy(one.tree)
    holder: Any = wanted
    for step in way[:-1]:
        holder = holder[step]
    holder[way[-1]] = [*(holder.get(way[-1]) or []), value]
    new = add_item(one.body, way, item)
    assert outside(new) == wanted
    assert kept(one.body, new)[0].strip() == b""


_WASHED = {"cycles": "5", "hem_width": "20"}


@KEEN
@given(rounds(), st.data())
def test_what_was_set_can_be_taken_out_again(one: Written, data: st.DataObject) -> None:
    """And then every byte is as it was, wherever there was something beside it."""
    at = data.draw(st.integers(0, number_of_pieces(one) - 1))
    received = one.tree["pieces"][at].get("received") or {}
    missing = [point for point in POINTS if point not in received]
    if not received or not missing:
        return
    way = ("pieces", at, "received", missing[0])
    new = remove(set_value(one.body, way, "22 1/8"), way)
    assert outside(new) == one.tree
    assert new == one.body


def test_every_form_is_set_by_hand() -> None:
    """A few by hand, so that the picture is seen: the line, its comment and its neighbours."""
    text = b"pieces:\n  - piece: L-1 # first\n    received: {half_chest: 22}  # by rv\n"
    at = ("pieces", 0, "received")
    assert set_value(text, (*at, "half_chest"), "22 1/8") == text.replace(b"22}", b"22 1/8}")
    added = b"{half_chest: 22, body_length: 29 7/8}  # by rv"
    assert set_value(text, (*at, "body_length"), "29 7/8") == text.replace(
        b"{half_chest: 22}  # by rv", added
    )
    assert set_value(text, (*at, "half_chest"), ["22", "22 1/8"]) == text.replace(
        b"22}", b"[22, 22 1/8]}"
    )
    assert set_value(b"by:\nlot: A", ("by",), "rv") == b"by: rv\nlot: A"
    assert set_value(b"a: 1", ("note",), "so: yes") == b'a: 1\nnote: "so: yes"'


REFUSED = {
    "a list where a text is to go": (b"a:\n  - 1\n  - 2\n", ("a",)),
    "a mapping where a text is to go": (b"a:\n  b: 1\n", ("a",)),
    "a text where a mapping is to be": (b"a: 1\n", ("a", "b")),
    "past the end of a list": (b"a: [1]\n", ("a", 3, "b")),
}


@pytest.mark.parametrize("case", REFUSED)
def test_what_has_no_safe_place_is_refused(case: str) -> None:
    """Nothing is guessed, and nothing is overwritten that was not meant."""
    body, way = REFUSED[case]
    with pytest.raises(CannotEdit):
        set_value(body, way, "22")


def test_the_last_entry_is_not_taken_out() -> None:
    """An empty mapping would be left behind, which nobody wrote."""
    for body in (b"a: {b: 1}\n", b"a:\n  b: 1\n"):
        with pytest.raises(CannotEdit):
            remove(body, ("a", "b"))


@KEEN
@given(st.text(max_size=40))
def test_any_text_reads_back_as_itself(text: str) -> None:
    """In a flow mapping and in a block one; what no record may hold is refused."""
    for body in (b"a: {b: 1}\n", b"a:\n  b: 1\n"):
        try:
            new = set_value(body, ("a", "b"), text)
        except CannotEdit:
            assert not text.isprintable()
            continue
        assert read_tree("", new.decode()).tree == {"a": {"b": text}}
        assert outside(new) == {"a": {"b": text}}


@pytest.mark.parametrize("hidden", ["\u202e", "\ufeff", "\u2028", "\ud800", "\x00", "\x85"])
def test_what_the_reader_refuses_is_never_written(hidden: str) -> None:
    """A character that cannot be seen would make the whole file unreadable."""
    with pytest.raises(CannotEdit):
        set_value(b"a: 1\n", ("note",), f"x{hidden}y")


KEPT: dict[str, tuple[bytes, tuple[str | int, ...], bytes]] = {
    "a neighbour's comment in brackets": (
        b"a: {b: 1, c: 2, # two\n  d: 3}\n", ("a", "d"), b"a: {b: 1, c: 2, # two\n  }\n"),
    "the middle one in brackets": (b"a: {b: 1, c: 2, d: 3}\n", ("a", "c"), b"a: {b: 1, d: 3}\n"),
    "the first one in brackets": (b"a: [1, 2]\n", ("a", 0), b"a: [2]\n"),
    "a text below its key": (b"a: 1\nn: |\n  so\n  it is\n\nb: 2\n", ("n",), b"a: 1\n\nb: 2\n"),
    "a text below its key at the end": (b"a: 1\nn: >-\n  so\n", ("n",), b"a: 1\n"),
}  # fmt: skip


@pytest.mark.parametrize("case", KEPT)
def test_what_stands_beside_stays(case: str) -> None:
    """An entry goes with what is its own: no comment of another, and no line end."""
    body, way, wanted = KEPT[case]
    assert remove(body, way) == wanted


LOST = {
    "a comment between the entry and the next": lambda: remove(
        b"a: {b: 1, # one\n  c: 2}\n", ("a", "b")),
    "a comment behind the sign of a text": lambda: set_value(
        b"a: | # as heard\n  so\n", ("a",), "x"),
    "a place counted from the end": lambda: set_value(b"a: [1, 2]\n", ("a", -1), "3"),
}  # fmt: skip


@pytest.mark.parametrize("case", LOST)
def test_what_would_go_with_it_stops_an_edit(case: str) -> None:
    """Refused, because something would be lost that nobody meant."""
    with pytest.raises(CannotEdit):
        LOST[case]()
