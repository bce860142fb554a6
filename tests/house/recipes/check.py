"""Is the colour of every piece named? A check that no shop has asked for."""

from house.recipes.invented import SCHEMA_TESTS, Addition, Invented, in_map, in_tool

CHECK = '''\
"""Is the colour of every piece named?"""

from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Check, Number, Result
from blankbook.words.answers import Answer
from blankbook.words.check_titles import CHECK_TITLES

KEY = "colours_named"


def judge(case: Case) -> list[Result]:
    """Return one answer, from the newest round."""
    round_ = case.round
    if round_ is None:
        return [Result(KEY, Answer.NOT_TESTED, "nothing was measured yet")]
    named = {piece.colour for piece in round_.pieces} - {"unknown"}
    number = Number(Quantity.COLOURS, len(named), "count")
    answer = Answer.MEETS if len(round_.pieces) > 1 else Answer.NOT_SHOWN
    if any(piece.colour == "unknown" for piece in round_.pieces):
        answer = Answer.FAILS
    reason = f"colours that are named: {len(named)}"
    return [Result(KEY, answer, reason, lot=round_.lot, round=round_.key, numbers=(number,))]


CHECK = Check(
    KEY,
    CHECK_TITLES[KEY],
    "Is the colour of every piece named?",
    "No piece of the newest round may be of an unknown colour.",
    "common practice, no source",
    judge,
    "colours = those of all pieces that are named, each once",
)
'''

WORKED = '''\
"""The colours of a round, counted."""

from blankbook.results.checks.colours_named import judge
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case
from blankbook.results.worked.working_lines import (
    WorkedLine,
    answer_line,
    decimal_text,
    required_number,
    tested_results,
)


def colour_lines(case: Case) -> list[WorkedLine]:
    """Return the count, worked out."""
    found = tested_results(judge(case))
    return [
        line
        for result in found
        for line in (
            WorkedLine("colours", decimal_text(required_number(result, Quantity.COLOURS).value, 0)),
            answer_line(result),
        )
    ]
'''

COLOURS = Invented(
    name="colours_named",
    additions=(
        in_tool("results/checks/colours_named.py", CHECK),
        in_map("results/checks", "- `colours_named`: how many colours were looked at"),
        in_tool("results/checks/all_checks.py", "    colours_named,\n", "    decoration,"),
        in_tool("results/checks/all_checks.py", "    colours_named.CHECK,\n", ")", "CHECKS: "),
        in_tool("words/check_titles.py", '    "colours_named": "Colours named",\n', "}"),
        in_tool("results/quantities.py", '    COLOURS = "colours"\n', "    # of lots"),
        in_tool("results/worked/colours_named_worked.py", WORKED),
        in_map("results/worked", "- `colours_named_worked`: the colours of a round"),
        in_tool("results/worked/all_worked.py", "    colours_named,\n", "    decoration,"),
        in_tool(
            "results/worked/all_worked.py",
            "from blankbook.results.worked.colours_named_worked import colour_lines\n",
            "from blankbook.results.worked.delivery",
        ),
        in_tool(
            "results/worked/all_worked.py",
            "    colours_named.KEY: colour_lines,\n",
            "}",
            "WORKED",
        ),
        in_tool(
            "pages/blank/check_columns.py",
            '    "colours_named": CheckLayout(\n'
            '        (CheckColumn("colours", _value(Quantity.COLOURS)),)\n'
            "    ),\n",
            "}",
            "LAYOUTS",
        ),
        Addition(
            "tests/results/test_required.py",
            '    "colours_named": (\n'
            '        one_size("20"),\n'
            '        sound(replace(piece("X", "M", half_chest="20"), colour="unknown")),\n'
            "        sound(),\n"
            "    ),\n",
            "}",
            "CASES: ",
        ),
        Addition("site/handbook/files.md", "Another name is `colours_named`.\n\n", "`required` in"),
    ),
    tests=(
        *SCHEMA_TESTS,
        "tests/house/test_documents.py::test_every_check_is_named",
        "tests/pages/test_method.py",
        "tests/results/test_required.py",
    ),
    ledger={
        "shop.yaml": ("grade_steps]", "colours_named]"),
        "blanks/tarn-thrush/h6/style.yaml": ("[black]", "[black, unknown]"),
        "blanks/tarn-thrush/h6/2024-02-12-first.yaml": ("colour: black", "colour: unknown"),
    },
    arguments=("build", "--out", "site"),
    shows={
        "site/blanks/tarn-thrush/h6.html": "<th scope=col>colours",
        "site/method.html": "Is the colour of every piece named?",
    },
)
