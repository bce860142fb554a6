"""No prompt and no flag stores what `check` would refuse: each field, through each of its doors.

A field of a schema and an option of a command that writes must each stand in a table here. One that
does not is new, and has to be tried.
"""

import datetime
import sys
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
import typer

from blankbook.records.load_ledger import load_ledger
from blankbook.text.ledger_files import FILE_PATTERNS
from blankbook.text.schemas import schema
from blankbook.words.grade_scales import AFTER_WASHING, FRESH_PRINT, WASHED_PRINT, WEAR, WORKMANSHIP
from blankbook.words.points import POINTS, SEAMS
from command_pages import every_command
from shares import share
from support import SMALL_LEDGER, LedgerMaker, Program

BLANK = "tarn-thrush/h6"
FOLDER = f"blanks/{BLANK}"
DELIVERY = f"{FOLDER}/2024-03-04-bulk-delivery.yaml"
ORDER = "2024-02-20-choir-order"
BOUGHT = "2024-02-21-bought-order"
PLAN = f"{FOLDER}/2024-03-01-next.yaml"
STYLE = ("add", "style", "tarn-thrush/q9", "--name", "Q9", "--sizes", "S,M", "--colours", "black",
         "--since", "2024-01-08")  # fmt: skip
ROUND = ("enter", PLAN, "--by", "rv", "--lot", "B", "--date", "2024-03-02")
ROUND_FILE = f"{FOLDER}/2024-02-12-first.yaml"
FILLED = ("enter", ROUND_FILE)
WASHED = (*FILLED, "--washed", "1", "--put", "L-black-1.half_chest=21 3/4")
PRINT = (*FILLED, "--decorated", "film_transfer", "--put", "L-black-1.cover=5")
DECIDE = (*FILLED, "--decide", "hold", "--by", "rv", "--date", "2024-03-01", "--reason", "later")
COME = ("enter", DELIVERY)
CAME = ("receive", BLANK, "--came", "M=9", "--lot", "B", "--by", "jt", "--date", "2024-03-09")
NEED = ("order", BLANK, "--need", "black:M=9", "--by", "rv", "--for", "me", "--day", "2024-03-01")
TOTAL = (*NEED[:2], *NEED[4:], "--total", "black=60", "--mix", "M=2,L=3")
BUY = ("outcome", BLANK, "--file", ORDER, "--bought", "black:M=9", "--goods", "40", "--day",
       "2024-02-22")  # fmt: skip
WENT = ("outcome", BLANK, "--file", BOUGHT, "--spoiled", "M=1", "--day", "2024-03-22")

Doors = dict[str, tuple[str, tuple[str, ...], str]]
"""By door: the field, the line that is right but for it, and how a value stands in the option."""


def _doors(line: tuple[str, ...], options: Mapping[str, str], name: str = "") -> Doors:
    """Return doors of one line by option: ``FIELD``, or ``FIELD like TEMPLATE``."""
    found: Doors = {}
    for option, text in options.items():
        field, _, shape = text.partition(" like ")
        found[f"{name or line[0]} {option} {field}"] = (field, line, shape or "{}")
    return found


