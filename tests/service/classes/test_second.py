"""Second marking: blind, compared afterwards, settled with a reason."""

from __future__ import annotations

import pytest

from rubric.messages.names import PRINT
from service.records.models import Change, SecondMarking, Submission, Teaching
from tests.service.site import GIRDER, MISTAKEN, Site, post

FIRST_SAID, SECOND_SAID = "Neat pencil work.", "No reason is given."
NAMED = GIRDER.replace(b"Double-post girder", b"Bridge of Ada Fern")


@pytest.fixture
def given(site: Site) -> Site:
    """Ada's attempt, corrected, commented on and judged by her teacher."""
    site.hand_in(site.signed_in("Ada Fern"), NAMED)
    site.work()
    teacher = site.signed_in("Tess Birch")
    said = {"points-1": "21.25", "why-1": "Joint b is drawn twice.", "comment": "A bold shape."}
    post(teacher, "/attempts/1/corrections", **said)
    post(teacher, "/attempts/1/judgement", **{"points-4": "7.25", "comment-4": FIRST_SAID})
    site.work()
    return site


def ask(site: Site, *attempts: int, marker: str = "Owen Reed", **more: str) -> str:
    fields = {"marker": str(site.ids[marker]), "attempt": [str(one) for one in attempts], **more}
    answer = post(site.signed_in("Tess Birch"), f"/staff/assignments/{site.assignment}/second", **fields)
    return answer.text if answer.status_code == 422 else str(answer.status_code)


def mark(site: Site, points: str, number: int = 1) -> str:
    fields = {"points-4": points, "comment-4": SECOND_SAID}
    answer = post(site.signed_in("Owen Reed"), f"/second/{number}", **fields)
    return answer.text if answer.status_code == 422 else str(answer.status_code)


def settle(site: Site, **fields: str) -> str:
    answer = post(site.signed_in("Tess Birch"), "/second/1/settle", **fields)
    return answer.text if answer.status_code == 422 else str(answer.status_code)


def test_the_second_teacher_sees_the_work_and_nothing_of_whose_it_is_or_what_the_first_gave(given: Site) -> None:
    ask(given, 1)
    owen = given.signed_in("Owen Reed")
    assert "You were asked to mark 1 attempt a second time" in owen.get("/staff").text
    page = owen.get("/second").text + owen.get("/second/1").text
    assert "The whole bridge should carry about 237 N" in page
    assert "−80 C" in page
    assert "Look for: a clear sketch" in page
    with given.records.read() as session:
        alias = session.get_one(Submission, 1).student.alias
    hidden = ("Ada", "Fern", alias, "A bold", "twice", "Neat", "21.25", "7.25", "88.", "Tess", "8B", "attempts/1")
    assert [one for one in hidden if one and one in page] == []


def test_the_work_is_seen_on_no_other_page(given: Site) -> None:
    ask(given, 1)
    owen = given.signed_in("Owen Reed")
    pages = ("", "/parts", "/file", "/sheet.pdf", "/corrections", "/second")
    assert {owen.get(f"/attempts/1{page}").status_code for page in pages} == {404}


def test_differences_are_listed_to_both_when_both_have_given_their_points(given: Site) -> None:
    ask(given, 1)
    teacher, owen = given.signed_in("Tess Birch"), given.signed_in("Owen Reed")
    assert "Nothing to compare yet." in teacher.get("/second/1/settle").text
    assert mark(given, "4") == "303"
    for client, page in ((teacher, "/second/1/settle"), (owen, "/second/1")):
        shown = client.get(page).text
        for said in ("7.25 of 10", "4 of 10", "differs by 3.25 points", FIRST_SAID, SECOND_SAID):
            assert said in shown, (page, said)
    assert "1 difference to settle" in teacher.get(f"/staff/assignments/{given.assignment}/second").text


def test_nobody_sees_the_others_points_before_giving_their_own(site: Site) -> None:
    site.hand_in(site.signed_in("Ada Fern"))
    site.work()
    ask(site, 1)
    mark(site, "4.57")
    teacher = site.signed_in("Tess Birch")
    page = teacher.get("/second/1/settle").text + teacher.get("/attempts/1").text
    assert "Give your own points first" in page
    assert "4.57" not in page
    assert SECOND_SAID not in page
    post(teacher, "/attempts/1/judgement", **{"points-4": "7"})
    assert "differs by 2.43 points" in teacher.get("/second/1/settle").text


