"""One hash of several parts, to keep under it what was computed from them."""

import hashlib


def digest(*parts: bytes | str) -> str:
    """Return a hash of the parts in their order; ("ab", "c") and ("a", "bc") differ."""
    made = hashlib.blake2b(digest_size=16)
    for part in parts:
        body = part.encode("utf-8", "surrogateescape") if isinstance(part, str) else part
        made.update(len(body).to_bytes(8, "little") + body)
    return made.hexdigest()
