"""What could stand in for a blank, as its page shows it."""

from dataclasses import dataclass

from blankbook.pages.page_types import AnswerSign
from blankbook.pages.shop.compare_pages import COMPARE_PAGE
from blankbook.pages.site_paths import blank_path
from blankbook.pages.value_words import sign_of
from blankbook.results.learning.stand_ins import stand_ins
from blankbook.results.result_types import Judged, StandIn


@dataclass(frozen=True, slots=True)
class SizeInstead:
    """The size to order instead of another; how far off it is, where that is past the tolerance."""

    size: str
    other: str
    off: str


@dataclass(frozen=True, slots=True)
class Replacement:
    """A vetted blank that could stand in."""

    name: str
    path: str
    compare: str
    """The page that lays the two beside each other."""
    distance: str
    shared: int
    """How many measures the two blanks share."""
    instead: tuple[SizeInstead, ...]
    differs: tuple[str, ...]
    decision: AnswerSign | None


def replacements(judged: Judged) -> tuple[Replacement, ...]:
    """Return the nearest vetted blanks, with the size to order instead of each."""
    own = judged.blank.style.key
    return tuple(_near(near, own) for near in stand_ins(judged.case))


def _near(near: StandIn, own: str) -> Replacement:
    return Replacement(
        name=near.name,
        path=blank_path(near.key),
        compare=f"{COMPARE_PAGE}#lay={own},{near.key}",
        distance=f"{near.distance:.1f}",
        shared=near.shared,
        instead=tuple(
            SizeInstead(size=size, other=other, off="" if off < 1 else f"{off:.1f}")
            for size, (other, off) in near.instead.items()
        ),
        differs=tuple(near.differs),
        decision=sign_of(near.decision) if near.decision else None,
    )
