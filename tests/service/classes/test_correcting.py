"""Points in place of computed ones, comments, and the history of both."""

from __future__ import annotations

import re
from datetime import datetime

import pytest
from sqlalchemy import text
from sqlalchemy.exc import DatabaseError

from rubric.messages.names import PRINT
from service.classes import history
from service.orders import order_for
from service.records.engine import Records
from service.records.models import Change, Submission
from tests.service import rows
from tests.service.site import Site, post

CARRIES, SAID = 1, "The gusset at b was measured and holds."
"""The criterion of the footbridge that is worth 30 points, and a reason."""


@pytest.fixture
def marked(site: Site) -> int:
    submission = site.hand_in(site.signed_in("Ada Fern"))
    site.work()
    return submission


def correct(site: Site, submission: int, **fields: str) -> str:
    answer = post(site.signed_in("Tess Birch"), f"/attempts/{submission}/corrections", **fields)
    return answer.text if answer.status_code == 422 else str(answer.status_code)


def seen_by(site: Site, name: str, submission: int) -> str:
    return site.signed_in(name).get(f"/attempts/{submission}").text


def kept(site: Site, submission: int) -> Submission:
    with site.records.read() as session:
        return session.get_one(Submission, submission)


def test_points_in_place_of_computed_ones_change_the_total_and_print_a_new_sheet(site: Site, marked: int) -> None:
    assert correct(site, marked, **{"points-1": "12,5", "why-1": SAID}) == "303"
    assert kept(site, marked).total == 90 - 17.5
    assert [job.kind for job in site.sender.sent] == [PRINT]
    with site.records.read() as session:
        order = order_for(session, site.sender.sent[0])
    assert order
    assert order["outcome"]["marks"]["total"] == 72.5
    assert order["outcome"]["marks"]["criteria"][CARRIES]["why"] == SAID


def test_the_new_sheet_says_on_which_day_of_the_school_a_criterion_was_changed(
    site: Site, marked: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    for at, points in ((datetime(2027, 3, 1, 9), "20"), (datetime(2027, 6, 30, 23, 30), "26")):
        monkeypatch.setattr(history, "now", lambda at=at: at)
        correct(site, marked, **{"points-1": points, "why-1": SAID})
    days = {}
    for language in ("en", "de"):
        with site.records.write() as session:
            session.get_one(Submission, marked).assignment.school_class.language = language
            days[language] = list((order_for(session, site.sender.sent[-1]) or {})["head"]["corrected"].values())
    assert days == {"en": ["1 July 2027"], "de": ["1. Juli 2027"]}  # summer time in Lisbon
    correct(site, marked, **{"points-1": "", "why-1": "I misread the drawing."})
    with site.records.read() as session:
        assert (order_for(session, site.sender.sent[-1]) or {})["head"]["corrected"] == {}


def test_the_student_reads_when_how_far_and_why_a_given_mark_changed(site: Site, marked: int) -> None:
    correct(site, marked, **{"points-1": "26", "why-1": "Joint b is drawn twice."})
    page = seen_by(site, "Ada Fern", marked)
    assert "Changed by your teacher on <time" in page
    assert "from 90 to 86 points, because Joint b is drawn twice." in page
    assert "Changed by your teacher:</strong> <bdi>Joint b is drawn twice.</bdi>" in page
    assert "Tess Birch" not in page


def test_staff_read_who_changed_what_from_what_to_what_and_why(site: Site, marked: int) -> None:
    correct(site, marked, **{"points-1": "26", "why-1": SAID})
    page = seen_by(site, "Cora Vale", marked)
    history = page[page.index("What was changed") :]
    for said in ("Tess Birch", "points corrected", "30 points", "26 points", SAID, "90 to 86"):
        assert said in history


def test_the_page_has_a_table_for_paper_with_every_criterion_and_who_corrected_what_and_why(
    site: Site, marked: int
) -> None:
    correct(
        site, marked, **{"points-1": "26", "why-1": "A <b>gap</b> at b.", "comment-2": "Well kept.", "comment": "Tidy."}
    )
    page = site.signed_in("Tess Birch").get(f"/attempts/{marked}/corrections").text
    paper = " ".join(re.sub(r"<[^>]*>", " ", page[page.index('<div class="on-paper">') :]).split())
    for said in ("Otters . 86 of 100 points.", "It carries the target load the reserve factor is 1.18 30 of 30 26 A"):
        assert said in paper
    assert "A &lt;b&gt;gap&lt;/b&gt; at b. ( Tess Birch ," in paper
    assert "15 of 15 – Well kept. It is light" in paper
    assert "The work as a whole: Tidy." in paper


def test_the_table_for_paper_holds_criteria_judged_by_hand(site: Site, marked: int) -> None:
    def paper() -> str:
        page = site.signed_in("Tess Birch").get(f"/attempts/{marked}/corrections").text
        return " ".join(re.sub(r"<[^>]*>", " ", page[page.index('<div class="on-paper">') :]).split())

    assert "Sketch and reasons Looked for: a clear sketch" in paper()
    assert "by hand waits –" in paper()
    post(site.signed_in("Tess Birch"), f"/attempts/{marked}/judgement", **{"points-4": "8", "comment-4": "<Neat>."})
    assert "by hand 8 of 10 &lt;Neat&gt;. ( Tess Birch ," in paper()


def test_a_correction_is_taken_back_with_a_reason_and_both_stay_in_the_history(site: Site, marked: int) -> None:
    correct(site, marked, **{"points-1": "26", "why-1": SAID})
    correct(site, marked, **{"points-1": "", "why-1": "I misread the drawing."})
    assert (kept(site, marked).total, kept(site, marked).corrections) == (90, {})
    with site.records.read() as session:
        said = [(change.what, change.before, change.after) for change in session.query(Change)]
    assert said == [
        ("points corrected", "30 points", "26 points"),
        ("correction taken back", "26 points", "30 points"),
    ]
    assert "from 86 to 90 points, because I misread the drawing." in seen_by(site, "Ada Fern", marked)


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"points-1": "26"}, "Write why you change the points of"),
        ({"why-1": SAID}, "has a reason and no points."),
        ({"points-1": "31", "why-1": SAID}, "is not between 0 and 30 points."),
        ({"points-1": "nan", "why-1": SAID}, "is not between 0 and 30 points."),
        ({"points-1": "26", "why-1": "x" * 601}, "is over 600 letters."),
        ({"comment": "x" * 601}, "The comment on the whole is over 600 letters."),
    ],
)
def test_what_cannot_be_kept_is_said_and_stays_typed(
    site: Site, marked: int, fields: dict[str, str], said: str
) -> None:
    page = correct(site, marked, **fields)
    assert said in page
    assert all(value in page for value in fields.values())
    assert kept(site, marked).total == 90


