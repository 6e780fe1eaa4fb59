"""A contest day in the browser: two stations with the network cut, and the board on the wall."""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Open, hand_in
from tests.browser.test_looks import check
from tests.service.site import GIRDER, HEAVY_GIRDER

pytestmark = pytest.mark.browser

RULES = """\
title: Spring bridges
weigh in: {mass: 90 g, checks: [The span is free]}
rig: {unit: kg, tare: 0.5, most: 400 N}
"""
PHONE, LAPTOP, WALL = (
    {"viewport": {"width": 390, "height": 780}},
    {"viewport": {"width": 1280, "height": 720}},
    {"viewport": {"width": 1920, "height": 1080}},
)


def enter(sign_in: Open, name: str, text: bytes) -> None:
    page = sign_in(name)
    hand_in(page, text)
    page.get_by_role("link", name="Enter this bridge in the contest").click()
    page.get_by_role("button", name="Enter this bridge").click()
    page.get_by_text("This bridge is entered").wait_for()


def write_rules(page: Page) -> str:
    """Rules by the coordinator; the address of the contest's desk."""
    page.get_by_role("link", name="entries, stations and results").click()
    desk = page.url
    page.get_by_role("link", name="Write the rules").click()
    page.get_by_label("The rules, as text (YAML)").fill(RULES)
    page.get_by_role("button", name="Save the rules").click()
    page.get_by_text("The rules are saved.").wait_for()
    return desk


def open_rig(page: Page, desk: str) -> None:
    page.goto(f"{desk}/stations")
    for box in page.get_by_role("checkbox").all():
        box.check()
    page.get_by_role("button", name="Open the load test").click()
    page.get_by_label("Peak reading").wait_for()


def type_mass(page: Page, number: str, mass: str) -> None:
    page.get_by_label("Number", exact=True).fill(number)
    page.keyboard.press("Enter")
    page.keyboard.type(mass)
    page.get_by_label("The span is free").check()
    page.get_by_role("button", name="Keep", exact=True).click()


def seen(page: Page, folder: Path, name: str) -> None:
    folder = Path(os.environ.get("PICTURES", folder))
    page.screenshot(path=folder / f"{name}.png", full_page=True)
    wide = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    assert wide <= 0, f"{name} is {wide} px too wide"


def test_a_contest_day_with_the_network_cut(sign_in: Open, open_page: Open, tmp_path: Path) -> None:
    desk = write_rules(sign_in("Cora Vale"))
    enter(sign_in, "Eli Brook", GIRDER)
    enter(sign_in, "Fay Moss", HEAVY_GIRDER)
    scale, rig = sign_in("Tess Birch", **PHONE), sign_in("Cora Vale", **LAPTOP)

    scale.goto(f"{desk}/stations")
    scale.get_by_role("button", name="Open the weigh-in").click()
    type_mass(scale, "1", "600")  # out of range: asked about once
    scale.get_by_text("If it is right, press Keep once more.").wait_for()
    scale.get_by_label("Mass in g").fill("38")
    scale.get_by_role("button", name="Keep", exact=True).click()
    scale.get_by_text("Kept: number 1, 38 g.").wait_for()

    scale.context.set_offline(True)
    type_mass(scale, "2", "40")
    expect(scale.get_by_text("No network just now.")).to_be_visible()
    expect(scale.get_by_text("Number 2: 40 g. Waits to be sent.")).to_be_visible()
    seen(scale, tmp_path, "scale-away")
    scale.context.set_offline(False)
    scale.get_by_text("Kept: number 2, 40 g.").wait_for()
    expect(scale.get_by_role("heading", name="Kept in this browser")).to_be_hidden()
    expect(scale.locator("#last tbody tr")).to_have_count(2)

    open_rig(rig, desk)
    wall = open_page(**WALL)
    wall.goto(desk.replace("/staff", "") + "/live")
    rig.get_by_label("Number", exact=True).fill("1")
    rig.keyboard.press("Enter")
    rig.locator("#drawn svg").wait_for()
    wall.get_by_text("On the rig now").wait_for()
    rig.locator('#drawn a[href="#member-0"]').first.dispatch_event("click")
    expect(rig.get_by_label("Where it broke first")).to_have_value("a-b")
    rig.get_by_label("Peak reading").fill("20.5")
    seen(rig, tmp_path, "rig")
    rig.keyboard.press("Tab")
    rig.keyboard.press("Tab")  # past the unit
    rig.keyboard.press("2")  # a digit chooses how it broke, Enter keeps
    expect(rig.get_by_label("How it broke")).to_have_value("buckled sideways")
    rig.keyboard.press("Enter")
    rig.get_by_text(re.compile("Kept: number 1, .*efficiency 526.3")).wait_for()
    wall.get_by_role("heading", name="Tested last").wait_for()
    expect(rig.locator("#last")).to_contain_text("How it broke: a stick buckled sideways, a-b.")
    expect(wall.locator(".divisions tbody tr")).to_have_count(1)
    size = wall.locator(".who").first.evaluate("e => parseFloat(getComputedStyle(e).fontSize)")
    assert size >= 60  # at 1080 lines on a screen 2 m wide that is 6 cm
    tall = wall.evaluate("document.documentElement.scrollHeight")
    assert tall <= WALL["viewport"]["height"]  # nobody scrolls a wall
    seen(wall, tmp_path, "wall")

    second = sign_in("Tess Birch", **PHONE)  # another station enters the same bridge
    open_rig(second, desk)
    second.get_by_label("Number", exact=True).fill("1")
    second.get_by_label("Peak reading").fill("21")
    second.get_by_role("button", name="Keep", exact=True).click()
    expect(second.get_by_text("Number 1 was tested already")).to_have_count(1)  # one clear message
    seen(second, tmp_path, "second")
    rig.get_by_label("Number", exact=True).fill("2")
    rig.keyboard.press("Enter")
    expect(wall.locator(".rigs .testing")).to_have_count(2)  # two rigs at once, side by side
    assert len(set(wall.locator(".rigs .testing").evaluate_all("all => all.map(e => e.offsetTop)"))) == 1
    assert wall.evaluate("document.documentElement.scrollHeight") <= WALL["viewport"]["height"]
    seen(wall, tmp_path, "wall-two")
    second.get_by_role("button", name="I have read it").click()
    expect(second.get_by_role("heading", name="Kept in this browser")).to_be_hidden()