DOORS: Doors = {
    **_doors(("start", "NEW", "--no-git", "--name", "A", "--units", "in", "--currency", "USD"), {
        "--name": "shop.shop", "--units": "shop.units", "--currency": "shop.currency",
    }),
    **_doors(("add", "supplier", "Sedge Hollow", "--key", "sedge-hollow"), {
        "--key": "supplier.supplier", "--contact": "supplier.contact", "NAME": "supplier.name",
        "--website": "supplier.website", "--terms": "supplier.terms",
        "--lead-time": "supplier.lead_time_days", "--sends": "supplier.sends",
        "--minimum": "supplier.minimum", "--since": "supplier.since", "--note": "supplier.note",
    }, "add supplier"),
    **_doors(STYLE, {
        "--name": "style.name", "--colours": "style.colours.[]", "--sizes": "style.sizes.[]",
        "--construction": "style.construction", "--wearer": "style.wearer",
        "--neck-label": "style.neck_label", "--fibre": "style.fabric.fibre",
        "--knit": "style.fabric.knit", "--mass": "style.fabric.mass", "--called": "style.called",
        "--uses": "style.uses.[]", "--note": "style.note",
    }, "add style"),
    **_doors((*STYLE, "--price", "4.60"), {
        "--price": "style.prices.[].each", "--currency": "style.prices.[].currency",
        "--price-of": "style.prices.[].sizes like M={}", "--since": "style.prices.[].since",
    }, "add style"),
    **_doors((*STYLE, "--chart", "CHART", "--unit", "in"), {
        "--source": "style.charts.[].source", "--since": "style.charts.[].since",
        "--tolerance": "style.charts.[].tolerance.* like half_chest={}",
        "--unit": "style.charts.[].unit", "--sheet": "style.charts.[].sizes",
        "--point": "style.charts.[].how.* like Width={}", "--around": "style.charts.[].sizes",
        "--flat": "style.charts.[].sizes",
    }, "add style"),
    **_doors(("add", "chart", BLANK, "--chart", "CHART", "--unit", "in", "--since", "2024-05-01"), {
        "--source": "style.charts.[].source", "--since": "style.charts.[].since",
        "--tolerance": "style.charts.[].tolerance.* like half_chest={}",
        "--unit": "style.charts.[].unit", "--sheet": "style.charts.[].sizes",
        "--point": "style.charts.[].how.* like Width={}", "--around": "style.charts.[].sizes",
        "--flat": "style.charts.[].sizes",
    }, "add chart"),
    **_doors(("plan", BLANK, "--sizes", "M", "--colours", "black", "--day", "2024-03-05"), {
        "--lot": "round.lot", "--sizes": "round.pieces.[].size", "--around": "round.pieces.[].size",
        "--colours": "round.pieces.[].colour", "--day": "round.planned",
        "--each": "round.pieces.[].piece", "--word": "round.style",
    }),
    **_doors((*ROUND, "--put", "M-black-1.half_chest=20"), {
        "--by": "round.by", "--lot": "round.lot", "--date": "round.date",
        "--add": "round.pieces.[].piece",
        "--put": "round.pieces.[].received.* like M-black-1.half_chest={}",
        "--points": "round.pieces.[].received.*", "--pieces": "round.pieces.[].piece",
    }),
    **_doors((*ROUND, "--put", "M-black-1.half_chest=20"), {
        "--tape": "round.tape.unit like 0.1 {}",
    }),
    **_doors((*ROUND, "--put", "M-black-1.half_chest=20"), {
        "--tape": "round.tape.reads_to like {} in",
    }, "enter reads"),
    **_doors((*FILLED, "--decorated", "film_transfer", "--washed", "1", "--put",
              "M-black-1.peeling=5"), {
        "--put": "round.decorated.[].washed.[].* like M-black-1.cracking={}",
    }, "enter print"),
    **_doors(WASHED, {
        "--washed": "round.pieces.[].washed.[].cycles", "--wash": "round.laundering.wash",
        "--put": "round.pieces.[].washed.[].* like L-black-1.body_length={}",
    }),
    **_doors((*WASHED, "--wash", "home_warm,tumble_low"), {
        "--wash": "round.laundering.dry like home_warm,{}",
    }, "enter dry"),
    **_doors(PRINT, {
        "--decorated": "round.decorated.[].method", "--material": "round.decorated.[].material",
        "--press": "round.decorated.[].press.temperature like {}, 12 s, medium",
        "--dryer": "round.decorated.[].dryer.temperature like {}, 120 s",
        "--put": "round.decorated.[].result.* like L-black-1.cover={}",
    }),
    **_doors((*FILLED, "--worn", "5", "--by", "rv", "--put", "M-black-1.shape=4"), {
        "--worn": "round.pieces.[].worn.[].days", "--washes": "round.pieces.[].worn.[].washes",
        "--by": "round.pieces.[].worn.[].by",
        "--put": "round.pieces.[].worn.[].* like M-black-1.shape={}",
    }),
    **_doors((*FILLED, "--workmanship", "--put", "M-black-1.hems=4"), {
        "--put": "round.pieces.[].workmanship.* like M-black-1.seams={}",
    }),
    **_doors((*FILLED, "--swatches", "100 cm2", "--put", "M-black-1.mass=1.8"), {
        "--swatches": "round.swatches.[].area",
        "--put": "round.swatches.[].mass like L-black-1.mass={}",
    }),
    **_doors(DECIDE, {
        "--decide": "round.decision.decision", "--by": "round.decision.by",
        "--date": "round.decision.date", "--reason": "round.decision.reason",
        "--sizes": "round.decision.sizes.[]", "--uses": "round.decision.uses.[]",
        "--conditions": "round.decision.conditions.[]",
    }),
    **_doors(NEED, {
        "--by": "order.by", "--for": "order.for", "--day": "order.date", "--use": "order.use",
        "--need": "order.needed like black:M={}", "--needed-by": "order.needed_by",
        "--enough": "order.enough", "--shirt": "order.money.shirt", "--print": "order.money.print",
        "--refund": "order.money.refund", "--short": "order.money.short",
        "--left-over": "order.money.left_over", "--word": "order.style",
    }),
    **_doors(TOTAL, {
        "--total": "order.total like black={}", "--give-or-take": "order.give_or_take",
        "--mix": "order.mix like M={}",
    }),
    **_doors(BUY, {
        "--bought": "order.bought.pieces like black:M={}", "--day": "order.bought.date",
        "--goods": "order.bought.goods", "--freight": "order.bought.freight",
        "--samples": "order.bought.samples",
    }),
    **_doors(WENT, {
        "--day": "order.outcome.date", "--spoiled": "order.outcome.spoiled like M={}",
        "--short": "order.outcome.short like M={}",
        "--exchanged": "order.outcome.exchanged like M={}",
        "--returned": "order.outcome.returned like M={}",
        "--left-over": "order.outcome.left_over like M={}",
    }),
    **_doors(CAME, {
        "--came": "delivery.delivered like M={}", "--lot": "delivery.lot", "--by": "delivery.by",
        "--invoiced": "delivery.invoiced like M={}", "--again": "delivery.again",
        "--order": "delivery.order", "--date": "delivery.date",
        "--colours": "delivery.pieces.[].colour", "--each": "delivery.pieces.[].piece",
        "--word": "delivery.style",
    }),
    **_doors((*COME, "--looked", "20"), {
        "--looked": "delivery.inspected", "--fault": "delivery.faults.[].size like {}=hole",
        "--put": "delivery.pieces.[].received.* like M-black-1.half_chest={}",
        "--add": "delivery.pieces.[].piece like L-black-{}",
        "--tape": "delivery.tape.reads_to like {} in",
    }),
    **_doors((*COME, "--looked", "20"), {
        "--fault": "delivery.faults.[].note like M=hole, {}",
    }, "enter note"),
    **_doors((*COME, "--looked", "20"), {
        "--fault": "delivery.faults.[].fault like M={}",
    }, "enter bad"),
    **_doors((*COME, "--looked", "20"), {
        "--fault": "delivery.faults.[].colour like M-{}=hole",
    }, "enter hue"),
    **_doors((*COME, "--decide", "accepted", "--by", "rv", "--date", "2024-03-05"), {
        "--decide": "delivery.decision.decision", "--by": "delivery.decision.by",
        "--date": "delivery.decision.date", "--reason": "delivery.decision.reason",
    }),
    **_doors(("import", "TABLE", BLANK, "--by", "rv", "--lot", "C", "--date", "2024-03-07",
              "--unit", "in", "--colour", "black"), {
        "--by": "round.by", "--lot": "round.lot", "--date": "round.date",
        "--colour": "round.pieces.[].colour", "--tape": "round.tape.reads_to like {} in",
        "--wash": "round.laundering.wash like {},tumble_low", "--unit": "round.tape.unit",
        "--word": "round.style", "--column": "round.pieces.[].received.* like Width={}",
        "--around": "round.pieces.[].received.*", "--flat": "round.pieces.[].received.*",
        "--sheet": "round.pieces.[].received.*", "--into": "round.style",
    }),
    **_doors(("import", "LIST", BLANK, "--by", "rv", "--for", "me", "--date", "2024-03-07",
              "--colour", "black"), {
        "--for": "order.for", "--use": "order.use", "--needed-by": "order.needed_by",
        "--shirt": "order.money.shirt",
    }, "import list"),
}  # fmt: skip
"""Each option of a command that puts something into a file."""