def test_taking_back_without_a_reason_is_refused(site: Site, marked: int) -> None:
    correct(site, marked, **{"points-1": "26", "why-1": SAID})
    assert "Write why you take the correction back of" in correct(site, marked, **{"points-1": ""})


def test_saving_the_page_as_it_is_changes_nothing(site: Site, marked: int) -> None:
    correct(site, marked, **{"points-1": "26", "why-1": SAID, "comment": "Neat."})
    site.work()
    correct(site, marked, **{"points-1": "26", "comment": "Neat."})
    correct(site, marked)
    assert site.sender.sent == []
    with site.records.read() as session:
        assert session.query(Change).count() == 2


def test_comments_on_criteria_and_on_the_whole_reach_page_and_sheet(site: Site, marked: int) -> None:
    correct(site, marked, **{"comment": "A bold shape.", "comment-1": "Well <b>found</b>."})
    page = seen_by(site, "Ada Fern", marked)
    assert "Your teacher says:</strong> <bdi>A bold shape.</bdi>" in page
    assert "Your teacher: <bdi>Well &lt;b&gt;found&lt;/b&gt;.</bdi>" in page
    assert "Changed by your teacher" not in page
    with site.records.read() as session:
        order = order_for(session, site.sender.sent[0])
    assert order
    assert order["head"]["comment"].startswith("A bold shape. ")


def test_own_points_that_change_later_are_told_and_the_first_are_not(site: Site, marked: int) -> None:
    teacher = site.signed_in("Tess Birch")
    post(teacher, f"/attempts/{marked}/judgement", **{"points-4": "7", "comment-4": "Good."})
    assert "Changed by your teacher" not in seen_by(site, "Ada Fern", marked)
    post(teacher, f"/attempts/{marked}/judgement", **{"points-4": "9", "comment-4": "The second sketch too."})
    assert "from 97 to 99 points, because The second sketch too." in seen_by(site, "Ada Fern", marked)


def test_class_table_and_spreadsheet_follow(site: Site, marked: int) -> None:
    correct(site, marked, **{"points-1": "26", "why-1": SAID})
    teacher = site.signed_in("Tess Birch")
    assert "86 of 100" in teacher.get(f"/staff/assignments/{site.assignment}").text
    assert ",86.0,100.0," in teacher.get(f"/staff/assignments/{site.assignment}/marks.csv").text


def test_a_file_still_being_marked_has_no_page_to_correct(site: Site) -> None:
    submission = site.hand_in(site.signed_in("Ada Fern"))
    assert site.signed_in("Tess Birch").get(f"/attempts/{submission}/corrections").status_code == 404
    assert "still being marked" not in correct(site, submission)


@pytest.mark.parametrize("statement", ["UPDATE changes SET why = 'nothing'", "DELETE FROM changes"])
def test_the_database_itself_keeps_every_change(either: Records, statement: str) -> None:
    with either.write() as session:
        job = rows.handed_in(session)
        person = session.get_one(Submission, job.subject_id).student_id
        session.add(Change(submission_id=job.subject_id, person_id=person, what="points corrected", why="so"))
    with pytest.raises(DatabaseError, match="changes of marks are kept as they are"), either.write() as session:
        session.execute(text(statement))
    with either.read() as session:
        assert session.query(Change).one().why == "so"
