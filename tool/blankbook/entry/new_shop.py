"""The files of a shop that begins: a ledger that is empty, whole, and says what to do next."""

import json
from importlib.resources import files

from blankbook.text.schemas import KINDS
from blankbook.text.writing.scalars import plain

TAPES = {"in": "1/8", "cm": "0.1"}
"""What most tapes of a unit can be read to (common practice, no source)."""
PLACES = {
    "shop": "shop.yaml",
    "supplier": "suppliers/*.yaml",
    "study": "measuring/*.yaml",
    "style": "blanks/*/*/style.yaml",
    "round": "blanks/*/*/[0-9]*.yaml",
    "delivery": "blanks/*/*/*-delivery.yaml",
}
"""Where the files of each kind are, for an editor that completes from a schema."""
_INCHES = {"half": "1/2", "ease": "4"}
_CENTIMETRES = {"half": "1.3", "ease": "10"}


def new_shop(name: str, unit: str, currency: str, version: str) -> dict[str, str]:
    """Return the texts of a new ledger by path; shop.yaml, which makes it one, comes last."""
    found = {f"schemas/{kind}.schema.json": _schema(kind) for kind in (*KINDS, "words")}
    found |= {f"{folder}/.gitkeep": "" for folder in ("suppliers", "blanks", "measuring")}
    return found | {
        ".gitignore": _IGNORED,
        ".gitattributes": _ATTRIBUTES,
        ".vscode/settings.json": _editor(),
        ".github/workflows/ledger.yml": _WORKFLOW.replace("VERSION", version),
        "README.md": _README.replace("SHOP", name.replace("\n", " ")),
        "shop.yaml": _shop(name, unit, currency),
    }


def _schema(kind: str) -> str:
    return (files("blankbook.schemas") / f"{kind}.schema.json").read_text(encoding="utf-8")


def _editor() -> str:
    known = {f"schemas/{kind}.schema.json": place for kind, place in PLACES.items()}
    return json.dumps({"yaml.schemas": known}, indent=2) + "\n"


def _shop(name: str, unit: str, currency: str) -> str:
    lengths = _INCHES if unit == "in" else _CENTIMETRES
    text = _SHOP
    for word, value in {
        "NAME": plain(name),
        "UNIT": unit,
        "CURRENCY": currency,
        "TAPE": TAPES[unit],
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
# texts have one kind of line end everywhere, and a photo is left as it is
* text=auto
*.yaml text eol=lf
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
| make the site | `blankbook build` |

Washing hot, pressing and curing can scald and burn, and inks and pretreatments can harm: follow
the makers' instructions, keep the air moving, and follow what the law asks where you work.
Children's sizes fall under safety law of their own, which no measurement shows to be met.
"""

_WORKFLOW = """\
# Looks the ledger through, and publishes the site of what is on the main branch.
name: ledger

on:
  push:
    branches: [main]
  pull_request:

permissions:
  contents: read

env:
  # What is installed: set the repository's variable BLANKBOOK to the address of a wheel of
  # blankbook VERSION, or of a repository, that you trust. No name is looked up in a public index.
  BLANKBOOK: ${{ vars.BLANKBOOK }}

jobs:
  look:
    runs-on: ubuntu-latest
    steps:
      - uses: actions/checkout@v4
        with:
          fetch-depth: 0
          persist-credentials: false
      - uses: actions/setup-python@v5
        with:
          python-version: "3.12"
      - name: install
        run: |
          case "$BLANKBOOK" in
            https://*|git+https://*) pip install "$BLANKBOOK" ;;
            *) echo "::error::set the variable BLANKBOOK to an address that begins with https://"
               exit 1 ;;
          esac
      - run: blankbook check --ledger . --format github
      - name: What the pull request changes, by meaning
        if: github.event_name == 'pull_request'
        run: >-
          blankbook changes "origin/$GITHUB_BASE_REF" HEAD --ledger . --format markdown
          >> "$GITHUB_STEP_SUMMARY"
      - run: blankbook build --ledger . --out catalogue
      - uses: actions/upload-pages-artifact@v3
        with:
          path: catalogue

  publish:
    # What the shop knows of its suppliers is its own: keep the site private, or build --public.
    if: github.ref == 'refs/heads/main' && vars.PUBLISH == 'yes'
    needs: look
    runs-on: ubuntu-latest
    permissions:
      pages: write
      id-token: write
    environment: github-pages
    steps:
      - uses: actions/deploy-pages@v4
"""
