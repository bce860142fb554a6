"""Types and texts that tests share: ``from support import Ended, LedgerMaker, Program``."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]

SMALL_LEDGER: dict[str, str] = {
    "shop.yaml": """\
shop: Brackenlight Print Room
units: in
currency: USD
tape: {unit: in, reads_to: 1/8}
required: [size_against_chart, grade_steps]
deciding_points: [half_chest, body_length]
""",
    "suppliers/tarn-thrush.yaml": """\
supplier: tarn-thrush
name: Tarn & Thrush Blanks
""",
    "blanks/tarn-thrush/h6/style.yaml": """\
style: tarn-thrush/h6
name: H6 heavy tee
construction: side_seamed
wearer: adult
sizes: [S, M, L]
colours: [black]
charts:
  - since: 2024-01-08
    source: size sheet, page 3
    unit: in
    sizes:
      S: {half_chest: 18, body_length: 28}
      M: {half_chest: 20, body_length: 29}
      L: {half_chest: 22, body_length: 30}
""",
    "blanks/tarn-thrush/h6/2024-02-12-first.yaml": """\
style: tarn-thrush/h6
date: 2024-02-12
by: rv
lot: TT-2401-A
bought: {date: 2024-02-03, each: 4.60, currency: USD}
tape: {unit: in, reads_to: 1/8}
pieces:
  - piece: M-black-1
    size: M
    colour: black
    received: {half_chest: 20 1/8, body_length: 28 7/8}
  - piece: L-black-1
    size: L
    colour: black
    received: {half_chest: [22, 22 1/8], body_length: 30 1/8}
""",
}
"""A ledger without a fault: one supplier, one style, one round."""

Files = Mapping[str, str | bytes | None]
LedgerMaker = Callable[..., Path]
Program = Callable[..., "Ended"]


@dataclass(frozen=True, slots=True)
class Ended:
    """How a command ended."""

    code: int
    out: str
    err: str
