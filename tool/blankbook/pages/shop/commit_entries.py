"""What the page of changes and the feed tell of one commit."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class CommitPart:
    """What a commit changed in one blank, supplier or rule."""

    name: str
    path: str
    """Its page; empty where it has none."""
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CommitEntry:
    """One commit."""

    key: str
    """The whole id, which never changes."""
    commit: str
    """The digits of it that are shown."""
    place: str
    """Its place on the page."""
    day: str
    at: int
    """When it was committed, seconds since 1970."""
    title: str
    parts: tuple[CommitPart, ...]
    rest: str
    """What else it changed, in short."""
