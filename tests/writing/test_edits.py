"""An edit changes what is meant and not one byte besides, in any form that a record may have."""

import copy
import re
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from blankbook.text.decoding import BYTE_ORDER_MARK
from blankbook.text.writing.edits import CannotEditError, add_item, remove_value, set_value
from blankbook.text.yaml_tree import read_tree
from shares import examples
from writing.drawn_rounds import POINTS, DrawnRecord, drawn_rounds
from writing.oracle import (
    TreePath,
    are_equal,
    comments,
    inserted_bytes,
    keeps_order,
    line_ends,
    read_by_ruamel,
    span,
    value_at,
)

THOROUGH = settings(
    max_examples=examples(day=50, night=2000),
    derandomize=True,
    suppress_health_check=list(HealthCheck),
)
VALUES = st.one_of(
    st.sampled_from(("22 1/8", "21 15/16", "56.2 cm", "-", "yes", "a: b", "it's # so", "{x}", "é")),
    st.text(st.characters(codec="utf-8", exclude_categories=("C", "Z")), min_size=1, max_size=12),
    st.lists(st.sampled_from(("22", "22 1/8", "22 1/4")), min_size=2, max_size=3),
)


def may_be_refused(record: DrawnRecord, path: TreePath, value: Any) -> bool:
    """Say whether an edit may be refused, as it would remove a comment."""
    held = value_at(read_by_ruamel(record.body), path)
    if isinstance(held, list):
        start, end = span(record.body, path)
        grows = isinstance(value, list) and value[: len(held)] == held
        return "#" in record.body.decode("utf-8-sig")[start:end] and not grows
    return False


def assert_nothing_else_changed(record: DrawnRecord, new: bytes, path: TreePath) -> None:
    """Compare an edited file with the one before: data, order, bytes, comments, line ends."""
    before, after = read_by_ruamel(record.body), read_by_ruamel(new)
    assert keeps_order(before, after)
    assert comments(new) == comments(record.body)
    assert new.startswith(BYTE_ORDER_MARK) == record.body.startswith(BYTE_ORDER_MARK)
    assert set(line_ends(new)) <= set(line_ends(record.body))
    old_text, new_text = record.body.decode(), new.decode()
    if inserted_bytes(record.body, new) is not None:
        return
    assert value_at(before, path) is not None
    marks = len(old_text) - len(record.body.decode("utf-8-sig"))
    start, end = span(record.body, path)
    assert new_text.startswith(old_text[: start + marks])
    assert new_text.endswith(old_text[end + marks :])


def draw_path(data: st.DataObject, pieces: int) -> TreePath:
    """Return the path of something that may be there or not."""
    place = data.draw(st.integers(0, pieces - 1))
    point = data.draw(st.sampled_from(POINTS))
    some: tuple[TreePath, ...] = (
        *(("pieces", place, "received", point),) * 4,
        ("pieces", place, "note"),
        ("pieces", place, "colour"),
        ("lot",),
        ("by",),
        ("note",),
        ("decision", "reason"),
        ("tape", "unit"),
    )
    return data.draw(st.sampled_from(some))


@THOROUGH
@given(drawn_rounds(), st.data())
def test_a_value_is_set(record: DrawnRecord, data: st.DataObject) -> None:
    """A reading that is there, is not there, or whose whole stage is not there yet."""
    path, value = draw_path(data, record.pieces), data.draw(VALUES)
    after = data.draw(st.sampled_from(("", "date", "note", "not there")))
    try:
        new = set_value(record.body, path, value, after=after)
    except CannotEditError:
        assert may_be_refused(record, path, value)  # no other form that people leave is refused
        return
    assert read_by_ruamel(new) == with_value(read_by_ruamel(record.body), path, value)
    assert_nothing_else_changed(record, new, path)
    if value_at(read_by_ruamel(record.body), path) is None:
        assert len(line_ends(new)) <= len(line_ends(record.body)) + 1


@THOROUGH
@given(drawn_rounds(), st.data())
def test_a_point_is_read_once_more_and_taken_back(record: DrawnRecord, data: st.DataObject) -> None:
    """Not one byte of what was read before goes, in any form of list; then all is as it was."""
    tree = read_by_ruamel(record.body)
    place = data.draw(st.integers(0, record.pieces - 1))
    held = {k: v for k, v in (tree["pieces"][place].get("received") or {}).items() if v}
    if not held:
        return
    point = data.draw(st.sampled_from(sorted(held)))
    path, before = ("pieces", place, "received", point), held[point]
    more = [*([before] if isinstance(before, str) else before), "22 1/4"]
    new = set_value(record.body, path, more)
    assert read_by_ruamel(new) == with_value(tree, path, more)
    if isinstance(before, str):
        assert_nothing_else_changed(record, new, path)
    else:
        assert keeps_order(tree, read_by_ruamel(new))
        assert comments(new) == comments(record.body)
        assert set(line_ends(new)) <= set(line_ends(record.body))
        assert inserted_bytes(record.body, new) is not None
        back = set_value(new, path, before)
        assert read_by_ruamel(back) == tree
        assert comments(back) == comments(record.body)
        assert back == record.body or (b"#" in record.body and _but_for_a_comma(record.body, back))


