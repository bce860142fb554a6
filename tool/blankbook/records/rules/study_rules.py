"""Rules of studies of measuring: everybody reads every piece equally often."""

from collections.abc import Iterator

from blankbook.records.model import Study
from blankbook.text.findings import Fault, visible
from blankbook.words.points import POINTS

LONGEST_NAME = 60


def of_study(study: Study) -> Iterator[Fault]:
    """Yield what keeps a study from separating people, pieces and repeats."""
    yield from _twice(study)
    if len(study.pieces) < 2:
        message = f"must be two pieces or more, found {len(study.pieces)}"
        yield Fault(("pieces",), "study-too-small", message, "let everybody read more pieces")
    people = study.people
    if len(people) < 2:
        message = f"must be read by two people or more, found {', '.join(map(visible, people))}"
        remedy = "for one person alone, write repeat readings into the rounds"
        yield Fault(("pieces", 0, "read"), "study-too-small", message, remedy)
        return
    unnamed = list(_unnamed(study))
    # A misspelt name is a person of its own, whose pieces would look uneven as well.
    yield from unnamed or _uneven(study, people)
    yield from _impossible(study)


def _twice(study: Study) -> Iterator[Fault]:
    seen: dict[str, int] = {}
    for index, piece in enumerate(study.pieces):
        first = seen.setdefault(piece.key.casefold(), index)
        if first != index:
            message = f"piece {visible(piece.key)} is there twice"
            remedy, before = "give each piece its own name", ("pieces", first, "piece")
            yield Fault(("pieces", index, "piece"), "piece-twice", message, remedy, first=before)


def _unnamed(study: Study) -> Iterator[Fault]:
    for index, piece in enumerate(study.pieces):
        for person in piece.read:
            if not person.strip() or len(person) > LONGEST_NAME:
                message = f"must be who read it, found {visible(person)}"
                at = ("pieces", index, "read", person)
                remedy = "write initials, as in by:"
                yield Fault(at, "unnamed-person", message, remedy, on_key=True)


def _uneven(study: Study, people: tuple[str, ...]) -> Iterator[Fault]:
    """Yield pieces that a person has not read as often as pieces were usually read."""
    counts = [len(readings) for piece in study.pieces for readings in piece.read.values()]
    # The commonest count is taken for what was meant.
    wanted = max(2, max(counts, key=counts.count))
    for index, piece in enumerate(study.pieces):
        at = ("pieces", index, "read")
        for person in people:
            if person not in piece.read:
                message = f"{visible(person)} has not read {visible(piece.key)}"
                remedy = f"let {visible(person)} read it {wanted} times, or leave the piece out"
                yield Fault(at, "uneven-study", message, remedy, on_key=True)
            elif len(piece.read[person]) != wanted:
                message = f"must be {wanted} readings, found {len(piece.read[person])}"
                remedy = "everybody reads every piece equally often, twice at least"
                yield Fault((*at, person), "uneven-study", message, remedy)


def _impossible(study: Study) -> Iterator[Fault]:
    point = POINTS[study.point]
    for index, piece in enumerate(study.pieces):
        for person, readings in piece.read.items():
            for number, reading in enumerate(readings):
                if not point.least <= reading.mm <= point.most:
                    message = f"no {point.name} measures {visible(reading.written)}"
                    at = ("pieces", index, "read", person, number)
                    yield Fault(at, "out-of-range", message, "write what the tape says")
