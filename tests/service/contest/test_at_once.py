"""Two people at two stations enter the same bridge in the same instant: one result, and one clear message."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from threading import Barrier

import pytest
from sqlalchemy.orm import Session

from service.contest import rulebook
from service.contest.measuring import Taken, Typed, open_station, safety_list, take
from service.records.contest_models import LOAD_TEST, WEIGH_IN, Entry, RawReading, Station
from service.records.engine import Records
from service.records.models import TEACHER, Contest, Person, Submission
from tests.service import rows

BRIDGES = 6
VALUES = ("20.5", "21")


@dataclass(frozen=True)
class Day:
    """Two of the staff, each with a scale and a rig."""

    records: Records
    people: tuple[int, int]
    scales: tuple[int, int]
    rigs: tuple[int, int]


@pytest.fixture
def day(either: Records) -> Day:
    """Bridges that are entered, on a database of each kind."""
    with either.write() as session:
        contest = Contest(title="Bridge day")
        people = [Person(role=TEACHER, name=n, sign_in_name=n, secret_hash="none") for n in ("Tess", "Owen")]
        session.add_all([contest, *people])
        session.flush()
        rulebook.save(session, contest, "title: T\nrig: {unit: kg, most: 400 N}\n", "", None)
        entries(session, contest.id)
        safe = safety_list(rulebook.in_force(session, contest.id)[1])
        scales = [open_station(session, one, contest.id, WEIGH_IN, f"Scale of {one.name}", []).id for one in people]
        rigs = [open_station(session, one, contest.id, LOAD_TEST, f"Rig of {one.name}", safe).id for one in people]
        return Day(either, (people[0].id, people[1].id), (scales[0], scales[1]), (rigs[0], rigs[1]))


def entries(session: Session, contest: int) -> None:
    given = rows.assignment(session)
    for number in range(1, BRIDGES + 1):
        pupil = rows.student(session, given, f"P{number}")
        subject = session.get_one(Submission, rows.hand_in(session, given, pupil).subject_id)
        entry = Entry(contest_id=contest, student_id=pupil.id, submission_id=subject.id, number=number, division="All")
        session.add(entry)


def at_once(day: Day, stations: tuple[int, int], keys: tuple[str, str], number: int) -> list[str]:
    """Both press Keep together; what each of them reads, nothing where it was kept."""
    together = Barrier(2)

    def press(who: int) -> str:
        typed = Typed(keys[who], str(number), VALUES[who], "kg", sure=True)
        together.wait()
        try:
            with day.records.write() as session:
                take(session, session.get_one(Person, day.people[who]), session.get_one(Station, stations[who]), typed)
        except Taken as taken:
            return str(taken)
        return ""

    with ThreadPoolExecutor(2) as pool:
        return list(pool.map(press, (0, 1)))


def kept(day: Day, number: int) -> list[RawReading]:
    with day.records.read() as session:
        return session.query(RawReading).join(Entry).filter(Entry.number == number).all()


@pytest.mark.parametrize("kind", ["scales", "rigs"])
def test_of_two_readings_at_once_one_is_kept_and_the_other_hears_of_it(day: Day, kind: str) -> None:
    stations, word = getattr(day, kind), {"scales": "weighed", "rigs": "tested"}[kind]
    for number in range(1, BRIDGES + 1):
        said = at_once(day, stations, (f"one-{number:06}", f"other-{number:06}"), number)
        (row,) = kept(day, number)
        loser = said.index(max(said))
        assert said[1 - loser] == ""
        assert row.key.startswith(("other", "one")[loser])
        first = f"Number {number} was {word} already: "
        assert said[loser].startswith(first)
        assert f"by {('Owen', 'Tess')[loser]}. Your {VALUES[loser]} was not kept." in said[loser]


def test_one_reading_that_is_sent_twice_at_once_is_kept_once_and_nobody_is_bothered(day: Day) -> None:
    for number in range(1, BRIDGES + 1):
        key = f"same-{number:06}"
        assert at_once(day, (day.rigs[0], day.rigs[0]), (key, key), number) == ["", ""]
        assert len(kept(day, number)) == 1
