"""A student at the computer: from the slip with three words to a better bridge."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import MARKED_S, Live, Open, hand_in, wait_for_drawing
from tests.service.site import GIRDER, MECHANISM, MISTAKEN
from tests.worker.feedback.plan.read_back import sizes_mm

pytestmark = pytest.mark.browser


def test_a_student_hands_in_and_sees_the_mark_without_loading_the_page_again(sign_in: Open) -> None:
    page = sign_in("Ada Fern")
    expect(page.get_by_role("heading", level=1)).to_have_text("Footbridge over the mill stream")
    wait_for_drawing(page)
    page.get_by_label("Truss file").set_input_files({"name": "b.yaml", "mimeType": "text/plain", "buffer": GIRDER})
    page.get_by_role("button", name="Hand in").click()
    page.evaluate("window.same = true")
    expect(page.locator(".total")).to_contain_text("90 of 100 points", timeout=MARKED_S)
    expect(page.get_by_role("link", name="Feedback sheet to print (PDF)")).to_be_visible(timeout=MARKED_S)
    expect(page.get_by_role("status")).to_have_text("The feedback sheet is ready.")
    assert page.evaluate("window.same") is True
    with page.expect_download() as download:
        page.get_by_role("link", name="Feedback sheet to print (PDF)").click()
    assert download.value.suggested_filename == "sheet-footbridge-over-the-mill-stream-attempt-1.pdf"
    assert download.value.path().read_bytes().startswith(b"%PDF-")


def test_a_mistake_is_mended_from_what_the_page_says(sign_in: Open) -> None:
    page = sign_in("Ben Holt")
    hand_in(page, MISTAKEN)
    expect(page.get_by_role("heading", name="1 place to mend in your file")).to_be_visible()
    expect(page.locator(".quote")).to_have_text("  c-e: sqare5")
    expect(page.get_by_text("did you mean 'square5'?")).to_be_visible()
    hand_in(page, GIRDER)
    expect(page.locator(".total")).to_contain_text("90 of 100 points")
    page.get_by_role("link", name="Attempt 1").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Attempt 1")


def test_the_main_path_needs_no_mouse(live: Live, open_page: Open) -> None:
    page, one = open_page(), live.sign_ins["Cleo Marsh"]
    page.goto("/sign-in")
    to(page, "INPUT", "class_code")
    page.keyboard.type(one.class_code)
    to(page, "INPUT", "passphrase")
    page.keyboard.type(one.secret)
    page.keyboard.press("Enter")
    page.wait_for_url(re.compile("/assignments/"))
    to(page, "TEXTAREA", "text")
    page.keyboard.insert_text(MECHANISM.decode())
    to(page, "BUTTON", "Hand in")
    page.keyboard.press("Enter")
    expect(page.get_by_text("This truss is a mechanism:")).to_be_visible(timeout=MARKED_S)


def to(page: Page, tag: str, what: str) -> None:
    """Press Tab until the element with this id, or this text, has the focus; it must be seen to have it."""
    for _ in range(60):
        page.keyboard.press("Tab")
        found = page.evaluate(
            """() => { const e = document.activeElement, s = getComputedStyle(e);
            return [e.tagName, e.id || e.textContent.trim(), s.outlineStyle !== 'none' && parseFloat(s.outlineWidth)] }"""
        )
        if found[:2] == [tag, what]:
            assert found[2] >= 2
            return
    raise AssertionError(f"Tab never came to {what}")


def test_without_a_script_the_page_still_comes_to_the_mark(sign_in: Open) -> None:
    page = sign_in("Dan <b>Stone</b>", java_script_enabled=False)
    page.get_by_label("Write or paste it here").fill(GIRDER.decode())
    page.get_by_role("button", name="Hand in").click()
    expect(page.locator(".total")).to_contain_text("90 of 100 points", timeout=MARKED_S)


def test_the_board_shows_the_alias_and_another_one_can_be_taken(sign_in: Open) -> None:
    page = sign_in("Eli Brook")
    hand_in(page, GIRDER)
    page.get_by_role("link", name=re.compile("^Alias: ")).click()
    chosen = page.get_by_role("radio").nth(2)
    alias = chosen.get_attribute("value")
    chosen.check()
    page.get_by_role("button", name="Take this alias").click()
    page.get_by_role("link", name="Class board").click()
    expect(page.locator("tr.own")).to_contain_text(f"{alias} (you)")
    assert "Eli Brook" not in page.content()


def test_a_photograph_is_refused_on_a_page_of_our_own(sign_in: Open) -> None:
    page = sign_in("Fay Moss")
    photograph = {"name": "bridge.jpg", "mimeType": "image/jpeg", "buffer": b"\xff\xd8" + bytes(3_000_000)}
    page.get_by_label("Truss file").set_input_files(photograph)
    page.get_by_role("button", name="Hand in").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("That is too large")


def test_signing_out_closes_the_way_back(sign_in: Open) -> None:
    page = sign_in("Fay Moss")
    page.get_by_role("button", name="Sign out").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("You are signed out")
    page.goto("/desk")
    expect(page.get_by_role("heading", level=1)).to_have_text("Sign in")


def test_a_building_plan_is_asked_for_and_arrives_while_the_page_stays(sign_in: Open) -> None:
    page = sign_in("Ben Holt")
    hand_in(page, GIRDER + b"# to build\n")
    page.get_by_label("Paper in your printer").select_option("A3")
    page.get_by_role("button", name="Building plan").click()
    link = page.get_by_role("link", name="Building plan for A3 (PDF)")
    page.evaluate("window.same = true")
    expect(link).to_be_visible(timeout=MARKED_S)
    assert page.evaluate("window.same") is True
    with page.expect_download() as download:
        link.click()
    assert download.value.suggested_filename.endswith("-A3.pdf")
    sizes = sizes_mm(download.value.path().read_bytes())
    assert sizes[0] == pytest.approx((210, 297), abs=0.01)
    assert sizes[-1] == pytest.approx((420, 297), abs=0.01)
