"""The method page: every rule in words, with its formula, its source and a worked example."""

import json
from importlib.resources import files
from itertools import groupby
from operator import itemgetter
from typing import Any

from blankbook.pages.planning import usual_planning
from blankbook.pages.showing import NOTHING, length, say_share, unit_name
from blankbook.pages.spec import PageSpec
from blankbook.records.model import Shop
from blankbook.results.checks import CHECKS
from blankbook.results.methods.proportions import say_zero_failures
from blankbook.words.answers import SIGNS, Advice, Answer
from blankbook.words.causes import CAUSES, TUBE_FACTOR
from blankbook.words.points import POINTS

ZERO_COUNTS = (3, 8, 20)
"""Pieces that were all good, for the sentence on what they leave open."""


def method_page(shop: Shop) -> PageSpec:
    """Return what every answer means and how it is found."""
    total = sum(cause.weight for cause in CAUSES.values())
    context: dict[str, Any] = {
        "up": "",
        "unit": unit_name(shop.unit),
        "answers": [_sign(answer) for answer in Answer],
        "advice": [_sign(advice) for advice in Advice],
        "checks": [
            {
                "key": check.key,
                "title": check.title,
                "question": check.question,
                "rule": check.rule,
                "source": check.source,
                "required": check.key in shop.required,
            }
            for check in CHECKS
        ],
        "risk": say_share(shop.risk),
        "points": [_policy(shop, key) for key in POINTS],
        "wash": {key: f"{value:g}" for key, value in sorted(shop.wash_limit.items())},
        "mass": f"{shop.mass_tolerance:g}",
        "mix_up": f"{1 / shop.mix_up_limit:.0f}",
        "causes": [
            {
                "title": cause.title,
                "weight": say_share(cause.weight / total),
                "stays": "the next lot shows it again" if cause.stays else "the next lot need not",
            }
            for cause in CAUSES.values()
        ],
        "tube": f"{TUBE_FACTOR:g}",
        "planning": usual_planning(shop),
        "risk_share": f"{shop.risk:g}",
        "zero": [say_zero_failures(count, shop.risk) for count in ZERO_COUNTS],
        "trials": _trials(),
    }
    return PageSpec("method.html", "Method", "method.html.j2", context)


def _trials() -> dict[str, Any]:
    """Return the table of the simulation, as it was last run and written."""
    data = json.loads((files("blankbook.trials") / "table.json").read_text(encoding="utf-8"))
    for row in data["rows"]:
        row["seen"] = f"{row['seen']:.3f}"
        row["held"] = {True: "yes", False: "no", None: NOTHING}[row["held"]]
        row["bound"] = NOTHING if row["bound"] is None else f"{row['bound']:.3f}"
    groups = groupby(data["rows"], key=itemgetter("group"))
    data["groups"] = [{"title": title, "rows": list(rows)} for title, rows in groups]
    return dict(data)


def _sign(word: str) -> dict[str, str]:
    sign = SIGNS[word]
    return {
        "word": str(word),
        "shape": sign.shape,
        "class": str(word).replace(" ", "-"),
        "meaning": sign.meaning,
    }


def _policy(shop: Shop, key: str) -> dict[str, Any]:
    unit = shop.unit
    return {
        "name": POINTS[key].name,
        "deciding": key in shop.deciding_points,
        "tolerance": length(shop.tolerance[key], unit),
        "step": length(shop.step[key], unit),
        "step_tolerance": length(shop.step_tolerance[key], unit),
        "spread": f"{shop.spread[key].deviation:.1f}",
        "worth": f"{shop.spread[key].worth:g}",
    }
