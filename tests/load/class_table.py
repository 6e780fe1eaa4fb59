"""The table of a class at one assignment, with 2,000 pupils and 50,000 attempts: time and statements of a page.

``python -m tests.load.class_table [FOLDER]``; the school is made once in FOLDER, else in a folder of its own.
``--postgresql`` asks a PostgreSQL of its own.  Times are of this process alone (the database's own on PostgreSQL not).
"""

from __future__ import annotations

import json
import random
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import timedelta
from pathlib import Path

from flask.testing import FlaskClient
from sqlalchemy import Engine, event, insert, select, text

from rubric import library
from service.app import create_app
from service.classes.setting import set_assignment
from service.classes.teaching import ON_A_PAGE
from service.people.enrol import SignIn, add_class, add_staff, set_school
from service.records.engine import Records, open_records
from service.records.migrations import upgrade
from service.records.models import MARKED, RECEIVED, STUDENT, TEACHER, Assignment, Person, Submission, now
from tests.servers import postgresql_server
from tests.service.site import StubSender, post, settings_for

PUPILS, ATTEMPTS = 2000, 25
ASKED_MS, ROUNDS = 100, 7
FIRST = ("Ada", "Ben", "Cleo", "Dan", "Élodie", "Finn", "Gus", "Hana")


def measure(folder: Path, address: str) -> list[str]:
    """Lines that say how long each page took and how many statements it needed."""
    records = open_records(address)
    upgrade(records.engine)
    teacher = _school(records, folder)
    client, number = _signed_in(records, folder, teacher), _assignment(records)
    pages = {
        "class table": f"/staff/assignments/{number}",
        "its last page": f"/staff/assignments/{number}?page={PUPILS // ON_A_PAGE}",
        "those who need attention": f"/staff/assignments/{number}?state=needs+attention",
        "one name": f"/staff/assignments/{number}?name=Cleo",
        "rows alone": f"/staff/assignments/{number}/rows",
        "desk of the teacher": "/staff",
    }
    return [_line(name, *_timed(records.engine, client, path)) for name, path in pages.items()]


def _line(name: str, wall_ms: float, cpu_ms: float, size_kb: float, statements: int) -> str:
    asked = f" (asked: {ASKED_MS} ms or less)" if name == "class table" else ""
    return f"{name}: {wall_ms:.0f} ms, processor {cpu_ms:.0f} ms{asked}, {statements} statements, {size_kb:.0f} KB"


def _timed(engine: Engine, client: FlaskClient, path: str) -> tuple[float, float, float, int]:
    walls, cpus, size, statements = [], [], 0, 0
    for _ in range(ROUNDS):
        with _counted(engine) as count:
            wall, cpu = time.perf_counter(), time.process_time()
            answer = client.get(path)
            walls.append(time.perf_counter() - wall)
            cpus.append(time.process_time() - cpu)
        assert answer.status_code == 200, answer.status
        size, statements = len(answer.data), len(count)
    return 1e3 * min(walls), 1e3 * min(cpus), size / 1024, statements


@contextmanager
def _counted(engine: Engine) -> Iterator[list[str]]:
    seen: list[str] = []

    def note(*given: object) -> None:
        seen.append(str(given[2]))

    event.listen(engine, "before_cursor_execute", note)
    try:
        yield seen
    finally:
        event.remove(engine, "before_cursor_execute", note)


def _signed_in(records: Records, folder: Path, teacher: SignIn) -> FlaskClient:
    app = create_app(settings_for(records, folder), StubSender())
    app.extensions["kingpost"] = records
    client = app.test_client()
    post(client, "/sign-in/staff", name=teacher.name, password=teacher.secret)
    return client


def _assignment(records: Records) -> int:
    with records.read() as session:
        return session.scalars(select(Assignment.id)).one()


def _school(records: Records, folder: Path) -> SignIn:
    kept = folder / "teacher.json"
    if kept.exists():
        return SignIn(**json.loads(kept.read_text("utf-8")))
    with records.write() as session:
        set_school(session, "Lantern Hill School")
        add_class(session, "Class 8B", "8B", ["Nell Reed"])
        teacher = add_staff(session, TEACHER, "Tess Birch", ["8B"])
        brief, rubric = library.brief_text("footbridge"), library.rubric_text("footbridge")
        given, _ = set_assignment(session, "8B", brief, rubric)
        class_id, assignment, version = given.class_id, given.id, given.newest.id
    pupils = [_pupil(number, class_id) for number in range(1, PUPILS)]
    with records.write() as session:
        session.execute(insert(Person), pupils)
        ids = session.scalars(select(Person.id).where(Person.role == STUDENT)).all()
    dice = random.Random(8)
    for one in ids[: PUPILS * 19 // 20]:
        with records.write() as session:
            session.execute(insert(Submission), [_attempt(dice, assignment, version, one, n) for n in range(1, 27)])
    if records.engine.dialect.name == "postgresql":  # as its own housekeeping does within minutes
        with records.engine.connect().execution_options(isolation_level="AUTOCOMMIT") as connection:
            connection.execute(text("VACUUM (ANALYZE)"))
    kept.write_text(json.dumps(teacher.__dict__), "utf-8")
    return teacher


def _pupil(number: int, class_id: int) -> dict[str, object]:
    name = f"{FIRST[number % len(FIRST)]} Pupil-{number}"
    return {"role": STUDENT, "name": name, "class_id": class_id, "handle": f"w{number}", "secret_hash": "none"}


def _attempt(dice: random.Random, assignment: int, version: int, student: int, number: int) -> dict[str, object]:
    waits = number == ATTEMPTS and dice.random() < 0.1
    return {
        "assignment_id": assignment,
        "version_id": version,
        "student_id": student,
        "number": number,
        "file_name": "bridge.yaml",
        "file": b"x" * 1500,
        "file_sha256": "0" * 64,
        "handed_in": now() - timedelta(minutes=30 * (ATTEMPTS - number)),
        "state": RECEIVED if waits else MARKED,
        "outcome": None if waits else {"told": "x" * 5000},
        "total": None if waits else float(dice.randint(20, 90)),
        "out_of": 100.0,
        "waiting_points": 10.0 if dice.random() < 0.2 else 0.0,
        "efficiency": float(dice.randint(100, 900)),
        "on_board": not waits and dice.random() < 0.8,
        "has_mistakes": dice.random() < 0.1,
        "stable": True,
    }


def _run(folder: Path, server: bool) -> None:
    if server:
        with postgresql_server() as address:
            print("\n".join(measure(folder, address)))
        return
    print("\n".join(measure(folder, f"sqlite:///{folder}/kingpost.sqlite")))


if __name__ == "__main__":
    given = [word for word in sys.argv[1:] if not word.startswith("--")]
    with tempfile.TemporaryDirectory() as own:
        chosen = Path(given[0]) if given else Path(own)
        chosen.mkdir(parents=True, exist_ok=True)
        _run(chosen, "--postgresql" in sys.argv)
