"""The `plan` command: a purchase of samples, what it costs, and what it can show."""

import datetime
import os
import re
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from blankbook.commands.adding.trial_check import prove
from blankbook.commands.open_rounds import added_to, open_round, why_apart
from blankbook.commands.shared.completion import blanks
from blankbook.commands.shared.completion import colours as colours_of
from blankbook.commands.shared.completion import sizes as sizes_of
from blankbook.commands.shared.errors import CLEAN, BlankbookError, WrongUse, shown
from blankbook.commands.shared.find_blank import one_blank
from blankbook.commands.shared.ledger_root import LedgerOption, ledger_root
from blankbook.commands.shared.prompts import parts
from blankbook.commands.shared.write_changes import (
    DryRunOption,
    JsonOption,
    Write,
    ask,
    carry_out,
    tell,
)

if TYPE_CHECKING:
    from blankbook.entry.new.sample_plan import PlannedPiece
    from blankbook.records.model import Style
    from blankbook.results.planning.sample_cost import SampleCost
    from blankbook.results.result_types import Judged

SCHEMA = "blankbook/plan/1"
MOST = 100
_WORD = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


def plan(
    blank: Annotated[
        str, typer.Argument(metavar="SUPPLIER/STYLE", help="The blank.", autocompletion=blanks)
    ],
    around: Annotated[
        str | None,
        typer.Option(
            help="A size; its neighbours below and above come with it.", autocompletion=sizes_of
        ),
    ] = None,
    sizes: Annotated[
        str | None, typer.Option(help="Just these sizes: M,L,XL.", autocompletion=sizes_of)
    ] = None,
    colours: Annotated[
        str | None, typer.Option(help="Colours, such as black,white.", autocompletion=colours_of)
    ] = None,
    each: Annotated[int, typer.Option(help="Pieces of each size in each colour.")] = 1,
    lot: Annotated[str, typer.Option(help="The lot, where it is known already.")] = "",
    word: Annotated[str, typer.Option(help="What the round is called after its day.")] = "sample",
    day: Annotated[str | None, typer.Option(help="The day, YYYY-MM-DD; today.")] = None,
    ledger: LedgerOption = None,
    dry: DryRunOption = False,
    as_json: JsonOption = False,
) -> int:
    """Plan a purchase of samples: its cost, what it can show, and the round's file to fill."""
    root = ledger_root(ledger)
    when = _day(day)
    if not _WORD.fullmatch(word) or len(word) > 40:
        raise WrongUse("--word must be small letters, digits and hyphens", "write --word sample")
    if not 1 <= each <= MOST:
        raise WrongUse(f"--each must be between 1 and {MOST}, found {each}", "write --each 2")
    wanted = _Wanted(around, sizes, colours, each, lot)
    found = one_blank(root, blank, wanted.of)
    write = _write(root, f"blanks/{found['blank']}/{when.isoformat()}-{word}", when, found, lot)
    place = f"blanks/{found['blank']}/style.yaml"
    prove(root, [Write(place, None, (root / place).read_bytes()), write])
    path, told = write.path, carry_out(root, [write], dry=dry)
    data = {key: value for key, value in found.items() if key not in {"file", "lines"}}
    data |= {"path": path, "written": not dry, "difference": told}
    done = f"wrote {path}" if write.old is None else f"added them to {path}: it is of the same lot"
    said = "\n".join([*found["lines"], told if dry else done])
    if not dry:
        said += f"\nnext: blankbook enter {shown(blank)}"
    tell(SCHEMA, data, said, as_json=as_json)
    return CLEAN


class _Wanted:
    """What was asked for, until the blank is known."""

    def __init__(
        self, around: str | None, sizes: str | None, colours: str | None, each: int, lot: str
    ) -> None:
        self.around, self.sizes, self.colours, self.each = around, sizes, colours, each
        self.lot = lot

    def of(self, judged: "Judged") -> dict[str, Any]:
        """Return the purchase for one blank, what it costs and what it can show."""
        from blankbook.entry.new.sample_plan import planned_pieces
        from blankbook.results.evidence import points_to_measure
        from blankbook.results.planning.sample_cost import sample_cost

        style, shop = judged.blank.style, judged.case.shop
        sizes, colours = self._sizes(style), self._colours(style)
        pieces = planned_pieces(sizes, colours, self.each)
        paid = sample_cost(judged.blank, shop, [piece.size for piece in pieces])
        shows = _shows(judged, len(sizes), self.each, len(colours))
        return {
            "blank": style.key,
            "pieces": [{"piece": p.key, "size": p.size, "colour": p.colour} for p in pieces],
            "cost": {"total": round(paid.total, 2), "each": paid.each, "currency": paid.currency}
            if paid
            else None,
            "can_show": [row for row, _ in shows],
            "lines": [
                *_lines(judged, sizes, colours, self.each, pieces, paid, shows),
                *why_apart(judged.blank, self.lot),
            ],
            "file": {
                "open": open_round(judged.blank, self.lot),
                "points": points_to_measure(judged.blank, shop),
                "tape": shop.tape,
                "pieces": pieces,
                "paid": paid,
            },
        }

    def _sizes(self, style: "Style") -> tuple[str, ...]:
        from blankbook.entry.new.sample_plan import middle_size, size_and_neighbours

        if self.around and self.sizes:
            raise WrongUse("--around and --sizes contradict each other", "leave one of them out")
        if self.sizes:
            return _known(self.sizes, style.sizes, "--sizes", "size")
        usual = middle_size(style)
        size = self.around or ask(f"the size to buy ({', '.join(style.sizes)})", "--around", usual)
        (size,) = _known(size, style.sizes, "--around", "size")
        return size_and_neighbours(style, size)

    def _colours(self, style: "Style") -> tuple[str, ...]:
        every = ",".join(style.colours)
        if not every and not self.colours:
            raise WrongUse("the style lists no colours", "write --colours black")
        given = self.colours or ask("the colours to buy", "--colours", every)
        return _known(given, style.colours, "--colours", "colour")


