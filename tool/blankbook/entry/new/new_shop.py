"""The files of a new shop: an empty ledger that is complete and says what to do next."""

import json
from importlib.resources import files

from blankbook.entry.new.host_workflow import workflow_text
from blankbook.text.ledger_files import FILE_PATTERNS
from blankbook.text.writing.yaml_scalars import yaml_scalar

USUAL_TAPES = {"in": "1/8", "cm": "0.1"}
"""What most tapes of a unit can be read to (common practice, no source)."""
_INCHES = {"half": "1/2", "ease": "4"}
_CENTIMETRES = {"half": "1.3", "ease": "10"}


def new_shop_files(name: str, unit: str, currency: str, version: str) -> dict[str, str]:
    """Return the texts of a new ledger by path.

    shop.yaml comes last, as it makes a folder a ledger: a start that is stopped leaves none.
    """
    found = {f"schemas/{kind}.schema.json": _schema(kind) for kind in (*FILE_PATTERNS, "words")}
    found |= {f"{folder}/.gitkeep": "" for folder in ("suppliers", "blanks", "measuring")}
    return found | {
        ".gitignore": _IGNORED,
        ".gitattributes": _ATTRIBUTES,
        ".vscode/settings.json": _editor(),
        ".github/workflows/ledger.yml": workflow_text(version),
        "README.md": _README.replace("SHOP", name.replace("\n", " ")),
        "shop.yaml": _shop(name, unit, currency),
    }


def _schema(kind: str) -> str:
    return (files("blankbook.schemas") / f"{kind}.schema.json").read_text(encoding="utf-8")


def _editor() -> str:
    known = {f"schemas/{kind}.schema.json": place for kind, place in FILE_PATTERNS.items()}
    return json.dumps({"yaml.schemas": known}, indent=2) + "\n"


def _shop(name: str, unit: str, currency: str) -> str:
    """Return the text of shop.yaml, with lengths in the shop's unit."""
    lengths = _INCHES if unit == "in" else _CENTIMETRES
    text = _SHOP
    for word, value in {
        "NAME": yaml_scalar(name),
        "UNIT": unit,
        "CURRENCY": currency,
        "TAPE": USUAL_TAPES[unit],
        "HALF": lengths["half"],
        "EASE": lengths["ease"],
    }.items():
        text = text.replace(f"<{word}>", value)
    return text


_SHOP = """\
# yaml-language-server: $schema=schemas/shop.schema.json
# $schema: schemas/shop.schema.json
shop: <NAME>

# The unit that results are shown in, and the currency of prices (ISO 4217).
units: <UNIT>
currency: <CURRENCY>

# The tape on your table, and what you read it to.
tape: {unit: <UNIT>, reads_to: <TAPE>}

# How far a piece may be from the chart, where the chart itself does not say.
tolerance: {half_chest: <HALF>, body_length: <HALF>}

# What a blank must show before it is approved, and the points that decide.
required: [size_against_chart, grade_steps, washing]
deciding_points: [half_chest, body_length]

# The largest change after washing that you accept, in percent either way.
wash_limit: {along: 7, across: 5}

# How many pieces of a delivery are looked at: MIL-STD-105E, single sampling.
inspection: {level: II, aql: 2.5, reduced: never}

# How much more than the chest a shirt measures around, on the size charts for clients.
ease: <EASE>
"""

_IGNORED = """\
# what `blankbook build` makes, and what it keeps for the next time
catalogue/
.blankbook/
# a file that is being written
.blankbook-part-*
"""

_ATTRIBUTES = """\
# texts have one kind of line end everywhere, and a photo is left as it is; diff=blankbook has
# git show facts where README's line was run, and changes nothing where it was not
* text=auto
*.yaml text eol=lf diff=blankbook
*.json text eol=lf
*.md text eol=lf
*.jpg binary
*.jpeg binary
*.png binary
*.webp binary
"""

_README = """\
# What SHOP knows about its blanks

Before a new blank is ordered in numbers, we buy a few pieces, lay them flat, measure them, wash
them and measure again. Everything is written here: what suppliers claim, what we found, what we
decided and why. A folder for each style under `blanks/`, a file for each supplier under
`suppliers/`, a file for each round of measuring.

| to | run |
|---|---|
| add a supplier, a style | `blankbook add supplier`, `blankbook add style` |
| plan what to buy | `blankbook plan SUPPLIER/STYLE` |
| enter readings at the table | `blankbook enter SUPPLIER/STYLE` |
| take readings from a spreadsheet | `blankbook import FILE SUPPLIER/STYLE` |
| look for slips | `blankbook check` |
| see what a blank shows | `blankbook vet SUPPLIER/STYLE` |
| see what a change means | `blankbook changes --short`, or without `--short` for all of it |
| make the site | `blankbook build` |

Run this once on each machine, so that `git diff` and `git log -p` show facts and not lines.
Where blankbook is not found, git then shows the lines as always.

```sh
git config diff.blankbook.textconv 'f() { blankbook changes --textconv "$1" || cat "$1"; }; f'
```

Washing hot, pressing and curing can scald and burn, and inks and pretreatments can harm: follow
the makers' instructions, keep the air moving, and follow what the law asks where you work.
Children's sizes fall under safety law of their own, which no measurement shows to be met.
"""
