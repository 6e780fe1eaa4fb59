"""Marks held and released: what a student sees in between, and that nothing else gets out."""

from __future__ import annotations

import re
from io import BytesIO
from zipfile import ZipFile

import pytest

from rubric.messages.names import PRINT
from service.records.models import Assignment, Submission
from tests.service.site import GIRDER, MECHANISM, MISTAKEN, Site, post

FIGURES = ("646.4", "237 N", "90 of 100", '"total":90.0', "%PDF", "Feedback sheet to print", "−80 C", "of your truss")
"""What a marked girder shows: efficiency, failure load, points, sheet, forces, their drawing."""


@pytest.fixture
def by_hand(site: Site) -> Site:
    """The site after the teacher of 8B said that her marks wait."""
    post(site.signed_in("Tess Birch"), f"/staff/assignments/{site.assignment}/release/setting", release="by hand")
    return site


def handed_in(site: Site, text: bytes = GIRDER, name: str = "Ada Fern") -> int:
    submission = site.hand_in(site.signed_in(name), text)
    site.work()
    return submission


def change(site: Site, do: str, *attempts: int, **more: str) -> None:
    fields = {"do": do, "attempt": [str(one) for one in attempts], **more}
    post(site.signed_in("Tess Birch"), f"/staff/assignments/{site.assignment}/release", **fields)
    site.work()


def seen_by(site: Site, name: str, page: str) -> str:
    text = site.signed_in(name).get(page).text
    return re.sub(r'name="csrf_token" value="[^"]+"', "", text)


def pages_of_a_student(site: Site, submission: int) -> list[str]:
    return [
        f"/attempts/{submission}",
        f"/attempts/{submission}/parts",
        f"/api/v1/attempts/{submission}/state",
        f"/attempts/{submission}/sheet.pdf",
        f"/assignments/{site.assignment}",
        "/desk",
        f"/boards/assignments/{site.assignment}",
        f"/boards/contests/{site.contest}",
    ]


def test_the_pages_show_these_figures_when_nothing_is_held(site: Site) -> None:
    submission = handed_in(site)
    shown = {page: seen_by(site, "Ada Fern", page) for page in pages_of_a_student(site, submission)}
    assert [figure for figure in FIGURES if figure not in " ".join(shown.values())] == []
    assert [page for page in shown if not any(figure in shown[page] for figure in FIGURES)] == ["/desk"]


@pytest.mark.parametrize("name", ["Ada Fern", "Ben Holt", "Cleo Marsh"])
def test_a_held_mark_leaks_to_no_student_on_any_page(by_hand: Site, name: str) -> None:
    submission = handed_in(by_hand)
    for page in pages_of_a_student(by_hand, submission):
        shown = seen_by(by_hand, name, page)
        assert [figure for figure in FIGURES if figure in shown] == [], page


def test_a_mark_held_after_it_was_given_leaks_no_more_and_its_printed_sheet_is_gone(site: Site) -> None:
    submission = handed_in(site)
    change(site, "hold", submission, why="Two of you share a drawing.")
    for page in pages_of_a_student(site, submission):
        shown = seen_by(site, "Ada Fern", page)
        assert [figure for figure in FIGURES if figure in shown] == [], page
    assert site.signed_in("Ada Fern").get(f"/attempts/{submission}/sheet.pdf").status_code == 404
    page = seen_by(site, "Ada Fern", f"/attempts/{submission}")
    assert "Your teacher is looking at this mark again." in page
    assert "because <bdi>Two of you share a drawing.</bdi>" in page


def test_the_state_for_programs_says_held_and_no_points(by_hand: Site) -> None:
    submission = handed_in(by_hand)
    answer = by_hand.signed_in("Ada Fern").get(f"/api/v1/attempts/{submission}/state")
    assert answer.json == {
        "stage": "held",
        "total": None,
        "out_of": None,
        "waiting_points": None,
        "plan": "none",
        "waits": "",
    }


def test_while_a_mark_is_held_its_student_reads_that_the_truss_stands(by_hand: Site) -> None:
    page = seen_by(by_hand, "Ada Fern", f"/attempts/{handed_in(by_hand)}")
    assert "Your truss stands" in page
    assert "Your teacher releases the marks." in page
    assert 'data-stage="held"' in page


def test_mistakes_and_a_mechanism_are_told_at_once(by_hand: Site) -> None:
    mistaken = seen_by(by_hand, "Ada Fern", f"/attempts/{handed_in(by_hand, MISTAKEN)}")
    assert "1 place to mend in your file" in mistaken
    assert "did you mean &#39;square5&#39;?" in mistaken
    moving = seen_by(by_hand, "Ada Fern", f"/attempts/{handed_in(by_hand, MECHANISM)}")
    assert "Your truss does not stand yet" in moving
    assert "These joints can move: b, c, e, d, h and g." in moving
    assert "points" not in moving.split("<main")[1].replace("your points, the forces", "")


