"""After a deletion: no trace in the files of the database, in the broker, or in any log line."""

from __future__ import annotations

import base64
import json
import logging
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
import redis
from sqlalchemy import select, text, update
from sqlalchemy.exc import DBAPIError

from rubric.messages.names import MARK, MARKING, OUTCOMES, PRINTING, RECORD, SKETCH, SKETCHING, STARTED
from service.classes.history import Step, keep
from service.classes.sketches import ask
from service.jobs import open_job
from service.outcomes import read_outcome, record
from service.privacy.erasing import erase_class, erase_pupil
from service.privacy.housekeeping import ONCE_MORE, Housekeeping
from service.privacy.traces import job_of, purge
from service.privacy.withdrawing import WITHDRAWN
from service.records.acts import GoneOrder
from service.records.contest_models import Entry, Publication, SchoolRecord
from service.records.engine import Records
from service.records.models import Job, Notice, Person, School, SchoolClass, Submission, now
from service.sending import Sending
from tests.servers import redis_server
from tests.service import rows
from tests.service.privacy.full import school

NAME, OLD_NAME, HANDLE, ALIAS = "Quillon Zephyrine", "Quilon Zefirin", "zorblewort", "Vexing Quaggabird"
IN_FILE, IN_COMMENT, IN_SHEET = "Xylophagous Girder", "Ponder the wumblejack", "%PDF-1.7 Grunderling sheet"
TRACES = (NAME, OLD_NAME, HANDLE, ALIAS, IN_FILE, IN_COMMENT, IN_SHEET)


@pytest.fixture
def kept(either: Records, tmp_path: Path) -> tuple[Records, str, int]:
    """A pupil who left traces everywhere; the broker, and the pupil's number."""
    broker = str(tmp_path / "broker")
    sending = Sending(either, broker)
    with either.write() as session:
        given = rows.assignment(session)
        rows.hand_in(session, given, rows.student(session, given))
        pupil = rows.student(session, given, OLD_NAME)
        pupil.handle, pupil.alias = HANDLE, ALIAS
        session.flush()
        pupil.name = NAME
        job = rows.hand_in(session, given, pupil, file=f"title: {IN_FILE}\n".encode() + rows.TRUSS)
    sending.send(job)
    with either.write() as session:
        (printing,) = record(session, read_outcome(rows.marked(job))) or []
        record(session, read_outcome(rows.printed(printing, IN_SHEET.encode())))
        found = session.get_one(Submission, job.subject_id)
        found.comments = {"": IN_COMMENT}
        keep(session, found, 1, [Step("comment", after=IN_COMMENT)], None)
        session.add(Notice(class_id=given.class_id, person_id=pupil.id, text=f"Wrong passphrases for {NAME}"))
        printing = open_job(session, "worker.print", found.id)
    sending.send(printing)
    return either, broker, pupil.id


def files(records: Records, broker: str) -> Iterator[Path]:
    """All files in which something of a pupil could stand, PostgreSQL's own journal aside."""
    yield from (file for file in Path(broker).rglob("*") if file.is_file())
    if records.engine.dialect.name == "sqlite":
        folder = Path(records.engine.url.database or "").parent
        yield from (file for file in folder.iterdir() if file.is_file())
        return
    with records.engine.connect().execution_options(isolation_level="AUTOCOMMIT") as connection:
        connection.execute(text("CHECKPOINT"))
        folder = Path(connection.execute(text("SHOW data_directory")).scalar_one())
    yield from (file for part in ("base", "global") for file in (folder / part).rglob("*") if file.is_file())


def found_in(records: Records, broker: str) -> set[str]:
    found = set()
    for file in files(records, broker):
        data = file.read_bytes()
        if file.suffix == ".msg":
            data = base64.b64decode(json.loads(data)["body"]) + _file_of(data)
        found |= {trace for trace in TRACES if trace.encode() in data}
    return found


def _file_of(message: bytes) -> bytes:
    order = json.loads(base64.b64decode(json.loads(message)["body"]))[0][0]
    return base64.b64decode(order.get("file_base64", ""))


def test_before_a_deletion_every_trace_is_found(kept: tuple[Records, str, int]) -> None:
    records, broker, _ = kept
    expected = set(TRACES) - ({OLD_NAME} if records.engine.dialect.name == "sqlite" else set())
    assert expected <= found_in(records, broker)
    assert any(
        NAME.encode() in base64.b64decode(json.loads(f.read_bytes())["body"]) for f in Path(broker).rglob("*.msg")
    )


