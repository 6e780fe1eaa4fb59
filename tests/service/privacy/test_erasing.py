"""Deleting a pupil or a class: every row goes, nobody else's does, and the guards stand as before."""

from __future__ import annotations

import pytest
from sqlalchemy import delete, insert, select
from sqlalchemy.exc import DBAPIError

from service.privacy.erasing import erase_class, erase_pupil
from service.records.acts import Act, GoneOrder, UnderDeletion
from service.records.below import PEOPLE, SUBJECT_OF_JOB, below
from service.records.engine import Records
from service.records.models import (
    JOB_KINDS,
    Assignment,
    Base,
    Change,
    Job,
    Person,
    SchoolClass,
    Submission,
    Version,
)
from tests.service import rows
from tests.service.privacy.full import school


def counts(records: Records) -> dict[str, int]:
    with records.read() as session:
        return {t.name: len(session.execute(select(t)).all()) for t in Base.metadata.sorted_tables}


def test_every_kind_of_job_says_where_its_subject_stands() -> None:
    assert set(SUBJECT_OF_JOB) == set(JOB_KINDS)


def test_a_pupil_goes_with_all_that_hangs_on_them_and_nobody_else_does(either: Records) -> None:
    _, gone, stays = school(either)
    before = counts(either)
    with either.write() as session:
        mine = below(session, PEOPLE, [stays])
        erase_pupil(session, session.get_one(Person, gone), None)
    after = counts(either)
    of_pupils = ["submissions", "sheets", "plans", "changes", "second_markings", "notices", "trial_works", "jobs"]
    of_pupils += ["contest_entries", "contest_readings", "contest_confirmations", "contest_rulings", "contest_protests"]
    assert all(before[name] for name in of_pupils)
    assert [(name, before[name] // 2) for name in of_pupils] == [(name, after[name]) for name in of_pupils]
    assert after["people"] == before["people"] - 1
    assert after["versions"] == before["versions"]
    with either.read() as session:
        assert below(session, PEOPLE, [stays]) == mine
        assert below(session, PEOPLE, [gone]) == {PEOPLE: {(gone,)}}  # nothing refers to the number any more


def test_a_class_goes_with_pupils_assignments_versions_and_who_taught_it(either: Records) -> None:
    class_id, *_ = school(either)
    with either.write() as session:
        erase_class(session, session.get_one(SchoolClass, class_id), None)
    left = {name: count for name, count in counts(either).items() if count}
    of_the_school = {"contests", "contest_rules", "contest_stations"}
    assert set(left) == {"schools", "people", "acts", "gone_orders"} | of_the_school
    assert left["people"] == 1  # the teacher


def test_a_deletion_is_an_act_with_numbers_alone(either: Records) -> None:
    class_id, first, second = school(either)
    with either.write() as session:
        erase_class(session, session.get_one(SchoolClass, class_id), 7, "by hand")
    with either.read() as session:
        told = [(one.by_id, one.what, one.about, one.about_id, one.word) for one in session.scalars(select(Act))]
    assert told == [
        (7, "pupil deleted", "person", first, "with the class"),
        (7, "pupil deleted", "person", second, "with the class"),
        (7, "class deleted", "class", class_id, "by hand"),
    ]


def test_the_guards_stand_after_a_deletion(either: Records) -> None:
    _, gone, _ = school(either)
    with either.write() as session:
        erase_pupil(session, session.get_one(Person, gone), None)
    with either.read() as session:
        assert session.scalars(select(UnderDeletion)).all() == []
    for table in (Change, Version):
        with pytest.raises(DBAPIError, match="kept as they are"), either.write() as session:
            session.execute(delete(table))


def test_naming_a_change_lets_it_be_deleted_and_never_be_changed(either: Records) -> None:
    school(either)
    with either.write() as session:
        number = session.scalars(select(Change.id)).first()
        session.execute(insert(UnderDeletion), [{"table_name": "changes", "row_id": number}])
    with pytest.raises(DBAPIError, match="kept as they are"), either.write() as session:
        session.get_one(Change, number).after = "20"
    with either.write() as session:
        session.delete(session.get_one(Change, number))


def test_an_act_can_be_neither_changed_nor_deleted(either: Records) -> None:
    _, gone, _ = school(either)
    with either.write() as session:
        erase_pupil(session, session.get_one(Person, gone), None)
    with pytest.raises(DBAPIError, match="acts are kept"), either.write() as session:
        session.scalars(select(Act)).first().word = "nothing"  # type: ignore[union-attr]
    with pytest.raises(DBAPIError, match="acts are kept"), either.write() as session:
        session.execute(delete(Act))


def test_a_number_that_was_deleted_is_never_given_again(either: Records) -> None:
    class_id, *_ = school(either)
    with either.read() as session:
        highest = [max(session.scalars(select(t.id))) for t in (Person, SchoolClass, Assignment, Submission, Job)]
    with either.write() as session:
        erase_class(session, session.get_one(SchoolClass, class_id), None)
    with either.write() as session:
        job = rows.handed_in(session)
        found = session.get_one(Submission, job.subject_id)
        numbers = (found.student_id, found.assignment.class_id, found.assignment_id, found.id, job.id)
        assert all(new > old for new, old in zip(numbers, highest, strict=True))


def test_jobs_of_what_is_gone_are_named_for_the_broker(either: Records) -> None:
    class_id, *_ = school(either)
    with either.read() as session:
        jobs = set(session.scalars(select(Job.id)))
    with either.write() as session:
        erase_class(session, session.get_one(SchoolClass, class_id), None)
    with either.read() as session:
        assert set(session.scalars(select(GoneOrder.job_id))) == jobs != set()
