"""Log lines hold numbers and no names, through every flow that a person walks."""

from __future__ import annotations

import logging

import pytest

from rubric.logs import Fields
from service.privacy.housekeeping import Housekeeping
from service.recorder import intake
from service.records.models import Job, Person, School, SchoolClass
from service.sending import Sending
from service.sweep import give_up
from tests.service.site import GIRDER, MISTAKEN, Site, post

SECRETIVE = GIRDER.replace(b"Double-post girder", b"Wumblejack bridge")


class Lines(logging.Handler):
    """All lines as they would be written, from every logger."""

    def __init__(self) -> None:
        super().__init__(logging.DEBUG)
        self.setFormatter(Fields("%(levelname)s %(name)s: %(message)s"))
        self.lines: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        if not record.name.startswith(("sqlalchemy", "kombu", "amqp")):  # libraries that are quiet as deployed
            self.lines.append(self.format(record))


@pytest.fixture
def lines() -> Lines:
    handler, root = Lines(), logging.getLogger()
    level = root.level
    root.addHandler(handler)
    root.setLevel(logging.INFO)
    yield handler  # type: ignore[misc]
    root.removeHandler(handler)
    root.setLevel(level)


def walk(site: Site, broker: str) -> None:
    """A day at school: wrong words, hand-ins, marks, faults, a crash, and a deletion."""
    ada, tess, cora = (site.signed_in(name) for name in ("Ada Fern", "Tess Birch", "Cora Vale"))
    for phrase in ("wrong-words-here", site.secrets["Ada Fern"].secret + "x"):
        post(site.visitor(), "/sign-in", class_code="8B", passphrase=phrase)
    number = site.hand_in(ada, SECRETIVE)
    site.hand_in(site.signed_in("Ben Holt"), MISTAKEN)
    site.work()
    post(tess, f"/attempts/{number}/release", do="hold", why="Wumblejack")
    post(tess, f"/staff/students/{site.ids['Ben Holt']}/passphrase")
    post(tess, "/staff/classes/1/list", list="Name\nAda Fern\nNora Pine\n")
    post(cora, "/staff/office/people", name="Nora Pine", role="teacher")
    sending = Sending(site.records, broker)
    with site.records.read() as session:
        job = session.query(Job).filter_by(kind="worker.print").first()
        assert job is not None
        Sending(site.records, "redis://127.0.0.1:1/0").send(job)
    intake.take_in(site.records, sending, {"job": job.id, "student": "Ada Fern", "kind": "x"})
    intake.started(site.records, "Ada Fern", "token")
    with site.records.write() as session:
        waiting = session.query(Job).filter_by(kind="worker.mark").first()
        assert waiting is not None
        waiting.state = "waiting"
        give_up(session, waiting)
    post(tess, f"/staff/students/{site.ids['Ada Fern']}/delete", typed="Ada Fern")
    Housekeeping(site.records, broker).look()


def test_no_line_holds_a_name_a_word_or_a_piece_of_a_file(site: Site, lines: Lines, tmp_path, monkeypatch) -> None:  # type: ignore[no-untyped-def]
    with site.records.read() as session:
        people = session.query(Person).all()
        names = {one.name for one in people} | {one.alias for one in people if one.alias}
        names |= {session.query(School).one().name} | {one.name for one in session.query(SchoolClass)}
        keys = {key for one in people for key in (one.handle, one.session_key, one.secret_hash) if key}
    secrets = {one.secret for one in site.secrets.values()}
    walk(site, str(tmp_path / "broker"))
    client = site.signed_in("Cleo Marsh")
    monkeypatch.setattr("service.classes.desk.queries.assignment", lambda *_: 1 / 0)
    assert client.get(f"/assignments/{site.other_assignment}").status_code == 500
    text = "\n".join(lines.lines)
    assert len(lines.lines) >= 5
    for word in {*names, *keys, *secrets, "Nora Pine", "Wumblejack", "Ada", "Fern", "wrong-words"}:
        assert word not in text, (word, text)
