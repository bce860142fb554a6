"""What a build reads of the ledger: the blanks that changed, and those that it judges anew.

Some values are learned from the whole ledger. So reading has two steps. First the changed blanks
are read, and each contributes some data, which is kept with it. Then, where all contributions
together teach something else about a blank than last time, that blank is read as well.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from blankbook.build.build_cache import BlankState
from blankbook.build.build_errors import LedgerFaultsError
from blankbook.build.build_inputs import BuildInputs, has_output
from blankbook.build.content_keys import canonical_json
from blankbook.build.file_stamps import digest
from blankbook.text.findings import Finding

if TYPE_CHECKING:
    from blankbook.records.load_ledger import LoadedLedger
    from blankbook.records.model import Blank, Shop, Study, Supplier


@dataclass(frozen=True, slots=True)
class Learning:
    """How a build learns from the whole ledger; a test may have its own."""

    contribute: "Callable[[Blank, Shop], Any]"
    """Returns what a blank contributes, as JSON data."""
    learn: "Callable[[Mapping[str, Any], Shop, Sequence[Study]], Mapping[str, Any]]"
    """Returns what all contributions teach about each blank, as JSON data by its key."""


def ledger_learning() -> Learning:
    """Return how a build learns unless it is told otherwise."""
    from blankbook.results.learning.ledger_learning import blank_contribution, learn

    return Learning(blank_contribution, learn)


@dataclass(frozen=True, slots=True)
class LedgerRead:
    """What a build knows of the ledger after reading."""

    shop: "Shop"
    suppliers: "Mapping[str, Supplier]"
    blanks: "list[Blank]"
    """Those that must be made anew."""
    states: dict[str, BlankState]
    """Of every blank of the ledger; rows and specs of those to be made are still missing."""
    findings: list[list[Any]]
    """All findings, each as a list of its fields."""
    learned: "Mapping[str, Any]"
    """What the whole ledger teaches about each blank, as JSON data by its key."""
    studies: "tuple[Study, ...]"
    contributions: "Mapping[str, Any]"
    """What each blank contributes, as JSON data by its key."""


def read_ledger(
    inputs: BuildInputs, known: Mapping[str, BlankState], learning: Learning, jobs: int | None
) -> LedgerRead:
    """Return what a build needs of the ledger.

    *known* is what the last build knew of the blanks.
    Raises: LedgerFaultsError, OSError.
    """
    keys = inputs.read_keys(known)
    changed = changed_blanks(inputs, known)
    loaded = _load(inputs, changed, jobs)
    assert loaded.ledger
    shop, blanks = loaded.ledger.shop, dict(loaded.ledger.blanks)
    states = {key: known[key] for key in keys if key not in blanks}
    for key in changed:
        states[key] = BlankState(
            contribution=learning.contribute(blanks[key], shop),
            photos=_photos(blanks[key]),
            findings=_findings_below(loaded.findings, f"blanks/{key}/"),
        )
    contributions = {key: state.contribution for key, state in sorted(states.items())}
    learned = learning.learn(contributions, shop, loaded.ledger.studies)
    _set_keys(inputs, states, learned)
    taught_otherwise = [
        key for key, state in states.items() if key not in blanks and not state.specs
    ]
    if taught_otherwise:
        more = _load(inputs, taught_otherwise, jobs).ledger
        assert more
        blanks.update(more.blanks)
    inputs.forget_moving_files()
    findings = _shared_findings(loaded.findings)
    findings += [finding for state in states.values() for finding in state.findings]
    return LedgerRead(
        shop,
        loaded.ledger.suppliers,
        [blanks[key] for key in sorted(blanks)],
        states,
        sorted(findings),
        learned,
        loaded.ledger.studies,
        contributions,
    )


def changed_blanks(inputs: BuildInputs, known: Mapping[str, BlankState]) -> list[str]:
    """Return the blanks that changed and must be read, whatever the whole ledger teaches."""
    keys = inputs.read_keys(known)
    return [key for key, now in keys.items() if not _is_known(known.get(key), now, inputs)]


def _is_known(state: BlankState | None, now: str, inputs: BuildInputs) -> bool:
    """Say whether nothing of a blank has changed, and the old site still has all of it."""
    return (
        state is not None
        and state.read == now
        and bool(state.specs)
        and all(has_output(inputs.kept_outputs, path, key) for path, key in state.specs.items())
    )


def _load(inputs: BuildInputs, blanks: Iterable[str], jobs: int | None) -> "LoadedLedger":
    from blankbook.records.load_ledger import load_ledger

    loaded = load_ledger(inputs.root, only=set(blanks), workers=jobs)
    if loaded.ledger is None or any(finding.level == "error" for finding in loaded.findings):
        raise LedgerFaultsError(loaded.findings)
    return loaded


def _set_keys(
    inputs: BuildInputs, states: dict[str, BlankState], learned: Mapping[str, Any]
) -> None:
    """Give every blank its keys; its specs go where its pages depend on something else now."""
    inputs.add_photos({path for state in states.values() for path in state.photos})
    for key, read_key in inputs.read_keys(states).items():
        state = states[key]
        made_key = digest(read_key, canonical_json(learned[key]))
        if state.made != made_key:
            state.specs = {}
        state.read, state.made = read_key, made_key


def _photos(blank: "Blank") -> list[str]:
    """Return the paths of the photos that the records name; a rule asks whether they are there."""
    named = [(round_.source.path, round_.photos) for round_ in blank.rounds]
    named += [(delivery.source.path, delivery.photos) for delivery in blank.deliveries]
    folders = [(path.rpartition("/")[0], photos) for path, photos in named]
    return sorted({f"{folder}/{photo.file}" for folder, photos in folders for photo in photos})


def _findings_below(findings: Iterable[Finding], start: str) -> list[list[Any]]:
    return [_as_list(finding) for finding in findings if finding.path.startswith(start)]


def _shared_findings(findings: Iterable[Finding]) -> list[list[Any]]:
    return [_as_list(finding) for finding in findings if not finding.path.startswith("blanks/")]


def _as_list(finding: Finding) -> list[Any]:
    return [
        finding.path,
        finding.line,
        finding.column,
        finding.rule,
        finding.message,
        finding.help,
        finding.level,
    ]