def test_the_first_teacher_settles_a_difference_with_a_reason_that_stays(given: Site) -> None:
    ask(given, 1)
    mark(given, "4")
    given.sender.sent.clear()
    assert settle(given, **{"points-4": "5", "why-4": "The reason for the shape is missing."}) == "303"
    assert [job.kind for job in given.sender.sent] == [PRINT]
    with given.records.read() as session:
        assert session.get_one(Submission, 1).judgements["Sketch and reasons"]["points"] == 5
        change = session.query(Change).filter_by(what="second marking settled").one()
    assert (change.before, change.after) == ("7.25 points first, 4 points second", "5 points")
    assert "because The reason for the shape is missing." in given.signed_in("Ada Fern").get("/attempts/1").text
    assert "5 points, because <bdi>The reason" in given.signed_in("Owen Reed").get("/second/1").text
    assert ">settled<" in given.signed_in("Tess Birch").get(f"/staff/assignments/{given.assignment}/second").text


def test_where_the_first_points_stand_nothing_is_told_and_nothing_printed(given: Site) -> None:
    ask(given, 1)
    mark(given, "4")
    given.sender.sent.clear()
    settle(given, **{"points-4": "7.25", "why-4": "The reason stands on the back."})
    assert given.sender.sent == []
    assert "stands on the back" not in given.signed_in("Ada Fern").get("/attempts/1").text


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"points-4": "5"}, "Write the points that stand for"),
        ({"why-4": "so"}, "Write the points that stand for"),
        ({"points-4": "11", "why-4": "so"}, "is not between 0 and 10 points."),
        ({}, "Nothing was settled"),
    ],
)
def test_what_cannot_be_settled_is_said(given: Site, fields: dict[str, str], said: str) -> None:
    ask(given, 1)
    mark(given, "4")
    assert said in settle(given, **fields)


def test_points_are_given_once_and_for_every_criterion(given: Site) -> None:
    ask(given, 1)
    assert "has a comment and no points" in mark(given, "")
    assert "has no points yet" in post(given.signed_in("Owen Reed"), "/second/1").text
    mark(given, "4")
    assert "You have given your points already." in mark(given, "9")


def test_only_a_teacher_who_does_not_teach_the_class_is_asked(given: Site) -> None:
    page = given.signed_in("Tess Birch").get(f"/staff/assignments/{given.assignment}/second").text
    assert "Owen Reed" in page
    for name in ("Tess Birch", "Cora Vale", "Ada Fern"):
        assert "Choose a teacher who does not teach this class" in ask(given, 1, marker=name)


def test_who_teaches_the_class_by_now_is_not_blind_any_more(given: Site) -> None:
    ask(given, 1)
    with given.records.write() as session:
        session.add(Teaching(person_id=given.ids["Owen Reed"], class_id=1))
    assert "this would not be blind" in mark(given, "4")


def test_a_sample_is_drawn_of_the_attempts_that_count(given: Site) -> None:
    ben = given.signed_in("Ben Holt")
    given.hand_in(ben, MISTAKEN)
    given.hand_in(ben)
    given.work()
    assert "Tick attempts, or write how many to draw." in ask(given)
    ask(given, sample="9")
    with given.records.read() as session:
        assert {one.submission_id for one in session.query(SecondMarking)} == {1, 3}
    ask(given, 1)
    with given.records.read() as session:
        assert session.query(SecondMarking).count() == 2


def test_what_is_not_done_yet_can_be_withdrawn(given: Site) -> None:
    ask(given, 1)
    post(given.signed_in("Tess Birch"), "/second/1/withdraw")
    assert given.signed_in("Owen Reed").get("/second/1").status_code == 404
    with given.records.read() as session:
        assert [one.what for one in session.query(Change)][-2:] == [
            "second marking asked for",
            "second marking withdrawn",
        ]


def test_attempts_of_another_class_are_not_handed_on(given: Site) -> None:
    other = given.hand_in(given.signed_in("Cleo Marsh"), GIRDER, given.other_assignment)
    given.work()
    assert "Tick attempts" in ask(given, other)
