"""Blanks beside each other, chosen in the catalogue, from a plain folder."""

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

pytestmark = pytest.mark.browser
TWO = ("tarn-thrush/h6", "osierbank/o180")


@pytest.fixture
def page(browser: Any) -> Iterator[Any]:
    """Return an empty page; no message may come up in the console, but of a missing file."""
    opened = browser.new_page(viewport={"width": 1280, "height": 900})
    said: list[str] = []
    opened.on("console", lambda message: said.append(message.text))
    opened.on("pageerror", lambda error: said.append(str(error)))
    yield opened
    opened.close()
    assert [line for line in said if "ERR_FILE_NOT_FOUND" not in line] == []


def compared(catalogue: str, *keys: str) -> str:
    return catalogue.replace("index.html", f"compare.html#lay={','.join(keys)}")


def data_of(catalogue: str, key: str) -> dict[str, Any]:
    """Return what a blank is compared by, from its file."""
    place = Path(catalogue.removeprefix("file://").replace("%20", " ")).parent
    text = (place / "data" / "compare" / f"{key}.js").read_text(encoding="utf-8")
    found = re.fullmatch(r"self\.blankbookTake\((.*)\);\n", text)
    assert found
    data: dict[str, Any] = json.loads(found[1])
    return data


def test_rows_chosen_in_the_catalogue_are_laid_beside_each_other(
    page: Any,
    catalogue: str,
) -> None:
    page.goto(catalogue)
    for key in TWO:
        page.locator(f"tr[id='{key}']").get_by_role("checkbox").check()
    page.get_by_role("link", name="lay 2 blanks beside each other").click()
    page.wait_for_selector("#numbers")
    heads = page.locator("thead").first.inner_text()
    assert " ".join(heads.split()) == "what H6 heavy tee O180 classic tee"


def test_numbers_are_those_of_the_files(page: Any, catalogue: str) -> None:
    """Every mean that a file holds stands in the table, in the shop's fractions."""
    page.goto(compared(catalogue, *TWO))
    page.wait_for_selector("#numbers")
    words = page.locator("section[aria-labelledby='numbers'] table").inner_text()
    for key in TWO:
        for size in data_of(catalogue, key)["sizes"]:
            for shown in size["says"].values():
                assert shown in words


def test_every_point_stands_below_its_size(page: Any, catalogue: str) -> None:
    """A group for each size; on a phone the points stay in sight while the blanks are scrolled."""
    page.set_viewport_size({"width": 360, "height": 800})
    page.goto(compared(catalogue, *TWO))
    page.wait_for_selector("#numbers")
    table = page.locator("section[aria-labelledby='numbers'] table")
    groups = table.locator("th[scope=rowgroup]").all_inner_texts()
    assert groups == ["S", "M", "L", "XL", "2XL"]
    table.locator("..").evaluate("place => { place.scrollLeft = 200 }")
    head = table.locator("th[scope=row]").first.bounding_box()
    assert head
    assert 0 <= head["x"] < 40


def test_outlines_are_to_one_scale(page: Any, catalogue: str) -> None:
    """The height of every outline, in every panel, is its body length times the same scale.

    A size that only one of the blanks has is not laid over anything, and is not drawn.
    """
    page.goto(compared(catalogue, *TWO))
    page.wait_for_selector(".panel svg")
    heights = page.evaluate(
        """() => [...document.querySelectorAll('.panel')].flatMap(panel =>
            [...panel.querySelectorAll('polygon')].map(shape => [
                panel.querySelector('b').textContent, shape.getBBox().height]))"""
    )
    sizes = [size for key in TWO for size in data_of(catalogue, key)["sizes"]]
    labels = [size["label"] for size in sizes]
    lengths = [
        (size["label"], size["mm"]["body_length"])
        for size in sizes
        if labels.count(size["label"]) > 1
    ]
    assert len(lengths) < len(sizes)
    assert len(heights) == len(lengths) > 4
    scales = sorted(
        height / mm
        for (label, mm), (_, height) in zip(
            sorted(lengths), sorted((label, height) for label, height in heights), strict=True
        )
        if label
    )
    assert scales[-1] / scales[0] < 1.01


def test_size_that_stands_for_another_is_the_nearest(page: Any, catalogue: str) -> None:
    """Worked out again here from the files, as received, over the deciding points."""
    page.goto(compared(catalogue, *TWO))
    page.wait_for_selector("#instead")
    rows = page.locator("#instead-caption").locator("..").locator("tbody tr").all_inner_texts()
    first, other = (data_of(catalogue, key) for key in TWO)
    for row, size in zip(rows, first["sizes"], strict=True):
        apart = {
            theirs["label"]: sum(
                ((size["mm"][point] - theirs["mm"][point]) / other["tolerance"][point]) ** 2
                for point in other["deciding"]
            )
            for theirs in other["sizes"]
        }
        nearest = min(apart, key=lambda name: apart[name])
        label, stands = row.split()[:2]
        far = (apart[nearest] / len(other["deciding"])) ** 0.5 > other["mostOff"]
        assert (label, stands) == (size["label"], "none" if far else nearest)


def test_unknown_blank_is_said_to_be_unknown(page: Any, catalogue: str) -> None:
    page.goto(compared(catalogue, *TWO, "no-such/blank"))
    page.wait_for_selector(".alarm")
    assert "no-such/blank" in page.locator(".alarm").inner_text()
    assert page.locator("#numbers").count() == 1


def test_what_was_chosen_stays_in_sight_and_is_kept(page: Any, catalogue: str) -> None:
    """In a bar below the rows, told to who listens, and ticked again after going back."""
    page.set_viewport_size({"width": 360, "height": 640})
    page.goto(catalogue)
    for key in TWO:
        page.locator(f"tr[id='{key}']").get_by_role("checkbox").check()
    link = page.get_by_role("link", name="lay 2 blanks beside each other")
    for place in (0, 2000):
        page.evaluate(f"scrollTo(0, {place})")
        box = link.bounding_box()
        assert box
        assert 0 <= box["y"] <= 640 - box["height"]
    assert "2 chosen to compare" in page.get_by_role("status").inner_text()
    link.click()
    page.wait_for_selector("#numbers")
    page.go_back()
    page.wait_for_selector(".bar:not([hidden])")
    assert page.locator(".mark input:checked").count() == 2
    page.get_by_role("button", name="choose none").click()
    assert page.locator(".mark input:checked").count() == 0
    assert not link.is_visible()


def test_outlines_have_a_scale(page: Any, catalogue: str) -> None:
    """Each panel has a bar of 5 in, as long as 127 mm of the outlines beside it."""
    page.goto(compared(catalogue, *TWO))
    page.wait_for_selector(".panel svg")
    bars = page.evaluate(
        """() => [...document.querySelectorAll('.panel')].map(panel => [
            panel.querySelector('text.measure').textContent,
            panel.querySelector('path.measure').getBBox().width,
            panel.querySelector('polygon').getBBox().height,
            panel.querySelector('b').textContent])"""
    )
    sizes = {size["label"]: size for size in data_of(catalogue, TWO[0])["sizes"]}
    assert bars
    for words, wide, tall, label in bars:
        assert words == "5 in"
        assert abs(wide / 127 - tall / sizes[label]["mm"]["body_length"]) < 0.01