def test_how_a_bridge_broke_is_kept_while_the_network_is_away(sign_in: Open, tmp_path: Path) -> None:
    page = sign_in("Cora Vale", **PHONE)
    page.get_by_role("link", name="entries, stations and results").click()
    page.get_by_role("link", name="Stations").click()
    page.get_by_role("link", name="Rig", exact=True).first.click()
    page.context.set_offline(True)
    page.get_by_label("Number", exact=True).fill("2")
    page.keyboard.press("Enter")
    page.get_by_label("Peak reading").fill("20")
    page.get_by_label("How it broke").select_option("joint came off")
    page.get_by_label("Where it broke first").select_option("joint a")
    seen(page, tmp_path, "rig-away")
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.get_by_text("Number 2: 20 kg. Waits to be sent.")).to_be_visible()
    page.context.set_offline(False)
    expect(page.locator("#last")).to_contain_text("How it broke: a joint came off, joint a.")


IN_SIGHT = """() => { const box = document.activeElement.getBoundingClientRect(), x = box.x + box.width / 2, y = box.y + box.height / 2;
  const there = document.elementFromPoint(x, y); return !!there && (there === document.activeElement || document.activeElement.contains(there)); }"""


def test_on_a_phone_the_button_that_keeps_is_reached_before_the_drawing(sign_in: Open, tmp_path: Path) -> None:
    page = sign_in("Cora Vale", viewport={"width": 360, "height": 640})
    page.get_by_role("link", name="entries, stations and results").click()
    page.get_by_role("link", name="Stations").click()
    page.get_by_role("link", name="Rig", exact=True).first.click()
    page.get_by_label("Number", exact=True).fill("2")
    page.keyboard.press("Enter")
    page.locator("#drawn svg").wait_for()
    passed = []
    while (name := page.evaluate("document.activeElement.id")) != "keep":
        assert page.evaluate(IN_SIGHT), f"{name} is covered"  # WCAG 2.2, 2.4.11
        passed.append(name)
        page.keyboard.press("Tab")
    assert passed == ["value", "unit", "how", "broke", ""]  # the last is what rarely needs a word
    seen(page, tmp_path, "rig-narrow")
    page.get_by_label("Number", exact=True).scroll_into_view_if_needed()
    number, keep, drawn = (page.locator(f"#{one}").bounding_box() for one in ("number", "keep", "drawn"))
    assert number
    assert keep
    assert drawn
    assert keep["y"] + keep["height"] <= drawn["y"]
    assert keep["y"] + keep["height"] - number["y"] <= 640  # all that is typed, on one screen


def test_on_a_phone_a_bridge_takes_a_few_lines_of_a_list(sign_in: Open, tmp_path: Path) -> None:
    page = sign_in("Cora Vale", viewport={"width": 360, "height": 640})
    page.get_by_role("link", name="entries, stations and results").click()
    rows = page.locator(".dense tbody tr")
    assert rows.count() >= 2
    assert max(rows.evaluate_all("all => all.map(row => row.offsetHeight)")) <= 100
    page.get_by_role("link", name="The list, confirmations, protests").click()
    for row in rows.all():
        assert "–" not in row.evaluate(
            "row => [...row.cells].slice(3).filter(cell => cell.getClientRects().length).map(cell => cell.innerText).join(' ')"
        )
    seen(page, tmp_path, "list-narrow")


def test_what_waits_in_a_browser_survives_that_the_page_is_loaded_again(sign_in: Open) -> None:
    page = sign_in("Tess Birch", **PHONE)
    page.get_by_role("link", name="entries, stations and results").click()
    page.get_by_role("link", name="Stations").click()
    page.get_by_role("button", name="Open the weigh-in").click()
    page.route("**/readings", lambda route: route.abort())
    type_mass(page, "2", "41")
    page.get_by_text("Number 2: 41 g. Waits to be sent.").wait_for()
    page.unroute("**/readings")
    page.reload()
    page.locator("#queue").get_by_text("Number 2 was weighed already: 40 g").wait_for()


