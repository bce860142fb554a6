"""The dress of the site: told apart by every eye, light, and asking nothing of another host."""

import re
from importlib.resources import files

import pytest

from markup import Markup

SHEET = (files("blankbook.theme") / "assets" / "site.css").read_text(encoding="utf-8")
LISTS = (files("blankbook.theme") / "assets" / "catalogue.css").read_text(encoding="utf-8")
COMPARE = (files("blankbook.theme") / "assets" / "compare.js").read_text(encoding="utf-8")
TABLE_SHEET = (files("blankbook.theme") / "assets" / "table.css").read_text(encoding="utf-8")
TABLE, ODD, KEEP, HAND, LOOK, MAKE = (
    (files("blankbook.theme") / "assets" / f"{name}.js").read_text(encoding="utf-8")
    for name in ("table", "odd", "keep", "hand", "look", "make")
)
SCRIPT = (files("blankbook.theme") / "assets" / "finder.js").read_text(encoding="utf-8")
MAIN = (files("blankbook.theme") / "main.html").read_text(encoding="utf-8")
_BLOCK = re.compile(r":root \{(.*?)\}", re.DOTALL)
_COLOUR = re.compile(r"--([a-z]+): (#[0-9a-f]{6});")


def palette(place: int) -> dict[str, str]:
    """Return the colours of the sheet: 0 in light, 1 in dark."""
    return dict(_COLOUR.findall(_BLOCK.findall(SHEET)[place]))


def contrast(first: str, second: str) -> float:
    """Return the contrast ratio of two colours.

    Source: WCAG 2.2, definitions of relative luminance and contrast ratio.
    """
    low, high = sorted((_luminance(first), _luminance(second)))
    return (high + 0.05) / (low + 0.05)


def _luminance(colour: str) -> float:
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


