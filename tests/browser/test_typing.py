"""A truss file is written in the browser: looked at while it grows, and never lost."""

from __future__ import annotations

import os

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import MARKED_S, Open
from tests.service.site import GIRDER, MISTAKEN

pytestmark = pytest.mark.browser

SHOTS = os.environ.get("KINGPOST_SHOTS", "")


def shoot(page: Page, name: str) -> None:
    if SHOTS:
        page.screenshot(path=f"{SHOTS}/{name}.png", full_page=True)


def field(page: Page):  # type: ignore[no-untyped-def]
    return page.get_by_label("Write or paste it here")


def drafts(page: Page) -> list[str]:
    found: list[str] = page.evaluate("Object.keys(localStorage).filter(name => name.startsWith('draft-'))")
    return found


@pytest.mark.parametrize("width", [1280, 320])
def test_what_is_typed_is_drawn_and_a_mistake_leads_to_its_place(sign_in: Open, width: int) -> None:
    page = sign_in("Eli Brook" if width == 320 else "Fay Moss", viewport={"width": width, "height": 800})
    page.goto("/desk")
    field(page).fill(MISTAKEN.decode())
    seen = page.locator("#looked[data-look=done]")
    seen.wait_for(timeout=MARKED_S)
    expect(page.locator("#heard")).to_contain_text("1 place to mend.")
    expect(seen.locator("svg")).to_have_count(1)
    shoot(page, f"typing-mistake-{width}")
    seen.get_by_role("link", name="Line 6, column 8").press("Enter")
    picked = "(() => { const f = document.getElementById('text'); return [document.activeElement === f, f.value.slice(f.selectionStart, f.selectionEnd)]; })()"
    assert page.evaluate(picked) == [True, "sqare5"]
    page.keyboard.type("square5")
    expect(page.locator("#heard")).to_contain_text("It stands.", timeout=MARKED_S)
    shoot(page, f"typing-fine-{width}")
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_the_text_outlives_a_reload_and_goes_when_it_is_handed_in(sign_in: Open) -> None:
    page = sign_in("Hal Pine")
    page.goto("/desk")
    field(page).fill("title: half a thought")
    page.reload()
    expect(field(page)).to_have_value("title: half a thought")
    field(page).fill(GIRDER.decode())
    page.get_by_role("button", name="Hand in").click()
    page.locator("#part-result[data-version=done]").wait_for(timeout=MARKED_S)
    assert drafts(page) == []
    page.goto("/desk")
    expect(field(page)).to_have_value("")
    field(page).fill("title: another")
    assert len(drafts(page)) == 1
    page.get_by_role("button", name="Sign out").click()
    page.get_by_role("heading", level=1).wait_for()
    assert drafts(page) == []


def test_a_lost_session_is_told_and_the_text_stays(sign_in: Open) -> None:
    page = sign_in("Hal Pine")
    page.goto("/desk")
    page.context.clear_cookies()
    field(page).fill("title: still here")
    expect(page.locator("#heard")).to_contain_text("You are signed out.", timeout=MARKED_S)
    expect(field(page)).to_have_value("title: still here")
    assert len(drafts(page)) == 1


def test_the_example_comes_into_the_field_and_is_looked_at(sign_in: Open) -> None:
    page = sign_in("Cleo Marsh")
    page.goto("/desk")
    page.get_by_text("An example that fits this brief").click()
    page.get_by_role("link", name="Begin with this example").click()
    expect(field(page)).to_have_value(page.locator("#example").text_content() or "?")
    expect(page.locator("#heard")).to_contain_text("It stands.", timeout=MARKED_S)


def test_without_scripts_the_button_looks_at_it(sign_in: Open) -> None:
    page = sign_in("Ben Holt", java_script_enabled=False)
    page.goto("/desk")
    field(page).fill(MISTAKEN.decode())
    page.get_by_role("button", name="Look at it first").click()
    expect(page.locator("#looked")).to_contain_text("1 place to mend.", timeout=MARKED_S)
    expect(field(page)).to_have_value(MISTAKEN.decode())
    shoot(page, "typing-no-script")
