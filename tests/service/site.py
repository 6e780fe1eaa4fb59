"""A whole site of an invented school, with a sender that only notes what it should send.

``site.work()`` plays worker and recorder: it solves and marks for real, and prints a stand-in sheet.
"""

from __future__ import annotations

import base64
import json
import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from rubric import library
from rubric.language import as_language, speaking
from rubric.messages.names import COMPARE, DRAW, MARK, PLAN, TRY
from rubric.messages.orders import CompareOrder, DrawOrder, MarkOrder, SketchOrder
from rubric.messages.outcomes import Planned, Printed
from service.api.tokens import Rate
from service.app import create_app
from service.classes.setting import add_contest, set_assignment
from service.orders import order_for, sketch_order
from service.outcomes import read_outcome, record
from service.people import enrol
from service.records.engine import Records, open_records
from service.records.migrations import upgrade
from service.records.models import COORDINATOR, TEACHER, Assignment, Job, Person, School, Sketch, Version
from service.settings import Settings
from tests.service.ready import content_of, lay, swift, swift_passwords
from worker import marker
from worker.likeness import compare
from worker.sketching import sketch

NO_BROKER = "redis://a-test-must-not-reach-a-broker.invalid:1/0"

GIRDER = b"""\
title: Double-post girder
joints: {a: [0, 0], b: [150, 0], c: [300, 0], e: [450, 0], f: [600, 0], d: [150, 120], h: [300, 120], g: [450, 120]}
members:
  a-b: square5
  b-c: square5
  c-e: square5
  e-f: square5
  a-d: square5 x2
  d-h: square5 x2
  h-g: square5 x2
  g-f: square5 x2
  b-d: square3
  d-c: square5
  h-c: square3
  c-g: square5
  g-e: square3
"""
HEAVY_GIRDER = GIRDER.replace(b"square3", b"square5")
MECHANISM = GIRDER.replace(b"  d-c: square5\n", b"")
MISTAKEN = GIRDER.replace(b"  c-e: square5\n", b"  c-e: sqare5\n")
TOO_DEEP = GIRDER.replace(b"120]", b"190]")


@dataclass
class StubSender:
    """Notes the jobs instead of sending them."""

    sent: list[Job] = field(default_factory=list)
    looked_at: list[Sketch] = field(default_factory=list)

    def send(self, job: Job) -> bool:
        self.sent.append(job)
        return True

    def look(self, sketch: Sketch) -> bool:
        self.looked_at.append(sketch)
        return True


@dataclass
class Site:
    """The application and the people in it, by name."""

    app: Flask
    records: Records
    sender: StubSender
    secrets: dict[str, enrol.SignIn]
    ids: dict[str, int]
    assignment: int
    other_assignment: int
    contest: int

    def visitor(self) -> FlaskClient:
        """Somebody who is not signed in."""
        return self.app.test_client()

    def signed_in(self, name: str) -> FlaskClient:
        """A browser in which this person has signed in."""
        client, one = self.visitor(), self.secrets[name]
        if one.class_code:
            answer = post(client, "/sign-in", class_code=one.class_code, passphrase=one.secret)
        else:
            answer = post(client, "/sign-in/staff", name=one.name, password=one.secret)
        assert answer.status_code == 302, answer.text
        return client

    def hand_in(self, client: FlaskClient, text: bytes = GIRDER, assignment: int = 0) -> int:
        """Paste a truss file; the number of its submission."""
        answer = post(client, f"/assignments/{assignment or self.assignment}/attempts", text=text.decode())
        assert answer.status_code == 303, answer.text
        return int(answer.location.rsplit("/", 1)[1])

    def ask(self, assignment: int = 0, **rubric: Any) -> None:
        """A new version of an assignment, with these keys of the rubric changed."""
        with self.records.write() as session:
            found = session.get_one(Assignment, assignment or self.assignment)
            last = found.newest
            found.versions.append(
                Version(
                    number=last.number + 1,
                    brief=last.brief,
                    rubric=last.rubric | rubric,
                    brief_text=last.brief_text,
                    rubric_text=last.rubric_text,
                )
            )

    def work(self) -> None:
        """Carry out every order that waits, and those that follow from it."""
        while self.sender.sent:
            with self.records.write() as session:
                job = session.get_one(Job, self.sender.sent.pop(0).id)
                order = order_for(session, job)
                assert order is not None
                self.sender.sent += record(session, read_outcome(carry_out(job, order))) or []
        while self.sender.looked_at:
            with self.records.write() as session:
                record(session, read_outcome(_answered(sketch_order(session, self.sender.looked_at.pop(0)))))


def _answered(order: dict[str, Any]) -> dict[str, Any]:
    with speaking(as_language(order.get("language"))):
        return sketch(SketchOrder.model_validate(order)).model_dump(mode="json")


OF_THIS_JOB = ("job", "attempt", "sending")


