"""What a page must hold, looked for in a browser: each function returns what is wrong, in words.

The rules of accessibility are those of axe-core (WCAG 2.2 A and AA, and best practice), whose
script the package axe-playwright-python carries; the rest is what axe does not look at.
"""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from urllib.parse import unquote

import axe_playwright_python

AXE = (Path(axe_playwright_python.__file__).parent / "axe.min.js").read_text(encoding="utf-8")
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
OF_COLOUR = ["color-contrast", "link-in-text-block"]
"""The rules of these that depend on colours; they take six parts in seven of the time of all."""
OF_PLACE = ["target-size", "scrollable-region-focusable", "skip-link"]
"""The rules that sizes and places bear on; what else is asked follows from the elements seen."""
LOOKS = """known => {
    const wanted = ['color', 'background-color', 'background-image', 'opacity', 'position',
        'font-size', 'font-weight', 'text-decoration-line', 'text-shadow', 'visibility'];
    const looks = new Map([[null, '']]), first = new Map();
    const look = element => {
        if (!looks.has(element)) {
            const style = getComputedStyle(element);
            const own = [element.tagName, ...wanted.map(name => style.getPropertyValue(name))];
            looks.set(element, `${look(element.parentElement)}/${own.join()}`);
        }
        return looks.get(element);
    };
    for (const one of document.body.querySelectorAll('*'))
        if ([...one.childNodes].some(node => node.nodeType === 3 && node.data.trim()))
            first.set(look(one), first.get(look(one)) || one);
    for (const one of known) first.delete(one);
    return first;
}"""
"""The first element with words of each look: all that colours can depend on, its own and around."""
Data = dict[str, Any]
MOST_BYTES = 100_000
"""Of everything that a page without photos asks for at first."""
LEAST_TEXT = 10.0
"""CSS pixels of a chart's smallest words, on a phone of 360."""
SPACED = (
    "*{line-height:1.5!important;letter-spacing:.12em!important;word-spacing:.16em!important}"
    "p{margin-bottom:2em!important}"
)
"""WCAG 2.2, 1.4.12: text spacing."""


@dataclass
class Watched:
    """A page and all that happened while it was open."""

    page: Any
    said: list[str] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)

    def forget(self) -> None:
        """Begin anew; what a browser has in store it asks for all the same, but not for icons."""
        self.said.clear()
        self.asked.clear()


@contextmanager
def watched(
    browser: Any, width: int, *, with_axe: bool = False, **settings: Any
) -> Iterator[Watched]:
    """Open a page, and note what it says and asks for; *with_axe* it has its rules at once."""
    context = browser.new_context(viewport={"width": width, "height": 800}, **settings)
    if with_axe:  # half the time of handing it to each page
        context.add_init_script(AXE)
    watched = Watched(context.new_page())
    watched.page.on("console", lambda message: watched.said.append(message.text))
    watched.page.on("pageerror", lambda error: watched.said.append(str(error)))
    watched.page.on("request", lambda request: watched.asked.append(request.url))
    yield watched
    context.close()


def breaks_rules(page: Any) -> list[str]:
    """Return each rule of axe that is broken, with the first place."""
    return _broken(page, {"type": "tag", "values": TAGS})


def breaks_other_rules(page: Any, *, placed_only: bool = False) -> list[str]:
    """Return the same of all rules that are no matter of colour.

    With *placed_only* of those whose answer hangs on sizes and places: all that is left to ask
    where another width `shows` the same.
    """
    if placed_only:
        return _broken(page, {"type": "rule", "values": OF_PLACE})
    off = {rule: {"enabled": False} for rule in OF_COLOUR}
    return _broken(page, {"type": "tag", "values": TAGS}, off)


def shows(page: Any) -> list[str]:
    """Return the elements of a page with all they say of themselves, and which of them are seen."""
    found: list[str] = page.evaluate(
        """[document.documentElement.outerHTML,
        [...document.querySelectorAll('*')].map(one => Number(one.checkVisibility())).join('')]"""
    )
    return found


def breaks_a_colour(page: Any) -> list[str]:
    """Return the same of the rules of colour."""
    return _broken(page, {"type": "rule", "values": OF_COLOUR})


def breaks_colours(page: Any, known: set[str]) -> list[str]:
    """Return the same, asked of one element of each look.

    The looks of *known* are left out, and it gets those that were looked at: what is the same in
    all that colours can depend on gets the same answer, on any page.
    """
    _load(page)
    found, seen = page.evaluate(
        f"""async ([rules, known]) => {{
            const fresh = ({LOOKS})(known), words = [...fresh.keys()];
            if (!fresh.size) return [[], words];
            const done = await axe.run({{include: [...fresh.values()]}}, {{preload: false,
                resultTypes: ['violations'], runOnly: {{type: 'rule', values: rules}}}});
            return [done.violations, words];
        }}""",
        [OF_COLOUR, sorted(known)],
    )
    known.update(seen)
    return _told(found)


def _broken(page: Any, only: Data, rules: Data | None = None) -> list[str]:
    _load(page)
    found = page.evaluate(
        "([only, rules]) => axe.run(document, {preload: false, resultTypes: ['violations'], "
        "runOnly: only, rules})",
        [only, rules or {}],
    )
    return _told(found["violations"])


def _load(page: Any) -> None:
    if not page.evaluate("'axe' in window"):
        page.evaluate(AXE)


def _told(violations: list[Any]) -> list[str]:
    return [f"{violation['id']}: {violation['nodes'][0]['html'][:120]}" for violation in violations]


