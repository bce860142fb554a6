"""The depth of a yoke, a point of measure that no shirt of this house has."""

from house.recipes.invented import SCHEMA_TESTS, Invented, in_tool

POINT = """\
        Point(
            "yoke_depth",
            "yoke depth",
            ("depth of the yoke",),
            "along",
            "From the neck seam at the centre back straight down to the seam of the yoke.",
            "A yoke that is cut on a curve is deepest in the middle: measure there.",
            _inches("1/4"),
            _inches("1/4"),
            _inches("1/4"),
            _inches("1/12"),
            _inches("1"),
            _inches("12"),
            (("centre_back", "at the centre back"), ("at_shoulder", "at the shoulder")),
        ),
"""

YOKE = Invented(
    name="yoke_depth",
    additions=(
        in_tool("words/points.py", POINT, "    )", after="POINTS: "),
        in_tool(
            "words/points.py",
            '    "yoke_depth": (("2", "7"), ("1", "5")),\n',
            "}",
            after="_USUAL_SPANS",
        ),
        in_tool(
            "entry/charts/heading_words.py", '    "passenhohe": "yoke drop",\n', "}", "_GERMAN = {"
        ),
        in_tool(
            "pages/draw/shirt_outline.py",
            '        "yoke_depth": ((0.0, 0.0), (0.0, lengths.get("yoke_depth", 90.0))),\n',
            "    }",
            after="    lines = {",
        ),
        in_tool(
            "pages/charts/guide_chart.py",
            '    "yoke_depth": 3.5 * float(INCH),\n',
            "}",
            after="SHIRT = {",
        ),
    ),
    tests=(
        *SCHEMA_TESTS,
        "tests/entry/test_chart_headings.py",
        "tests/entry/test_typed_lengths.py",
        "tests/pages/test_sheet.py::test_every_point_of_the_guide_says_how",
        "tests/pages/charts/test_specs.py::test_the_tape_on_an_outline_is_as_long_as_it_says",
        "tests/results/test_answers.py",
    ),
    ledger={
        "blanks/tarn-thrush/h6/2024-02-12-first.yaml": (
            "body_length: 28 7/8}",
            "body_length: 28 7/8, yoke_depth: 3 1/2}",
        )
    },
    arguments=("build", "--out", "site"),
    shows={
        "site/guide.html": "yoke depth",
        "site/charts/guide/yoke_depth.svg": "yoke depth",
        "site/blanks/tarn-thrush/h6.html": "yoke depth",
    },
)
