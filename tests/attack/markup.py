"""What a person may type, in every field, against a harmless twin: no tag and no attribute more."""

import copy
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from attack.ledgers import whole_data, write_whole
from attack.tally import Tally
from battery.test_doors import TYPED, shape
from blankbook.build.build_errors import LedgerFaultsError
from blankbook.build.build_site import build_site
from building import site_files

Way = tuple[str | int, ...]
TWIN = "harmless words"


def free_texts(value: Any, way: Way = ()) -> Iterator[Way]:
    """Yield the way to every text that is free: `whole_data` writes ``zq…secret`` into those."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from free_texts(inner, (*way, key))
    elif isinstance(value, list):
        for place, inner in enumerate(value):
            yield from free_texts(inner, (*way, place))
    elif isinstance(value, str) and value.startswith("zq") and value.endswith("secret"):
        yield way


def with_words(data: dict[str, Any], ways: list[Way], words: str) -> dict[str, Any]:
    """Return the records with other words in these places."""
    made = copy.deepcopy(data)
    for *above, last in ways:
        holder: Any = made
        for step in above:
            holder = holder[step]
        holder[last] = words
    return made


def run_markup(folder: Path) -> Tally:
    """Return how many sites were held against a twin, and where tags or attributes differ."""
    tally, data = Tally("markup"), whole_data({})
    ways = list(free_texts(data))
    tally.counts["fields"] = len(ways)
    tried = [(ways, words) for words in TYPED]
    tried += [([way], TYPED[place % len(TYPED)]) for place, way in enumerate(ways)]
    for number, (places, words) in enumerate(tried):
        twin = _site(folder, with_words(data, places, TWIN))
        found = _site(folder, with_words(data, places, words))
        tally.counts["sites" if found and twin else "refused by check"] += 1
        if found and twin:
            name = f"{words!r} in {places[0] if len(places) == 1 else 'every field'} ({number})"
            tally.through += [f"{name}: {path}" for path in _other(found, twin)]
    return tally.end()


def _site(folder: Path, data: dict[str, Any]) -> dict[str, bytes]:
    root = write_whole(folder / "ledger", data)
    try:
        build_site(root, folder / "site", jobs=1)
    except LedgerFaultsError:
        return {}
    return site_files(folder / "site")


def _other(found: dict[str, bytes], twin: dict[str, bytes]) -> Iterator[str]:
    """Yield the pages that have other tags or attributes than the twin's."""
    for path in sorted(found.keys() & twin.keys()):
        if path.endswith((".html", ".htm")):
            try:
                if shape(found[path]) != shape(twin[path]):
                    yield f"{path} has other tags"
            except AssertionError as error:
                yield f"{path}: {error}"
        if path.endswith(".js") and b"</script" in found[path]:
            yield f"{path} ends a script"
