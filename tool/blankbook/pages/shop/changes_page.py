"""What changed lately: what the last commits mean that touched records, as a page and a feed."""

import itertools
import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Any

from blankbook.pages.page_spec import FileSpec, PageSpec
from blankbook.pages.shop.atom_feed import feed_text
from blankbook.pages.shop.blank_row import BlankRow
from blankbook.pages.shop.commit_entries import CommitEntry, CommitPart
from blankbook.pages.site_paths import CHANGES, FEED, blank_path, supplier_path

if TYPE_CHECKING:
    from blankbook.history.review.recent_commits import RecentChanges
    from blankbook.records.model import Shop, Supplier

CHANGES_BYTES = 40_000
"""Of all entries of the page and the feed together; earlier commits are only counted."""
_LONGEST = 110
"""Characters of a title; the rest stands below it."""
_MEASURING = "measuring.html"
_NAMED = 3
"""Parts that a title names; more are counted."""


@dataclass(frozen=True, slots=True)
class ChangesDay:
    """The commits of one day, the newest first."""

    day: str
    commits: tuple[CommitEntry, ...]


@dataclass(frozen=True, slots=True)
class ChangesContext:
    """All that the page shows."""

    up: str
    feed: str
    newest: str
    days: tuple[ChangesDay, ...]
    same: int
    """Commits that changed nothing in meaning."""
    more: int
    """Earlier commits, which are only counted."""
    cut: bool
    """Whether only a part of the history is here."""


def changes_page(
    recent: "RecentChanges",
    rows: Sequence[BlankRow],
    suppliers: "Mapping[str, Supplier]",
    shop: "Shop",
) -> PageSpec[ChangesContext] | None:
    """Return the page with its feed; None where no change is known that means anything."""
    names = {row.listed.key: row.listed.name for row in rows}
    names |= {key: supplier.name for key, supplier in suppliers.items()}
    meaningful = [_entry(entry, names) for entry in recent.entries if entry["parts"]]
    entries = _fitting(meaningful)
    if not entries:
        return None
    context = ChangesContext(
        up="",
        feed=FEED,
        newest=entries[0].day,
        days=tuple(
            ChangesDay(day=day, commits=tuple(group))
            for day, group in itertools.groupby(entries, key=lambda entry: entry.day)
        ),
        same=len(recent.entries) - len(meaningful),
        more=recent.earlier + len(meaningful) - len(entries),
        cut=recent.is_shallow,
    )
    text = feed_text(entries, shop.name, shop.site, recent.first_key)
    return PageSpec(
        CHANGES,
        "What changed lately",
        "shop/changes.html.j2",
        context,
        files=(FileSpec(FEED, text),),
        feed=FEED,
    )


def _fitting(entries: Sequence[CommitEntry]) -> Sequence[CommitEntry]:
    """Return as many entries as the page has room for, and the first in any case."""
    # A commit may hold bytes that are no text; "replace" lets them count without stopping a build.
    texts = (json.dumps(asdict(entry), ensure_ascii=False) for entry in entries)
    sizes = itertools.accumulate(len(text.encode("utf-8", "replace")) for text in texts)
    fitting = [entry for entry, size in zip(entries, sizes, strict=True) if size <= CHANGES_BYTES]
    return fitting or entries[:1]


def _entry(entry: Mapping[str, Any], names: Mapping[str, str]) -> CommitEntry:
    """Return what is shown of a commit; a blank that was removed has a name but no page."""
    parts = tuple(_part(part, names) for part in entry["parts"])
    rest = entry["rest"]
    return CommitEntry(
        key=entry["key"],
        commit=entry["commit"],
        place=f"commit-{entry['commit']}",
        day=entry["day"],
        at=entry["at"],
        title=_title(parts, rest),
        parts=parts,
        rest=f"and {rest} more blanks, suppliers or rules" if rest else "",
    )


def _part(part: Mapping[str, Any], names: Mapping[str, str]) -> CommitPart:
    kind, key = part["kind"], part["key"]
    name, path = names.get(key, ""), ""
    if kind == "shop":
        name = "the shop's rules" if key else "the ledger"
    elif kind == "study":
        name, path = f"measuring study {key}", _MEASURING
    elif name:
        path = blank_path(key) if kind == "blank" else supplier_path(key)
    return CommitPart(name=name or key, path=path, lines=tuple(part["lines"]))


def _title(parts: Sequence[CommitPart], rest: int) -> str:
    if len(parts) == 1:
        title = f"{parts[0].name}: {parts[0].lines[0]}"
        return title if len(title) <= _LONGEST else f"{title[: _LONGEST - 1].rstrip()}…"
    named = [part.name for part in parts[:_NAMED]]
    more = len(parts) - len(named) + rest
    return ", ".join(named) + (f" and {more} more" if more else "")
