"""When a piece is looked at, and what is looked at then.

A further stage joins here. Its place in the file is in `round_positions`, its flag in
`commands.entering.stage_flags`, what is asked before the first grid in `stage_questions` there.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from blankbook.words.decoration_methods import METHODS
from blankbook.words.grade_scales import (
    AFTER_WASHING,
    FRESH_PRINT,
    GRADES,
    WASHED_PRINT,
    WEAR,
    WORKMANSHIP,
)
from blankbook.words.points import POINTS, SEAMS

MASS = "mass"
"""What a swatch of known area weighs."""
_GRADED = {
    "washed": AFTER_WASHING, "workmanship": WORKMANSHIP, "worn": WEAR, "decorated": FRESH_PRINT,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Stage:
    """One look at the pieces of a round."""

    name: str
    """For a person: ``as received``, ``after 5 washes``, …"""
    block: str
    """The key in the file: ``received`` of a piece, ``decorated`` of the round, …"""
    known_by: tuple[tuple[str, str], ...] = ()
    """Keys and texts that tell an entry of the list from others, such as ``cycles``, ``5``."""
    print_of: str = ""
    """The method of the print that is looked at after washing, instead of the piece."""

    @property
    def grades(self) -> dict[str, str]:
        """What can be graded at this stage, with titles by key."""
        parts = WASHED_PRINT if self.print_of else _GRADED.get(self.block, {})
        return {key: part.title for key, part in parts.items()}

    @property
    def takes_lengths(self) -> bool:
        """Whether a tape is used at this stage."""
        return self.block in {"received", "washed"} and not self.print_of

    @property
    def keys(self) -> list[str]:
        """All that can be read at this stage: points, seams, grades or a mass."""
        lengths = [*POINTS, *SEAMS] if self.takes_lengths else []
        return [*lengths, *self.grades, *([MASS] if self.block == "swatches" else [])]

    @property
    def methods(self) -> tuple[str, ...]:
        """The method of the print that is looked at, if any; one at most."""
        fresh = [text for key, text in self.known_by if key == "method"]
        return (*fresh, *([self.print_of] if self.print_of else []))

    def of_piece(self, piece: str) -> Mapping[str, str]:
        """Return the keys and texts that tell the entry of one piece from others in its list."""
        shared = self.block in {"decorated", "swatches"}
        return ({"piece": piece} if shared else {}) | dict(self.known_by)


RECEIVED_STAGE = Stage("as received", "received")
WORKMANSHIP_STAGE = Stage("workmanship", "workmanship")


def washed_stage(cycles: int) -> Stage:
    """Return the stage after so many washes."""
    return Stage(f"after {_count(cycles, 'wash', 'es')}", "washed", (("cycles", str(cycles)),))


def worn_stage(days: int) -> Stage:
    """Return the stage after so many days of wear."""
    return Stage(f"worn on {_count(days, 'day', 's')}", "worn", (("days", str(days)),))


def decorated_stage(method: str) -> Stage:
    """Return the stage at which a print or transfer is looked at once it is cold."""
    return Stage(f"decorated: {METHODS[method].title}", "decorated", (("method", method),))


def washed_print_stage(method: str, cycles: int) -> Stage:
    """Return the stage at which a print or transfer is looked at after so many washes."""
    after = washed_stage(cycles)
    return Stage(f"{METHODS[method].title}, {after.name}", "washed", after.known_by, method)


def weighed_stage(area: str) -> Stage:
    """Return the stage at which a swatch of *area* of each piece is weighed."""
    return Stage(f"swatches of {area}", "swatches", (("area", area),))


def _count(number: int, word: str, ending: str) -> str:
    return f"{number} {word}{'' if number == 1 else ending}"


def is_grade(text: str) -> bool:
    """Say whether a text is a grade: 1 to 5, or a half step such as 3-4."""
    return text in GRADES


def reading_title(key: str) -> str:
    """Return what a person calls a point of measure, a seam or a grade."""
    if key in POINTS:
        return POINTS[key].name
    for parts in (AFTER_WASHING, WORKMANSHIP, WEAR, FRESH_PRINT, WASHED_PRINT):
        if key in parts:
            return parts[key].title
    return SEAMS[key].name if key in SEAMS else key.replace("_", " ")
