"""A teacher and a coordinator at the computer."""

from __future__ import annotations

import re
import zipfile
from dataclasses import replace

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import MARKED_S, Live, Open, hand_in
from tests.service.classes.test_alike import NUDGED, OWN
from tests.service.site import GIRDER, HEAVY_GIRDER

pytestmark = pytest.mark.browser


def test_a_teacher_judges_and_takes_marks_and_sheets_home(sign_in: Open) -> None:
    hand_in(sign_in("Fay Moss"), HEAVY_GIRDER)
    page = sign_in("Tess Birch")
    page.get_by_role("link", name="Footbridge over the mill stream", exact=True).click()
    page.get_by_role("link", name=re.compile("10 points for Fay Moss")).click()
    page.get_by_label("Points, 0 to 10").fill("7.5")
    page.get_by_label("Comment for the student").fill("A clear sketch. Say why you chose this shape.")
    page.get_by_role("button", name="Save points").click()
    expect(page.get_by_text("Your points are saved.")).to_be_visible()
    expect(page.get_by_role("link", name="Feedback sheet to print (PDF)")).to_be_visible(timeout=MARKED_S)
    page.get_by_role("link", name=re.compile("Class Otters")).click()
    with page.expect_download() as marks:
        page.get_by_role("link", name="Marks for a spreadsheet").click()
    assert b"Fay Moss" in marks.value.path().read_bytes()
    with page.expect_download() as sheets:
        page.get_by_role("link", name=re.compile("^All .* sheets? ")).click()
    with zipfile.ZipFile(sheets.value.path()) as archive:
        assert any(name.startswith("fay-moss-attempt-") for name in archive.namelist())
        assert all(archive.read(name).startswith(b"%PDF-") for name in archive.namelist())


def test_a_teacher_has_a_class_report_set_and_takes_it_home(sign_in: Open) -> None:
    hand_in(sign_in("Fay Moss"), GIRDER)
    page = sign_in("Tess Birch")
    page.get_by_role("link", name="Footbridge over the mill stream", exact=True).click()
    page.get_by_role("link", name="Hand the marks on").click()
    page.get_by_label("Paper").select_option("Letter")
    page.get_by_role("button", name="Class report (PDF)").click()
    ready = page.get_by_role("link", name="Class report (PDF)")
    expect(ready).to_be_visible(timeout=MARKED_S)
    expect(page.get_by_text("for Letter.")).to_be_visible()
    with page.expect_download() as report:
        ready.click()
    assert report.value.path().read_bytes().startswith(b"%PDF-")


def test_a_student_reads_what_the_teacher_wrote(sign_in: Open) -> None:
    student = sign_in("Gus Reed")
    hand_in(student, GIRDER)
    address = student.url
    page = sign_in("Cora Vale")
    page.goto(address)
    page.get_by_label("Points, 0 to 10").fill("9")
    page.get_by_label("Comment for the student").fill("Well argued.")
    page.get_by_role("button", name="Save points").click()
    student.reload()
    expect(student.get_by_text("Well argued.")).to_be_visible()
    expect(student.locator(".total")).to_contain_text("99 of 100 points")


def test_a_teacher_holds_a_mark_and_releases_it_by_keyboard_and_without_scripts(sign_in: Open) -> None:
    student = sign_in("Hal Pine")
    hand_in(student, GIRDER + b"# held\n")
    page = sign_in("Tess Birch", java_script_enabled=False)
    page.goto(student.url)
    page.get_by_label("Reason for holding it").focus()
    page.keyboard.type("I measure it once more.")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.get_by_text("1 mark held back.")).to_be_visible()
    student.reload()
    expect(student.get_by_text("because I measure it once more.")).to_be_visible()
    expect(student.get_by_role("link", name="Feedback sheet")).to_have_count(0)
    page.get_by_role("button", name="Release this mark").press("Enter")
    student.reload()
    expect(student.locator(".total")).to_contain_text("90 of 100 points")


def test_a_coordinator_sees_all_classes_and_the_contest(sign_in: Open) -> None:
    page = sign_in("Cora Vale")
    expect(page.get_by_role("heading", name="Class Otters")).to_be_visible()
    expect(page.get_by_role("heading", name="Class Herons")).to_be_visible()
    page.get_by_role("link", name="Board of Spring bridges").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Board: Spring bridges")
    assert "Gus Reed" not in page.content()


def test_a_teacher_gives_new_words_that_are_shown_once(sign_in: Open, open_page: Open, live: Live) -> None:
    page = sign_in("Tess Birch")
    page.get_by_role("link", name=re.compile("students$")).click()
    page.get_by_role("button", name="New words for Hal Pine").click()
    words = page.locator("dt:text-is('Three words') + dd").inner_text()
    live.sign_ins["Hal Pine"] = replace(live.sign_ins["Hal Pine"], secret=words)  # for the tests after this one
    student = open_page()
    student.goto("/sign-in")
    student.get_by_label("Class code").fill("8B")
    student.get_by_label("Your three words").fill(words)
    student.get_by_role("button", name="Sign in").click()
    expect(student.get_by_role("button", name="Sign out")).to_be_visible()


def test_a_teacher_looks_for_work_that_is_alike_and_reads_no_name_of_another_class(sign_in: Open) -> None:
    hand_in(sign_in("Cleo Marsh"), OWN)
    hand_in(sign_in("Gus Reed"), NUDGED)
    page = sign_in("Tess Birch", java_script_enabled=False)
    page.get_by_role("link", name="Footbridge over the mill stream", exact=True).click()
    page.get_by_role("link", name="Work that is alike").click()
    page.get_by_role("button", name="Look for work that is alike").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_text("Last looked")).to_be_visible(timeout=MARKED_S)
    pair = page.get_by_role("region", name=re.compile("% alike")).filter(has_text="Cleo Marsh")
    expect(pair).to_contain_text("A student of class Herons")
    expect(pair.get_by_role("img")).to_have_count(2)
    expect(page.get_by_text("Gus Reed")).to_have_count(0)
