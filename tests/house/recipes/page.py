"""The suppliers' order of the alphabet, as a page that the site does not have."""

from house.recipes.invented import Addition, Invented, in_map, in_tool

PAGE = '''\
"""The page of all suppliers by name, and nothing else of them."""

from collections.abc import Mapping
from dataclasses import dataclass

from blankbook.pages.page_spec import PageSpec
from blankbook.records.model import Supplier


@dataclass(frozen=True, slots=True)
class RollCallContext:
    """All that the page shows."""

    up: str
    names: tuple[str, ...]


def roll_call_page(suppliers: Mapping[str, Supplier]) -> PageSpec[RollCallContext]:
    """Return the names of all suppliers, sorted."""
    names = tuple(sorted(supplier.name for supplier in suppliers.values()))
    context = RollCallContext(up="", names=names)
    return PageSpec("roll-call.html", "Suppliers by name", "shop/roll_call.html.j2", context)
'''

TEMPLATE = """\
<header class="opening">
<h1>{{ title }}</h1>
</header>
<ul>
{% for name in names %}
<li>{{ name }}</li>
{% endfor %}
</ul>
"""

ROLL_CALL = Invented(
    name="roll_call",
    additions=(
        in_tool("pages/shop/roll_call_page.py", PAGE),
        in_map("pages/shop", "- `roll_call_page`: all suppliers by name"),
        Addition("site/templates/shop/roll_call.html.j2", TEMPLATE),
        in_tool(
            "pages/all_pages.py",
            "from blankbook.pages.shop.roll_call_page import roll_call_page\n",
            "from blankbook.pages.table",
        ),
        in_tool(
            "pages/all_pages.py", "        roll_call_page(suppliers),\n", "    ]", "def shop_pages"
        ),
        in_tool(
            "build/mkdocs_adapter.py",
            '    ("roll-call.html", "By name"),\n',
            ")",
            "NAVIGATION = (",
        ),
    ),
    tests=(
        "tests/pages/test_contexts.py",
        "tests/pages/test_structure.py",
    ),
    arguments=("build", "--out", "site"),
    shows={
        "site/roll-call.html": "Tarn &amp; Thrush Blanks",
        "site/index.html": "roll-call.html",
    },
)