def carry_out(job: Job, order: dict[str, Any]) -> dict[str, Any]:
    """What a worker would answer in the language of the order, with a stand-in for a sheet."""
    if job.kind in (MARK, TRY, DRAW, COMPARE):
        asked = {key: value for key, value in order.items() if key not in OF_THIS_JOB}
        return json.loads(_outcome(job.kind, json.dumps(asked))) | {"job": job.id, "attempt": job.attempt}
    pdf = base64.b64encode(b"%PDF-1.7 a sheet").decode()
    shape = Planned if job.kind == PLAN else Printed
    return shape(job=job.id, attempt=job.attempt, pdf_base64=pdf).model_dump(mode="json")


@lru_cache(200)
def _outcome(kind: str, asked: str) -> str:
    """The same order gives the same outcome (``worker/marker.py``), so it is worked out once for all tests."""
    order = json.loads(asked) | {"job": 0, "attempt": ""}
    with speaking(as_language(order.get("language"))):
        if kind == DRAW:
            outcome = marker.draw(DrawOrder.model_validate(order)).model_dump(mode="json")
        elif kind == COMPARE:
            outcome = compare(CompareOrder.model_validate(order)).model_dump(mode="json")
        else:
            outcome = marker.mark(MarkOrder.model_validate(order)).model_dump(mode="json")
    return json.dumps(outcome)


def token(client: FlaskClient) -> str:
    """The token that every form of this session carries; from a page that is short, or that of signing in."""
    page = client.get("/account", follow_redirects=True).text
    found = re.search(r'name="csrf_token" value="([^"]+)"', page)
    assert found, page
    return found[1]


def post(client: FlaskClient, address: str, **fields: Any) -> TestResponse:
    """Send a form with the token of this browser's session."""
    fields["csrf_token"] = token(client)
    return client.post(address, data=fields, content_type="multipart/form-data")


@pytest.fixture
def site(records: Records, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Site]:
    """Two classes with an assignment each, their teachers, a coordinator and a contest over both."""
    swift_passwords(monkeypatch)
    with founded(records, tmp_path) as found:
        yield found


@contextmanager
def founded(records: Records, folder: Path) -> Iterator[Site]:
    """The site over an empty SQLite database."""
    school = _school()
    with records.read() as session:
        assert not session.query(School).count()
    lay(school.content, records)
    sender = StubSender()
    with application(settings_for(records, folder), sender) as app:
        with records.read() as session:
            sender.sent += session.query(Job).order_by(Job.id)
        yield Site(app, records, sender, dict(school.secrets), dict(school.ids), *school.numbers)


@dataclass(frozen=True)
class _Founded:
    """The database of a school on its first day; and who may sign in, whose number is which, and those of its work."""

    content: bytes
    secrets: dict[str, enrol.SignIn]
    ids: dict[str, int]
    numbers: tuple[int, int, int]
    """Of the assignment, of that of the other class, and of the contest."""


@cache
def _school() -> _Founded:
    known: list[tuple[dict[str, enrol.SignIn], dict[str, int], tuple[int, int, int]]] = []
    with swift():
        content = content_of(lambda records: known.append(_found(records)))
    return _Founded(content, *known[0])


def _found(records: Records) -> tuple[dict[str, enrol.SignIn], dict[str, int], tuple[int, int, int]]:
    upgrade(records.engine)
    with records.write() as session:
        enrol.set_school(session, "Millbrook School", "Europe/Lisbon")
        sign_ins = enrol.add_class(session, "Otters", "8B", ["Ada Fern", "Ben Holt"])
        sign_ins += enrol.add_class(session, "Herons", "9C", ["Cleo Marsh"])
        sign_ins.append(enrol.add_staff(session, TEACHER, "Tess Birch", ["8B"]))
        sign_ins.append(enrol.add_staff(session, TEACHER, "Owen Reed", ["9C"]))
        sign_ins.append(enrol.add_staff(session, COORDINATOR, "Cora Vale"))
        contest = add_contest(session, "Spring bridges")
        brief, rubric = library.brief_text("footbridge"), library.rubric_text("footbridge")
        given, _ = set_assignment(session, "8B", brief, rubric, contest=contest.title)
        other, _ = set_assignment(session, "9C", brief, rubric, contest=contest.title)
        ids = {one.name: found.id for one in sign_ins for found in session.query(Person).filter_by(name=one.name)}
    return {one.name: one for one in sign_ins}, ids, (given.id, other.id, contest.id)


_IDLE: list[Flask] = []
"""Applications that nobody uses: to compile all routes and templates anew for each test would take most of its time."""


@contextmanager
def application(settings: Settings, sender: StubSender) -> Iterator[Flask]:
    """An application of these settings; nobody else has it meanwhile."""
    app = _IDLE.pop() if _IDLE else create_app(settings, sender)
    app.testing = True
    app.config["SECRET_KEY"] = settings.secret_key
    opened = open_records(settings.database)
    app.extensions |= {"kingpost": opened, "kingpost.sender": sender, "kingpost.rate": Rate()}
    yield app
    opened.engine.dispose()
    _IDLE.append(app)


def settings_for(records: Records, folder: Path) -> Settings:
    """Settings that reach this database and no broker."""
    return Settings(
        data=folder,
        database=records.engine.url.render_as_string(hide_password=False),
        broker=NO_BROKER,
        host="127.0.0.1",
        port=8000,
        trusted_hosts=(),
        proxy_hops=0,
        secure_cookies=False,
    )
