"""What is kept as it was written: versions of a brief and rubric."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import text
from sqlalchemy.exc import DBAPIError

from service.records.engine import Records, open_records
from service.records.migrations import upgrade
from service.records.models import Submission, Version
from tests.service import rows


def test_the_database_refuses_to_change_a_version(either: Records) -> None:
    with either.write() as session:
        version = rows.assignment(session).newest
    with pytest.raises(DBAPIError, match="versions are kept as they are"), either.write() as session:
        session.get_one(Version, version.id).rubric_text = "other"
    with pytest.raises(DBAPIError, match="versions are kept as they are"), either.write() as session:
        session.delete(session.get_one(Version, version.id))


def test_a_drawing_may_follow_a_version(either: Records) -> None:
    with either.write() as session:
        version = rows.assignment(session).newest
    with either.write() as session:
        session.get_one(Version, version.id).drawing = {"svg": "", "alternative": ""}
    with either.read() as session:
        assert session.get_one(Version, version.id).drawing == {"svg": "", "alternative": ""}


def test_work_is_marked_under_the_version_that_stood_when_it_came_in(records: Records) -> None:
    with records.write() as session:
        job = rows.handed_in(session)
        found = session.get_one(Submission, job.subject_id)
        kept = {"brief": rows.BRIEF.model_dump(mode="json"), "rubric": {}, "brief_text": "", "rubric_text": ""}
        found.assignment.versions.append(Version(number=2, **kept))
    with records.read() as session:
        found = session.get_one(Submission, job.subject_id)
        assert (found.version.number, found.assignment.newest.number) == (1, 2)


@pytest.fixture(params=["sqlite", "postgresql"])
def earlier(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Records]:
    """A database of each kind at the last revision without versions."""
    if request.param == "sqlite":
        opened = open_records(f"sqlite:///{tmp_path}/earlier.sqlite")
    else:
        opened = open_records(request.getfixturevalue("postgresql_address"))
        with opened.engine.begin() as connection:
            connection.execute(text("DROP SCHEMA public CASCADE"))
            connection.execute(text("CREATE SCHEMA public"))
    upgrade(opened.engine, "0003")
    yield opened
    opened.engine.dispose()


def test_what_was_set_before_versions_were_kept_becomes_the_first(earlier: Records) -> None:
    columns = "id, class_id, title, brief, rubric, brief_text, rubric_text, par_wood_g"
    with earlier.engine.begin() as connection:
        connection.execute(text("INSERT INTO classes (id, code, name) VALUES (1, '8B', 'Otters')"))
        connection.execute(text(f"INSERT INTO assignments ({columns}) VALUES (7, 1, 't', '{{}}', '{{}}', 'a', 'b', 3)"))
    upgrade(earlier.engine)
    with earlier.read() as session:
        version = session.query(Version).one()
        assert (version.assignment_id, version.number, version.brief, version.rubric_text) == (7, 1, {}, "b")
