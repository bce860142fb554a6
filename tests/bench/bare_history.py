"""What git alone takes: one log between two tags, and the bytes of every file of both.

python bare_history.py LEDGER
"""

import subprocess
import sys


def git(*arguments: str, given: bytes = b"") -> bytes:
    """Return what git prints."""
    command = ["git", "-C", sys.argv[1], "--no-pager", *arguments]
    return subprocess.run(command, input=given, check=True, stdout=subprocess.PIPE).stdout


git("log", "--raw", "-z", "--no-abbrev", "--no-renames", "old..new")
listed = b"".join(git("ls-tree", "-r", "-z", tag) for tag in ("old", "new"))
blobs = sorted({part.split()[2] for part in listed.split(b"\0") if part})
git("cat-file", "--batch", given=b"\n".join(blobs) + b"\n")
