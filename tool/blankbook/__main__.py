"""``python -m blankbook``: the same door as the ``blankbook`` command."""

import sys

from blankbook.commands.main import main

if __name__ == "__main__":
    sys.exit(main())