def _but_for_a_comma(old: bytes, new: bytes) -> bool:
    """Say whether a comma was put before a comment, which YAML allows behind the last one."""
    return inserted_bytes(old, new) == b","


def with_value(tree: Any, path: TreePath, value: Any) -> Any:
    """Return a tree with one value in it; mappings that are missing are made."""
    wanted = copy.deepcopy(tree)
    holder = wanted
    for step in path[:-1]:
        if isinstance(holder, dict) and holder.get(step) is None:
            holder[step] = {}
        holder = holder[step]
    holder[path[-1]] = value
    return wanted


ITEMS: tuple[tuple[TreePath, str, Any], ...] = (
    (("pieces",), "piece: M-1\nsize: M", {"piece": "M-1", "size": "M"}),
    (("pieces",), "{piece: M-1, size: M}", {"piece": "M-1", "size": "M"}),
    (("swatches",), "{mass: 1.87 g}", {"mass": "1.87 g"}),
    (("swatches",), 'mass: 1.87 g\nof: "a, b"', {"mass": "1.87 g", "of": "a, b"}),
    (("photos",), "{file: a.jpg}", {"file": "a.jpg"}),
    (("photos",), "file: a.jpg\nshows: [a, b]", {"file": "a.jpg", "shows": ["a", "b"]}),
)
WASHED = {"cycles": "5", "hem_width": "20"}


@THOROUGH
@given(drawn_rounds(), st.data())
def test_an_item_is_added(record: DrawnRecord, data: st.DataObject) -> None:
    """A piece, a stage after washing, or the first item of a list that was not there."""
    place = data.draw(st.integers(0, record.pieces - 1))
    washed: tuple[TreePath, str, Any] = (
        ("pieces", place, "washed"), "{cycles: 5, hem_width: 20}", WASHED)  # fmt: skip
    path, item, value = data.draw(st.sampled_from((*ITEMS, washed)))
    tree = read_by_ruamel(record.body)
    try:
        new = add_item(record.body, path, item)
    except CannotEditError:
        assert not record.body.endswith((b"\n", b"\r"))
        assert path == ("pieces",)
        assert record.body.endswith(b"# no comment")  # the end of the text would move
        assert "-" not in re.findall(r"note: ([|>][-+0-9]*)", record.body.decode())[-1]
        return
    assert read_by_ruamel(new) == with_value(tree, path, [*(value_at(tree, path) or []), value])
    assert keeps_order(tree, read_by_ruamel(new))
    assert comments(new) == comments(record.body)
    assert set(line_ends(new)) <= set(line_ends(record.body))
    assert inserted_bytes(record.body, new) is not None


@THOROUGH
@given(drawn_rounds(), st.data())
def test_what_was_set_can_be_taken_out_again(record: DrawnRecord, data: st.DataObject) -> None:
    """And then every byte is as it was, wherever there was something beside it."""
    tree = read_by_ruamel(record.body)
    place = data.draw(st.integers(0, record.pieces - 1))
    received = tree["pieces"][place].get("received") or {}
    missing = [point for point in (*POINTS, "neck_width") if point not in received]
    if not received:
        return
    path = ("pieces", place, "received", missing[0])
    new = remove_value(set_value(record.body, path, "22 1/8"), path)
    assert read_by_ruamel(new) == tree
    assert new == record.body or (b"#" in record.body and _but_for_a_comma(record.body, new))


@THOROUGH
@given(drawn_rounds(), st.data())
def test_an_entry_is_taken_out_with_what_is_its_own(
    record: DrawnRecord, data: st.DataObject
) -> None:
    """Nothing is put in, every other value stays, and so does every comment of another line."""
    tree = read_by_ruamel(record.body)
    place = data.draw(st.integers(0, record.pieces - 1))
    received = tree["pieces"][place].get("received") or {}
    some: list[TreePath] = [("pieces", place, "received", point) for point in received]
    some += [("pieces", place), ("lot",), ("by",), ("note",), ("pieces", place, "note")]
    path = data.draw(st.sampled_from(some))
    try:
        new = remove_value(record.body, path)
    except CannotEditError:
        return
    wanted = copy.deepcopy(tree)
    del value_at(wanted, path[:-1])[path[-1]]
    assert are_equal(read_by_ruamel(new), wanted)
    gone = inserted_bytes(new, record.body)
    assert gone is not None
    lost = list(comments(record.body))
    for kept in comments(new):
        lost.remove(kept)
    assert all(each.encode() in gone for each in lost)
    assert set(line_ends(new)) <= set(line_ends(record.body))


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


