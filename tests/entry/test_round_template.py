"""A planned round as texts and gaps: filled as a page does, it is what a command would write."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blankbook.entry.round.round_template import HEAD_KEYS, TemplatePart, template_parts
from blankbook.records.lengths import read_length
from blankbook.records.model import Tape
from blankbook.text.writing import edits
from blankbook.text.writing.edits import remove_value, set_value
from blankbook.text.writing.yaml_spans import RecordText
from blankbook.text.yaml_tree import read_tree

TAPE = Tape("in", read_length("1/8", "in"))
FLOW = "  - {{piece: P{n}, size: L, colour: black}}\n"
BLOCK = "  - piece: P{n}\n    size: L\n    colour: black\n"
COMMA = "  - {{piece: P{n}, size: L, colour: black, }}  # as it came\n"
BARE = "  - {{piece: P{n}, size: L, colour: black, received: {{}}}}\n"
FILLED = {"date": "2026-12-02", "by": "rv", "lot": "A", "tape.unit": "in", "tape.reads_to": "1/16"}
HEADS = ("", "bought: {each: 4}\n", "lot: A\n", "by: mo # for now\nlot: 'A, B'\ndate_: x\n",
         "tape: {unit: cm, reads_to: '0.1'}\n", "lot: |\n  A\n")  # fmt: skip


def filled_template(parts: list[TemplatePart], values: dict[str, str]) -> bytes:
    """Return the finished file: what the page for a phone does with the parts."""
    texts = []
    for part in parts:
        if isinstance(part, str):
            texts.append(part)
        elif value := values.get(part["gap"], "") or part["held"]:
            texts.append(part["before"] + value + part["after"])
    return "".join(texts).encode()


def plan(forms: list[str], end: str, head: str) -> bytes:
    """Return a planned round in some form."""
    pieces = "".join(form.format(n=n) for n, form in enumerate(forms))
    text = f"style: a/b\nplanned: 2026-12-01\n{head}pieces:\n{pieces}note: bought by mo\n"
    return text.replace("\n", end).encode()


@given(
    st.lists(st.sampled_from((FLOW, BLOCK, COMMA, BARE)), min_size=1, max_size=4),
    st.sampled_from(("\n", "\r\n")),
    st.sampled_from(HEADS),
    st.data(),
)
def test_filled_gaps_are_the_edits(
    forms: list[str], end: str, head: str, data: st.DataObject
) -> None:
    """Whichever pieces were read; a piece that was not has no empty entry."""
    source = plan(forms, end, head)
    parts = template_parts(source, TAPE)
    read = data.draw(st.sets(st.integers(0, len(forms) - 1)))
    odd = data.draw(st.sets(st.sampled_from(sorted(read)))) if read else set()
    values = {f"{n}.received": "{half_chest: 22}" for n in read}
    values |= {f"{n}.confirmed": "looked twice" for n in odd}
    made = filled_template(parts, FILLED | values)
    wanted = read_tree("", source.decode()).tree
    for key in HEAD_KEYS:
        wanted[key] = FILLED[key]
    wanted["tape"] = {"unit": "in", "reads_to": "1/16"}
    for n, piece in enumerate(wanted["pieces"]):
        piece.pop("received", None)
        if n in read:
            piece["received"] = {"half_chest": "22"}
        if n in odd:
            piece["confirmed"] = "looked twice"
    assert read_tree("", made.decode()).tree == wanted
    assert (end == "\r\n") == (b"\r\n" in made)
    by_hand = source
    behind = "planned"
    for key in HEAD_KEYS:
        by_hand = set_value(by_hand, (key,), FILLED[key], after=behind)
        behind = key
    by_hand = set_value(by_hand, ("tape", "unit"), "in", after=behind)
    by_hand = set_value(by_hand, ("tape", "reads_to"), "1/16")
    for n, form in enumerate(forms):
        if form == BARE:
            by_hand = remove_value(by_hand, ("pieces", n, "received"))
    for n in sorted(read):
        by_hand = set_value(by_hand, ("pieces", n, "received", "half_chest"), "22")
    for n in sorted(odd):
        by_hand = set_value(by_hand, ("pieces", n, "confirmed"), "looked twice")
    assert made == by_hand


@given(st.sampled_from(HEADS), st.sampled_from(("\n", "\r\n")))
def test_what_a_plan_says_stands_until_something_else_is_said(head: str, end: str) -> None:
    """As it is written, with its quotes and comments; the tape is added where there is none."""
    source = plan([FLOW], end, head)
    made = filled_template(template_parts(source, TAPE), {})
    if "tape" in head:
        assert made == source
    else:
        lines = [line for line in made.decode().split(end) if not line.startswith("tape: ")]
        assert lines == source.decode().split(end)


def test_nothing_filled_is_the_plan_with_its_tape() -> None:
    """No reading, no head: the lines of the plan are all there, and no key without a value."""
    source = plan([FLOW, BLOCK], "\n", "")
    made = filled_template(template_parts(source, TAPE), {})
    assert made == source.replace(
        b"planned: 2026-12-01\n", b"planned: 2026-12-01\ntape: {unit: in, reads_to: 1/8}\n"
    )


def test_many_pieces_are_read_once_and_not_once_each(monkeypatch: pytest.MonkeyPatch) -> None:
    """A plan of five hundred pieces took minutes to be laid out; now it is read a few times."""
    counted = []

    class Counted(RecordText):
        def __init__(self, source: bytes) -> None:
            counted.append(len(source))
            super().__init__(source)

    monkeypatch.setattr(edits, "RecordText", Counted)
    for form in (FLOW, BLOCK, COMMA):
        counted.clear()
        template_parts(plan([form] * 500, "\n", ""), TAPE)
        assert 0 < len(counted) < 20
