"""The season of the demo, small: over HTTP against the real application, with the marking done here."""

from __future__ import annotations

from collections.abc import Iterator
from threading import Thread

import pytest
from werkzeug.serving import make_server

from service.app import create_app
from service.demo.season import papers, show
from service.demo.season.day import Day
from service.demo.season.school import STAFF, Size, attempts, classes
from service.demo.season.truth import Truth, official, with_ties
from service.demo.visitor import Refused
from service.records.contest_models import RawReading
from tests.service.ready import swift_passwords
from tests.service.site import Site, StubSender, settings_for

SMALL = Size(classes=2, pupils=8, attempts=3, bridges=14)


@pytest.fixture
def played(records, tmp_path, monkeypatch) -> Iterator[tuple[Day, list[Truth], list[tuple[int, int]], list[int]]]:
    """The season up to the published list."""
    swift_passwords(monkeypatch)
    sender = StubSender()
    app = create_app(settings_for(records, tmp_path), sender)
    server = make_server("127.0.0.1", 0, app, threaded=True)
    thread = Thread(target=server.serve_forever)
    thread.start()
    address = f"http://127.0.0.1:{server.server_port}"
    known, _ = show.make_school(records, SMALL)
    show.hand_all_in(address, records, known, SMALL)
    Site(app, records, sender, {}, {}, 0, 0, 1).work()
    day = Day(records, 1, *(show.staff(address, known, name) for name in STAFF))
    day.enter(SMALL.bridges)
    yield (day, *show.play(day))
    server.shutdown()
    thread.join()
    server.server_close()
    app.extensions["kingpost"].engine.dispose()


def test_a_small_season_ends_in_the_list_that_was_worked_out_apart(played, records, tmp_path) -> None:
    day, found, tied, out = played
    assert (len(found), len(out)) == (SMALL.bridges, 2)
    checked = dict(show.check(records, day, found, tied, out))
    assert checked["ties decided by the rules"] == str(len(tied)) != "0"
    with records.read() as session:  # nothing twice, though the network was away and all was sent once more
        assert session.query(RawReading).count() == 2 * len(found) + 2 * 5
    names = papers.save_classes(day.office, records, tmp_path / "out")
    assert "marks-7A.csv" in names
    last = max(official(found, out).items(), key=lambda place: place[1])[0]
    wrong = [Truth(t.number, t.lower, 1.0, 40.0, 150.0) if t.number == last else t for t in found]
    with pytest.raises(Refused, match="differs from the one worked out apart"):
        show.check(records, day, wrong, tied, out)


def test_a_pupil_hands_in_the_same_files_whenever_the_season_is_played() -> None:
    one = classes(SMALL)[0]
    assert attempts(SMALL, one, one.pupils[0]) == attempts(SMALL, one, one.pupils[0])
    assert [each.code for each in classes(Size())] == ["7A", "7B", "8A", "10A", "10B", "11A"]
    assert sum(len(each.pupils) for each in classes(Size())) * Size().attempts == 540


def test_of_bridges_that_are_alike_the_one_named_earlier_stands_first() -> None:
    found = [Truth(n, True, 300.0, 80.0 + n, 20.0) for n in range(1, 7)]
    made, tied = with_ties(found, 3)
    assert tied == [(1, 2), (3, 4), (5, 6)]
    assert official(made, {6}) == {1: 1, 2: 2, 3: 3, 4: 4, 5: 5}
