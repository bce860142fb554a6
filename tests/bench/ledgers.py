"""Made-up ledgers of any size, in our own file format: the same seed gives the same bytes.

A round has 12 pieces, 6 points of measure, each read as received, after one and after five washes.
A ledger of *n* blanks has about 1.8 rounds for each of them.
"""

import random
from pathlib import Path

SEED = 20261125
SIZES = ("S", "M", "L", "XL")
POINTS = {
    "half_chest": (18.0, 2.0),
    "body_length": (28.0, 1.0),
    "shoulder_width": (17.0, 1.0),
    "sleeve_length": (8.0, 0.5),
    "sleeve_opening": (7.0, 0.5),
    "hem_width": (18.0, 2.0),
}
"""Inches: the smallest size, and the growth to the next."""
ALONG = ("body_length", "sleeve_length")
COLOURS = ("black", "navy", "white")
PER_SUPPLIER = 25
_SHOP = """\
shop: Made-up Print Room
units: in
currency: USD
tape: {unit: in, reads_to: 1/8}
required: [size_against_chart, grade_steps, washing]
deciding_points: [half_chest, body_length]
"""


def write_ledger(root: Path, blanks: int, *, rounds: int | None = None) -> int:
    """Write a ledger of *blanks* blanks to *root*; return how many rounds it has.

    With *rounds*, each blank gets that many.
    """
    dice = random.Random(SEED)
    root.mkdir(parents=True)
    (root / "shop.yaml").write_text(_SHOP, encoding="utf-8")
    written = 0
    for number in range(blanks):
        supplier = f"maker-{number // PER_SUPPLIER:03d}"
        place = root / "suppliers" / f"{supplier}.yaml"
        if not place.exists():
            place.parent.mkdir(exist_ok=True)
            text = f"supplier: {supplier}\nname: Maker {number // PER_SUPPLIER}\n"
            place.write_text(text, encoding="utf-8")
        each = rounds or dice.choices((1, 2, 3), weights=(40, 40, 20))[0]
        _write_blank(root / "blanks" / supplier / f"t{number:05d}", supplier, each, dice)
        written += each
    return written


def _write_blank(folder: Path, supplier: str, rounds: int, dice: random.Random) -> None:
    folder.mkdir(parents=True)
    key = f"{supplier}/{folder.name}"
    (folder / "style.yaml").write_text(_style(key), encoding="utf-8")
    run_large = dice.gauss(0, 0.15)
    for number in range(rounds):
        date = f"{2022 + number // 12}-{number % 12 + 1:02d}-{dice.randint(1, 28):02d}"
        place = folder / f"{date}-round-{number + 1}.yaml"
        place.write_text(_round(key, date, run_large, dice), encoding="utf-8")


def _style(key: str) -> str:
    lines = [
        f"style: {key}",
        f"name: Tee {key.rpartition('/')[2]}",
        "fabric: {fibre: 100 % cotton, knit: jersey, mass: 5.3 oz/yd2}",
        "construction: side_seamed",
        "wearer: adult",
        f"sizes: [{', '.join(SIZES)}]",
        f"colours: [{', '.join(COLOURS)}]",
        "charts:",
        "  - since: 2022-01-01",
        "    source: size sheet",
        "    unit: in",
        "    sizes:",
    ]
    for step, size in enumerate(SIZES):
        cells = ", ".join(f"{point}: {in_inches(s + step * g)}" for point, (s, g) in POINTS.items())
        lines.append(f"      {size}: {{{cells}}}")
    return "\n".join(lines) + "\n"


def _round(key: str, date: str, run_large: float, dice: random.Random) -> str:
    lines = [
        f"style: {key}",
        f"date: {date}",
        "by: rv",
        f"lot: LOT {dice.randint(1000, 9999)}",
        "tape: {unit: in, reads_to: 1/8}",
        "pieces:",
    ]
    lot = run_large + dice.gauss(0, 0.1)
    for number in range(12):
        step, colour = number % len(SIZES), COLOURS[number // len(SIZES)]
        true = {p: s + step * g + lot + dice.gauss(0, 0.15) for p, (s, g) in POINTS.items()}
        lines += [
            f"  - piece: {SIZES[step]}-{colour}-1",
            f"    size: {SIZES[step]}",
            f"    colour: {colour}",
            f"    received: {{{_cells(true, 0, dice)}}}",
            "    washed:",
            f"      - {{cycles: 1, {_cells(true, 1, dice)}}}",
            f"      - {{cycles: 5, {_cells(true, 5, dice)}}}",
        ]
    lines.append("laundering: {wash: home_warm, dry: tumble_medium}")
    return "\n".join(lines) + "\n"


def _cells(true: dict[str, float], cycles: int, dice: random.Random) -> str:
    cells = []
    for point, inches in true.items():
        most = -0.055 if point in ALONG else -0.03
        share = most * (1 - 0.4**cycles) + dice.gauss(0, 0.003) * (cycles > 0)
        cells.append(f"{point}: {in_inches(inches * (1 + share))}")
    return ", ".join(cells)


def in_inches(value: float) -> str:
    """Return a length to the nearest eighth, as a shop writes it."""
    whole, eighths = divmod(round(value * 8), 8)
    parts = {0: "", 2: " 1/4", 4: " 1/2", 6: " 3/4"}
    return f"{whole}{parts.get(eighths, f' {eighths}/8')}"


def latest_rounds(root: Path) -> list[Path]:
    """Return the newest round of every blank."""
    folders = sorted({place.parent for place in root.glob("blanks/*/*/style.yaml")})
    return [max(f for f in folder.glob("2*.yaml")) for folder in folders]


def edit_reading(place: Path) -> None:
    """Change the first reading of a round by an inch's eighth, there and back."""
    text = place.read_text(encoding="utf-8")
    head, mark, rest = text.partition("received: {half_chest: ")
    old, comma, tail = rest.partition(",")
    whole, _, part = old.partition(" ")
    new = whole if part == "1/8" else f"{whole} 1/8"
    place.write_text(head + mark + new + comma + tail, encoding="utf-8")
