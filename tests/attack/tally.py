"""What an attack counts, and what got through."""

import time
from collections import Counter
from dataclasses import dataclass, field


@dataclass(slots=True)
class Tally:
    """One part of the attack."""

    title: str
    counts: Counter[str] = field(default_factory=Counter)
    through: list[str] = field(default_factory=list)
    """What got through, a line each, with what is needed to see it again."""
    began: float = field(default_factory=time.process_time)
    seconds: float = 0.0

    def end(self) -> "Tally":
        """Note the processor seconds of this process and return the tally."""
        self.seconds = time.process_time() - self.began
        return self

    def lines(self) -> list[str]:
        """Return the rows of the table."""
        said = ", ".join(f"{count:,} {what}" for what, count in sorted(self.counts.items()))
        rows = [f"| {self.title} | {said} | {len(self.through)} | {self.seconds:.0f} |"]
        return rows + [f"|  | got through: `{line}` |  |  |" for line in self.through[:20]]
