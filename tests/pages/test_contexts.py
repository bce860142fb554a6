"""What a template asks for is what its page hands to it, and its records are its sources."""

from collections.abc import Iterator
from dataclasses import fields
from typing import Any

import jinja2
from jinja2 import meta, nodes

from blankbook.pages import all_pages
from blankbook.pages.page_spec import AnyPage
from blankbook.pages.table.phone_file import StandaloneContext
from markup import Markup

ALWAYS = {"title", "commits"}
"""What `blankbook.pages.render` hands to every page besides its context."""


def templates() -> jinja2.Environment:
    """Return the templates, to be looked at."""
    loader = jinja2.PackageLoader("blankbook.templates", "")
    environment = jinja2.Environment(autoescape=True, loader=loader)
    environment.filters["unbroken"] = str
    return environment


def asked(environment: jinja2.Environment, template: str) -> Iterator[str]:
    """Yield the names that a template, and what it includes, takes from its context."""
    assert environment.loader
    source, _, _ = environment.loader.get_source(environment, template)
    tree = environment.parse(source)
    yield from meta.find_undeclared_variables(tree)
    for included in tree.find_all(nodes.Include):
        assert isinstance(included.template, nodes.Const)
        yield from asked(environment, included.template.value)


def handed(context: Any) -> set[str]:
    """Return the names of a context's fields."""
    return {field.name for field in fields(context)}


def test_a_template_gets_what_it_asks_for_and_no_more(demo_pages: list[AnyPage]) -> None:
    """Each name of a template is a field of its context, and each field but the way up is asked."""
    pages = {page.template: type(page.context) for page in [*demo_pages, all_pages.public_guide()]}
    assert len(pages) > 14
    for template, context in pages.items():
        names = set(asked(templates(), template)) - ALWAYS
        assert names | {"up"} == handed(context), template


def test_the_file_for_a_phone_gets_what_it_asks_for() -> None:
    """The one template that stands alone takes just what its context has."""
    assert set(asked(templates(), "table/table_alone.html.j2")) == handed(StandaloneContext)


def test_the_sources_of_a_page_are_the_records_it_leads_to(
    demo_pages: list[AnyPage], demo_markup: dict[str, Markup]
) -> None:
    """A record that is left out of them would be a link that leads nowhere."""
    led = 0
    for page in demo_pages:
        links = {link.get("href") for link in demo_markup[page.path].all("a")}
        records = {link for link in links if "/records/" in link or link.startswith("records/")}
        assert records == {f"{page.context.up}{source.copy}" for source in page.sources}, page.path
        led += len(records)
    assert led > 40
