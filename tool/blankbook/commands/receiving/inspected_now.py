"""How a delivery stands by its plan, as its file is now."""

from pathlib import Path
from typing import TYPE_CHECKING

import typer

from blankbook.commands.shared.errors import shown
from blankbook.commands.shared.find_blank import one_blank

if TYPE_CHECKING:
    from blankbook.commands.entering.find_round import Found
    from blankbook.results.deliveries.inspection import InspectionResult
    from blankbook.results.result_types import Judged


def inspected_now(root: Path, blank: str, key: str) -> "InspectionResult":
    """Return the inspection of one delivery of a blank. Raises: BlankbookError."""

    def show(judged: "Judged") -> "InspectionResult":
        from blankbook.results.checks.delivery import delivery_results

        found = delivery_results(judged.case)
        return next(one.inspection for one in found if one.delivery.key == key)

    return one_blank(root, blank, show)


def tell_outcome(root: Path, found: "Found") -> None:
    """Say how a delivery stands, and what to do next. Raises: BlankbookError."""
    from blankbook.results.deliveries.delivery_words import say_outcome

    inspection = inspected_now(root, found.blank.style.key, Path(found.path).stem)
    typer.echo(say_outcome(inspection))
    advised = "rejected" if inspection.outcome == "rejected" else "accepted"
    typer.echo(f"next: blankbook enter {shown(found.path)} --decide {advised}")