def choose_language(page: Page, label: str, code: str) -> None:
    page.goto("/account")
    page.get_by_label(label).select_option(code)
    page.locator("main form[action='/account/language'] button").click()
    page.locator(f"html[lang={code}]").wait_for(state="attached")


def test_a_station_speaks_the_language_of_whoever_works_there(sign_in: Open) -> None:
    page = sign_in("Tess Birch", **PHONE)
    choose_language(page, "I read in", "de")
    page.goto("/staff/contests/1/stations")
    page.get_by_role("button", name="Wiegen öffnen").click()
    keep = page.get_by_role("button", name="Speichern", exact=True)
    page.get_by_label("Nummer", exact=True).fill("99")
    page.get_by_label("Masse in g").fill("61,5")
    keep.click()
    page.get_by_text("Auf der Liste dieser Seite gibt es keine Nummer 99.").wait_for()
    page.get_by_label("Nummer", exact=True).fill("1")
    page.get_by_label("Masse in g").fill("600,5")
    keep.click()
    page.get_by_text("Wenn es stimmt, drücken Sie noch einmal auf „Speichern“.").wait_for()
    page.route("**/readings", lambda route: route.abort())
    keep.click()
    page.get_by_text("Gerade kein Netz.").wait_for()
    page.get_by_text("Nummer 1: 600,5 g. Wartet auf das Senden.").wait_for()
    page.unroute("**/readings")
    page.locator("#queue").get_by_text("Nummer 1 ist schon gewogen: 38 g").wait_for()
    page.get_by_role("button", name="Gelesen").click()
    choose_language(page, "Ich lese auf", "en")


def test_every_page_of_a_contest_keeps_the_rules_of_pages(sign_in: Open, tmp_path: Path) -> None:
    page = sign_in("Cora Vale")
    page.get_by_role("link", name="entries, stations and results").click()
    desk = page.url
    check(page, tmp_path)
    for part in ("rules", "stations", "list", "labels", "order", "compared", "bridges/1"):
        page.goto(f"{desk}/{part}")
        for closed in page.locator("details").all():
            closed.evaluate("box => { box.open = true; }")
        check(page, tmp_path / part.replace("/", "-"))
    page.goto(f"{desk}/stations")
    page.get_by_role("link", name="Rig", exact=True).first.click()
    check(page, tmp_path / "rig")
    student = sign_in("Eli Brook")
    student.goto("/desk")
    student.get_by_role("link", name="Attempt 1", exact=True).first.click()
    student.get_by_role("link", name="Enter this bridge in the contest").click()
    check(student, tmp_path / "entry")


STORED = """async () => { const place = await caches.open("kingpost stations"), names = (await place.keys()).map(one => new URL(one.url).pathname);
  const page = names.find(name => name.startsWith("/staff/")); return [names, page ? await (await place.match(page, {ignoreVary: true})).text() : ""]; }"""

GONE = """caches.open("kingpost stations").then(place => place.keys())
  .then(all => !all.some(one => new URL(one.url).pathname.startsWith("/staff/")))"""


def test_a_station_that_is_loaded_again_without_network_goes_on(sign_in: Open, tmp_path: Path) -> None:
    page = sign_in("Cora Vale", **PHONE)
    page.get_by_role("link", name="entries, stations and results").click()
    page.get_by_role("link", name="Stations").click()
    page.get_by_label("Name of the station").first.fill("Second scale")
    page.get_by_role("button", name="Open the weigh-in").click()
    page.locator("html[data-kept=yes]").wait_for()
    names, text = page.evaluate(STORED)
    assert [name for name in names if not name.startswith("/static/")] == [
        page.url.removeprefix(page.url[: page.url.index("/staff")])
    ]
    assert not any(name in text for name in ("Cora Vale", "Tess Birch", "Eli Brook", "Fay Moss"))

    page.context.set_offline(True)
    page.reload()
    expect(page.get_by_text("This page was kept here")).to_be_visible()
    type_mass(page, "1", "39")
    expect(page.get_by_text("Number 1: 39 g. Waits to be sent.")).to_be_visible()
    page.reload()  # what was typed survives that too
    expect(page.get_by_text("Number 1: 39 g. Waits to be sent.")).to_be_visible()
    seen(page, tmp_path, "kept")
    page.context.set_offline(False)
    page.get_by_text("Number 1 was weighed already: 38 g").wait_for()
    page.get_by_role("button", name="I have read it").click()
    expect(page.get_by_text("This page was kept here")).to_be_hidden()

    page.reload()
    page.get_by_role("button", name="Close this station").click()
    page.get_by_text("Second scale is closed.").wait_for()
    page.wait_for_function(GONE)
    page.go_back()
    page.get_by_role("button", name="Sign out").click()
    page.get_by_text("signed out").first.wait_for()
    expect(page).to_have_url(re.compile("signed-out"))
    page.wait_for_function("caches.has('kingpost stations').then(there => !there)")
