"""What a build reads: only blanks that changed, unless what the ledger teaches changed for all.

Some values are learned from the whole ledger. So reading has two steps: every blank contributes
something, kept with it as data; and where the sum of it all comes out otherwise than last time,
the blanks that were left out are read as well.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from blankbook.build.build_cache import BlankState
from blankbook.build.build_errors import LedgerHasFaults
from blankbook.build.changed_files import Survey, holds
from blankbook.build.content_keys import canonical
from blankbook.build.file_stamps import digest
from blankbook.text.findings import Finding

if TYPE_CHECKING:
    from blankbook.records.load_ledger import LoadedLedger
    from blankbook.records.model import Blank, Shop, Study, Supplier


@dataclass(frozen=True, slots=True)
class Learning:
    """How the whole ledger bears on each blank: what each gives, and what follows from all."""

    contribute: "Callable[[Blank, Shop], Any]"
    """Gives JSON-able data, which is kept, so that only changed blanks are read."""
    learn: "Callable[[Mapping[str, Any], Shop, Sequence[Study]], Mapping[str, Any]]"
    """Gives JSON-able data for each blank; one whose own comes out otherwise is judged anew."""


def usual() -> Learning:
    """Return what a ledger teaches."""
    from blankbook.results.learning.ledger_learning import blank_contribution, learn

    return Learning(blank_contribution, learn)


@dataclass(frozen=True, slots=True)
class Read:
    """What was read, and what is known of all blanks."""

    shop: "Shop"
    suppliers: "Mapping[str, Supplier]"
    blanks: "list[Blank]"
    """Those that must be made anew."""
    states: dict[str, BlankState]
    """Of every blank of the ledger; rows and specs of those to be made are still missing."""
    findings: list[list[Any]]
    learned: "Mapping[str, Any]"
    """What the whole ledger teaches about each blank, as data."""
    studies: "tuple[Study, ...]"
    contributions: "Mapping[str, Any]"


def read(
    seen: Survey, known: Mapping[str, BlankState], learning: Learning, jobs: int | None
) -> Read:
    """Return what a build needs of the ledger.

    *known* is what the last build knew of the blanks.
    Raises: LedgerHasFaults, OSError.
    """
    keys = seen.read_keys(known)
    changed = changed_blanks(seen, known)
    loaded = _load(seen, changed, jobs)
    assert loaded.ledger
    shop, blanks = loaded.ledger.shop, dict(loaded.ledger.blanks)
    states = {key: known[key] for key in keys if key not in blanks}
    for key in changed:
        states[key] = BlankState(
            contribution=learning.contribute(blanks[key], shop),
            photos=_photos(blanks[key]),
            findings=_findings(loaded.findings, f"blanks/{key}/"),
        )
    contributions = {key: one.contribution for key, one in sorted(states.items())}
    learned = learning.learn(contributions, shop, loaded.ledger.studies)
    _settle(seen, states, learned)
    also = [key for key, one in states.items() if key not in blanks and not one.specs]
    if also:
        more = _load(seen, also, jobs).ledger
        assert more
        blanks.update(more.blanks)
    seen.forget_what_moved()
    findings = _shared(loaded.findings) + [f for one in states.values() for f in one.findings]
    made_anew = [blanks[key] for key in sorted(blanks)]
    return Read(
        shop,
        loaded.ledger.suppliers,
        made_anew,
        states,
        sorted(findings),
        learned,
        loaded.ledger.studies,
        contributions,
    )


def changed_blanks(seen: Survey, known: Mapping[str, BlankState]) -> list[str]:
    """Return the blanks that must be read again, whatever the whole ledger teaches."""
    keys = seen.read_keys(known)
    return [key for key, now in keys.items() if not _is_known(known.get(key), now, seen)]


def _is_known(state: BlankState | None, now: str, seen: Survey) -> bool:
    """Say whether nothing of a blank has changed, and the old site still has all of it."""
    return (
        state is not None
        and state.read == now
        and bool(state.specs)
        and all(holds(seen.held, path, key) for path, key in state.specs.items())
    )


def _load(seen: Survey, blanks: Iterable[str], jobs: int | None) -> "LoadedLedger":
    from blankbook.records.load_ledger import load_ledger

    loaded = load_ledger(seen.root, only=set(blanks), workers=jobs)
    if loaded.ledger is None or any(one.level == "error" for one in loaded.findings):
        raise LedgerHasFaults(loaded.findings)
    return loaded


def _settle(seen: Survey, states: dict[str, BlankState], learned: Mapping[str, Any]) -> None:
    """Give every blank its keys; one whose pages depend on something else now loses its specs."""
    seen.add_photos({path for one in states.values() for path in one.photos})
    for key, now in seen.read_keys(states).items():
        state = states[key]
        made = digest(now, canonical(learned[key]))
        if state.made != made:
            state.specs = {}
        state.read, state.made = now, made


def _photos(blank: "Blank") -> list[str]:
    """Return the photos that the records name, by path: their being there was looked at."""
    named = [(one.source.path, one.photos) for one in blank.rounds]
    named += [(one.source.path, one.photos) for one in blank.deliveries]
    folders = [(path.rpartition("/")[0], photos) for path, photos in named]
    return sorted({f"{folder}/{photo.file}" for folder, photos in folders for photo in photos})


def _findings(findings: Iterable[Finding], start: str) -> list[list[Any]]:
    return [_as_list(one) for one in findings if one.path.startswith(start)]


def _shared(findings: Iterable[Finding]) -> list[list[Any]]:
    return [_as_list(one) for one in findings if not one.path.startswith("blanks/")]


def _as_list(one: Finding) -> list[Any]:
    return [one.path, one.line, one.column, one.rule, one.message, one.help, one.level]
