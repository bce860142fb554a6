"""A review as JSON data. All lengths are millimetres."""

from typing import Any

from blankbook.history.facts.changed_slips import suspicious_readings
from blankbook.history.facts.file_differences import FactChange, FileChange
from blankbook.history.moved.blank_status import BlankStatus
from blankbook.history.moved.rule_changes import is_words_only
from blankbook.history.report.json_charts import chart_change_data, client_change_data, rounded_mm
from blankbook.history.report.sections import bounded_rows
from blankbook.history.review.make_review import BlankReview, Review
from blankbook.history.versions.revisions import Revision

REVIEW_SCHEMA = "blankbook/changes/1"
MOST_LISTED = 1000
"""Blanks that are listed, and files; the others are counted."""


def review_data(review: Review) -> dict[str, Any]:
    """Return a review as JSON data."""
    return {
        "schema": REVIEW_SCHEMA,
        "old": _revision(review.old),
        "new": _revision(review.new),
        "differs": review.differs,
        **bounded_rows(
            "blanks", [_blank(blank) for blank in review.blanks[:MOST_LISTED]], len(review.blanks)
        ),
        **bounded_rows(
            "files", [_file(review, file) for file in review.files[:MOST_LISTED]], len(review.files)
        ),
        "not_touched": review.unchanged,
    }


def _revision(revision: Revision) -> dict[str, Any]:
    return {"name": revision.name, "commit": revision.commit or None, "day": revision.day or None}


def _blank(blank: BlankReview) -> dict[str, Any]:
    return {
        "blank": blank.key,
        "flips": blank.changes_outcome,
        "before": _status(blank.before),
        "after": _status(blank.after),
        "charts": [chart_change_data(blank, chart) for chart in blank.charts],
        "clients": client_change_data(blank.clients),
        "photos": list(blank.photos),
        "rounds": list(blank.rounds),
        "deliveries": list(blank.deliveries),
    }


def _status(status: BlankStatus | None) -> dict[str, Any] | None:
    if status is None:
        return None
    return {
        "standing": status.standing,
        "sentence": status.sentence,
        "advice": status.advice,
        "decision": status.decision or None,
        "orderable": list(status.orderable),
        "answers": [
            {"check": check, "about": about, "answer": answer}
            for (check, about), answer in status.answers.items()
        ],
    }


def _file(review: Review, file: FileChange) -> dict[str, Any]:
    return {
        "path": file.path,
        "kind": file.kind,
        "what": file.status.name.lower(),
        "before": file.old_path or None,
        "why": file.fault or None,
        "without_source": list(file.charts_without_source),
        "in_words_only": is_words_only(file),
        "changes": [_change(change) for change in file.changes],
        "rewrites": [_change(change) for change in file.rewrites],
        "reason": file.reason or None,
        "look_again": list(suspicious_readings(file)),
        "commits": [
            {"id": told.id, "day": told.day, "by": told.by, "subject": told.subject}
            for told in review.notes.get(file.path, ())
        ],
    }


def _change(change: FactChange) -> dict[str, Any]:
    return {
        "way": list(change.path),
        "old": change.old.text if change.old else None,
        "new": change.new.text if change.new else None,
        "by": rounded_mm(change.by),
    }
