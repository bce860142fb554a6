"""Where pages and files go, relative to the site."""

CLIENT_CHARTS = "clients.html"
"""The list of the charts for clients, in the shop's own site; in a public one the front page."""
CHANGES, FEED = "changes.html", "changes.atom"
"""What changed lately, as a page and as a feed; a public site has neither."""
HANDBOOK = "handbook/index.html"
"""The handbook's table of contents; a public site has no handbook."""


def handbook_path(key: str) -> str:
    """Return where a topic of the handbook goes."""
    return f"handbook/{key}.html"


ORDERS = "orders.html"
"""The list of bulk orders; a public site has none of them."""


def order_path(style: str, key: str) -> str:
    """Return where the page of an order goes."""
    return f"orders/{style}/{key}.html"


def blank_path(key: str) -> str:
    """Return where a blank's page goes."""
    return f"blanks/{key}.html"


def earlier_path(key: str, part: int = 0) -> str:
    """Return where the rounds and deliveries of a blank go that are not its newest.

    Of many, full pages are counted from 1, the oldest; 0 is the newest page.
    """
    return f"blanks/{key}/earlier-{part}.html" if part else f"blanks/{key}/earlier.html"


def over_time_path(key: str) -> str:
    """Return where a blank's lots go, all on one axis of time."""
    return f"blanks/{key}/over-time.html"


def from_blank_page(path: str) -> str:
    """Return the way from a blank's own page to a page of its folder, as short as it can be.

    >>> from_blank_page("blanks/tarn-thrush/h6/earlier.html")
    'h6/earlier.html'
    """
    return "/".join(path.split("/")[-2:])


def supplier_path(key: str) -> str:
    """Return where a supplier's page goes."""
    return f"suppliers/{key}.html"


def compare_path(key: str) -> str:
    """Return where the file goes that a blank is compared by."""
    return f"data/compare/{key}.js"


def client_path(slug: str) -> str:
    """Return where a size chart for clients goes."""
    return f"sizes/{slug}.html"


def client_data_path(slug: str) -> str:
    """Return where the same chart goes as comma-separated values."""
    return f"data/sizes/{slug}.csv"


def sheet_path(key: str) -> str:
    """Return where the sheet goes that a blank is measured on."""
    return f"sheets/{key}.html"


def table_path(key: str, round_key: str) -> str:
    """Return where the page goes that a planned round is measured with."""
    return f"table/{key}/{round_key}.html"


def table_data_path(key: str, round_key: str) -> str:
    """Return where the round goes that this page fills."""
    return f"data/table/{key}/{round_key}.js"


def standalone_path(key: str, round_key: str) -> str:
    """Return where the same page goes as one file, to be sent to a phone."""
    return f"data/table/{key}/{round_key}.htm"
