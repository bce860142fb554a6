"""The drawings: the same bytes anywhere, readable in light and dark, and never more than text."""

import os
import re
import subprocess
import sys
import warnings
import xml.etree.ElementTree as ET
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations
from pathlib import Path

import pytest

from blankbook.pages import charts
from blankbook.pages import draw as drawing
from blankbook.pages.charts import all_charts
from blankbook.pages.draw import chart_style
from blankbook.pages.draw.draw_panels import swarm_lanes
from blankbook.pages.draw.drawings import draw
from blankbook.pages.over_time.over_time_page import over_time_page
from blankbook.pages.page_spec import AnyChart
from blankbook.results.judge_blank import judge
from made_blanks import DAY, blank, chart, measured, piece, shop
from support import ROOT

GROUNDS = {"light": "#ffffff", "dark": "#171614"}
"""What the site lays charts on; they are transparent."""
SVG = "{http://www.w3.org/2000/svg}"
HOSTILE_RC = """\
text.usetex: True
text.parse_math: True
svg.fonttype: path
svg.hashsalt: somebody
font.family: serif
font.size: 40
lines.linewidth: 9
path.sketch: 3, 50, 5
savefig.bbox: tight
savefig.dpi: 300
figure.dpi: 200
figure.facecolor: red
axes.unicode_minus: True
"""
DRAW_ALL = """
import hashlib, pathlib, sys
from blankbook.records.load_ledger import load_ledger
from blankbook.results.judge_blank import judge
from blankbook.pages.charts import all_charts
from blankbook.pages.draw.drawings import draw
from blankbook.pages.over_time.over_time_page import over_time_page
ledger = load_ledger(pathlib.Path(sys.argv[1])).ledger
made = hashlib.sha256()
for key in ("tarn-thrush/h6", "copperbeck/c66"):
    judged = judge(ledger.blanks[key], ledger.shop)
    for make in (all_charts.sizes_chart, all_charts.sizes_small_chart,
                 all_charts.steps_chart, all_charts.washing_chart, all_charts.lots_chart,
                 all_charts.next_lot_chart, all_charts.operating_chart):
        spec = make(judged)
        made.update(draw(spec) if spec else b"none")
    for spec in (*all_charts.ladder_charts(judged), *over_time_page(judged, ledger.shop).charts):
        made.update(draw(spec))
made.update(draw(all_charts.guide_chart("half_chest")))
print(made.hexdigest())
"""


def words_of(svg: bytes) -> list[str]:
    """Return every text that a chart shows."""
    root = ET.fromstring(svg)  # our own output
    return ["".join(element.itertext()) for element in root.iter(f"{SVG}text")]


def test_all_of_the_demo_draws_without_a_warning_and_small(demo_charts: list[AnyChart]) -> None:
    """Every chart is well-formed, in pixels, titled by its words, and at most 30 kB."""
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        for spec in demo_charts:
            made = draw(spec)
            root = ET.fromstring(made)
            assert len(made) <= 30_000, spec.path
            assert root.get("viewBox") == f"0 0 {spec.width} {spec.height}"
            assert root.get("role") == "img"
            assert root.findtext(f"{SVG}title") == spec.alt
            assert b"nan" not in re.sub(rb">[^<]*<", b"><", made).lower()


@lru_cache(maxsize=4096)
def wide(words: str, size: float, weight: str) -> float:
    """Return the width of words in DejaVu Sans, which is wider than most fonts for screens."""
    from matplotlib.font_manager import FontProperties
    from matplotlib.textpath import TextPath

    font = FontProperties(family=chart_style.FAMILY, weight=weight)
    return float(TextPath((0, 0), words, size=size, prop=font).get_extents().x1)


@dataclass(frozen=True)
class Box:
    """Where words are, in pixels."""

    words: str
    left: float
    right: float
    top: float
    bottom: float
    size: float


def boxes(svg: bytes) -> list[Box]:
    """Return where the words of a chart are."""
    found = []
    for element in ET.fromstring(svg).iter(f"{SVG}text"):
        look, words = element.get("style") or "", "".join(element.itertext())
        size = float(re.findall(r"font-size: ([\d.]+)px", look)[0])
        width = wide(words, size, "bold" if "font-weight: 700" in look else "normal")
        before = {"start": 0.0, "middle": 0.5, "end": 1.0}
        share = before[re.findall(r"text-anchor: (\w+)", look)[0]]
        left, foot = float(element.get("x") or 0) - share * width, float(element.get("y") or 0)
        found.append(Box(words, left, left + width, foot - 0.72 * size, foot, size))
    return found