LEFT = {
    "ledger", "dry-run", "json", "help", "new", "git", "good-cells", "good-rows", "strict",
    "as-measured", "by-point", "workmanship", "chart", "list", "sheet", "lines", "handed", "file",
    "colour",
}  # fmt: skip
"""Options that put no text of their own into a file: files to read are other tests' matter."""
BY_HAND = (
    "shop", "study", "supplier.supply", "style.style", "style.supply", "style.changed",
    "style.charts.[].confirmed", "style.charts.[].sizes", "style.prices.[].breaks",
    "style.prices.[].extra", "style.prices.[].together", "round.style", "round.bought", "round.how",
    "round.pieces.[].lot", "round.pieces.[].washed.[].note", "round.pieces.[].workmanship.note",
    "round.pieces.[].worn.[].note", "round.laundering.note", "round.decorated.[].note",
    "round.decorated.[].washed.[].note", "round.decorated.[].washed.[].cycles",
    "round.decorated.[].piece", "round.decorated.[].press", "round.decorated.[].dryer",
    "round.swatches.[].piece", "round.swatches.[].note", "round.photos", "round.note",
    "delivery.style", "delivery.changed", "delivery.corrected", "delivery.approved", "delivery.how",
    "delivery.tape.unit", "delivery.pieces.[].lot", "delivery.pieces.[].size", "delivery.photos",
    "delivery.faults.[].piece", "delivery.faults.[].count", "delivery.note", "order.style",
    "order.money.currency", "order.bought.currency", "order.note",
)  # fmt: skip
"""Fields, or all below them, into which a command puts nothing that was typed for them."""
BY_KEY = {
    "round.pieces.[].note", "round.pieces.[].confirmed",
    "delivery.pieces.[].note", "delivery.pieces.[].confirmed",
}  # fmt: skip
"""Fields that only a key at the table fills."""
MEASURES = {*POINTS, *SEAMS, *AFTER_WASHING, *FRESH_PRINT, *WASHED_PRINT, *WEAR, *WORKMANSHIP}
BAD = (" ", "x" * 5000, "\u202e", "-1", "sam", "2199-01-01", "1e9", "[a, {", "nan", "a\nb", "?")
"""No value of most fields; where it is one, it is stored."""
WRITING = ("start", "add supplier", "add style", "add chart", "plan", "enter", "import", "order",
           "outcome", "receive")  # fmt: skip


