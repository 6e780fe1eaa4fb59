"""Every page of each of the people, held against the rules of pages (WCAG 2.2 AA) on a desk, a phone and paper."""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.browser import asking
from tests.browser.walking import WALKERS, Seen, answers, furnish, main_of, pages, showing
from tests.service.ready import empty_records, swift
from tests.service.site import Site, founded
from tests.service.test_routes import one_of_each

pytestmark = pytest.mark.browser

DESK, PHONE, HALF, SHEET = ((1280, 800), (320, 640), (640, 400), (673, 900))
"""Width and height in CSS pixels; HALF is the desk at 200 %, SHEET is A4 between its margins."""


@dataclass
class Walk:
    """What was found on each page, by the name of the rule."""

    wrong: dict[str, list[str]] = field(default_factory=dict)
    titles: dict[tuple[str, str], str] = field(default_factory=dict)
    count: int = 0

    def ask(self, page: Page, rule: str, script: str, where: str) -> None:
        for found in page.evaluate(script):
            self.wrong.setdefault(rule, []).append(f"{where}: {found}")

    def hold(self, right: bool, rule: str, where: str) -> None:
        if not right:
            self.wrong.setdefault(rule, []).append(where)


@pytest.fixture(scope="module")
def walk(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Walk]:
    """One walk for all tests of this file; a page whose main part somebody has seen already is left out."""
    folder, walk, known = tmp_path_factory.mktemp("walk"), Walk(), set[str]()
    records = empty_records(folder / "kingpost.sqlite")
    with swift(), founded(records, folder) as site:
        objects, more = one_of_each(site), furnish(site)
        by_name = {name: pages(site, objects, name, more) for name in WALKERS}
        for name in WALKERS:
            go_through(walk, known, browser, site, name, lambda name=name: answers(site, objects, name), by_name[name])
    yield walk
    records.engine.dispose()


def go_through(
    walk: Walk,
    known: set[str],
    browser: Browser,
    site: Site,
    name: str,
    sent: Callable[[], list[Seen]],
    got: list[Seen],
) -> None:
    every = [*got, *sent()]  # which signs out too: a page that is shown must not find itself signed out
    with showing(browser, site, name) as (page, shown):
        for one in every:
            if main_of(one) not in known:
                known.add(main_of(one))
                shown.append(one)
                look(walk, page, one, f"{name}, {one}")


def look(walk: Walk, page: Page, one: Seen, where: str) -> None:
    size(page, DESK)
    page.goto(one.address)
    page.evaluate(asking.AXE)
    walk.count += 1
    walk.ask(page, "axe", asking.AXE_FINDS, where)
    walk.hold(page.locator("h1").count() == 1, "one h1", where)
    if not one.posted:
        walk.titles[where, one.address] = page.title()
    skips(walk, page, where)
    walk.ask(page, "focus", asking.UNSEEN_FOCUS, where)
    walk.ask(page, "tied", asking.NO_TIE, where)
    keep(page, where, "desk")
    size(page, PHONE)
    for rule, script in (("axe", asking.AXE_FINDS), ("phone", asking.TOO_WIDE), ("scrollers", asking.HIDDEN_SCROLLERS)):
        walk.ask(page, rule, script, f"{where} on a phone")
    keep(page, where, "phone")
    size(page, HALF)
    walk.ask(page, "twice", asking.TOO_WIDE, f"{where} at half the width")
    size(page, DESK)
    page.evaluate("document.documentElement.style.fontSize = '200%'")
    for script in (asking.TOO_WIDE, asking.COVERED, asking.HIDDEN_SCROLLERS):
        walk.ask(page, "twice", script, f"{where} with text twice the size")
    keep(page, where, "twice")
    page.evaluate("document.documentElement.style.fontSize = ''")
    on_paper(walk, page, where)


def on_paper(walk: Walk, page: Page, where: str) -> None:
    size(page, SHEET)
    page.emulate_media(media="print")
    for script in (asking.TOO_WIDE, asking.OF_THE_SCREEN, asking.COVERED):
        walk.ask(page, "paper", script, f"{where} printed")
    if folder := os.environ.get("PICTURES"):
        page.pdf(path=str(Path(folder) / f"{picture(where)}.pdf"), format="A4")
    page.emulate_media(media="screen")


def skips(walk: Walk, page: Page, where: str) -> None:
    """What takes the focus first leads past the head of the page, where there is a head to skip."""
    if not page.locator("header a").count():
        return
    seen = page.evaluate(asking.SKIP_IS_FIRST)
    page.keyboard.press("Enter")
    walk.hold(seen and page.evaluate("document.activeElement.id") == "main", "skip", where)


def size(page: Page, wanted: tuple[int, int]) -> None:
    page.set_viewport_size({"width": wanted[0], "height": wanted[1]})


def picture(where: str) -> str:
    return re.sub(r"\W+", "-", where).strip("-")


def keep(page: Page, where: str, how: str) -> None:
    """A picture, where somebody asks for it with PICTURES=folder."""
    if folder := os.environ.get("PICTURES"):
        page.screenshot(path=str(Path(folder) / f"{picture(where)}--{how}.png"), full_page=True)


def found(walk: Walk, rule: str) -> str:
    return "\n".join(walk.wrong.get(rule, []))


def test_the_walk_comes_to_the_pages_of_all(walk: Walk) -> None:
    assert walk.count >= 110


def test_axe_finds_nothing_on_any_page(walk: Walk) -> None:
    assert found(walk, "axe") == ""


def test_no_page_is_wider_than_a_phone(walk: Walk) -> None:
    assert found(walk, "phone") == ""


def test_what_is_wider_than_a_phone_scrolls_in_a_named_region_that_takes_the_focus(walk: Walk) -> None:
    assert found(walk, "scrollers") == ""


def test_text_twice_the_size_is_neither_cut_off_nor_covered(walk: Walk) -> None:
    assert found(walk, "twice") == ""


def test_every_page_has_one_main_heading(walk: Walk) -> None:
    assert found(walk, "one h1") == ""


def test_titles_of_different_pages_differ(walk: Walk) -> None:
    by_title: dict[str, set[str]] = {}
    for (_, address), title in walk.titles.items():
        by_title.setdefault(title, set()).add(address)
    assert {title: known for title, known in by_title.items() if len(known) > 1} == {}


def test_the_first_tab_leads_past_the_head_of_each_page(walk: Walk) -> None:
    assert found(walk, "skip") == ""


def test_the_focus_is_seen_wherever_it_stands(walk: Walk) -> None:
    assert found(walk, "focus") == ""


def test_what_is_wrong_is_tied_to_the_field_that_is_meant(walk: Walk) -> None:
    assert found(walk, "tied") == ""


def test_paper_shows_no_controls_and_cuts_nothing(walk: Walk) -> None:
    assert found(walk, "paper") == ""
