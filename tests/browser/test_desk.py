"""The teacher's desk: setting work, a table that keeps itself up to date, files handed in for a class."""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Open, hand_in
from tests.service.classes.test_bundle import zipped
from tests.service.site import GIRDER, HEAVY_GIRDER

pytestmark = pytest.mark.browser

NARROW = {"width": 320, "height": 640}


def look(page: Page, name: str, heading: str) -> None:
    """No page scrolls sideways; kept as a picture where somebody asks for it."""
    expect(page.get_by_role("heading", level=1)).to_contain_text(heading)
    page.wait_for_load_state("load")  # a page without its style sheet yet is wider
    assert page.evaluate("document.documentElement.scrollWidth") <= page.viewport_size["width"]  # type: ignore[index]
    folder = os.environ.get("PICTURES")
    if folder:
        page.screenshot(path=str(Path(folder) / f"{name}-{page.viewport_size['width']}.png"), full_page=True)  # type: ignore[index]


def test_work_is_set_by_keyboard_and_without_scripts(sign_in: Open) -> None:
    page = sign_in("Cora Vale", java_script_enabled=False, viewport=NARROW)
    page.get_by_role("link", name="Staff and classes").click()
    page.locator("#class-name").fill("Newts")
    page.get_by_label("Class code").fill("5N")
    page.get_by_role("button", name="Make the class").click()
    page.get_by_role("link", name="Classes", exact=True).click()
    look(page, "staff", "Classes")
    page.get_by_role("link", name="Set work for class Newts").focus()
    page.keyboard.press("Enter")
    look(page, "set-fresh", "Set work for class Newts")
    page.get_by_label("Brief", exact=True).select_option(label="the ready brief “market-bridge”")
    page.get_by_label("Rubric", exact=True).select_option(label="the ready rubric “market-bridge”")
    page.get_by_role("button", name="Put them in").focus()
    page.keyboard.press("Enter")
    page.get_by_label("Due").fill("2031-03-15T16:00")
    page.get_by_role("button", name="What a student will see").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="What a student will see")).to_be_visible()
    expect(page.get_by_text("Due Sat 15 March 2031, 16:00.")).to_be_visible()
    look(page, "set-look", "Set work for class Newts")
    page.get_by_role("button", name="Set this work").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_text("This is what a student of the class sees")).to_be_visible()
    look(page, "as-a-student", "Bridge for the market carts")


def test_the_table_of_a_class_keeps_itself_up_to_date(sign_in: Open) -> None:
    page = sign_in("Tess Birch")
    page.get_by_role("link", name="Footbridge over the mill stream", exact=True).click()
    row = page.get_by_role("row", name=re.compile("Hal Pine"))
    expect(row).to_contain_text("not started")
    row.get_by_role("link", name="Hal Pine").focus()
    hand_in(sign_in("Hal Pine"), GIRDER + b"# up to date\n")
    expect(row).to_contain_text("needs attention", timeout=20_000)
    expect(row.get_by_role("link", name="Hal Pine", exact=True)).to_be_focused()
    look(page, "table", "class Otters")
    page.get_by_label("Show", exact=True).select_option("needs attention")
    page.get_by_role("button", name="Show", exact=True).click()
    expect(page.get_by_role("row", name=re.compile("Hal Pine"))).to_be_visible()


def test_a_zip_is_looked_at_and_then_handed_in_for_the_class(sign_in: Open, tmp_path: Path) -> None:
    file = tmp_path / "class.zip"
    file.write_bytes(zipped({"MOSS fay.yaml": HEAVY_GIRDER + b"# in a zip\n", "nobody.yaml": b"x"}))
    page = sign_in("Tess Birch", viewport=NARROW)
    page.get_by_role("link", name="Footbridge over the mill stream", exact=True).click()
    look(page, "table", "class Otters")
    page.get_by_role("link", name="Hand in for the class (zip)").click()
    page.get_by_label("Zip of truss files").set_input_files(file)
    page.get_by_role("button", name="Look at it").click()
    expect(page.get_by_text("nobody.yaml: no student of the class is called so.")).to_be_visible()
    look(page, "bundle", "Hand in for the class")
    page.get_by_role("button", name="Hand in 1 file").click()
    expect(page.get_by_text("1 file handed in for the class.")).to_be_visible()
    page.get_by_role("link", name="Fay Moss", exact=True).click()
    expect(page.get_by_text("by the staff").first).to_be_visible()
    look(page, "student", "Fay Moss")
    for address, heading in (
        ("classes/1", "Students of class"),
        ("assignments/1/dates", "Dates"),
        ("assignments/1/marks", "Hand the marks on"),
        ("assignments/1/copy", "again"),
    ):
        page.goto(f"/staff/{address}")
        look(page, address.replace("/", "-"), heading)
