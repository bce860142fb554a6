"""Where pages and files go, relative to the site."""


def blank_path(key: str) -> str:
    """Return where a blank's page goes."""
    return f"blanks/{key}.html"


def supplier_path(key: str) -> str:
    """Return where a supplier's page goes."""
    return f"suppliers/{key}.html"


def compare_path(key: str) -> str:
    """Return where the file goes that a blank is compared by."""
    return f"data/compare/{key}.js"