SET: dict[str, tuple[bytes, tuple[str | int, ...], str | list[str], bytes]] = {
    "a text over a list": (
        b"a:\n  - 1\n  - 2 # two\nb: 3\n", ("a",), "4", b"a: 4 # two\nb: 3\n"),
    "a text over a list at its key's indent": (
        b"c:\n  a:\n  - 1\n  - 2\n", ("c", "a"), "4", b"c:\n  a: 4\n"),
    "another list over a list": (b"a:\n  - 1\n  - 2", ("a",), ["3", "4"], b"a: [3, 4]"),
    "one more in a list": (
        b"a:\n- 1 # one\n- 2 # two\r\nb: 3\n", ("a",), ["1", "2", "3"],
        b"a:\n- 1 # one\n- 2 # two\r\n- 3\r\nb: 3\n"),
    "two more in brackets": (
        b"a: [1, # one\n  2]\n", ("a",), ["1", "2", "3", "4"], b"a: [1, # one\n  2, 3, 4]\n"),
    "one more behind a comment": (
        b"a: [1 # one\n  ]\n", ("a",), ["1", "2"], b"a: [1, # one\n    2\n  ]\n"),
    "one more behind a comma and a comment": (
        b"a: [\n  1, # one\n  ]\n", ("a",), ["1", "2"], b"a: [\n  1, # one\n  2\n  ]\n"),
    "one more before a comma below a comment": (
        b"a: [1 # one\n  , ]\n", ("a",), ["1", "2"], b"a: [1, 2 # one\n  , ]\n"),
    "one less": (b"a:\n  - 1 # one\n  - 2\n", ("a",), ["1"], b"a:\n  - 1 # one\n"),
    "behind a key without a value": (
        b"a: {b: }\n", ("a", "c"), "1", b"a: {b: , c: 1 }\n"),
    "behind a key without a colon": (b"a: {b}\n", ("a", "c"), "1", b"a: {b , c: 1}\n"),
    "beside a comment at a bracket": (b"a: {# none\n  }\n", ("a", "c"), "1",
                                      b"a: {c: 1 # none\n  }\n"),
    "over a text below its key, with a comment behind the sign": (
        b"a: |2- # as heard\n  so\n\nb: 1\n", ("a",), "x", b"a: x # as heard\n\nb: 1\n"),
    "before a text that ends the file without a line end": (
        b"a: 1\nn: |\n  so", ("c",), "2", b"a: 1\nc: 2\nn: |\n  so"),
    "behind a text that ends the file and keeps no line end": (
        b"a: 1\nn: |-\n  so", ("c",), "2", b"a: 1\nn: |-\n  so\nc: 2"),
    "behind a byte-order mark": (
        BYTE_ORDER_MARK + b"a: 1\n", ("a",), "2", BYTE_ORDER_MARK + b"a: 2\n"),
    "before a comment where nothing stood": (b"a: # so\n", ("a",), "1", b"a: 1 # so\n"),
    "a word that others take for a truth": (b"a: 1\n", ("a",), "No", b'a: "No"\n'),
    "between line ends of two kinds": (b"a: 1\r\nb: 2\n", ("c",), "3", b"a: 1\r\nb: 2\nc: 3\n"),
}  # fmt: skip


@pytest.mark.parametrize("case", SET)
def test_a_value_goes_where_a_person_would_put_it(case: str) -> None:
    """Into forms that are seldom: every comment stays beside what it is about."""
    body, path, value, wanted = SET[case]
    assert set_value(body, path, value) == wanted


ADDED: dict[str, tuple[bytes, tuple[str | int, ...], str, bytes]] = {
    "an item of two lines into empty brackets": (
        b"a: []\n", ("a",), "b: 1\nc: x y", b"a: [{b: 1, c: x y}]\n"),
    "an item of two lines into a list in brackets": (
        b"a: [{b: 0}]\n", ("a",), "b: 1\nc: [2, '3']", b"a: [{b: 0}, {b: 1, c: [2, 3]}]\n"),
    "an item of two lines into a mapping in braces": (
        b"z: {y: 1}\n", ("z", "a"), "b: 1\nc: 2", b"z: {y: 1, a: [{b: 1, c: 2}]}\n"),
    "an item behind a key without a value in braces": (
        b"z: {a: }\n", ("z", "a"), "{b: 1}", b"z: {a: [{b: 1}]}\n"),
}  # fmt: skip


