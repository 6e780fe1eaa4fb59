"""What every page must look like: on a phone, in contrast, under the finger, in order."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Open, hand_in
from tests.service.site import GIRDER, MECHANISM, MISTAKEN

pytestmark = pytest.mark.browser

LOW_CONTRAST = """() => {
  const light = c => { const v = c.map(x => { x /= 255; return x <= .04045 ? x / 12.92 : ((x + .055) / 1.055) ** 2.4 });
    return .2126 * v[0] + .7152 * v[1] + .0722 * v[2] };
  const read = s => s.match(/[\\d.]+/g).map(Number);
  const ground = e => { for (; e; e = e.parentElement) { const c = read(getComputedStyle(e).backgroundColor);
    if (c.length < 4 || c[3] > 0) return c.slice(0, 3) } return [255, 255, 255] };
  const low = [];
  for (const e of document.querySelectorAll('body *')) {
    if (![...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim()) || !e.getClientRects().length) continue;
    const svg = e.closest('svg'), style = getComputedStyle(e);
    if (svg && style.fill === 'none') continue;
    const a = light(read(svg ? style.fill : style.color).slice(0, 3)), b = light(ground(e));
    const ratio = (Math.max(a, b) + .05) / (Math.min(a, b) + .05);
    if (ratio < 4.5) low.push([e.tagName, e.textContent.trim().slice(0, 40), ratio.toFixed(2)]);
  }
  return low }"""
"""WCAG 2.2, 1.4.3: relative luminance and contrast ratio of each text against the ground behind it."""

SMALL_TARGETS = """() => [...document.querySelectorAll('button, input, textarea, summary, nav a, td a, th a')]
  .filter(e => e.type !== 'hidden' && e.getClientRects().length)
  .map(e => [e.textContent.trim() || e.id, (e.closest('label') || e).getBoundingClientRect()])
  .filter(([, r]) => r.height < 23.5 || r.width < 23.5).map(([name, r]) => [name, r.width, r.height])"""
"""WCAG 2.2, 2.5.8: 24 CSS pixels; links within a sentence are exempt."""

HEADINGS = "[...document.querySelectorAll('h1, h2, h3, h4')].map(e => Number(e.tagName[1]))"
UNLABELLED = """() => [...document.querySelectorAll('input:not([type=hidden]), textarea')]
  .filter(e => !e.labels.length).map(e => e.outerHTML)"""
TABLES = "[...document.querySelectorAll('table')].filter(t => !t.querySelector('th[scope]')).length"


def check(page: Page, folder: Path) -> None:
    """Hold one page against the rules at three widths."""
    name = page.url.split("/", 3)[3].replace("/", "-")
    for width in (1280, 375, 320):
        page.set_viewport_size({"width": width, "height": 800})
        page.screenshot(path=folder / f"{name}-{width}.png", full_page=True)
        assert page.evaluate("document.documentElement.scrollWidth") <= width, (page.url, width)
        assert page.evaluate(SMALL_TARGETS) == [], (page.url, width)
        assert page.evaluate(LOW_CONTRAST) == [], (page.url, width)
    levels = page.evaluate(HEADINGS)
    assert levels.count(1) == 1, page.url
    assert all(after <= before + 1 for before, after in pairwise(levels)), (page.url, levels)
    assert page.evaluate(UNLABELLED) == [], page.url
    assert page.evaluate(TABLES) == 0, page.url
    assert page.evaluate("document.documentElement.lang") == "en"
    assert len(page.content().encode()) < 150_000


def test_the_pages_of_a_student(sign_in: Open, tmp_path: Path) -> None:
    page = sign_in("Ben Holt")
    for text in (GIRDER, MISTAKEN, MECHANISM):
        hand_in(page, text + b"# looks\n")
        check(page, tmp_path)
    for address in ("/desk", "/alias", "/boards/assignments/1", "/boards/contests/1", "/help/truss-file", "/nowhere"):
        page.goto(address)
        check(page, tmp_path)


def test_the_pages_of_staff(sign_in: Open, tmp_path: Path) -> None:
    hand_in(sign_in("Eli Brook"), GIRDER + b"# looks\n")
    page = sign_in("Cora Vale")
    for address in ("/staff", "/staff/assignments/1", "/staff/classes/1", "/attempts/1", "/boards/contests/1"):
        page.goto(address)
        check(page, tmp_path)
    for address in (
        "/attempts/1/corrections",
        "/staff/assignments/1/release",
        "/staff/assignments/1/second",
        "/staff/assignments/1/alike",
        "/staff/assignments/1/insight",
        "/second",
    ):
        page.goto(address)
        check(page, tmp_path)


def test_the_pages_before_signing_in(open_page: Open, tmp_path: Path) -> None:
    page = open_page()
    for address in ("/sign-in", "/sign-in/staff", "/signed-out"):
        page.goto(address)
        check(page, tmp_path)


def test_the_longest_alias_still_fits_a_phone(sign_in: Open) -> None:
    page = sign_in("Ben Holt")
    hand_in(page, GIRDER + b"# long\n")
    page.goto("/boards/contests/1")
    page.set_viewport_size({"width": 320, "height": 800})
    page.evaluate("document.querySelectorAll('tbody bdi').forEach(e => e.textContent = 'Wandering Kingfisher 9999')")
    assert page.evaluate("document.documentElement.scrollWidth") <= 320


def test_the_first_tab_leads_past_the_head_of_the_page(open_page: Open) -> None:
    page = open_page()
    page.goto("/sign-in")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.locator("#main")).to_be_focused()