def fields_of(part: Mapping[str, Any], way: tuple[str, ...]) -> Iterator[str]:
    """Yield every field of a schema; what is measured or graded as one, with a star."""
    if part.get("type") == "object" and "properties" in part:
        for key, inner in part["properties"].items():
            star = key in MEASURES and len(MEASURES & set(part["properties"])) > 1
            yield from fields_of(inner, (*way, "*" if star else key))
    elif part.get("type") == "array":
        yield from fields_of(part["items"], (*way, "[]"))
    else:
        yield ".".join(way)


def test_every_field_has_its_doors_or_none() -> None:
    """A new field stands in a table; none stands there that is gone."""
    every = {field for kind in FILE_PATTERNS for field in fields_of(schema(kind), (kind,))}
    every |= {field.removesuffix(".*") for field in every}
    entered = {field for field, _, _ in DOORS.values()} | BY_KEY
    left = {field for field in every if field not in entered and not field.endswith(".*")}
    assert [f for f in sorted(left) if not _is_by_hand(f) and f"{f}.*" not in every] == []
    assert sorted(entered - every) == []


def _is_by_hand(field: str) -> bool:
    return any(field == part or field.startswith(f"{part}.") for part in BY_HAND)


def test_every_option_that_is_stored_is_tried() -> None:
    """A new option of a command that writes is a new door."""
    from typer.main import get_command

    from blankbook.commands.main import app

    commands = every_command(get_command(app))
    tried = {(_command(line), door.split()[-2]) for door, (_, line, _) in DOORS.items()}
    for name in WRITING:
        options = {opt for one in commands[name].params for opt in one.opts if opt[:2] == "--"}
        options -= {f"--{left}" for left in LEFT}
        assert sorted(options - {option for command, option in tried if command == name}) == []


