"""The page that readings are typed into, and the terminal: what one says, the other says.

Both are run: Chromium the page's own scripts on the data that the page is given, Python the sheet
that `enter` asks from. The rounds, and what is typed into them, are random.
"""

import datetime
import json
import random
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from blankbook.entry.round.filled_round import FilledRound
from blankbook.entry.round.stages import RECEIVED_STAGE
from blankbook.entry.round.typed_lengths import read_typed
from blankbook.pages.table.phone_page import TAPE_CHOICES, table_pages
from blankbook.records.lengths import LengthError, read_length
from blankbook.records.model import Blank, Chart, Piece, PlannedRound, Shop, Source, Tape
from blankbook.words.points import POINTS
from made_blanks import blank, shop
from shares import examples, is_night

pytestmark = pytest.mark.browser
PAGE = "table/hobnettle/q5/2026-11-16-winter.html"
LOOK = """([data, tape, asked]) => {
  const round = JSON.parse(data);
  round.tape = round.tapes.find(one => one.unit === tape[0] && one.says === tape[1]);
  const odds = self.blankbookOdd(round);
  return asked.map(([at, typed, again, read, why]) => {
    const found = odds.look(read, at, typed, again, why);
    if (!found.wrong) return {text: found.text, odd: found.odd};
    return found.instead ? {wrong: found.wrong, instead: found.instead} : {wrong: found.wrong};
  });
}"""


@pytest.fixture(scope="module")
def scripts(site: Path, browser: Any) -> Any:
    """Return a page that has the scripts."""
    page = browser.new_page()
    page.goto((site / PAGE).as_uri())
    return page


class Made:
    """A planned round of some style, half of it read, in one of the ways that there are."""

    def __init__(self, dice: random.Random) -> None:
        self.dice = dice
        self.tape = Tape(*_unit_and_step(dice.choice(TAPE_CHOICES)))
        unit = dice.choice(["in", "cm"])
        self.shop: Shop = replace(
            shop(), unit=unit, tape=Tape(*_unit_and_step(dice.choice(TAPE_CHOICES)))
        )
        sizes = dice.choice([("S", "M", "L", "XL"), ("8", "10", "12", "4"), ("XS", "2", "M")])
        self.blank: Blank = blank(sizes=sizes, charts=self._charts(sizes, unit))
        self.names = [(f"p{n}", dice.choice(sizes)) for n in range(dice.randint(2, 7))]
        pieces = tuple(Piece(Source("r"), k, s, "black", "", {}) for k, s in self.names)
        source = Source("blanks/a/b/2026-01-20-first.yaml")
        day = datetime.date(2026, 1, 20)
        plan = PlannedRound(source, "2026-01-20-first", "a/b", day, pieces, tape=self.tape)
        self.planned = replace(self.blank, planned=(plan,))
        rows = "".join(f"  - {{piece: {k}, size: {s}, colour: black}}\n" for k, s in self.names)
        step = f"{{unit: {self.tape.unit}, reads_to: {self.tape.reads_to.written}}}"
        self.text = f"style: a/b\nplanned: 2026-01-20\ntape: {step}\npieces:\n{rows}"
        (page,) = table_pages(self.planned, self.shop, {source.path: self.text.encode()})
        self.data = page.files[0].text.removeprefix("self.blankbookRound=").rstrip(";\n")
        self.points = [point["key"] for point in json.loads(self.data)["points"]]
        self.read: dict[str, dict[str, list[str]]] = {}
        self.why: dict[str, str] = {k: "seen" for k, _ in self.names if dice.random() < 0.1}

    def _charts(self, sizes: tuple[str, ...], unit: str) -> tuple[Chart, ...]:
        """Return no chart, or one with gaps, steps of nothing, and sizes that fit alike."""
        dice = self.dice
        if dice.random() < 0.3:
            return ()
        rows: dict[str, dict[str, Any]] = {size: {} for size in sizes}
        firsts = {"half_chest": 18, "body_length": 27, "sleeve_length": 8, "rib_height": 1}
        for point, first in firsts.items():
            value = first * (1.0 if unit == "in" else 2.5)
            for size in sizes:
                value += dice.choice([0, 0.25, 0.5, 1, 2]) * (first > 1)
                if dice.random() < 0.9:
                    rows[size][point] = read_length(f"{value:g}", unit)
        allowed = {"half_chest": read_length(dice.choice(["0.5", "1"]), unit)}
        return (Chart(datetime.date(2024, 1, 1), "sheet", unit, rows, allowed),)

    def sheet(self) -> FilledRound:
        """Return what the terminal asks from, with all that was read so far in the file."""
        text = self.text
        for key, size in self.names:
            row = self.read.get(key, {})
            lengths = ", ".join(f"{p}: [{', '.join(t)}]" for p, t in row.items())
            line = f"{{piece: {key}, size: {size}, colour: black"
            confirmed = f", confirmed: {self.why[key]}" if key in self.why else ""
            text = text.replace(line + "}", f"{line}{confirmed}, received: {{{lengths}}}}}")
        return FilledRound(
            text.encode(), self.blank.style, self.shop, self.tape, RECEIVED_STAGE, self.points
        )

    def typed(self, piece: str, point: str) -> str:
        """Return what a person may type: near what is expected, or with some slip."""
        dice, unit = self.dice, self.tape.unit
        wanted = float(self.sheet().expected((piece, point)) or POINTS[point].least * 2)
        whole = 25.4 if unit == "in" else 10.0
        off = dice.choice([0, 0, 0.25, 0.5, 0.75, 1, 2, 3, -1, -2, dice.uniform(-4, 4)]) * whole
        mm = max(3.0, (wanted + off) * dice.choice([1, 1, 1, 1, 1, 1, 2, 2.54, 1 / 2.54]))
        step = float(self.tape.reads_to.mm)
        count = max(1, round(mm / step))
        value = count * self.tape.reads_to.exact / read_length("1", unit).exact
        width, parts = (len(str(value.denominator - 1)), value.denominator)
        if unit == "in" and parts > 1 and dice.random() < 0.6:
            marks = round((value - int(value)) * self._parts())
            return f"{int(value)}+{marks}"
        if dice.random() < 0.2:
            return "".join(dice.choice("0123456789") for _ in range(dice.randint(1, 4)))
        if dice.random() < 0.2:
            return f"{dice.randint(1, 60)}.{dice.choice(['', '5', '25', '125', '3'])}"
        if dice.random() < 0.1:
            return f"{dice.randint(0, 60)}+{dice.randint(0, 40)}"
        return f"{float(value):g}".replace(".", "" if dice.random() < 0.5 and width < 3 else ".")

    def _parts(self) -> int:
        return int(read_length("1", "in").exact / self.tape.reads_to.exact)