@pytest.mark.parametrize("whole_class", [False, True])
def test_after_a_deletion_and_the_tidying_no_trace_is_found(
    kept: tuple[Records, str, int], whole_class: bool, caplog: pytest.LogCaptureFixture
) -> None:
    records, broker, number = kept
    caplog.set_level(logging.DEBUG)
    with records.write() as session:
        pupil = session.get_one(Person, number)
        if whole_class:
            erase_class(session, session.get_one(SchoolClass, pupil.class_id), None)
        else:
            erase_pupil(session, pupil, None)
    Housekeeping(records, broker).look()
    assert found_in(records, broker) == set()
    ours = [one.getMessage() + str(vars(one)) for one in caplog.records if one.name.startswith("service")]
    assert len(ours) == 1
    assert not [trace for trace in TRACES if trace in ours[0]]
    with records.read() as session:
        assert session.query(School).one().tidy_at is None


def test_only_messages_about_what_is_gone_are_taken_out(kept: tuple[Records, str, int]) -> None:
    records, broker, number = kept
    with records.read() as session:
        other = session.scalars(
            select(Job).join(Submission, Submission.id == Job.subject_id).where(Submission.student_id != number)
        ).first()
        mine = list(
            session.scalars(
                select(Job.id).join(Submission, Submission.id == Job.subject_id).where(Submission.student_id == number)
            )
        )
    assert other is not None
    Sending(records, broker).send(other)
    assert purge(broker, mine) == 2
    (left,) = Path(broker).rglob("*.msg")
    assert job_of(json.loads(left.read_bytes())) == other.id


def test_starts_and_answers_are_about_a_job_too(kept: tuple[Records, str, int]) -> None:
    records, broker, _ = kept
    celery = Sending(records, broker).celery
    celery.send_task(STARTED, args=[71, "token"], queue=OUTCOMES)
    celery.send_task(RECORD, args=[{"job": 72, "pdf_base64": "x"}], queue=OUTCOMES)
    assert [job_of(json.loads(one.read_bytes())) for one in sorted((Path(broker) / OUTCOMES).glob("*.msg"))] == [71, 72]
    assert purge(broker, {71, 72}) == 2


def test_halves_and_junk_in_the_broker_go_too(tmp_path: Path) -> None:
    (tmp_path / MARKING).mkdir()
    for name in ("1.junk", ".2"):
        (tmp_path / MARKING / name).write_text(NAME)
    assert purge(str(tmp_path), {1}) == 0
    assert list((tmp_path / MARKING).iterdir()) == []


def test_redis_is_cleared_of_what_waits_and_of_what_is_worked_on(records: Records, tmp_path: Path) -> None:
    with redis_server(tmp_path) as (address, _), redis.Redis.from_url(address) as client:
        celery = Sending(records, address).celery
        for job in range(1, 121):
            celery.send_task("worker.print", args=[{"job": job, "student": NAME}], queue=PRINTING)
        message = client.rpop(PRINTING)  # job 1 is taken, not yet acknowledged
        client.hset("unacked", "tag", json.dumps([json.loads(message), "", PRINTING]))
        client.zadd("unacked_index", {"tag": 1})
        assert purge(address, {1, 7, 60, 120}) == 4
        left = {job_of(json.loads(one)) for one in client.lrange(PRINTING, 0, -1)}
        assert left == set(range(2, 121)) - {7, 60, 120}
        assert (client.hlen("unacked"), client.zcard("unacked_index")) == (0, 0)


def test_the_broker_is_looked_through_once_more_when_all_answers_have_come(kept: tuple[Records, str, int]) -> None:
    records, broker, number = kept
    with records.write() as session:
        erase_pupil(session, session.get_one(Person, number), None)
    clock, moment = [1000.0], [now()]
    keeper = Housekeeping(records, broker, lambda: clock[0], lambda: moment[0])
    keeper.look()
    late = Path(broker) / PRINTING / "0_late.msg"
    with records.read() as session:
        gone = session.scalars(select(GoneOrder.job_id)).first()
    body = base64.b64encode(json.dumps([[{"job": gone, "student": NAME}], {}, {}]).encode()).decode()
    late.write_text(json.dumps({"body": body}))
    keeper.look()
    assert late.exists()
    clock[0], moment[0] = clock[0] + ONCE_MORE.total_seconds() + 1, moment[0] + ONCE_MORE + timedelta(seconds=1)
    keeper.look()
    assert not late.exists()
    with records.read() as session:
        assert session.query(GoneOrder).count() == 0


