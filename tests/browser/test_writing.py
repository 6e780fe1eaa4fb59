"""A teacher writes a rubric: checked while typing, tried out, saved, and the class marked again."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import MARKED_S, Open, hand_in
from tests.browser.test_looks import check
from tests.service.site import HEAVY_GIRDER

pytestmark = pytest.mark.browser

WRITING = "/staff/assignments/1/writing"


def test_what_is_typed_is_checked_and_a_problem_leads_to_its_place(sign_in: Open, tmp_path: Path) -> None:
    page = sign_in("Tess Birch")
    page.goto(WRITING)
    rubric = page.get_by_label("The rubric, as text (YAML)")
    good = rubric.input_value()
    rubric.fill(good.replace("kind: threshold", "kind: treshold", 1))
    link = page.get_by_role("link", name="Line 4, column 5")
    expect(link).to_be_visible()
    expect(page.locator("#live")).to_have_text("The brief can be read. 1 thing to mend in the rubric.")
    check(page, tmp_path)
    link.focus()
    page.keyboard.press("Enter")
    expect(rubric).to_be_focused()
    assert rubric.evaluate("e => e.value.slice(0, e.selectionStart).split('\\n').length") == 4
    rubric.fill(good)
    expect(page.get_by_text("This is what earns points:")).to_be_visible()
    expect(link).to_have_count(0)


def test_a_draft_is_tried_out_saved_and_taken_back(sign_in: Open, tmp_path: Path) -> None:
    student = sign_in("Hal Pine")
    hand_in(student, HEAVY_GIRDER + b"# versions\n")
    page = sign_in("Tess Birch")
    page.goto(WRITING)
    rubric = page.get_by_label("The rubric, as text (YAML)")
    rubric.fill(re.sub(r"earns: \{100: 0, \d+: 25\}", "earns: {400: 0, 4000: 25}", rubric.input_value()))
    page.get_by_role("button", name="See who would change").click()
    expect(page.get_by_text("still being solved again")).to_have_count(0, timeout=MARKED_S)
    expect(page.get_by_role("row", name=re.compile("^Hal Pine")).first).to_contain_text(
        "It is light for what it carries"
    )
    page.evaluate("document.querySelectorAll('details').forEach(e => e.open = true)")
    check(page, tmp_path)
    page.get_by_label("Why", exact=True).fill("The scale was too kind.")
    page.get_by_role("button", name="Save it and mark the class again").click()
    expect(page.get_by_text("Marked again.")).to_be_visible()
    page.screenshot(path=tmp_path / "versions.png", full_page=True)
    student.reload()
    expect(student.get_by_text("because The scale was too kind.")).to_be_visible()
    page.get_by_label("Why you take it back").fill("It was right before.")
    page.get_by_role("button", name="Take it back").click()
    expect(page.get_by_text("Taken back.")).to_be_visible()


def test_the_help_for_teachers(open_page: Open, tmp_path: Path) -> None:
    page = open_page()
    for address in ("/help/rubric", "/help/brief"):
        page.goto(address)
        check(page, tmp_path)
