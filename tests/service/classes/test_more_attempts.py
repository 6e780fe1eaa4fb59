"""Attempts that a teacher gives to one student beyond those of the rubric."""

from __future__ import annotations

import pytest

from service.records.models import ExtraAttempts
from tests.service.classes.test_attempts_left import all_in, refused
from tests.service.site import GIRDER, HEAVY_GIRDER, MISTAKEN, Site, post


def give(site: Site, **fields: str) -> tuple[int, str]:
    address = f"/staff/assignments/{site.assignment}/extra-attempts"
    answer = post(site.signed_in("Tess Birch"), address, **{"student": str(site.ids["Ada Fern"])} | fields)
    return answer.status_code, answer.text


def test_a_student_who_used_all_attempts_hands_in_once_more(site: Site) -> None:
    site.ask(attempts={"most": 1})
    all_in(site, GIRDER)
    assert "You have used all 1 attempt." in refused(site, MISTAKEN)
    assert give(site, more="1", why="the file was lost")[0] == 303
    assert "You have used 1 of 2 attempts." in site.signed_in("Ada Fern").get(f"/assignments/{site.assignment}").text
    all_in(site, HEAVY_GIRDER)
    assert "You have used all 2 attempts." in refused(site, MISTAKEN)


def test_attempts_of_one_student_are_nobody_elses(site: Site) -> None:
    site.ask(attempts={"most": 1})
    give(site, more="3")
    assert "of 1 attempt." in site.signed_in("Ben Holt").get(f"/assignments/{site.assignment}").text


def test_a_teacher_reads_what_was_given_and_takes_it_back(site: Site) -> None:
    site.ask(attempts={"most": 2})
    give(site, more="1", why="was ill")
    teacher = site.signed_in("Tess Birch")
    assert "was ill" in teacher.get(f"/staff/assignments/{site.assignment}/dates").text
    assert "1 of them given to this student alone" in teacher.get(f"/staff/students/{site.ids['Ada Fern']}").text
    assert "was ill" not in site.signed_in("Ada Fern").get(f"/assignments/{site.assignment}").text
    assert give(site, do="take")[0] == 303
    with site.records.read() as session:
        assert session.query(ExtraAttempts).count() == 0


@pytest.mark.parametrize(("most", "fields", "said"), [
    (2, {"more": "0"}, "Write how many attempts more"),
    (2, {"more": "9999"}, "nobody hands in more than"),
    (2, {"more": "1", "student": "3"}, "Choose a student of the class"),
    (2, {"more": "1", "why": "x" * 301}, "over 300 letters"),
    (None, {"more": "1"}, "nothing to give"),
])  # fmt: skip
def test_what_cannot_be_given_is_told(site: Site, most: int | None, fields: dict[str, str], said: str) -> None:
    site.ask(attempts={"most": most} if most else {})
    status, text = give(site, **fields)
    assert (status, said in text) == (422, True)
