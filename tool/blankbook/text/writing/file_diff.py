"""What an edit would change, as a patch."""

import difflib


def file_patch(name: str, old: bytes | None, new: bytes) -> str:
    """Return the change of a file as a patch; *old* is None where the file is new."""
    before = [] if old is None else _lines(old)
    label = "/dev/null" if old is None else f"a/{name}"
    made = difflib.unified_diff(before, _lines(new), label, f"b/{name}", n=2)
    return "".join(line if line.endswith("\n") else f"{line}\n\\ no line end\n" for line in made)


def _lines(body: bytes) -> list[str]:
    return body.decode("utf-8", "replace").splitlines(keepends=True)
