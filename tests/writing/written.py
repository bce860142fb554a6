"""Rounds as people write them, in every form that a record may have: for hypothesis."""

from dataclasses import dataclass
from typing import Any

from hypothesis import strategies as st

from blankbook.text.tree import read_tree

POINTS = ("half_chest", "body_length", "sleeve_length", "hem_width")
READINGS = ("22 1/8", "22-1/8", "22.125", '22 1/8"', "56.2 cm", "7/8", "22½")
COMMENTS = ("", "", "", "  # looked at twice", " # 'quoted' {not: this}, [nor, this]: no", "   ")
NOTES = (
    "washed once",
    "it's fine",
    'the "big" one',
    "runs wide: see the tag",
    "a # b",
    "né à côté",
)


@dataclass(frozen=True)
class Written:
    """A record as bytes, with what it says."""

    body: bytes
    tree: dict[str, Any]


def quoted(draw: st.DrawFn, text: str) -> str:
    """Return a text plain where it may be, or in quotes."""
    style = draw(st.sampled_from("pds"))
    if style == "d":
        return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'
    plain_is_safe = not any(sign in text for sign in (": ", " #", '"', "'"))
    if style == "p" and plain_is_safe:
        return text
    return "'" + text.replace("'", "''") + "'"


def reading(draw: st.DrawFn) -> str:
    """Return a reading, or a few of the same point."""
    some = draw(st.lists(st.sampled_from(READINGS), min_size=1, max_size=3))
    texts = [quoted(draw, one) for one in some]
    return texts[0] if len(texts) == 1 else f"[{', '.join(texts)}]"


def mapping(draw: st.DrawFn, pairs: list[tuple[str, str]], indent: int) -> str:
    """Return pairs in braces on a line or more, or on lines of their own."""
    form = draw(st.sampled_from(("flow", "flow", "wide", "folded", "noted", "block")))
    if draw(st.integers(0, 3)) == 0:
        pairs = [(f'"{key}"', value) for key, value in pairs]
    if not pairs:
        return draw(st.sampled_from((" {}", " { }", "")))
    if form == "flow":
        return " {" + ", ".join(f"{key}: {value}" for key, value in pairs) + "}"
    if form == "wide":
        return " { " + " , ".join(f"{key}:   {value}" for key, value in pairs) + ", }"
    if form == "folded":
        gap = ",\n" + " " * (indent + 4)
        return " {" + gap.join(f"{key}: {value}" for key, value in pairs) + "}"
    if form == "noted":
        gap = ", # read twice\n" + " " * (indent + 4)
        return " {" + gap.join(f"{key}: {value}" for key, value in pairs) + "}"
    lines = [f"{' ' * indent}{key}: {value}{comment(draw)}" for key, value in pairs]
    return "\n" + "\n".join(lines)


def comment(draw: st.DrawFn) -> str:
    """Return what may stand behind a value."""
    return draw(st.sampled_from(COMMENTS))


def piece(draw: st.DrawFn, number: int, indent: int) -> str:
    """Return one piece of a round."""
    inside = " " * (indent + 2)
    lines = [f"piece: L-black-{number}", f"size:  L{comment(draw)}", "colour: 'black'"]
    points = draw(st.lists(st.sampled_from(POINTS), unique=True, max_size=4))
    received = [(point, reading(draw)) for point in points]
    if draw(st.booleans()):
        lines.append("received:" + mapping(draw, received, indent + 4))
    if draw(st.booleans()):
        lines.append(f"note: {quoted(draw, draw(st.sampled_from(NOTES)))}{comment(draw)}")
    if draw(st.booleans()):
        lines.append(f"washed:\n{inside}  - {{cycles: 1, half_chest: 21 3/4}}{comment(draw)}")
    between = "\n" + draw(st.sampled_from(("", "", f"{inside}# a word\n"))) + inside
    return f"{' ' * indent}- {between.join(lines)}"


@st.composite
def rounds(draw: st.DrawFn) -> Written:
    """Give a round in some form that a person may have left it in."""
    indent = draw(st.sampled_from((0, 2, 4)))
    head = [
        "# yaml-language-server: $schema=../../../schemas/round.schema.json",
        f"style: tarn-thrush/h6{comment(draw)}",
        f"date:   2026-03-14{comment(draw)}",
        "by: rv",
        "tape: {unit: in, reads_to: 1/8}",
    ]
    blank = draw(st.sampled_from(("", "", "\n", "\n# ---- the pieces ----\n\n")))
    count = draw(st.integers(1, 4))
    pieces = "\n".join(piece(draw, number, indent) for number in range(1, count + 1))
    tail = draw(st.sampled_from(TAILS))
    text = "\n".join(head) + "\n" + blank + "pieces:\n" + pieces + tail
    body = text.replace("\n", draw(st.sampled_from(("\n", "\n", "\r\n")))).encode()
    if draw(st.integers(0, 4)) == 0:
        body = b"\xef\xbb\xbf" + body
    return Written(body, read_tree("", body.decode("utf-8-sig")).tree)


TAILS = (
    "",
    "\n",
    "\n\n\n",
    "\nnote: >-\n  folded over\n  two lines\n",
    "\nnote: |\n  as it\n  stands\n\n",
    "\nnote: ends here",
    "\n# the end\n",
    "\nswatches:\n",
    "\nphotos: []\n",
)
