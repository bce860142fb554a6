"""A round's file while it is filled: what it holds, and what a reading would make of it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from blankbook.entry.round.expected_lengths import (
    EarlierReadings,
    ReadingWarning,
    Target,
    Targets,
    chart_to_expect,
    expected_length,
    reading_warnings,
    size_targets,
)
from blankbook.entry.round.round_positions import (
    Details,
    clear_value,
    fill_value,
    piece_index,
    stage_pieces,
    value_at,
    value_path,
)
from blankbook.entry.round.stages import MASS, Stage, reading_title
from blankbook.entry.round.typed_grades import read_typed_grade, read_typed_mass
from blankbook.entry.round.typed_lengths import read_typed, read_typed_seam
from blankbook.records.lengths import LengthError, read_length, say_length
from blankbook.records.model import Shop, Style, Tape
from blankbook.records.reading_slips import mistaken_scale, outside_span, say_mistaken_scale
from blankbook.text.findings import Fault, ValuePath
from blankbook.text.schema_messages import schema_faults
from blankbook.text.schemas import with_types
from blankbook.text.writing.edits import CannotEditError, NewValue, set_value, set_values
from blankbook.text.writing.yaml_spans import RecordText
from blankbook.text.yaml_tree import read_tree
from blankbook.words.points import POINTS, SEAMS

NOT_MEASURED = "-"
MOST_MARKS_APART = 3
"""Marks of the tape that repeat readings may differ by; `check` asks from the same difference."""
LONGEST_TEXTS = {"note": 4000, "confirmed": 400}
"""By key: characters that the schema of a round allows."""
MOST_NEW_ENTRIES = 200
"""Entries of washings, prints or swatches that one list may begin: each is an edit of its own."""
RoundCell = tuple[str, str]
"""A piece, and a point of measure or a grade."""


@dataclass(frozen=True, slots=True)
class TypedReading:
    """A reading that was typed, as the file will hold it."""

    written: str
    length: Fraction | None
    """Exact millimetres; None for grades and masses."""
    warnings: tuple[ReadingWarning, ...] = ()


class FilledRound:
    """One round at one stage.

    Raises: UnreadableError where the bytes are no record.
    """

    def __init__(
        self, source: bytes, style: Style, shop: Shop, tape: Tape, stage: Stage, keys: Sequence[str]
    ) -> None:
        self.style, self.shop, self.tape, self.stage = style, shop, tape, stage
        self.keys = tuple(keys)
        self.only: Sequence[str] = ()
        """The pieces to look at; empty for all that can be."""
        self.new_entries = 0
        self.details: Details = {}
        """What a new entry of a print holds besides its grades."""
        self.use_bytes(source)
        self.targets: Targets = size_targets(style, self._chart(), shop, list(POINTS), self.how)

    def use_bytes(self, source: bytes) -> None:
        """Replace the bytes of the file by newer ones."""
        self.source = source
        self.tree: dict[str, Any] = RecordText(source).tree
        self._waiting: dict[ValuePath, NewValue] = {}
        self._pieces: dict[str, dict[str, Any]] = {}

    def _chart(self) -> Any:
        import datetime

        bought = self.tree.get("bought") or {}
        day = bought.get("date") or self.tree.get("date") or self.tree.get("planned")
        return chart_to_expect(self.style, datetime.date.fromisoformat(day) if day else None)

    @property
    def how(self) -> Mapping[str, str]:
        """By point: the variant it is measured by, where the file says so."""
        variants: Mapping[str, str] = self.tree.get("how") or {}
        return variants

    @property
    def pieces(self) -> dict[str, dict[str, Any]]:
        """The pieces by key, in the order of the file."""
        if not self._pieces:
            self._pieces = {piece["piece"]: piece for piece in self.tree.get("pieces", ())}
        return self._pieces

    @property
    def looked_at(self) -> list[str]:
        """The keys of the pieces to look at, in the order of the file."""
        can_be = stage_pieces(self.tree, self.stage)
        return [piece for piece in can_be if piece in self.only] if self.only else can_be

    def cells(self, point_by_point: bool = False) -> list[RoundCell]:
        """Return every cell in the order in which it is asked for."""
        if point_by_point:
            return [(piece, key) for key in self.keys for piece in self.looked_at]
        return [(piece, key) for piece in self.looked_at for key in self.keys]

    def value(self, cell: RoundCell) -> NewValue | None:
        """Return what the file holds in a cell."""
        return value_at(self.tree, self.stage, *cell)

    def texts(self, cell: RoundCell) -> list[str]:
        """Return the readings of a cell, however many."""
        value = self.value(cell)
        return [value] if isinstance(value, str) else list(value or ())

    def expected(self, cell: RoundCell) -> Fraction | None:
        """Return what a length should be, or None; after washing, the length before it."""
        piece, point = cell
        if point not in POINTS:
            return None
        if self.stage.block == "washed":
            return self._received(piece, point)
        return expected_length(self._target(cell), self._earlier(cell).siblings)

    def read(self, cell: RoundCell, text: str, *, again: bool = False) -> TypedReading:
        """Return what was typed for a cell, with what is odd about it.

        Read *again*, it is compared only with what was read before.

        Raises: LengthError, in words a person can act on.
        """
        _, key = cell
        if again and key not in POINTS:
            raise LengthError(f"{reading_title(key)} is read once", "type it without the *")
        if key in SEAMS:
            return self._seam(cell, text)
        if key not in POINTS:
            return TypedReading(
                read_typed_mass(text) if key == MASS else read_typed_grade(key, text), None
            )
        wanted = self.expected(cell) or self._target(cell).usual
        typed = read_typed(text, self.tape, key, wanted)
        warnings = self._warnings(cell, typed.length, again=again)
        return TypedReading(typed.written, typed.length, tuple(warnings))

    def _warnings(
        self, cell: RoundCell, length: Fraction, *, again: bool
    ) -> Sequence[ReadingWarning]:
        """Return what is odd about a length that was typed for a cell."""
        if again and (before := self._lengths(cell)):
            return self._repeated(length, before)
        if self.stage.block == "washed":
            return self._shrunk(cell, length)
        earlier, others = self._earlier(cell), self._others(cell)
        unit = self.tape.unit
        return reading_warnings(length, cell[1], self._target(cell), earlier, others, unit)

    def _seam(self, cell: RoundCell, text: str) -> TypedReading:
        """Return a shift or a length of the side seam; with both, warn of too much twist."""
        piece, key = cell
        found = {seam: self.texts((piece, seam))[:1] for seam in SEAMS} | {key: [text]}
        read = {
            seam: read_typed_seam(seam, texts[0], self.tape)
            for seam, texts in found.items()
            if texts
        }
        this = read[key]
        if len(read) < len(SEAMS):
            return TypedReading(this.written, this.length)
        twist = 100 * read["seam_shift"].length / read["seam_length"].length
        limit = self.shop.skew_limit
        said = f"twists by {float(twist):.1f} %, past the limit of {limit:g} %"
        far = (ReadingWarning("chart", f"{said}: read both once more"),)
        return TypedReading(this.written, this.length, far if twist > _percent(limit) else ())

    def _lengths(self, cell: RoundCell) -> list[Fraction]:
        """Return what was read in a cell, in exact millimetres."""
        try:
            return [read_length(text, self.tape.unit).exact for text in self.texts(cell)]
        except LengthError:
            return []

    def _repeated(self, length: Fraction, before: Sequence[Fraction]) -> tuple[ReadingWarning, ...]:
        """Compare a reading with earlier ones of the same point and piece, as `check` does."""
        off, farthest = max((abs(length - earlier), earlier) for earlier in before)
        if off <= MOST_MARKS_APART * self.tape.reads_to.exact:
            return ()
        other = say_length(float(farthest), self.tape.unit)
        return (
            ReadingWarning(
                "repeat", f"more than {MOST_MARKS_APART} marks from {other}, read before"
            ),
        )

    def _shrunk(self, cell: RoundCell, length: Fraction) -> tuple[ReadingWarning, ...]:
        """Compare a reading after washing with the same piece as received."""
        piece, point = cell
        before = self._received(piece, point)
        if before is None:
            return (
                ReadingWarning("chart", f"{reading_title(point)} was not measured as received"),
            )
        change = 100 * (length - before) / before
        limit = self.shop.wash_limit[POINTS[point].direction]
        if abs(change) <= _percent(limit):
            return ()
        unit = self.tape.unit
        said = f"changed by {float(change):+.1f} %, past the limit of {limit:g} %"
        if slip := mistaken_scale(length, before, point, unit):
            return (
                ReadingWarning("chart", said),
                ReadingWarning("slip", say_mistaken_scale(slip, length, before, unit)),
            )
        return (ReadingWarning("chart", f"{said}: read it once more"),)

    def _target(self, cell: RoundCell) -> Target:
        """Return what a cell's point should measure at the size of its piece."""
        return self.targets[self.pieces[cell[0]]["size"]][cell[1]]

    def _earlier(self, cell: RoundCell) -> EarlierReadings:
        """Return what was read at a point of the other pieces, by their labels."""
        piece, point = cell
        by_size: dict[str, list[Fraction]] = {size: [] for size in self.style.sizes}
        wide = False
        span = self._target(cell).span
        for name, row in self.pieces.items():
            read = self._received(name, point) if name != piece else None
            if read is not None:
                by_size.setdefault(row["size"], []).append(read)
                wide = wide or (bool(row.get("confirmed")) and outside_span(read, span))
        return EarlierReadings(self.pieces[piece]["size"], by_size, wide)

    def _received(self, piece: str, point: str) -> Fraction | None:
        """Return the first reading as received, in exact millimetres."""
        held = (self.pieces[piece].get("received") or {}).get(point)
        first = held[0] if isinstance(held, list) else held
        try:
            return read_length(first, self.tape.unit).exact if first else None
        except LengthError:
            return None

    def _others(self, cell: RoundCell) -> Mapping[str, Fraction]:
        """Return the charted lengths of the other points of the same size."""
        row = self.targets[self.pieces[cell[0]]["size"]]
        found = {point: row[point].charted for point in self.keys if point in row}
        return {p: mm for p, mm in found.items() if mm is not None and p != cell[1]}

    def with_reading(
        self, cell: RoundCell, written: str, *, again: bool = False, source: bytes | None = None
    ) -> bytes:
        """Return the file with a reading; *again* adds it to what was read before.

        *source* is the file with other changes already in it. Raises: CannotEditError.
        """
        value: NewValue = written
        if again and (before := self.texts(cell)):
            value = [*before, written]
        return fill_value(source or self.source, self.stage, *cell, value, self.details)

    def put_reading(self, cell: RoundCell, written: str, *, again: bool = False) -> None:
        """Put a reading into the sheet; the bytes have it after `write_readings`.

        So that many readings are written at once: an edit for each would read the file anew.
        Raises: CannotEditError, UnreadableError.
        """
        path = value_path(self.tree, self.stage, *cell)
        if path is None:
            self.write_readings()
            self.use_bytes(self.with_reading(cell, written, again=again))
            self.new_entries += 1
            if self.new_entries > MOST_NEW_ENTRIES:
                raise CannotEditError(f"at most {MOST_NEW_ENTRIES} new entries fit into one list")
            return
        before = self.texts(cell) if again else []
        value: NewValue = [*before, written] if before else written
        holder: Any = self.tree
        for step in path[:-1]:
            if isinstance(holder, dict) and holder.get(str(step)) is None:
                holder[str(step)] = {}
            holder = holder[step]
        holder[path[-1]] = value
        self._waiting[path] = value

    def write_readings(self) -> None:
        """Write what was put into the sheet into its bytes.

        Raises: CannotEditError, UnreadableError.
        """
        waiting = list(self._waiting.items())
        if not waiting:
            return
        try:
            source, _ = set_values(self.source, waiting)
        except CannotEditError:  # a form that has no place for all at once may have one for each
            source = self.source
            for path, value in waiting:
                source = set_value(source, path, value)
        self.use_bytes(source)

    def with_words(self, piece: str, key: str, words: str, source: bytes | None = None) -> bytes:
        """Return the file with a ``note`` on a piece, or why its readings are ``confirmed``.

        Words that are there already stay in front. Raises: CannotEditError.
        """
        before = self.pieces[piece].get(key)
        text = f"{before}; {words}" if before else words
        if len(words) > self.room_for(piece, key):
            raise CannotEditError(f"{key} would be longer than {LONGEST_TEXTS[key]} characters")
        return set_value(source or self.source, ("pieces", self.index_of(piece), key), text)

    def room_for(self, piece: str, key: str) -> int:
        """Return how many characters of a ``note`` or of ``confirmed`` can be added."""
        before = self.pieces[piece].get(key)
        return LONGEST_TEXTS[key] - (len(f"{before}; ") if before else 0)

    def with_previous(self, cell: RoundCell, before: NewValue | None) -> bytes:
        """Return the file with what a cell held before, or without a value in it.

        Raises: CannotEditError.
        """
        if before is None:
            return clear_value(self.source, self.stage, *cell)
        return fill_value(self.source, self.stage, *cell, before)

    def index_of(self, piece: str) -> int:
        """Return the index of a piece in the list. Raises: KeyError."""
        return piece_index(self.tree, piece)


def _percent(limit: float) -> Fraction:
    """Return a limit in percent as it was written."""
    return Fraction(str(limit))


def round_faults(source: bytes, kind: str = "round") -> list[Fault]:
    """Return the faults that the schema of a *kind* finds in a file before it is written."""
    return schema_faults(with_types(read_tree("", RecordText(source).text).tree, kind), kind)
