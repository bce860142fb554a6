"""A review as plain data, for the JSON; millimetres throughout."""

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from blankbook.history.charts_moved import Moved
from blankbook.history.differences import Change, FileChange
from blankbook.history.review import BlankReview, Review
from blankbook.history.revisions import Revision
from blankbook.history.slips_moved import suspicions_of
from blankbook.history.standing import Standing

SCHEMA = "blankbook/changes/1"


def review_data(one: Review) -> dict[str, Any]:
    """Return a review as data."""
    return {
        "schema": SCHEMA,
        "old": _revision(one.old),
        "new": _revision(one.new),
        "differs": one.differs,
        "blanks": [_blank(blank) for blank in one.blanks],
        "files": [_file(one, file) for file in one.files],
        "not_touched": one.unchanged,
    }


def _revision(one: Revision) -> dict[str, Any]:
    return {"name": one.name, "commit": one.commit or None, "day": one.day or None}


def _blank(one: BlankReview) -> dict[str, Any]:
    return {
        "blank": one.key,
        "flips": one.flips,
        "before": _standing(one.before),
        "after": _standing(one.after),
        "charts": [
            {
                "since": chart.since,
                "edited_in_place": chart.in_place,
                "source": chart.origin,
                "cells": _moved(chart.cells),
                "steps": _moved(chart.steps),
                "look_again": list(chart.suspicions),
            }
            for chart in one.charts
        ],
        "rounds": list(one.rounds),
        "deliveries": list(one.deliveries),
    }


def _standing(one: Standing | None) -> dict[str, Any] | None:
    if one is None:
        return None
    return {
        "advice": one.advice,
        "headline": one.headline,
        "decision": one.decision or None,
        "orderable": list(one.orderable),
        "answers": [
            {"check": check, "about": about, "answer": answer}
            for (check, about), answer in one.answers.items()
        ],
    }


def _moved(many: Sequence[Moved]) -> list[dict[str, Any]]:
    return [
        {
            "size": one.size,
            "point": one.point,
            "old": _mm(one.old),
            "new": _mm(one.new),
            "by": _mm(one.by),
            "past_tolerance": one.past,
        }
        for one in many
    ]


def _file(one: Review, file: FileChange) -> dict[str, Any]:
    return {
        "path": file.path,
        "kind": file.kind,
        "what": file.what.name.lower(),
        "before": file.before or None,
        "why": file.why or None,
        "changes": [_change(change) for change in file.changes],
        "rewrites": [_change(change) for change in file.rewrites],
        "reason": file.reason or None,
        "look_again": list(suspicions_of(file)),
        "commits": [
            {"id": told.id, "day": told.day, "subject": told.subject}
            for told in one.told.get(file.path, ())
        ],
    }


def _change(one: Change) -> dict[str, Any]:
    return {
        "way": list(one.way),
        "old": one.old.text if one.old else None,
        "new": one.new.text if one.new else None,
        "by": _mm(one.by),
    }


def _mm(value: Fraction | None) -> float | None:
    return None if value is None else round(float(value), 4)
