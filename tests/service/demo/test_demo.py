"""The invented school, filled over HTTP against the real application, served for real."""

from __future__ import annotations

import threading
from collections.abc import Iterator

import pytest
from sqlalchemy import select
from werkzeug.serving import make_server

from service.app import create_app
from service.demo import filling, report
from service.demo.school import classes
from service.demo.visitor import Refused, Visitor
from service.records.models import Submission
from tests.service.site import StubSender, settings_for


@pytest.fixture
def served(records, tmp_path, monkeypatch) -> Iterator[tuple[str, StubSender]]:
    """Address of the application on a free port, and what it would send."""
    sender = StubSender()
    app = create_app(settings_for(records, tmp_path), sender)
    server = make_server("127.0.0.1", 0, app, threaded=True)
    thread = threading.Thread(target=server.serve_forever)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}", sender
    server.shutdown()
    thread.join()
    server.server_close()
    app.extensions["kingpost"].engine.dispose()


def test_every_file_of_the_invented_school_is_handed_in_once_however_often_it_is_begun(
    served, records, tmp_path
) -> None:
    site, sender = served
    drawn: list[object] = []
    known = filling.sign_ins(records, tmp_path, drawn.append)
    assert len(drawn) == 2
    for _ in range(2):
        filling.hand_all_in(Visitor, site, records, filling.sign_ins(records, tmp_path, drawn.append), lambda _: None)
    expected = sorted(h.text.encode() for one in classes() for h in one.hand_ins)
    with records.read() as session:
        assert sorted(session.scalars(select(Submission.file))) == expected
    assert len(expected) >= 36
    assert len(drawn) == 2
    assert len(sender.sent) == len(expected)
    assert "passphrase" not in report.signed(site, known)


def test_a_visitor_says_which_page_refused(served) -> None:
    with pytest.raises(Refused, match="/desk/none answered 404"):
        Visitor(served[0]).get("/desk/none")