def _unit_and_step(choice: tuple[str, str]) -> tuple[str, Any]:
    unit, step = choice
    return unit, read_length(step, unit)


def terminal(made: Made, cell: tuple[str, str], typed: str, again: bool) -> dict[str, Any]:
    """Return what the terminal says of what was typed."""
    try:
        reading = made.sheet().read(cell, typed, again=again)
    except LengthError as error:
        told = {"wrong": str(error)}
        return {**told, "instead": error.instead} if "must be between" in str(error) else told
    return {"text": reading.written, "odd": [warning.says for warning in reading.warnings]}


@pytest.mark.parametrize("start", range(4))
def test_what_is_typed_means_the_same_and_is_as_odd(scripts: Any, start: int) -> None:
    """Hundreds of cells: the text for the file, each warning and each refusal, word for word."""
    dice = random.Random(20261128 + start)
    counts = {"plain": 0, "odd": 0, "wrong": 0, "again": 0}
    for _ in range(examples(day=40, night=200)):
        made = Made(dice)
        asked, said = [], []
        for _ in range(10):
            piece = dice.randrange(len(made.names))
            point = dice.randrange(len(made.points))
            cell = (made.names[piece][0], made.points[point])
            typed, again = made.typed(*cell), dice.random() < 0.3
            read = json.loads(json.dumps(made.read))
            asked.append([{"piece": piece, "point": point}, typed, again, read, made.why])
            answer = terminal(made, cell, typed, again)
            said.append(answer)
            kind = "wrong" if "wrong" in answer else "odd" if answer["odd"] else "plain"
            counts[kind] += 1
            if "text" in answer:
                held = made.read.setdefault(cell[0], {})
                counts["again"] += again and cell[1] in held
                held[cell[1]] = (
                    [*held.get(cell[1], []), answer["text"]] if again else [answer["text"]]
                )
        tape = [made.tape.unit, made.tape.reads_to.written]
        found = scripts.evaluate(LOOK, [made.data, tape, asked])
        differ = [(a[:3], s, f) for a, s, f in zip(asked, said, found, strict=True) if s != f]
        assert differ == [], (tape, made.shop.unit)
    assert all(count >= 10 for count in counts.values()), counts


def test_digits_alone_mean_the_same(scripts: Any) -> None:
    """Numbers of up to four digits, on every tape, at every point that the page asks for."""
    made = Made(random.Random(1))
    for tape in [Tape(*_unit_and_step(choice)) for choice in TAPE_CHOICES]:
        for at, point in enumerate(made.points):
            wanted = made.sheet().expected((made.names[0][0], point))
            typed = [str(n) for n in range(0, 10000, 7 if is_night() else 91)]
            asked = [[{"piece": 0, "point": at}, text, False, {}, {}] for text in typed]
            key = [tape.unit, tape.reads_to.written]
            found = scripts.evaluate(LOOK, [made.data, key, asked])
            assert [answer.get("text", answer.get("wrong")) for answer in found] == [
                _keyed(text, tape, point, wanted) for text in typed
            ]


def _keyed(typed: str, tape: Tape, point: str, wanted: Fraction | None) -> str:
    try:
        return read_typed(typed, tape, point, wanted).written
    except LengthError as error:
        return str(error)