def _command(line: tuple[str, ...]) -> str:
    return " ".join(line[: 2 if line[0] == "add" else 1])


def full_ledger(ledger_factory: LedgerMaker) -> Path:
    """Return a ledger that every line of the table can be tried in."""
    order = f"style: {BLANK}\ndate: 2024-02-20\nby: rv\nfor: me\nneeded: {{black: {{M: 9}}}}\n"
    bought = "bought: {date: 2024-02-22, goods: 40, pieces: {black: {M: 9}}}\n"
    return ledger_factory(
        {
            f"{FOLDER}/{ORDER}.yaml": order,
            f"{FOLDER}/{BOUGHT}.yaml": order.replace("02-20", "02-21") + bought,
            ROUND_FILE: SMALL_LEDGER[ROUND_FILE]
            + "laundering: {wash: home_warm, dry: tumble_low}\n"
            "decorated: [{piece: M-black-1, method: film_transfer, result: {cover: 5}}]\n",
            PLAN: f"style: {BLANK}\nplanned: 2024-03-01\npieces:\n"
            "  - {piece: M-black-1, size: M, colour: black}\n",
            DELIVERY: f"style: {BLANK}\ndate: 2024-03-04\nby: jt\nlot: B\ndelivered: {{M: 90}}\n"
            "inspected: 0\ntape: {unit: in, reads_to: 1/8}\npieces:\n"
            "  - {piece: M-black-1, size: M, colour: black}\n",
            f"{FOLDER}/style.yaml": (
                f"style: {BLANK}\nname: H6\nsizes: [S, M, L]\ncolours: [black]\n"
                "prices: [{since: 2024-01-01, each: 4.60}]\n"
            ),
        }
    )


def errors_in(root: Path) -> list[str]:
    """Return what is wrong in a ledger."""
    found = load_ledger(root, today=datetime.date(2150, 1, 1), pictures=False).findings
    return [f"{f.path}: {f.message}" for f in found if f.level == "error"]


LINES = {" ".join(line): line for _, line, _ in DOORS.values()}
CASES = [(door, bad) for bad in BAD for door in DOORS]


def words_of(line: tuple[str, ...], folder: Path, root: Path) -> tuple[list[str], Path]:
    """Return a line with the files that it names, and the ledger that it writes into."""
    (folder / "chart.csv").write_text("Size,Width,Length\nS,18,28\nM,20,29\n")
    (folder / "table.csv").write_text("Size,Piece,Width,Length\nM,1,20,29\nL,1,22,30\n")
    (folder / "list.csv").write_text("Size,Count\nM,9\nL,4\n")
    places = {"CHART": folder / "chart.csv", "TABLE": folder / "table.csv", "NEW": folder / "new",
              "LIST": folder / "list.csv"}  # fmt: skip
    words = [str(places.get(word, word)) for word in line]
    return words, places["NEW"] if line[0] == "start" else root


@pytest.mark.parametrize("line", LINES.values(), ids=LINES)
def test_every_line_is_right_but_for_the_value(
    line: tuple[str, ...], ledger_factory: LedgerMaker, command: Program, tmp_path: Path
) -> None:
    """Else what is tried behind it would be refused for another reason."""
    root = full_ledger(ledger_factory)
    words, _ = words_of(line, tmp_path, root)
    ended = command(*words, *(() if line[0] == "start" else ("--ledger", str(root))))
    assert ended.code == 0, ended.err


