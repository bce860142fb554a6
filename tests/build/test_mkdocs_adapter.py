"""What is used of MkDocs, held: it promises none of it, so another version may break it here."""

import logging
import os
from importlib.metadata import version
from pathlib import Path

import pytest

from blankbook.build.make_files import PageBody
from blankbook.build.mkdocs_adapter import NAVIGATION, MkDocsError, collected_warnings, render_site
from building import site_files
from support import ROOT

HOSTILE = "---\ntemplate: x.html\n---\n\n# no heading\n\n*no* `{{ config }}` [x](y) {: .z }"
BODIES = [
    PageBody("index.html", "Cat & alogue", f"<div><p>{HOSTILE}</p></div>"),
    PageBody("blanks/a/readme.html", "A", "<p>one</p>"),
    PageBody("blanks/a/index.html", "I", "<p>two</p>"),
    PageBody("templates/t.html", "T", "<p>three</p>"),
]


@pytest.fixture
def site(tmp_path: Path) -> Path:
    """Return a site of a few odd pages."""
    render_site(BODIES, "Shop <&> Co", tmp_path / "site")
    return tmp_path / "site"


def test_version_is_the_one_that_is_known() -> None:
    """The next major version has neither themes nor hooks of this kind."""
    assert version("mkdocs").startswith("1.6.")


def test_bodies_come_out_as_they_went_in(site: Path) -> None:
    """No Markdown, no front matter, no template: the very characters."""
    for body in BODIES[:3]:
        assert body.html in (site / body.path).read_text(encoding="utf-8")


def test_markdown_of_ours_is_converted(tmp_path: Path) -> None:
    """It follows on the page's HTML; tables have captions and heads, and cautions their dress."""
    text = "# A\n\nThe keys:\n\n| key | does |\n|---|---|\n| `u` | undoes |\n\nCaution: hot.\n"
    text += "\n```sh\nblankbook vet <x>\n```\n\n[b](b.html)\n"
    render_site([PageBody("handbook/a.html", "A", HOSTILE, markdown=text)], "S", tmp_path / "site")
    page = (tmp_path / "site/handbook/a.html").read_text(encoding="utf-8")

    assert f'{HOSTILE}\n<div class="handbook">\n<h1 id="a">A</h1>' in page
    assert "<caption>The keys</caption>" in page
    assert '<th scope="col">key</th>' in page
    assert '<th scope="row"><code>u</code></th>' in page
    assert '<p class="caution"><strong>Caution.</strong> Hot.</p>' in page
    assert '<pre><code class="language-sh">blankbook vet &lt;x&gt;' in page
    assert '<a href="b.html">b</a>' in page


def test_there_is_nothing_but_pages_and_the_theme(site: Path) -> None:
    """No site map, no search index, no stock theme; every file is a plain one."""
    found = site_files(site)

    assert {path for path in found if not path.startswith("assets/")} == {
        body.path for body in BODIES if not body.path.startswith("templates/")
    }
    assert "assets/site.css" in found
    assert not [path for path in site.rglob("*") if path.is_symlink()]


def test_page_knows_its_place(site: Path) -> None:
    """Title and name are escaped once, and links lead back to the top from any depth."""
    page = (site / "blanks/a/readme.html").read_text(encoding="utf-8")
    front = (site / "index.html").read_text(encoding="utf-8")

    assert "<title>Cat &amp; alogue – Shop &lt;&amp;&gt; Co</title>" in front
    assert 'href="../../assets/site.css"' in page
    assert all(f'href="../../{place}"' in page for place, _ in NAVIGATION)
    assert 'aria-current="page"' in front
    assert 'aria-current="page"' not in page


def test_nobody_elses_configuration_is_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An mkdocs.yml in the working folder, and MkDocs' own variables, mean nothing."""
    (tmp_path / "mkdocs.yml").write_text("site_name: Other\nplugins: [search]\ntheme: nonsense\n")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("MKDOCS_CONFIG_FILE", "mkdocs.yml")
    render_site(BODIES[:1], "Ours", tmp_path / "site")

    assert "Ours" in (tmp_path / "site/index.html").read_text(encoding="utf-8")
    assert not (tmp_path / "site/search").exists()


def test_warning_fails_the_site(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What MkDocs only warns of is a fault here, whatever levels its logger is at."""
    from mkdocs.structure.nav import get_navigation

    def warning(*arguments: object) -> object:
        logging.getLogger("mkdocs.structure.nav").warning("a page is in doubt")
        return get_navigation(*arguments)  # type: ignore[arg-type]

    monkeypatch.setattr("mkdocs.commands.build.get_navigation", warning)
    logging.getLogger("mkdocs").setLevel(logging.CRITICAL)
    try:
        with pytest.raises(MkDocsError, match="a page is in doubt"):
            render_site(BODIES, "Shop", tmp_path / "site")
        assert logging.getLogger("mkdocs").level == logging.CRITICAL
    finally:
        logging.getLogger("mkdocs").setLevel(logging.NOTSET)


def test_warnings_are_kept_and_not_shown(capfd: pytest.CaptureFixture[str]) -> None:
    """Nothing that MkDocs says reaches the terminal by itself."""
    with collected_warnings() as said:
        logging.getLogger("mkdocs.anything").warning("heard")
        logging.getLogger("mkdocs.anything").info("not heard")

    assert said == ["heard"]
    assert capfd.readouterr() == ("", "")


def test_nothing_is_left_beside_the_site(site: Path) -> None:
    """The folder in which MkDocs finds no pages is gone."""
    assert os.listdir(site.parent) == ["site"]  # noqa: PTH208


def test_only_one_module_knows_mkdocs() -> None:
    """Another generator could take its place by replacing one file."""
    knowing = [
        path.name
        for path in (ROOT / "tool/blankbook").rglob("*.py")
        if any(
            line.strip().startswith(("import mkdocs", "from mkdocs"))
            for line in path.read_text(encoding="utf-8").splitlines()
        )
    ]

    assert knowing == ["mkdocs_adapter.py"]