@pytest.mark.parametrize("case", ADDED)
def test_an_item_goes_into_any_list(case: str) -> None:
    """In brackets it stands on one line, whatever it was written as."""
    body, path, item, wanted = ADDED[case]
    assert add_item(body, path, item) == wanted


REFUSED = {
    "a list with a comment where a text is to go": (b"a:\n  - 1 # one\n  - 2\n", ("a",)),
    "a list in brackets with a comment": (b"a: [1, # one\n  2]\n", ("a",)),
    "a list with a comment behind its key": (b"a: # two\n  - 1\n", ("a",)),
    "a list of mappings where a text is to go": (b"a:\n  - {b: 1}\n", ("a",)),
    "a list of mappings in brackets": (b"a: [{b: 1}]\n", ("a",)),
    "a list in a list": (b"a: [[1], [2]]\n", ("a",)),
    "a mapping where a text is to go": (b"a:\n  b: 1\n", ("a",)),
    "a text where a mapping is to be": (b"a: 1\n", ("a", "b")),
    "past the end of a list": (b"a: [1]\n", ("a", 3, "b")),
}


@pytest.mark.parametrize("case", REFUSED)
def test_what_has_no_safe_place_is_refused(case: str) -> None:
    """Nothing is guessed, and nothing is overwritten that was not meant."""
    body, path = REFUSED[case]
    with pytest.raises(CannotEditError):
        set_value(body, path, "22")


def test_the_last_entry_is_not_taken_out() -> None:
    """An empty mapping would be left behind, which nobody wrote."""
    for body in (b"a: {b: 1}\n", b"a:\n  b: 1\n"):
        with pytest.raises(CannotEditError):
            remove_value(body, ("a", "b"))


@THOROUGH
@given(st.text(max_size=40))
def test_any_text_reads_back_as_itself(text: str) -> None:
    """In a flow mapping and in a block one; what no record may hold is refused."""
    for body in (b"a: {b: 1}\n", b"a:\n  b: 1\n"):
        try:
            new = set_value(body, ("a", "b"), text)
        except CannotEditError:
            assert not text.isprintable()
            continue
        assert read_tree("", new.decode()).tree == {"a": {"b": text}}
        assert read_by_ruamel(new) == {"a": {"b": text}}


@pytest.mark.parametrize("hidden", ["\u202e", "\ufeff", "\u2028", "\ud800", "\x00", "\x85"])
def test_what_the_reader_refuses_is_never_written(hidden: str) -> None:
    """A character that cannot be seen would make the whole file unreadable."""
    with pytest.raises(CannotEditError):
        set_value(b"a: 1\n", ("note",), f"x{hidden}y")


KEPT: dict[str, tuple[bytes, tuple[str | int, ...], bytes]] = {
    "a neighbour's comment in brackets": (
        b"a: {b: 1, c: 2, # two\n  d: 3}\n", ("a", "d"), b"a: {b: 1, c: 2, # two\n  }\n"),
    "the middle one in brackets": (b"a: {b: 1, c: 2, d: 3}\n", ("a", "c"), b"a: {b: 1, d: 3}\n"),
    "the last line, which has no end": (b"a: 1\r\nb: 2", ("b",), b"a: 1"),
    "the last line, which has no end, behind an empty one": (
        b"a: 1\n\nb: 2", ("b",), b"a: 1\n"),
    "one with its comma behind a neighbour's comment": (
        b"a: {b: 1, # one\n  c: 2,\n  }\n", ("a", "c"), b"a: {b: 1, # one\n  }\n"),
    "the first one in brackets": (b"a: [1, 2]\n", ("a", 0), b"a: [2]\n"),
    "a text below its key": (b"a: 1\nn: |\n  so\n  it is\n\nb: 2\n", ("n",), b"a: 1\n\nb: 2\n"),
    "a text below its key at the end": (b"a: 1\nn: >-\n  so\n", ("n",), b"a: 1\n"),
}  # fmt: skip


@pytest.mark.parametrize("case", KEPT)
def test_what_stands_beside_stays(case: str) -> None:
    """An entry goes with what is its own: no comment of another, and no line end."""
    body, path, wanted = KEPT[case]
    assert remove_value(body, path) == wanted


LOST = {
    "an item that would be two": lambda: add_item(b"a: [1]\n", ("a",), "2, 3"),
    "a comment between the entry and the next": lambda: remove_value(
        b"a: {b: 1, # one\n  c: 2}\n", ("a", "b")),
    "a place counted from the end": lambda: set_value(b"a: [1, 2]\n", ("a", -1), "3"),
}  # fmt: skip


@pytest.mark.parametrize("case", LOST)
def test_what_would_go_with_it_stops_an_edit(case: str) -> None:
    """Refused, because something would be lost that nobody meant."""
    with pytest.raises(CannotEditError):
        LOST[case]()
