"""The time of keeping: foretold 30 days before, void when the class is active again, never without a warning."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubric.language import speaking
from service.privacy.housekeeping import KEEPING_EVERY_S, Housekeeping
from service.privacy.keeping import FORETOLD, Due, Kept, due, end_of, keep_time, months_later
from service.records.acts import Act
from service.records.engine import Records
from service.records.models import Assignment, Notice, Person, School, SchoolClass, Submission, Version
from service.saying import notice_said
from tests.service import rows

START = datetime(2027, 6, 30, 12)
DAY = timedelta(days=1)


def class_of(records: Records, months: int | None = 12) -> int:
    """A class that was last active on 30 June 2027."""
    with records.write() as session:
        job = rows.handed_in(session)
        session.query(School).one().keep_months = months
        submission = session.get_one(Submission, job.subject_id)
        submission.handed_in = START
        class_id = submission.assignment.class_id
        session.get_one(SchoolClass, class_id).made_at = START - 200 * DAY
        session.query(Version).one().drawing = None
        return class_id


@pytest.fixture
def dated(monkeypatch: pytest.MonkeyPatch, records: Records) -> int:
    """The same, with the version made before."""
    monkeypatch.setattr(Version.__table__.c.made_at.default, "arg", lambda _: START - 100 * DAY)
    return class_of(records)


def look(records: Records, moment: datetime) -> Due:
    with records.write() as session:
        return keep_time(session, moment)


def test_months_are_counted_by_the_calendar() -> None:
    assert months_later(datetime(2027, 8, 31), 6) == datetime(2028, 2, 29)
    assert months_later(datetime(2027, 12, 1), 1) == datetime(2028, 1, 1)


def test_a_class_is_foretold_thirty_days_before_and_deleted_on_the_day(records: Records, dated: int) -> None:
    end = datetime(2028, 6, 30, 12)
    assert look(records, end - FORETOLD - DAY) == Due()
    assert look(records, end - FORETOLD) == Due(foretell=(dated,))
    assert look(records, end - DAY) == Due()
    with records.read() as session:
        notice = session.query(Notice).one()
        said = notice_said(notice.text, notice.values)
        assert "was not active since 30 June 2027" in said
        assert "will be deleted on 30 June 2028" in said
        with speaking("de"):
            assert "seit dem 30. Juni 2027 nicht aktiv" in notice_said(notice.text, notice.values)
    assert look(records, end) == Due(delete=(dated,))
    with records.read() as session:
        assert (session.query(SchoolClass).count(), session.query(Submission).count()) == (0, 0)
        assert [person.role for person in session.query(Person)] == ["teacher"]
        told = [(one.what, one.by_id, one.word) for one in session.query(Act).order_by(Act.id)]
    assert told == [
        ("deletion foretold", None, "30 June 2028"),
        ("pupil deleted", None, "with the class"),
        ("class deleted", None, "time of keeping over"),
    ]


def test_the_longest_notice_fits_its_column(records: Records, dated: int) -> None:
    look(records, datetime(2029, 9, 29, 12))
    with records.read() as session:
        assert len(session.query(Notice).one().text) <= Notice.__table__.c.text.type.length


def test_work_handed_in_meanwhile_makes_the_warning_void(records: Records, dated: int) -> None:
    end = datetime(2028, 6, 30, 12)
    look(records, end - FORETOLD)
    with records.write() as session:
        session.query(Submission).one().handed_in = end - 5 * DAY
    assert look(records, end) == Due(void=(dated,))
    with records.read() as session:
        assert session.query(Notice).one().settled
        assert session.query(SchoolClass).one().warned_at is None


def test_a_due_date_to_come_keeps_a_class(records: Records, dated: int) -> None:
    with records.write() as session:
        session.query(Assignment).one().due = datetime(2028, 6, 1)
    assert look(records, datetime(2028, 6, 30)) == Due()


def test_a_school_that_has_set_no_time_keeps_everything(records: Records, dated: int) -> None:
    look(records, datetime(2028, 6, 20))
    with records.write() as session:
        session.query(School).one().keep_months = None
    assert look(records, datetime(2040, 1, 1)) == Due(void=(dated,))
    assert look(records, datetime(2040, 1, 2)) == Due()


def test_a_class_long_out_of_use_still_gets_its_thirty_days(records: Records, dated: int) -> None:
    late = datetime(2035, 1, 1)
    assert look(records, late) == Due(foretell=(dated,))
    assert look(records, late + 29 * DAY) == Due()
    assert look(records, late + FORETOLD) == Due(delete=(dated,))


moments = st.datetimes(datetime(2027, 1, 1), datetime(2040, 1, 1))


@given(moments, st.none() | moments, st.integers(3, 120), moments)
def test_no_class_is_ever_deleted_without_a_warning_of_thirty_days_or_before_its_time(
    active: datetime, warned: datetime | None, months: int, moment: datetime
) -> None:
    found = due([Kept(1, active, warned)], months, moment)
    if found.delete:
        assert warned is not None
        assert moment - warned >= FORETOLD
        assert moment >= months_later(active, months)
    assert (moment >= end_of(Kept(1, active, warned), months, moment)) == bool(found.delete)


def test_the_sweep_looks_once_an_hour(records: Records, dated: int, tmp_path) -> None:  # type: ignore[no-untyped-def]
    clock, moment = [0.0], [datetime(2028, 6, 1, 12)]
    keeper = Housekeeping(records, str(tmp_path), lambda: clock[0], lambda: moment[0])
    keeper.look()
    moment[0] = datetime(2028, 7, 30)
    keeper.look()
    with records.read() as session:
        assert session.query(SchoolClass).count() == 1
    clock[0] = KEEPING_EVERY_S
    keeper.look()
    with records.read() as session:
        assert session.query(SchoolClass).count() == 0