def test_a_broker_that_is_away_is_cleared_later(
    kept: tuple[Records, str, int], caplog: pytest.LogCaptureFixture
) -> None:
    records, _, number = kept
    with records.write() as session:
        erase_pupil(session, session.get_one(Person, number), None)
    Housekeeping(records, "redis://127.0.0.1:1/0").look()
    assert "traces of what was deleted wait to be cleared" in caplog.text
    with records.read() as session:
        assert session.query(School).one().tidy_at is not None


def test_what_is_overwritten_leaves_nothing_in_the_sqlite_file_even_before_the_tidying(records: Records) -> None:
    with records.write() as session:
        rows.student(session, rows.assignment(session), OLD_NAME)
    with records.write() as session:
        session.execute(update(Person).where(Person.name == OLD_NAME).values(name="Nell"))
    with records.engine.begin() as connection:
        connection.execute(text("SELECT 1"))
    raw = records.engine.raw_connection()
    raw.cursor().execute("PRAGMA wal_checkpoint(TRUNCATE)")
    raw.close()
    assert OLD_NAME.encode() not in Path(records.engine.url.database or "").read_bytes()


def test_sketches_go_whoever_typed_them_and_their_numbers_are_no_jobs(records: Records, tmp_path: Path) -> None:
    celery = Sending(records, str(tmp_path)).celery
    celery.send_task(SKETCH, args=[{"job": 5, "file_base64": "eA=="}], queue=SKETCHING)
    celery.send_task(RECORD, args=[{"kind": "sketched", "job": 5}], queue=OUTCOMES)
    celery.send_task(MARK, args=[{"job": 6}], queue=MARKING)
    assert purge(str(tmp_path), {99}) == 2
    (left,) = tmp_path.rglob("*.msg")
    assert job_of(json.loads(left.read_bytes())) == 6


def test_a_sketch_of_a_pupil_who_handed_nothing_in_is_taken_out_of_the_broker(either: Records, tmp_path: Path) -> None:
    with either.write() as session:
        given = rows.assignment(session)
        pupil = rows.student(session, given, NAME)
        sketch = ask(session, pupil.id, given.id, f"title: {IN_FILE}\n".encode())
    sending = Sending(either, str(tmp_path / "broker"))
    sending.look(sketch)
    assert list((tmp_path / "broker" / SKETCHING).glob("*.msg"))
    with either.write() as session:
        erase_pupil(session, session.get_one(Person, pupil.id), None)
    Housekeeping(either, str(tmp_path / "broker")).look()
    assert not list((tmp_path / "broker" / SKETCHING).glob("*.msg"))


def test_published_lists_and_records_keep_the_figures_of_a_deleted_pupil_and_not_the_alias(either: Records) -> None:
    _, gone, _ = school(either)
    with either.write() as session:
        entry = session.scalars(select(Entry).where(Entry.student_id == gone)).one()
        session.get_one(Person, gone).alias = "Another Alias Now"
        line = {"number": entry.number, "alias": ALIAS, "load N": 200.0}
        kept = {"contest_id": entry.contest_id, "rules_id": 1, "by_id": 1}
        other = {"number": 2, "alias": "Calm Otter", "load N": 100.0}
        session.add(Publication(number=1, lines=[line, other], notice="", **kept))
        session.add(Publication(number=2, lines=[line, other], notice=f"{ALIAS} was weighed again.", **kept))
        session.add(
            SchoolRecord(
                contest_id=entry.contest_id, year=2027, alias=ALIAS, contest_title="", division="", efficiency=1.0
            )
        )
        session.flush()
        erase_pupil(session, session.get_one(Person, gone), None)
    with either.read() as session:
        lists = session.scalars(select(Publication).order_by(Publication.number)).all()
        assert [one.lines[0] for one in lists] == [line | {"alias": WITHDRAWN}] * 2
        assert (lists[0].lines[1], lists[1].notice) == (other, "withdrawn was weighed again.")
        assert session.scalars(select(SchoolRecord.alias)).all() == [WITHDRAWN]
    with pytest.raises(DBAPIError), either.write() as session:
        session.execute(update(Publication).values(notice="another"))