def test_words_stay_on_the_sheet_and_off_each_other(demo_charts: list[AnyChart]) -> None:
    """Every word of the demo's charts can be read: large enough, whole, and by itself."""
    for spec in demo_charts:
        found = boxes(draw(spec))
        for box in found:
            assert box.size >= 11.0
            assert box.left >= -0.5, (spec.path, box)
            assert box.right <= spec.width + 0.5, (spec.path, box)
            assert box.top >= 0, (spec.path, box)
            assert box.bottom <= spec.height, (spec.path, box)
        for box, other in combinations(found, 2):
            apart = box.right <= other.left or other.right <= box.left
            level = box.bottom <= other.top or other.bottom <= box.top
            assert apart or level, (spec.path, box, other)


def test_same_bytes_in_two_processes_whatever_they_are_set_to(
    tmp_path: Path, demo_ledger: Path
) -> None:
    """Neither the hash seed nor a person's own matplotlib settings reach a chart."""
    seen = []
    for seed, settings in (("0", ""), ("4711", HOSTILE_RC)):
        home = tmp_path / seed
        home.mkdir()
        (home / "matplotlibrc").write_text(settings)
        env = {
            "PATH": os.environ["PATH"], "HOME": str(home), "PYTHONHASHSEED": seed,
            "MPLCONFIGDIR": str(home), "LC_ALL": "C.UTF-8",
        }  # fmt: skip
        done = subprocess.run(
            [sys.executable, "-W", "error", "-c", DRAW_ALL, str(demo_ledger)],
            cwd=home, env=env, capture_output=True, check=False,
        )  # fmt: skip
        assert done.returncode == 0, done.stderr.decode()
        seen.append(done.stdout)

    assert seen[0] == seen[1]


def test_drawing_leaves_no_settings_behind() -> None:
    """Whoever uses matplotlib after us finds it as it was."""
    import matplotlib as mpl

    before = dict(mpl.rcParams.items())
    draw(all_charts.guide_chart("half_chest"))

    assert dict(mpl.rcParams.items()) == before


def test_the_font_does_not_reach_the_file(monkeypatch: pytest.MonkeyPatch) -> None:
    """No place depends on the metrics of a font: with another one the bytes are the same."""
    spec = all_charts.guide_chart("sleeve_length")
    before = draw(spec)
    monkeypatch.setitem(chart_style._SETTINGS, "font.sans-serif", ["DejaVu Serif"])

    assert draw(spec) == before


HOSTILE = [
    'style="fill: #0072b2"',
    "#c75000",
    "</text><script>alert(1)</script>",
    "$x^2$ \\frac{1}{2}",
    "a\x00b\x1b[31mc\u202ed",
    "&amp;<![CDATA[",
    "Ω漢字🙂",
]


@pytest.mark.parametrize("label", HOSTILE)
def test_what_a_person_typed_is_only_text(label: str) -> None:
    """A size label that looks like markup, a colour or a formula comes through as written."""
    sizes = (label, "L")
    charted = {s: {"half_chest": f"{18 + 2 * i}", "body_length": "28"} for i, s in enumerate(sizes)}
    pieces = [
        piece(f"{i}", s, half_chest=f"{18 + 2 * i}", body_length=f"{28 + i}")
        for i, s in enumerate(sizes)
    ]
    again = measured(*pieces, key="2027-01-20-b", day=DAY.replace(year=2027))
    judged = judge(blank(measured(*pieces), again, sizes=sizes, charts=(chart(charted),)), shop())
    clean = "".join(c if c.isprintable() else " " for c in label)
    makers = (
        all_charts.sizes_chart,
        all_charts.steps_chart,
        all_charts.lots_chart,
    )
    page = over_time_page(judged, judged.case.shop)
    assert page
    made_of = (*(make(judged) for make in makers), *all_charts.ladder_charts(judged))
    for spec in (*made_of, *page.charts[:-1]):
        assert spec
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            made = draw(spec)
        root = ET.fromstring(made)
        kinds = {element.tag.removeprefix(SVG) for element in root.iter()}
        assert kinds <= {"svg", "title", "style", "defs", "clipPath", "rect", "g", "path", "text"}
        begins = clean[:2].strip()
        assert any(words.strip().startswith(begins) for words in words_of(made)), words_of(made)
        assert clean in (root.findtext(f"{SVG}title") or "")
        assert "var(--" not in " ".join(words_of(made))


