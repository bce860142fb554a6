"""The targets, and how far each is met."""

from dataclasses import asdict, dataclass
from typing import Any

from timing import TimeTaken


@dataclass(frozen=True, slots=True)
class Target:
    """One ratio that must hold."""

    name: str
    goal: float
    gate: float
    """What a change must not get past."""


@dataclass(frozen=True, slots=True)
class Row:
    """One target, measured."""

    target: Target
    ours: TimeTaken
    reference: TimeTaken

    @property
    def wall(self) -> float:
        """The ratio by the clock."""
        return self.ours.wall / self.reference.wall

    @property
    def cpu(self) -> float:
        """The ratio of processor time."""
        return self.ours.cpu / self.reference.cpu

    @property
    def outcome(self) -> str:
        """How far the target is met, by the clock."""
        if self.wall <= self.target.goal:
            return "goal"
        return "gate" if self.wall <= self.target.gate else "missed"

    def as_data(self) -> dict[str, Any]:
        """Return everything as data."""
        ratios = {"wall": self.wall, "cpu": self.cpu, "outcome": self.outcome}
        return {**asdict(self), **ratios}


HEAD = f"{'target':<44} {'ours':>9} {'of':>9} {'ratio':>7} {'cpu':>7} {'goal':>6} {'gate':>6}"


def line(row: Row, *, judged: bool) -> str:
    """Return one line of the table; where it is not *judged*, without how it came out."""
    outcome = row.outcome if judged else ""
    return (
        f"{row.target.name:<44} {row.ours.wall:>8.3f}s {row.reference.wall:>8.3f}s "
        f"{row.wall:>7.4f} {row.cpu:>7.4f} {row.target.goal:>6} {row.target.gate:>6}  {outcome}"
    ).rstrip()