@pytest.mark.published
def test_contrast_is_the_guidelines() -> None:
    """Black on white is 21 to 1, and #767676 on white 4.54 to 1 (WCAG 2.2)."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


@pytest.mark.parametrize("place", [0, 1], ids=["light", "dark"])
@pytest.mark.parametrize("role", ["ink", "quiet", "blue", "vermilion"])
def test_words_can_be_read(role: str, place: int) -> None:
    """Every colour of words is 4.5 to 1 or more against its ground (WCAG 2.2, 1.4.3)."""
    colours = palette(place)

    assert contrast(colours[role], colours["paper"]) >= 4.5


@pytest.mark.parametrize("place", [0, 1], ids=["light", "dark"])
def test_marks_can_be_seen(place: int) -> None:
    """The ruler under the head is 3 to 1 or more against its ground (WCAG 2.2, 1.4.11)."""
    colours = palette(place)

    assert contrast(colours["mark"], colours["paper"]) >= 3.0


def test_colours_stand_in_the_two_palettes_only() -> None:
    """No rule brings a colour of its own: paper and screen change in one place."""
    rules = _BLOCK.sub("", SHEET + LISTS)

    assert not re.findall(r"#[0-9a-fA-F]{3,8}\b|rgb|hsl", rules)


def test_sheet_is_small_and_asks_nothing() -> None:
    """At most 15 kB, no font, picture or other sheet from anywhere."""
    assert len(SHEET.encode()) <= 15_000
    for never in ("url(", "@import", "@font-face"):
        assert never not in SHEET + LISTS


def test_sheet_knows_paper_and_phones() -> None:
    """There are rules for print, for narrow windows, for the dark and for forced colours."""
    for words in (
        "@media print",
        "screen and (max-width: 40rem",
        "prefers-color-scheme: dark",
        "forced-colors",
    ):
        assert words in SHEET


def test_the_dark_exchanges_colours_and_nothing_else() -> None:
    """So what is no matter of colour is the same in both, and need not be looked at twice."""
    dark = re.findall(r"@media \(prefers-color-scheme: dark\) \{(.*?)\n\}", SHEET, re.DOTALL)
    assert len(dark) == SHEET.count("prefers-color-scheme") == 1
    inside = re.fullmatch(r"\s*:root \{(.*?)\}\s*", dark[0], re.DOTALL)
    assert inside
    assert re.sub(r"--[a-z]+: #[0-9a-f]{6};", "", inside[1]).strip() == ""
    assert set(palette(1)) <= set(palette(0))
    assert "prefers-color-scheme" not in LISTS + TABLE_SHEET + SCRIPT + COMPARE + TABLE


def test_nothing_moves() -> None:
    """No animation and no transition: nothing to be reduced for those who ask for less motion."""
    assert "animation" not in SHEET + LISTS
    assert "transition" not in SHEET + LISTS


def test_every_class_of_the_sheet_is_worn(demo_markup: dict[str, Markup]) -> None:
    """No rule dresses what no page has."""
    worn = {
        name
        for page in demo_markup.values()
        for element in page.elements
        for name in element.get("class").split()
    }
    theme = set(re.findall(r'class="([a-z]+)"', MAIN))
    theme |= set(re.findall(r'className: "([a-z]+)"', SCRIPT + COMPARE))
    theme |= set(re.findall(r"`(line) (line-)\$", COMPARE)[0])
    theme |= set(re.findall(r'class: "([a-z]+)"', COMPARE))
    rules = re.sub(r"[0-9]\.[0-9a-z]+|/\*.*?\*/", "", SHEET + LISTS)
    styled = set(re.findall(r"\.([a-z][a-z-]+)", rules))

    assert styled <= worn | theme, sorted(styled - worn - theme)


def test_script_is_small_and_asks_nothing() -> None:
    """At most 15 kB, no other host, and no way to make markup or code out of text."""
    for script in (SCRIPT, COMPARE, TABLE, ODD, KEEP, HAND, LOOK, MAKE):
        assert len(script.encode()) <= 15_000
        for never in (
            "innerHTML",
            "outerHTML",
            "insertAdjacentHTML",
            "eval",
            "Function(",
            "fetch(",
        ):
            assert never not in script
        assert "http" not in script.replace("http://www.w3.org/2000/svg", "")


def test_the_policy_stands_first() -> None:
    """Before anything can load, the page says that only its own folder may be asked."""
    head = MAIN[MAIN.index("<head>") :]
    policy = head.index("Content-Security-Policy")

    assert policy < min(head.index(word) for word in ("<link", "<title", "<script", "viewport")
                        if word in head)  # fmt: skip
    assert "default-src 'none'" in head
    for never in ("unsafe", "http:", "https:", "*"):
        assert never not in re.findall(r'content="(default-src[^"]*)"', head)[0]


def test_the_frame_has_its_landmarks() -> None:
    """A link past the head, one main part that it leads to, a named navigation, and a language."""
    assert '<html lang="en">' in MAIN
    assert '<a class="skip" href="#content">' in MAIN
    assert MAIN.count("<main") == 1
    assert '<main id="content"' in MAIN
    assert "<nav aria-label=" in MAIN
    assert MAIN.index('class="skip"') < MAIN.index("<header")


def test_everything_typed_is_escaped_in_the_frame() -> None:
    """MkDocs does not escape by itself: each value is escaped, but for the finished page."""
    values = re.findall(r"\{\{(.*?)\}\}", MAIN)

    assert values
    for value in values:
        assert value.strip() in {"base_url", "page.content"} or value.strip().endswith("|e"), value


def test_the_sheet_of_the_table_dresses_what_its_page_has(demo_markup: dict[str, Markup]) -> None:
    """Its classes are made by the page or its script; it is small as the other is."""
    page = next(demo_markup[path] for path in demo_markup if path.startswith("table/"))
    worn = {name for element in page.elements for name in element.get("class").split()}
    made = re.findall(
        r'className: (?:[^,}]* \? )?"([a-z ]+)"(?: : "([a-z ]+)")?', TABLE + HAND + LOOK
    )
    worn |= {name for found in made for names in found for name in names.split()}
    plain = re.sub(r"(?<![a-z])\.?[0-9][0-9.a-z]*|/\*.*?\*/", "", TABLE_SHEET, flags=re.DOTALL)
    assert set(re.findall(r"\.([a-z][a-z-]+)", plain)) <= worn
    assert len(TABLE_SHEET.encode()) <= 15_000
