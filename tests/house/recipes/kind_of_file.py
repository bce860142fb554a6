"""What a supplier took back, as a file that no ledger has."""

import json

from house.recipes.invented import SCHEMA_TESTS, Addition, Invented, in_map, in_tool


def _text(title: str, example: str, **more: str | int) -> dict[str, object]:
    shape = {"title": title, "description": f"The {title}.", "examples": [example]}
    return {**shape, "type": "string", **more}


SCHEMA = {
    "$schema": "http://json-schema.org/draft-07/schema#",
    "title": "Recall",
    "description": "blanks/SUPPLIER/STYLE/DATE-WORD-recall.yaml: a lot that a supplier took back.",
    "type": "object",
    "additionalProperties": False,
    "required": ["style", "date", "lot", "reason"],
    "properties": {
        "style": _text("style", "tarn-thrush/h6", minLength=3, maxLength=100),
        "date": _text("day of the recall", "2026-05-02", format="date"),
        "lot": _text("lot", "TT-2401-A", minLength=1, maxLength=60),
        "reason": _text("reason", "seams open", minLength=1, maxLength=400),
    },
}

RECORD = '''\
"""A recall: a lot that a supplier took back."""

import datetime
from dataclasses import dataclass

from blankbook.records.model.basics import Source


@dataclass(frozen=True, slots=True)
class Recall:
    """blanks/SUPPLIER/STYLE/DATE-WORD-recall.yaml: one lot that was taken back."""

    source: Source
    key: str
    """The file's name without its ending."""
    style: str
    date: datetime.date
    lot: str
    reason: str
'''

CONVERTER = '''\
"""From a typed tree to a recall."""

import datetime

from blankbook.records.convert.tree_values import Faults
from blankbook.records.model import Recall, Source
from blankbook.text.yaml_tree import Tree


def to_recall(tree: Tree, path: str, faults: Faults) -> Recall:  # noqa: ARG001 - as all have it
    """Return one recall."""
    return Recall(
        source=Source(path),
        key=path.rpartition("/")[2].removesuffix(".yaml"),
        style=tree["style"],
        date=datetime.date.fromisoformat(tree["date"]),
        lot=tree["lot"],
        reason=tree["reason"],
    )
'''

RULES = '''\
"""Rules of recalls: each has a reason."""

from collections.abc import Iterator

from blankbook.records.load_file import LoadedFile
from blankbook.records.model import Recall
from blankbook.records.rule_context import RuleContext
from blankbook.records.rules import name_rules
from blankbook.text.findings import Fault, Finding, visible


def of_recall(recall: Recall) -> Iterator[Fault]:
    """Yield a reason that says nothing."""
    if recall.reason.casefold() in {"unknown", "none"}:
        message = f"must be why the lot was taken back, found {visible(recall.reason)}"
        yield Fault(("reason",), "no-reason", message, "ask the supplier")


def recall_findings(context: RuleContext, loaded: LoadedFile) -> list[Finding]:
    """Return what is wrong with a recall."""
    recall = loaded.record
    if loaded.parsed is None or not isinstance(recall, Recall):
        return []
    faults = [
        *name_rules.of_style(recall, loaded.file),
        *name_rules.of_round(recall),
        *of_recall(recall),
    ]
    return context.located(loaded.parsed, faults)
'''

LOADING = """\
        case "recall":
            found = recall_findings(context, loaded)
"""
FILE = """\
style: tarn-thrush/h6
date: 2024-03-04
lot: TT-2401-A
reason: unknown
"""
MODEL = "records/model/__init__.py"
LOAD = "records/load_ledger.py"

RECALLS = Invented(
    name="recall",
    additions=(
        in_tool(
            "text/ledger_files.py",
            '    "recall": "blanks/*/*/*-recall.yaml",\n',
            "}",
            "FILE_PATTERNS",
        ),
        Addition("schemas/recall.schema.json", json.dumps(SCHEMA, indent=2) + "\n"),
        in_tool("records/model/recall_record.py", RECORD),
        in_map("records/model", "recall_record: lots that were taken back"),
        in_tool(
            MODEL,
            "from blankbook.records.model.recall_record import Recall\n",
            "from blankbook.records.model.round_record",
        ),
        in_tool(MODEL, '    "Recall",\n', '    "Round",'),
        in_tool(
            MODEL,
            '    recalls: tuple[Recall, ...] = ()\n    """In order of their dates."""\n',
            "\n",
            "    orders:",
        ),
        in_tool("records/convert/convert_recall.py", CONVERTER),
        in_map("records/convert", "convert_recall: recalls"),
        in_tool(
            "records/convert/converters.py",
            "from blankbook.records.convert.convert_recall import to_recall\n",
            "from blankbook.records.convert.convert_round",
        ),
        in_tool("records/convert/converters.py", '    "recall": to_recall,\n', "}", "CONVERTERS"),
        in_tool("records/rules/recall_rules.py", RULES),
        in_map("records/rules", "recall_rules: recalls without a reason"),
        in_tool(LOAD, "    Recall,\n", "    Round,"),
        in_tool(
            LOAD,
            "from blankbook.records.rules.recall_rules import recall_findings\n",
            "from blankbook.records.rules.whole_delivery",
        ),
        in_tool(LOAD, "        _by_date(loaded_files, Recall),\n", "    )", "    blank = Blank("),
        in_tool(LOAD, LOADING, "    return found", "    match loaded.file.kind"),
        Addition(
            "tests/every_field.py",
            '    "recall.style": f"{SUPPLIER}/{STYLE}",\n    "recall.date": "2024-08-09",\n',
            "}",
            "TIED: ",
        ),
    ),
    tests=(
        *SCHEMA_TESTS,
        "tests/build/test_public_site.py::test_no_field_gets_out",
        "tests/build/test_public_site.py::test_the_secrets_are_there_to_be_found",
        "tests/commands/test_start.py::test_a_new_ledger_is_whole",
        "tests/commands/test_start.py::test_the_comments_explain_and_the_schemas_lie_beside",
    ),
    ledger={"blanks/tarn-thrush/h6/2024-03-04-seams-recall.yaml": ("", FILE)},
    arguments=("check",),
    shows={"": "must be why the lot was taken back, found unknown  [no-reason]"},
    code=1,
)
