"""Build a ledger without what the site says over time: the same site but for those pages.

    python tests/bench/without_history.py LEDGER

In a ledger that git does not track, nothing is left of the site's history then.
"""

import sys
from dataclasses import replace
from unittest.mock import patch

from blankbook.commands.main import main
from blankbook.pages import all_pages
from blankbook.pages.blank import blank_page
from blankbook.pages.over_time.history_types import OverTimeLink
from blankbook.pages.shop.blank_row import BlankRow
from blankbook.records.model import Shop
from blankbook.results.result_types import Judged

NO_STRIP = OverTimeLink("", None)
_row = all_pages.blank_row


def no_page(judged: Judged, shop: Shop) -> None:
    """Return no page over time."""


def row_alone(judged: Judged, history: None) -> BlankRow:
    """Return what the lists say of a blank, without a drawing over time."""
    return replace(_row(judged, history), over_time=NO_STRIP)


if __name__ == "__main__":
    ledger = sys.argv[1]
    sys.argv = ["blankbook", "build", "--ledger", ledger]
    with (
        patch.object(all_pages, "over_time_page", no_page),
        patch.object(all_pages, "blank_row", row_alone),
        patch.object(blank_page, "has_history", return_value=False),
    ):
        sys.exit(main())