@pytest.mark.parametrize(("door", "bad"), share(CASES, one_in=12))
def test_no_option_stores_a_fault(
    door: str,
    bad: str,
    ledger_factory: LedgerMaker,
    command: Program,
    tmp_path: Path,
) -> None:
    """Refused, or stored as something that is right."""
    root = full_ledger(ledger_factory)
    _, line, shape = DOORS[door]
    option, value = door.split()[-2], shape.replace("{}", bad)
    words, where = words_of(line, tmp_path, root)
    if option == "NAME":
        words[2] = value
    else:
        words.append(f"{option}={value}")
    ended = command(*words, *(() if line[0] == "start" else ("--ledger", str(root))))
    assert ended.code in {0, 1, 2}, ended.err
    assert errors_in(where if where.exists() else root) == []


Answers = Mapping[str, str]
"""By words of a question: what is answered once a bad answer was refused; else nothing."""

ASKED: dict[str, tuple[tuple[str, ...], Answers]] = {
    "add supplier": (("add", "supplier", "Sedge Hollow"), {}),
    "add style": (
        ("add", "style", "tarn-thrush/q9"),
        {"calls": "Q9", "colours": "black", "sizes": "S,M", "another": "y"},
    ),
    "order": (
        ("order", BLANK, "--day", "2024-03-01"),
        {"colours": "black", "how many": "M=9", "who": "rv", "for whom": "me"},
    ),
    "bought": (
        ("outcome", BLANK, "--file", ORDER, "--day", "2024-02-23"),
        {"colours": "black", "how many": "M=9", "together": "40"},
    ),
    "outcome": (("outcome", BLANK, "--file", BOUGHT, "--day", "2024-03-22"), {}),
    "receive": (("receive", BLANK, "--date", "2024-03-09"), {"  M": "9", "who": "jt", "lot": "B"}),
    "enter": (("enter", PLAN), {"day of": "2024-03-02", "who": "rv", "the lot": "B"}),
    "enter washed": ((*FILLED, "--washed", "1"), {"cycles": "1"}),
    "enter worn": ((*FILLED, "--worn", "5"), {}),
    "enter print": ((*FILLED, "--decorated", "film_transfer"), {}),
    "look over": (COME, {"size or piece": "M"}),
    "decide": ((*FILLED, "--decide", "hold"), {"who": "rv"}),
}
MOST_QUESTIONS = 300


def asker(bad: str, answers: Answers) -> Callable[..., str]:
    """Return what answers each question badly first, and then rightly."""
    asked: list[str] = []

    def prompt(words: str, default: str | None = None, **_: object) -> str:
        asked.append(words)
        assert len(asked) < MOST_QUESTIONS, words
        if asked.count(words) == 1:
            return bad
        if "keep it" in words:
            return "n"
        return next((said for part, said in answers.items() if part in words), default or "")

    return prompt


def keys(bad: str, answers: Answers) -> Callable[..., Callable[[str], str]]:
    """Return the same for one line at the table: a note and a fault first, then what is bad."""
    asked, prompt = list[str](), asker(bad, answers)

    def key(words: str) -> str:
        asked.append(words)
        if asked.count(words) == 1 and (" of 20 >" in words or "half chest" in words):
            return "4" if " of 20 >" in words else "c"
        return prompt(words)

    return lambda: key


@pytest.mark.parametrize(
    ("name", "bad"), share([(name, bad) for bad in BAD for name in ASKED], one_in=6)
)
def test_no_question_stores_a_fault(
    name: str,
    bad: str,
    ledger_factory: LedgerMaker,
    command: Program,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A bad answer is asked again, or refused at the end; what is stored is right."""
    from blankbook.commands.entering import table_prompts
    from blankbook.commands.receiving import look_over

    line, answers = ASKED[name]
    root = full_ledger(ledger_factory)
    monkeypatch.setattr(typer, "prompt", asker(bad, answers))
    monkeypatch.setattr(typer, "confirm", lambda *_, **__: True)
    for module in (table_prompts, look_over):
        monkeypatch.setattr(module, "line_prompt", keys(bad, answers))
    for stream in (sys.stdin, sys.stdout):
        monkeypatch.setattr(stream, "isatty", lambda: True, raising=False)
    ended = command(*line, "--ledger", str(root))
    assert ended.code in {0, 1, 2}, ended.err
    assert errors_in(root) == []
