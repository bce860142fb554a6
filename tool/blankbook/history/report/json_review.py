"""A review as plain data, for the JSON; millimetres throughout."""

from typing import Any

from blankbook.history.facts.changed_slips import suspicions_of
from blankbook.history.facts.file_differences import Change, FileChange
from blankbook.history.moved.blank_status import Standing
from blankbook.history.moved.rule_changes import only_words
from blankbook.history.report.json_charts import chart_data, clients_data, rounded_mm
from blankbook.history.report.sections import bounded
from blankbook.history.review.make_review import BlankReview, Review
from blankbook.history.versions.revisions import Revision

SCHEMA = "blankbook/changes/1"
MOST = 1000
"""Blanks, and files, that are told; the others are counted."""


def review_data(one: Review) -> dict[str, Any]:
    """Return a review as data."""
    return {
        "schema": SCHEMA,
        "old": _revision(one.old),
        "new": _revision(one.new),
        "differs": one.differs,
        **bounded("blanks", [_blank(blank) for blank in one.blanks[:MOST]], len(one.blanks)),
        **bounded("files", [_file(one, file) for file in one.files[:MOST]], len(one.files)),
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
        "charts": [chart_data(one, chart) for chart in one.charts],
        "clients": clients_data(one.clients),
        "photos": list(one.photos),
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


def _file(one: Review, file: FileChange) -> dict[str, Any]:
    return {
        "path": file.path,
        "kind": file.kind,
        "what": file.what.name.lower(),
        "before": file.before or None,
        "why": file.why or None,
        "without_source": list(file.sourceless),
        "in_words_only": only_words(file),
        "changes": [_change(change) for change in file.changes],
        "rewrites": [_change(change) for change in file.rewrites],
        "reason": file.reason or None,
        "look_again": list(suspicions_of(file)),
        "commits": [
            {"id": told.id, "day": told.day, "by": told.by, "subject": told.subject}
            for told in one.told.get(file.path, ())
        ],
    }


def _change(one: Change) -> dict[str, Any]:
    return {
        "way": list(one.way),
        "old": one.old.text if one.old else None,
        "new": one.new.text if one.new else None,
        "by": rounded_mm(one.by),
    }
