"""One row of the table of the simulation."""

from typing import Any

Row = dict[str, Any]


def row(
    group: str,
    what: str,
    promise: str,
    seen: float,
    cases: int,
    held: bool | None,
    *,
    bound: float | None = None,
    why: str = "",
) -> Row:
    """Return a row as data; rows of one *group* stand together.

    *held* is None where nothing is promised, *bound* the most that any method could reach, *why*
    the reason where a promise is not kept.
    """
    return {
        "group": group,
        "what": what,
        "promise": promise,
        "seen": round(seen, 4),
        "cases": cases,
        "held": held,
        "bound": None if bound is None else round(bound, 4),
        "why": why,
    }
