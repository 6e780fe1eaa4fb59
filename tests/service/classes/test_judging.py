"""What a teacher adds: points, comments, sending again."""

from __future__ import annotations

import pytest

from rubric.messages.names import MARK, PRINT
from service.records.models import FAILED, NOT_MARKED, Job, Notice, Submission
from tests.service.site import Site, post

PLACE = 4
"""Where the judgement stands in the rubric of the footbridge."""


@pytest.fixture
def marked(site: Site) -> int:
    submission = site.hand_in(site.signed_in("Ada Fern"))
    site.work()
    return submission


def judge(site: Site, submission: int, points: str, comment: str = "") -> str:
    fields = {f"points-{PLACE}": points, f"comment-{PLACE}": comment}
    answer = post(site.signed_in("Tess Birch"), f"/attempts/{submission}/judgement", **fields)
    return answer.text if answer.status_code == 422 else str(answer.status_code)


def test_the_teachers_points_are_added_up_and_a_new_sheet_is_ordered(site: Site, marked: int) -> None:
    assert judge(site, marked, "7.5", "Good sketch. Say why you chose it.") == "303"
    with site.records.read() as session:
        found = session.get_one(Submission, marked)
        assert (found.total, found.waiting_points) == (97.5, 0)
    assert [job.kind for job in site.sender.sent] == [PRINT]
    page = site.signed_in("Ada Fern").get(f"/attempts/{marked}").text
    assert "97.5 of 100 points" in page
    assert "Good sketch. Say why you chose it." in page


def test_a_decimal_comma_is_understood(site: Site, marked: int) -> None:
    judge(site, marked, "7,5")
    with site.records.read() as session:
        assert session.get_one(Submission, marked).total == 97.5


def test_points_taken_back_wait_again(site: Site, marked: int) -> None:
    judge(site, marked, "7")
    judge(site, marked, "")
    with site.records.read() as session:
        assert session.get_one(Submission, marked).waiting_points == 10


@pytest.mark.parametrize("typed", ["11", "-1", "many", "1e9", "nan", "1_0"])
def test_points_out_of_range_are_refused_and_what_was_typed_stays(site: Site, marked: int, typed: str) -> None:
    said = judge(site, marked, typed, "a long comment")
    assert "is not between 0 and 10 points. Write a plain number." in said
    assert f'value="{typed}"' in said
    assert "a long comment</textarea>" in said


def test_a_comment_without_points_or_without_end_is_refused(site: Site, marked: int) -> None:
    assert "has a comment and no points" in judge(site, marked, "", "fine")
    assert "is over 600 letters" in judge(site, marked, "5", "x" * 601)


def test_a_file_still_being_marked_cannot_be_judged(site: Site) -> None:
    submission = site.hand_in(site.signed_in("Ada Fern"))
    assert "still being marked" in judge(site, submission, "5")


def test_a_comment_is_text_and_nothing_else(site: Site, marked: int) -> None:
    judge(site, marked, "5", "<script>x()</script>")
    assert "<script>x" not in site.signed_in("Ada Fern").get(f"/attempts/{marked}").text


def test_a_failed_file_is_sent_again_and_its_notice_settled(site: Site) -> None:
    submission = site.hand_in(site.signed_in("Ada Fern"))
    site.sender.sent.clear()
    with site.records.write() as session:
        session.get_one(Submission, submission).state = NOT_MARKED
        session.query(Job).filter_by(kind=MARK).one().state = FAILED
        session.add(Notice(class_id=1, submission_id=submission, text="could not be marked"))
    teacher = site.signed_in("Tess Birch")
    assert "could not be marked" in teacher.get("/staff").text
    post(teacher, f"/attempts/{submission}/again")
    site.work()
    assert "90 of 100 points" in teacher.get(f"/attempts/{submission}").text
    assert "could not be marked" not in teacher.get("/staff").text


def test_a_failed_sheet_is_ordered_again(site: Site, marked: int) -> None:
    with site.records.write() as session:
        session.query(Job).filter_by(kind=PRINT).one().state = FAILED
    post(site.signed_in("Tess Birch"), f"/attempts/{marked}/again")
    assert [job.kind for job in site.sender.sent] == [PRINT]


def test_what_did_not_fail_is_not_sent_again(site: Site, marked: int) -> None:
    post(site.signed_in("Tess Birch"), f"/attempts/{marked}/again")
    assert site.sender.sent == []


def test_a_notice_is_settled(site: Site) -> None:
    with site.records.write() as session:
        session.add(Notice(class_id=1, text="look <b>here</b>"))
    teacher = site.signed_in("Tess Birch")
    assert "look &lt;b&gt;here" in teacher.get("/staff").text
    post(teacher, "/notices/1/settle")
    assert "here" not in teacher.get("/staff").text
