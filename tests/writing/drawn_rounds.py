"""Rounds as people write them, in every form that a record may have: for hypothesis."""

import random
from collections.abc import Callable
from dataclasses import dataclass

from hypothesis import strategies as st

POINTS = ("half_chest", "body_length", "sleeve_length", "hem_width")
READINGS = ("22 1/8", "22-1/8", "22.125", '22 1/8"', "56.2 cm", "7/8", "22½", "22\u00a01/8")
COMMENTS = ("", "", "", "  # looked at twice", " # 'quoted' {not: this}, [nor, this]: no", "   ")
NOTES = (
    "washed once",
    "it's fine",
    'the "big" one',
    "runs wide: see the tag",
    "a # b",
    "né à côté",
    "洗い 二回",
    "e\u0301 beside é, and 👕",
)
GAPS = ("", "", "", "\n", "\n\n", "   \n", "# flush left\n", "           # far in: [odd}\n",
        "  # né\n\n")  # fmt: skip
"""What may stand between two lines of a block: nothing, blank lines, comments at any indent."""
FLOW_GAPS = ("", "", " ", "  ", "\n", ' # read {twice}, "so\n', "\n# flush left\n", " \n\n   ")
"""What may stand beside a comma or a bracket."""
Choose = Callable[[tuple[str, ...]], str]


@dataclass(frozen=True)
class DrawnRecord:
    """A record as bytes, and how many pieces it has."""

    body: bytes
    pieces: int


class RoundWriter:
    """Writes each part of a round in a form that hypothesis draws."""

    def __init__(self, draw: st.DrawFn) -> None:
        self.draw = draw

    def one_of(self, choices: tuple[str, ...]) -> str:
        """Return one of some texts."""
        return self.draw(st.sampled_from(choices))

    def now_and_then(self, often: int = 4) -> bool:
        """Say yes once in so many times."""
        return self.draw(st.integers(0, often - 1)) == often - 1

    def comment(self) -> str:
        """Return what may stand behind a value on its line."""
        return self.one_of(COMMENTS)

    def quoted(self, text: str, indent: int = 0) -> str:
        """Return a text plain where it may be, or in quotes; over two lines where that is asked."""
        style = self.one_of(("p", "p", "d", "s"))
        folded = text
        if indent and self.now_and_then(6):
            folded = text.replace(" ", "\n" + " " * (indent + 2), 1)
        if style == "d":
            return '"' + folded.replace("\\", "\\\\").replace('"', '\\"') + '"'
        if style == "p" and not any(sign in text for sign in (": ", " #", '"', "'")):
            return folded
        return "'" + folded.replace("'", "''") + "'"

    def key(self, key: str) -> str:
        """Return a key with its colon, in quotes now and then."""
        form = self.one_of(("{}:", "{}:", "{}:", '"{}":', "'{}':", "{} :", '"{}" :'))
        return form.format(key)

    def readings(self, indent: int, *, flow: bool) -> str:
        """Return what stands behind the colon of a reading, or of a few of the same point."""
        some = self.draw(st.lists(st.sampled_from(READINGS), min_size=1, max_size=3))
        texts = [self.quoted(text) for text in some]
        if len(texts) == 1 and not self.now_and_then():
            return " " + texts[0]
        form = self.one_of(("short", "spread", "block" if not flow else "spread"))
        if form == "short":
            return f" [{', '.join(texts)}]"
        if form == "spread":
            return " " + self.brackets("[]", texts, indent)
        column = " " * (indent + (2 if self.now_and_then(2) else 0))
        lines = [f"{self.one_of(GAPS)}{column}- {text}{self.comment()}" for text in texts]
        return f"{self.comment()}\n" + "\n".join(lines)

    def brackets(self, kind: str, entries: list[str], indent: int) -> str:
        """Return entries in brackets, with comments and lines wherever YAML allows them."""
        inside = " " * (indent + 3)

        def gap() -> str:
            found = self.one_of(FLOW_GAPS)
            return found.replace("\n", "\n" + inside) if "\n" in found else found

        def before_comma() -> str:
            return gap() if self.now_and_then() else ""

        text = kind[0] + gap()
        text += "".join(f"{entry}{before_comma()},{gap() or ' '}" for entry in entries[:-1])
        if entries:
            text += entries[-1] + before_comma()
            text += f",{gap()}" if self.now_and_then(3) else gap()
        return text + kind[1]

    def mapping(self, pairs: list[tuple[str, str]], indent: int, *, block: bool) -> str:
        """Return what stands behind a colon: pairs in braces, or on lines of their own."""
        form = self.one_of(("short", "spread", "below", "block" if block else "short"))
        entries = [self.key(key) + value for key, value in pairs]
        if form == "short" or not pairs:
            return self.one_of((" {}", " { }")) if not pairs else f" {{{', '.join(entries)}}}"
        if form == "spread":
            return " " + self.brackets("{}", entries, indent)
        if form == "below":
            return f"\n{' ' * (indent + 1)}{{{', '.join(entries)}}}"
        return self.comment() + "\n" + self.lines(entries, indent)

    def lines(self, entries: list[str], indent: int) -> str:
        """Return entries on lines of their own."""
        column = " " * indent
        return "\n".join(f"{self.gap()}{column}{entry}{self.behind(entry)}" for entry in entries)

    def gap(self) -> str:
        """Return what may stand between two lines."""
        return self.one_of(GAPS)

    def behind(self, entry: str) -> str:
        """Return a comment where one may follow: not in a text that stands below its key."""
        below = "\n" in entry and any(sign in entry for sign in ("|", ">", "- "))
        return "" if below else self.comment()

    def received(self, indent: int, *, block: bool) -> str:
        """Return the readings of a piece, or of a point of them, or nothing yet."""
        points = self.draw(st.lists(st.sampled_from(POINTS), unique=True, max_size=4))
        if not points and self.now_and_then(2):
            return ""
        pairs = []
        for point in points:
            nothing = self.now_and_then(8)
            pairs.append((point, " " if nothing else self.readings(indent + 2, flow=True)))
        if block and points and self.now_and_then(2):
            pairs = [(point, "" if self.now_and_then(8) else
                      self.readings(indent + 2, flow=False)) for point in points]  # fmt: skip
            entries = [self.key(key) + value for key, value in pairs]
            return self.comment() + "\n" + self.lines(entries, indent + 2)
        return self.mapping(pairs, indent + 2, block=block)

    def note(self, indent: int) -> str:
        """Return what stands behind the colon of a note that has lines of its own."""
        text, column = self.one_of(NOTES), "\n" + " " * (indent + 2)
        form = self.one_of(("line", "line", "below", "|", ">-", "| # as heard", "|+", "|2-"))
        if form == "line":
            return " " + self.quoted(text, indent)
        if form == "below":
            return column + self.quoted(text)
        return f" {form}{column}{text}{column}# no comment"

    def piece(self, number: int, indent: int) -> str:
        """Return one piece in a list of its own lines."""
        column = indent + 2
        if self.now_and_then(6):
            fields = self.short_piece(number)
            return f"{' ' * indent}- {self.brackets('{}', fields, column)}{self.comment()}"
        entries = [f"{self.key('piece')} L-black-{number}", "size:  L", "colour: 'black'"]
        if self.now_and_then(2):
            entries.append(self.key("received") + self.received(column, block=True))
        if self.now_and_then(2):
            entries.append("note:" + self.note(column))
        if self.now_and_then(2):
            entries.append(f"washed:\n{' ' * column}  - {{cycles: 1, half_chest: 21 3/4}}")
        dash = f"-\n{' ' * column}" if self.now_and_then(8) else "- "
        first = f"{self.gap()}{' ' * indent}{dash}{entries[0]}{self.comment()}\n"
        return first + self.lines(entries[1:], column)

    def short_piece(self, number: int) -> list[str]:
        """Return what a piece in braces holds."""
        entries = [f"piece: L-black-{number}", "size: L", "colour: black"]
        if self.now_and_then(2):
            points = self.draw(st.lists(st.sampled_from(POINTS), unique=True, max_size=3))
            pairs = [(point, self.readings(8, flow=True)) for point in points]
            entries.append("received:" + self.mapping(pairs, 8, block=False))
        return entries

    def pieces(self, count: int) -> str:
        """Return every piece of a round, with the key above them."""
        if self.now_and_then(10):
            entries = [self.brackets("{}", self.short_piece(n), 4) for n in range(1, count + 1)]
            return "pieces: " + self.brackets("[]", entries, 2)
        indent = self.draw(st.sampled_from((0, 2, 4)))
        return "pieces:\n" + "\n".join(self.piece(n, indent) for n in range(1, count + 1))

    def ends(self, text: str) -> str:
        """Return the text with the ends of its lines as editors leave them, also side by side."""
        kind = self.one_of(("\n", "\n", "\r\n", "both", "every"))
        if kind not in {"both", "every"}:
            return text.replace("\n", kind)
        dice = random.Random(self.draw(st.integers(0, 2**16)))
        some = ("\n", "\r\n") if kind == "both" else ("\n", "\r\n", "\r")
        return "".join(dice.choice(some) if char == "\n" else char for char in text)


