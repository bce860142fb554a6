"""One hash of several parts: the key of whatever follows from them."""

import hashlib


def digest(*parts: bytes | str) -> str:
    """Return a hash of the parts, in order and apart from each other."""
    made = hashlib.blake2b(digest_size=16)
    for part in parts:
        body = part.encode("utf-8", "surrogateescape") if isinstance(part, str) else part
        made.update(len(body).to_bytes(8, "little") + body)
    return made.hexdigest()
