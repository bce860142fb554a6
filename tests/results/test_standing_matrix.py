"""What holds today, over 125 histories: for each decision every two things that can happen meet.

`standing_matrix.txt` has a row for each: the choices of `made_histories.FACTORS`, the standing, the
rule that the sentence comes from, and the sizes that may be ordered. A row is changed only after
thinking it through as the shop would.
"""

from pathlib import Path

import pytest

from blankbook.results.standing.standing_rules import RULES
from blankbook.results.standing.standing_types import Standing
from blankbook.words.answers import MayOrder
from made_histories import DECISIONS, FACTORS, history, standing_of
from pairwise_rows import all_pairs, pairs_of, pairwise_rows

Row = tuple[str, dict[str, str], list[str]]


def rows() -> list[Row]:
    """Return the rows of the matrix: what was decided, the choices, and what is expected."""
    found: list[Row] = []
    lines = Path(__file__).with_name("standing_matrix.txt").read_text(encoding="utf-8")
    for line in filter(None, lines.splitlines()):
        told, _, expected = line.partition(" => ")
        decided, *choices = told.split(" | ")
        found.append((decided, dict(zip(FACTORS, choices, strict=True)), expected.split(" | ")))
    return found


def said(standing: Standing) -> list[str]:
    """Return a standing as the matrix writes it."""
    return [standing.kind, standing.rule, " ".join(standing.sizes) or "-"]


def test_matrix_is_the_one_that_is_generated() -> None:
    """At least 60 rows, and for each decision all pairs of choices."""
    wanted = [(decided, row) for decided in DECISIONS for row in pairwise_rows(FACTORS)]
    assert [(decided, choices) for decided, choices, _ in rows()] == wanted
    assert len(wanted) >= 60
    for decided in DECISIONS:
        met = {pair for word, row, _ in rows() if word == decided for pair in pairs_of(row)}
        assert met == all_pairs(FACTORS)


@pytest.mark.parametrize("row", rows(), ids=lambda row: f"{row[0]}: {', '.join(row[1].values())}")
def test_standing_of_a_history(row: Row) -> None:
    """The standing, the subject of its sentence, and the sizes are those that were thought out."""
    decided, choices, expected = row
    assert said(standing_of(history(decided, **choices)).standing) == expected


@pytest.mark.parametrize("row", rows(), ids=lambda row: f"{row[0]}: {', '.join(row[1].values())}")
def test_sentence_is_short_and_plain(row: Row) -> None:
    """At most 15 words, no brackets; the reasons newest first, each with its source."""
    decided, choices, _ = row
    standing = standing_of(history(decided, **choices)).standing
    assert len(standing.sentence.split()) <= 15
    assert not set("()[]") & set(standing.sentence)
    assert standing.sentence.endswith(".")
    assert ".." not in standing.sentence
    days = [reason.day for reason in standing.reasons]
    assert days == sorted(days, reverse=True)
    assert all(reason.source.endswith(".yaml") for reason in standing.reasons)
    assert standing.evidence is not None
    assert (standing.sizes == ()) == (not standing.may_be_ordered)


def test_every_rule_is_met_by_some_history() -> None:
    """Those of the matrix, and the few that need a history of their own."""
    met = {expected[1] for _, _, expected in rows()}
    elsewhere = {
        "nothing measured", "approved on conditions", "approved without a size",
        "evidence bears out some sizes",
        "evidence approves on conditions", "approved against the evidence",
        "a size left out fails", "something else fails", "moved lot", "supplier stopped",
        "evidence too old", "no chart", "delivery trouble over",
    }  # fmt: skip
    assert {rule.name for rule in RULES} <= met | elsewhere


def test_kinds_are_in_order_of_what_they_allow() -> None:
    """The lowest ceiling is the last of these words."""
    assert [kind.value for kind in MayOrder] == [
        "may be ordered", "may be ordered on conditions", "wait", "do not order",
    ]  # fmt: skip