@st.composite
def drawn_rounds(draw: st.DrawFn) -> DrawnRecord:
    """Give a round in some form that a person may have left it in."""
    pen = RoundWriter(draw)
    head = [
        pen.one_of(("# yaml-language-server: $schema=../round.schema.json", "---", "# né", "")),
        f"style: tarn-thrush/h6{pen.comment()}",
        f"{pen.key('date')}   2026-03-14{pen.comment()}",
        "by: rv",
        "tape: {unit: in, reads_to: 1/8}",
    ]
    count = draw(st.integers(1, 3))
    between = pen.one_of(("", "\n", "\n# ---- the pieces ----\n\n"))
    text = "\n".join(head) + "\n" + between + pen.pieces(count) + pen.one_of(TAILS)
    body = pen.ends(text).encode()
    if pen.now_and_then(5):
        body = b"\xef\xbb\xbf" + body
    return DrawnRecord(body, count)


TAILS = (
    "",
    "\n",
    "\n\n\n",
    "\nnote: >-\n  folded over\n  two lines\n",
    "\nnote: |\n  as it\n  stands\n\n",
    "\nnote: |+\n  kept\n\n\n# the end",
    "\nnote: ends here",
    "\nnote: |-\n  ends here",
    "\nnote: >2\n    folded\n  too",
    "\n# the end\n",
    "\nswatches:\n",
    "\nswatches: # none yet",
    "\nphotos: []\n",
    "\nphotos: [ # none\n  ]",
    "\n...\n",
)