def scrolls_sideways(page: Any) -> list[str]:
    """Return whether the whole page is wider than its window."""
    wide, room = page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
    return [f"{wide} pixels wide in a window of {room}"] if wide > room else []


def moves(page: Any) -> list[str]:
    """Return what is animated."""
    count = page.evaluate("document.getAnimations().length")
    return [f"{count} animations"] if count else []


def loses_its_shape(page: Any) -> list[str]:
    """Return what is wrong with it at 320 pixels, and at twice the size in forced colours.

    Each as it is, and with its text spaced; the page gets back what it had.
    """
    was, found = page.viewport_size, acts_by_itself(page)
    for width, colours in ((320, "none"), (640, "active")):
        page.set_viewport_size({**was, "width": width})
        page.emulate_media(forced_colors=colours)
        found += [f"at {width}: {finding}" for finding in (*scrolls_sideways(page), *moves(page))]
        page.evaluate(
            "css => {const s = new CSSStyleSheet(); s.replaceSync(css);"
            "document.adoptedStyleSheets = [s]}",
            SPACED,
        )
        found += [f"at {width}, spaced: {finding}" for finding in scrolls_sideways(page)]
        page.evaluate("document.adoptedStyleSheets = []")
    page.emulate_media(forced_colors="none")
    page.set_viewport_size(was)
    return found


def has_scripts(place: Path) -> bool:
    """Say whether a page brings scripts, or words for where there are none."""
    return (
        re.search(r"<(?:no)?script\b", place.read_text(encoding="utf-8"), re.IGNORECASE) is not None
    )


def has_controls(page: Any) -> list[str]:
    """Return how many controls a page has."""
    count = page.locator("input, select, button").count()
    return [f"{count} controls"] if count else []


def hides_focus(page: Any, most: int = 60) -> list[str]:
    """Return what cannot be seen to be focused while tabbing through the page."""
    wrong = []
    for _ in range(most):
        page.keyboard.press("Tab")
        outline = page.evaluate(
            """() => {
                const it = document.activeElement;
                if (!it || it === document.body) return null;
                const style = getComputedStyle(it), box = it.getBoundingClientRect();
                const lined = style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2;
                const seen = box.width > 0 && box.bottom > 0 && box.top < innerHeight;
                return [it.outerHTML.slice(0, 100), lined, seen];
            }"""
        )
        if outline is None:
            break
        words, lined, seen = outline
        wrong += [] if lined else [f"no outline: {words}"]
        wrong += [] if seen else [f"out of sight: {words}"]
    return wrong


def speaks(watch: Watched, home: str) -> list[str]:
    """Return console messages, and requests that leave the folder *home*."""
    return [*watch.said, *(url for url in watch.asked if not url.startswith(home))]


def weighs_too_much(watch: Watched) -> list[str]:
    """Return whether what a page asked for is more than it may be."""
    icons = watch.page.evaluate("[...document.querySelectorAll('link[rel=icon]')].map(i => i.href)")
    sizes = {url: _size(url) for url in [*watch.asked, *icons]}
    total = sum(sizes.values())
    if total <= MOST_BYTES:
        return []
    return [f"{total} bytes: " + ", ".join(f"{u.rpartition('/')[2]} {n}" for u, n in sizes.items())]


def _size(url: str) -> int:
    place = Path(unquote(url.partition("#")[0].removeprefix("file://")))
    return place.stat().st_size if place.is_file() else 0


def load_all(page: Any) -> None:
    """Let every picture come, also those that wait until they are near.

    Asked in one go: a condition that is asked again and again is code made of text, which the
    page's own policy refuses.
    """
    page.evaluate(
        "Promise.all([...document.images].map(i => {i.loading = 'eager';"
        " return i.decode().catch(() => null)}))"
    )


def has_small_words(page: Any) -> list[str]:
    """Return drawings whose words are too small as they are shown.

    Each drawing's own font sizes are scaled by how wide it is shown, against how wide it is drawn.
    """
    load_all(page)
    shown = page.evaluate(
        "[...document.images].filter(i => i.src.endsWith('.svg') && i.width > 100)"
        ".map(i => [i.currentSrc, i.width])"
    )
    wrong = []
    for url, width in shown:
        text = Path(unquote(url.removeprefix("file://"))).read_text(encoding="utf-8")
        drawn = float(re.search(r'viewBox="0 0 ([0-9.]+)', text)[1])  # type: ignore[index]
        sizes = [float(size) for size in re.findall(r"font: (?:[a-z0-9]+ )*([0-9.]+)px", text)]
        smallest = min(sizes, default=99.0) * width / drawn
        if smallest < LEAST_TEXT - 0.01:
            wrong.append(f"{smallest:.1f} px in {url.rpartition('/')[2]}")
    return wrong


def acts_by_itself(page: Any) -> list[str]:
    """Return inline scripts, styles and event attributes, and a page without a strict policy."""
    found: list[str] = page.evaluate(
        """() => {
            const wrong = [];
            for (const one of document.querySelectorAll('*')) {
                if (one.tagName === 'SCRIPT' && !one.src) wrong.push('inline script');
                if (one.tagName === 'STYLE') wrong.push('inline style sheet');
                for (const name of one.getAttributeNames())
                    if (name === 'style' || name.startsWith('on'))
                        wrong.push(`${one.tagName} ${name}`);
            }
            const policy = document.querySelector('meta[http-equiv="Content-Security-Policy"]');
            if (!policy || !policy.content.startsWith("default-src 'none'"))
                wrong.push('no policy');
            return wrong;
        }"""
    )
    return found
