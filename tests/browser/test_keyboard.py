"""The main path of a teacher and of a coordinator, and what a student reads, with the keyboard alone."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Live, Open, hand_in
from tests.browser.test_contest import RULES
from tests.browser.test_student import to
from tests.service.site import GIRDER

pytestmark = pytest.mark.browser


def enter(page: Page, live: Live, name: str) -> None:
    """Sign in as one of the staff."""
    page.goto("/sign-in/staff")
    to(page, "INPUT", "name")
    page.keyboard.type(name)
    to(page, "INPUT", "password")
    page.keyboard.type(live.sign_ins[name].secret)
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("Classes")


def follow(page: Page, words: str) -> None:
    to(page, "A", words)
    with page.expect_navigation():
        page.keyboard.press("Enter")


def test_a_student_reads_the_brief_and_the_marks_by_keyboard(live: Live, open_page: Open, sign_in: Open) -> None:
    hand_in(sign_in("Ida Lund"), GIRDER + b"# by keyboard\n")
    page, one = open_page(), live.sign_ins["Ida Lund"]
    page.goto("/sign-in")
    to(page, "INPUT", "class_code")
    page.keyboard.type(one.class_code)
    to(page, "INPUT", "passphrase")
    page.keyboard.type(one.secret)
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="What to build")).to_be_visible()
    newest = page.get_by_role("link", name=re.compile("^Attempt ")).first.inner_text()
    follow(page, newest)
    expect(page.get_by_role("heading", level=1)).to_have_text(newest)
    expect(page.locator(".total")).to_contain_text("of 100 points")
    to(page, "SUMMARY", "The drawing in words")
    page.keyboard.press("Enter")
    expect(page.locator("figcaption p").first).to_be_visible()


def test_a_teacher_judges_holds_and_releases_by_keyboard(live: Live, open_page: Open, sign_in: Open) -> None:
    student = sign_in("Jan Roth")
    hand_in(student, GIRDER + b"# judged by keyboard\n")
    attempt = student.get_by_role("heading", level=1).inner_text()
    page = open_page()
    enter(page, live, "Tess Birch")
    follow(page, "Footbridge over the mill stream")
    follow(page, "Jan Roth")
    follow(page, f"{attempt} at Footbridge over the mill stream")
    to(page, "INPUT", page.get_by_label("Points, 0 to 10").get_attribute("id") or "")
    page.keyboard.type("8")
    to(page, "BUTTON", "Save points")
    page.keyboard.press("Enter")
    expect(page.get_by_text("Your points are saved.")).to_be_visible()
    to(page, "INPUT", page.get_by_label("Reason for holding it").get_attribute("id") or "")
    page.keyboard.type("I look once more.")
    page.keyboard.press("Enter")
    expect(page.get_by_text("1 mark held back.")).to_be_visible()
    to(page, "BUTTON", "Release this mark")
    with page.expect_navigation():
        page.keyboard.press("Enter")
    student.reload()
    expect(student.locator(".total")).to_contain_text("98 of 100 points")


def test_a_coordinator_weighs_a_bridge_by_keyboard(live: Live, open_page: Open, sign_in: Open) -> None:
    page = open_page()
    enter(page, live, "Cora Vale")
    follow(page, "entries, stations and results")
    if page.get_by_role("link", name="Write the rules").count():
        follow(page, "Write the rules")
        to(page, "TEXTAREA", "rules")
        page.keyboard.press("Control+A")
        page.keyboard.insert_text(RULES)
        to(page, "BUTTON", "Save the rules")
        page.keyboard.press("Enter")
        page.get_by_text("The rules are saved.").wait_for()
    number = entered(sign_in, "Ida Lund")
    follow(page, "Stations")
    to(page, "BUTTON", "Open the weigh-in")
    page.keyboard.press("Enter")
    expect(page.locator("#number")).to_be_focused()
    page.keyboard.type(number)
    page.keyboard.press("Enter")
    page.keyboard.type("39")
    to(page, "INPUT", "")
    page.keyboard.press("Space")
    to(page, "BUTTON", "keep")
    page.keyboard.press("Enter")
    page.get_by_text(f"Kept: number {number}, 39 g.").wait_for()


def entered(sign_in: Open, name: str) -> str:
    """A bridge of this student entered in the contest; its number."""
    page = sign_in(name)
    hand_in(page, GIRDER + b"# to be weighed\n")
    page.get_by_role("link", name="Enter this bridge in the contest").click()
    page.get_by_role("button", name="Enter this bridge").click()
    page.get_by_text("This bridge is entered").wait_for()
    found = re.search(r"[Nn]umber (\d+)", page.locator("main").inner_text())
    assert found
    return found[1]