def test_the_teacher_sees_a_held_mark_and_no_sheet_is_printed_yet(by_hand: Site) -> None:
    page = seen_by(by_hand, "Tess Birch", f"/attempts/{handed_in(by_hand)}")
    assert "90 of 100 points" in page
    assert "Held.</strong> The student does not see this mark yet." in page
    assert "The sheet is printed when you release the mark." in page
    assert "1 held" in seen_by(by_hand, "Tess Birch", f"/staff/assignments/{by_hand.assignment}")
    with by_hand.records.read() as session:
        assert session.get_one(Submission, 1).sheet is None


def test_one_some_or_all_are_released(by_hand: Site) -> None:
    ada, ben = handed_in(by_hand), handed_in(by_hand, name="Ben Holt")
    second = handed_in(by_hand, MECHANISM)
    change(by_hand, "release", ada)
    assert held(by_hand) == {ada: False, ben: True, second: True}
    change(by_hand, "release", which="all")
    assert held(by_hand) == {ada: False, ben: False, second: False}
    change(by_hand, "hold", ben, second)
    assert held(by_hand) == {ada: False, ben: True, second: True}
    post(by_hand.signed_in("Tess Birch"), f"/attempts/{ben}/release", do="release")
    assert held(by_hand) == {ada: False, ben: False, second: True}


def held(site: Site) -> dict[int, bool]:
    with site.records.read() as session:
        return {one.id: one.held for one in session.query(Submission)}


def test_a_released_mark_has_points_sheet_and_place(by_hand: Site) -> None:
    submission = handed_in(by_hand)
    change(by_hand, "release", submission)
    page = seen_by(by_hand, "Ada Fern", f"/attempts/{submission}")
    assert "90 of 100 points" in page
    assert "Feedback sheet to print" in page
    assert "646.4" in seen_by(by_hand, "Ben Holt", f"/boards/assignments/{by_hand.assignment}")


def test_the_archive_of_sheets_holds_released_ones_alone(site: Site) -> None:
    first, second = handed_in(site), handed_in(site, name="Ben Holt")
    change(site, "hold", first)
    data = site.signed_in("Tess Birch").get(f"/staff/assignments/{site.assignment}/sheets.zip").data
    assert ZipFile(BytesIO(data)).namelist() == [f"ben-holt-attempt-1-no-{second}.pdf"]


def test_no_sheet_of_a_held_attempt_is_joined_to_those_to_print(site: Site) -> None:
    change(site, "hold", handed_in(site))
    teacher = site.signed_in("Tess Birch")
    answer = teacher.get(f"/staff/assignments/{site.assignment}/sheets.pdf", follow_redirects=True)
    assert "No sheet of an attempt that counts is printed yet." in answer.text


def test_corrections_of_a_held_mark_print_no_sheet_until_its_release(by_hand: Site) -> None:
    submission = handed_in(by_hand)
    teacher = by_hand.signed_in("Tess Birch")
    post(teacher, f"/attempts/{submission}/corrections", **{"points-1": "26", "why-1": "b is drawn twice."})
    post(teacher, f"/attempts/{submission}/judgement", **{"points-4": "8"})
    assert by_hand.sender.sent == []
    post(teacher, f"/attempts/{submission}/release", do="release")
    assert [job.kind for job in by_hand.sender.sent] == [PRINT]
    page = seen_by(by_hand, "Ada Fern", f"/attempts/{submission}")
    assert "94 of 100 points" in page
    assert "Changed by your teacher on" not in page  # the student had not been given any other mark


def test_what_changed_while_a_given_mark_was_held_is_told_at_its_next_release(site: Site) -> None:
    submission = handed_in(site)
    change(site, "hold", submission)
    teacher = site.signed_in("Tess Birch")
    post(teacher, f"/attempts/{submission}/corrections", **{"points-1": "26", "why-1": "b is drawn twice."})
    assert "from 90" not in seen_by(site, "Ada Fern", f"/attempts/{submission}")
    change(site, "release", submission)
    assert "from 90 to 86 points, because b is drawn twice." in seen_by(site, "Ada Fern", f"/attempts/{submission}")


def test_attempts_still_being_marked_stay_as_they_are(by_hand: Site) -> None:
    submission = by_hand.hand_in(by_hand.signed_in("Ada Fern"))
    sent = by_hand.sender.sent
    post(by_hand.signed_in("Tess Birch"), f"/attempts/{submission}/release", do="release")
    assert by_hand.sender.sent is sent
    assert held(by_hand) == {submission: True}


def test_the_setting_holds_for_attempts_to_come_alone(by_hand: Site) -> None:
    first = handed_in(by_hand)
    post(by_hand.signed_in("Tess Birch"), f"/staff/assignments/{by_hand.assignment}/release/setting", release="at once")
    second = handed_in(by_hand, MECHANISM)
    assert held(by_hand) == {first: True, second: False}
    with by_hand.records.read() as session:
        assert not session.get_one(Assignment, by_hand.assignment).release_by_hand


def test_attempts_of_another_class_cannot_be_released_from_this_one(by_hand: Site) -> None:
    other = by_hand.hand_in(by_hand.signed_in("Cleo Marsh"), GIRDER, by_hand.other_assignment)
    by_hand.work()
    change(by_hand, "hold", other)
    assert held(by_hand) == {other: False}
