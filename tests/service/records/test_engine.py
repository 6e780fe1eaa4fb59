"""The engine: who says that he reads cannot write, and writers take turns."""

from __future__ import annotations

import threading
from pathlib import Path

import pytest
from sqlalchemy import text
from sqlalchemy.exc import DBAPIError, IntegrityError, OperationalError

from service.records.engine import Records, is_disk_full
from service.records.models import Notice, School


def test_a_reading_session_refuses_to_write(either: Records) -> None:
    with either.read() as session:
        session.add(School(name="Millbrook School"))
        with pytest.raises(DBAPIError, match=r"(?i)read-?only"):
            session.flush()


def test_a_writing_session_commits_at_its_end(either: Records) -> None:
    with either.write() as session:
        session.add(School(name="Millbrook School"))
    with either.read() as session:
        assert session.query(School).one().name == "Millbrook School"


def test_an_exception_in_a_writing_session_leaves_nothing_behind(either: Records) -> None:
    def fail() -> None:
        with either.write() as session:
            session.add(School(name="Millbrook School"))
            session.flush()
            raise LookupError

    with pytest.raises(LookupError):
        fail()
    with either.read() as session:
        assert session.query(School).count() == 0


def test_a_reference_to_a_row_that_is_not_there_is_refused(either: Records) -> None:
    with pytest.raises(IntegrityError), either.write() as session:
        session.add(Notice(class_id=99, text="whose?"))


def test_four_writers_that_read_first_lose_no_update(either: Records) -> None:
    with either.write() as session:
        session.add(School(name="0"))

    def count_up() -> None:
        for _ in range(25):
            with either.write() as session:
                school = session.query(School).with_for_update().one()
                school.name = str(int(school.name) + 1)

    writers = [threading.Thread(target=count_up) for _ in range(4)]
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join()
    with either.read() as session:
        assert session.query(School).one().name == "100"


def test_a_reader_sees_one_moment_while_others_write(records: Records) -> None:
    with records.read() as reader:
        assert reader.query(School).count() == 0
        with records.write() as writer:
            writer.add(School(name="Millbrook School"))
        assert reader.query(School).count() == 0


@pytest.fixture
def disk() -> None:
    """The product's own settings stand in this file."""


def test_sqlite_keeps_what_was_committed_through_a_power_cut(records: Records) -> None:
    with records.read() as session:
        assert session.scalar(text("PRAGMA journal_mode")) == "wal"
        assert session.scalar(text("PRAGMA synchronous")) == 2  # FULL


def test_a_full_database_is_told_from_other_faults(records: Records) -> None:
    with records.write() as session:
        session.execute(text("CREATE TABLE filler (bytes BLOB)"))
        session.execute(text("PRAGMA max_page_count=1"))
        with pytest.raises(OperationalError) as caught:
            session.execute(text("INSERT INTO filler VALUES (zeroblob(9000000))"))
    assert is_disk_full(caught.value)
    assert is_disk_full(OSError(28, "No space left on device"))
    assert not is_disk_full(OSError(2, "No such file or directory"))
    assert not is_disk_full(OperationalError("", None, Exception("locked")))


def test_the_database_folder_is_for_this_user_alone(records: Records, tmp_path: Path) -> None:
    assert (tmp_path / "records").stat().st_mode & 0o077 == 0