def _known(given: str, known: tuple[str, ...], flag: str, what: str) -> tuple[str, ...]:
    import difflib

    found = tuple(parts(given))
    for one in found:
        if known and one not in known:
            near = difflib.get_close_matches(one, known, n=1) or [k for k in known if
                   k.casefold() == one.casefold()]  # fmt: skip
            remedy = f"did you mean {near[0]}?" if near else f"there are {', '.join(known)}"
            raise WrongUse(f"{flag} names an unknown {what}: {shown(one)}", remedy)
    if not found:
        raise WrongUse(f"{flag} names no {what}", f"there are {', '.join(known)}")
    if flag == "--around" and len(found) > 1:
        raise WrongUse("--around takes one size", "write --sizes for several")
    return found


def _shows(
    judged: "Judged", sizes: int, each: int, colours: int
) -> list[tuple[dict[str, Any], str]]:
    """Return what the purchase can show by itself, a row for each question, as data and words."""
    from dataclasses import replace

    from blankbook.results.number_words import times_in_100
    from blankbook.results.planning.approval import PieceCounts
    from blankbook.results.planning.can_show import (
        WANTED_CHANCE,
        shown_by_purchases,
    )

    ahead = replace(judged.case, round=None)
    found = []
    for row in shown_by_purchases(ahead, (PieceCounts(sizes, each, colours),)).rows:
        (chance,) = row.chances
        said = row.what if chance is None else f"{row.what}: {times_in_100(chance)}"
        enough = (
            f" ({times_in_100(WANTED_CHANCE)} take {row.enough})" if row.enough and chance else ""
        )
        data = {"question": row.what, "chance": None if chance is None else round(chance, 6),
                "enough": row.enough}  # fmt: skip
        found.append((data, f"  - {said}{enough}"))
    return found


def _lines(
    judged: "Judged",
    sizes: tuple[str, ...],
    colours: tuple[str, ...],
    each: int,
    pieces: "list[PlannedPiece]",
    paid: "SampleCost | None",
    shows: list[tuple[dict[str, Any], str]],
) -> list[str]:
    from blankbook.results.number_words import say_counted, say_list

    style = judged.blank.style
    count = say_counted(len(pieces), "piece")
    price = "no price is known"
    if paid:
        price = f"{paid.total:.2f} {paid.currency} ({paid.each:.2f} each"
        price += ", some sizes more)" if paid.total > paid.each * len(pieces) + 0.005 else ")"
    return [
        f"{shown(style.key)}  {shown(style.name)}",
        f"{each} each of {say_list(list(sizes))} in {shown(say_list(list(colours)))}: "
        f"{count}, {price}",
        "what they can show by themselves, times in 100",
        *(shown(line) for _, line in shows),
        "what they cannot show: how another lot will be, and washing before they are washed",
    ]


def _day(given: str | None) -> datetime.date:
    if given is None:
        return datetime.datetime.now().astimezone().date()
    from blankbook.text.schemas import is_date

    if not is_date(given):
        message = f"--day must be a day such as 2026-03-14, found {shown(given)}"
        raise WrongUse(message, "write it as YYYY-MM-DD")
    return datetime.date.fromisoformat(given)


def _free(root: Path, start: str) -> str:
    """Return a path that is not taken: the name, or the name with the next number."""
    for number in range(1, 100):
        path = f"{start}.yaml" if number == 1 else f"{start}-{number}.yaml"
        if not os.path.lexists(root / path):
            return path
    raise BlankbookError("a hundred rounds were planned on one day", "write --word")


def _write(root: Path, start: str, when: datetime.date, found: dict[str, Any], lot: str) -> Write:
    """Return the planned round, or one of the same lot that is still open with more pieces."""
    if planned := found["file"]["open"]:
        return added_to(root, planned, found["file"]["pieces"])
    path = _free(root, start)
    return Write(path, None, _text(root, path, when, found, lot).encode())


def _text(root: Path, path: str, when: datetime.date, found: dict[str, Any], lot: str) -> str:
    from blankbook.commands.shared.find_blank import schema_of
    from blankbook.entry.new.planned_file import planned_round_text

    if len(lot) > 80 or not lot.isprintable():
        raise WrongUse("--lot must be at most 80 characters on one line", "write --lot A-12")
    parts = found["file"]
    return planned_round_text(
        found["blank"], when, parts["pieces"], parts["points"], parts["tape"], parts["paid"],
        lot, schema_of(root, path, "round"),
    )  # fmt: skip