def test_a_very_long_label_is_cut() -> None:
    """A label never runs off the sheet: what does not fit ends in a mark of omission."""
    long = "W" * 500
    pieces = [piece("1", long, half_chest="20", body_length="29")]
    spec = all_charts.sizes_chart(judge(blank(measured(*pieces), sizes=(long,), charts=()), shop()))
    assert spec
    shown = [words for words in words_of(draw(spec)) if words.startswith("W")]

    assert shown
    assert all(len(words) <= 10 and words.endswith("…") for words in shown)


def test_odd_numbers_draw() -> None:
    """No tolerance, no deviation, and a garment far longer than wide still make charts."""
    pieces = [piece("S-1", "S", half_chest="7", body_length="59")]
    charted = chart({"S": {"half_chest": "7", "body_length": "59"}})
    nothing = dict.fromkeys(shop().tolerance, 0.0)
    judged = judge(blank(measured(*pieces), charts=(charted,)), shop(tolerance=nothing))
    sizes = (make(judged) for make in (all_charts.sizes_chart, all_charts.sizes_small_chart))
    for spec in (*sizes, *all_charts.ladder_charts(judged)):
        assert spec
        assert draw(spec)
        assert spec.height < 500


def luminance(colour: str) -> float:
    """Return the relative luminance of a colour.

    Source: WCAG 2.2, definition of relative luminance.
    """
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(first: str, second: str) -> float:
    """Return the contrast ratio of two colours (WCAG 2.2)."""
    dark, light = sorted((luminance(first), luminance(second)))
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.published
def test_contrast_is_as_the_guideline_defines_it() -> None:
    """Black on white is 21 to 1, and #767676 on white 4.54 (WCAG 2.2 and its techniques)."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


@pytest.mark.parametrize("role", [role for role in chart_style.LIGHT if role != "band"])
def test_every_role_is_told_from_both_grounds(role: str) -> None:
    """3 to 1 against the ground and against the band (WCAG 2.2, 1.4.11); 4.5 where it is text."""
    least = 4.5 if role in {"ink", "grey"} else 3.0
    for colours, ground in ((chart_style.LIGHT, "light"), (chart_style.DARK, "dark")):
        assert contrast(colours[role], GROUNDS[ground]) >= least
        assert contrast(colours[role], colours["band"]) >= least


def test_the_dark_ground_is_the_themes() -> None:
    """The contrast of the charts is checked against the ground that the site lays them on."""
    sheet = (ROOT / "site/theme/assets/site.css").read_text()

    assert f"--paper: {GROUNDS['dark']}" in sheet


def test_colours_stand_in_one_place() -> None:
    """No module of the charts but the style knows a colour, nor does a drawing beyond its sheet."""
    folders = [Path(folder.__path__[0]) for folder in (charts, drawing)]
    found = [
        path.name
        for folder in folders
        for path in folder.glob("*.py")
        if re.search(r"#[0-9a-fA-F]{6}\b", path.read_text())
    ]

    assert found == ["chart_style.py"]
    for point in ("half_chest", "rib_height"):
        body = draw(all_charts.guide_chart(point)).decode().split("</style>")[1]
        assert not re.search(r"#[0-9a-f]{3,6}", body)


def test_pieces_that_would_cover_each_other_stand_side_by_side() -> None:
    """Equal values take lanes of their own; far ones share the first."""
    assert swarm_lanes([50.0, 50.0, 52.0, 80.0]) == [0, 1, 2, 0]


@pytest.mark.browser
def test_chromium_shows_one_file_in_light_and_in_dark(tmp_path: Path, chromium: str) -> None:
    """In an <img> the ink is dark on a light page, and light on a dark one."""
    playwright = pytest.importorskip("playwright.sync_api")
    from PIL import Image

    (tmp_path / "one.svg").write_bytes(draw(all_charts.guide_chart("hem_width")))
    page = '<meta charset="utf-8"><style>:root{color-scheme:light dark}body{margin:0}</style>'
    (tmp_path / "page.html").write_text(page + '<img src="one.svg">')
    shown = {}
    with playwright.sync_playwright() as play:
        browser = play.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        for scheme in ("light", "dark"):
            tab = browser.new_page(color_scheme=scheme, viewport={"width": 240, "height": 206})
            tab.goto((tmp_path / "page.html").as_uri())
            tab.screenshot(path=tmp_path / f"{scheme}.png")
            grey = Image.open(tmp_path / f"{scheme}.png").convert("L")
            name = grey.crop((60, 0, 180, 18)).histogram()
            shown[scheme] = [level for level, count in enumerate(name) if count]
        browser.close()
    light, dark = shown["light"], shown["dark"]

    assert max(light) == 255
    assert min(light) < 80
    assert min(dark) < 40
    assert max(dark) > 200
