"""Which files bear on which blank, by paths and git's hashes alone: nothing is read."""

from blankbook.history.versions.snapshots import Snapshot, blank_at
from blankbook.text.digests import digest


def may_name_photo(body: bytes) -> bool:
    """Say whether a record may name a photo; the key can be hidden only behind a backslash."""
    return b"photos" in body or b"\\" in body


def names_of(held: Snapshot, code: str, *, committed: bool) -> dict[str, str]:
    """Return, by blank, a hash of all that follows from its records: the code, bytes and names.

    By "" stands that of what every blank shares. The hash is empty where something unknown bears
    on a blank: a file that cannot be read, a stray one, or in a folder a photo, whose bytes nobody
    has looked at; and everywhere without a *code*.
    """
    groups = held.by_blank
    if not code or held.stray or any(not held.blobs[one.path] for one in groups[""]):
        return dict.fromkeys(groups, "")
    beside: dict[str, list[str]] = {}
    for path in held.pictures(groups) if committed else ():
        beside.setdefault(blank_at(path) or "", []).extend((path, held.blobs[path]))
    found = {}
    for key, files in groups.items():
        blobs = [held.blobs[one.path] for one in files]
        seen = committed or not any(may_name_photo(held.bodies.get(one, b"")) for one in blobs)
        supplier = held.blobs.get(f"suppliers/{key.partition('/')[0]}.yaml", "")
        own = [part for one in files for part in (one.path, held.blobs[one.path])]
        rules = digest(code, held.blobs.get("shop.yaml", ""), supplier)
        made = digest(rules, digest(*own), *beside.get(key, ()))
        found[key] = made if seen and all(blobs) else ""
    return found
