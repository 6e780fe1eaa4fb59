"""A contest day with 150 bridges of six classes: two stations of each kind, the network away twice, five typing slips
corrected, three ties, two disqualifications and a protest; the official list equals one computed here from the truth.
"""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

import pytest
from sqlalchemy.orm import Session

from service.contest import rulebook
from service.contest.complaints import answer, confirm, protest, rule
from service.contest.entering import Asked, draw_order, freeze, name_entry
from service.contest.measuring import Question, Taken, Typed, open_station, safety_list, take, undo
from service.contest.publishing import publish
from service.contest.recomputing import differences
from service.contest.standings import standings
from service.records.contest_models import DISQUALIFIED, LOAD_TEST, WEIGH_IN, Entry, Publication, RawReading, Station
from service.records.engine import Records
from service.records.models import (
    COORDINATOR,
    MARKED,
    STUDENT,
    TEACHER,
    Assignment,
    Contest,
    Person,
    SchoolClass,
    Submission,
    Version,
)
from tests.service.contest.day import BEFORE

RULES = """\
title: Season
divisions: [{name: Lower, classes: [A, B, C]}, {name: Upper, classes: [D, E, F]}]
weigh in: {mass: 60 g}
over mass: {free: 1 g, per gram: 2 %, most: 20 %, out at: 75 g}
ties: [less mass, named earlier]
rig: {unit: kg, tare: 0.4, gear: 250 g, gravity: 9.81, most: 800 N, calibrated: 2027-03-01, points: [[0.4, 0], [10.4, 9.9], [20.4, 19.8], [60.4, 59.4]]}
"""
OUT = {17, 101}
TIES = ((10, 11), (60, 61), (120, 121))


@dataclass(frozen=True)
class Truth:
    """What the scale and the display really showed."""

    number: int
    mass_g: float
    reading_kg: float

    @property
    def load_N(self) -> float:
        """By the rules above: 0.99 of the reading less the tare, and the gear."""
        return (0.99 * (self.reading_kg - 0.4) + 0.25) * 9.81

    @property
    def score(self) -> float:
        over = max(0, -(-round((self.mass_g - 61) * 1000) // 1000))
        return self.load_N / (self.mass_g / 1000 * 9.80665) * (1 - min(0.2, 0.02 * over))


def truths() -> list[Truth]:
    """150 bridges, of which three pairs are level at first sight: the lighter, then the earlier stands first."""
    random = Random(7)
    made = [Truth(n, round(random.uniform(40, 80), 1), round(random.uniform(8, 40), 2)) for n in range(1, 151)]
    for one, other in TIES:
        made[one - 1] = Truth(one, 52.3, round(20 + one / 50, 2))
        made[other - 1] = Truth(other, 52.3, made[one - 1].reading_kg)
    return made


def expected() -> dict[int, int]:
    """Places worked out here, by the numbers alone: 1 to 75 are of the lower classes."""
    found = {}
    for half in (range(1, 76), range(76, 151)):
        ranked = [t for t in truths() if t.number in half and t.number not in OUT and t.mass_g < 75]
        ordered = sorted(ranked, key=lambda t: (-round(t.score, 1), t.mass_g, t.number))
        found |= {t.number: place for place, t in enumerate(ordered, 1)}
    return found


def school(session: Session) -> tuple[Person, Person, int]:
    """Six classes of 25 in a contest, each pupil with an attempt that is marked; two of the staff."""
    staff = [Person(role=role, name=role, sign_in_name=role, secret_hash="none") for role in (COORDINATOR, TEACHER)]
    contest = Contest(title="Season")
    session.add_all([*staff, contest])
    session.flush()
    number = 0
    for code in "ABCDEF":
        school_class = SchoolClass(code=code, name=code)
        session.add(school_class)
        session.flush()
        version = Version(number=1, brief={}, rubric={}, brief_text="", rubric_text="")
        work = Assignment(class_id=school_class.id, contest_id=contest.id, title=code, versions=[version])
        session.add(work)
        for _ in range(25):
            number += 1
            pupil = Person(
                role=STUDENT,
                name=f"P{number}",
                alias=f"Alias {number}",
                class_id=school_class.id,
                handle=str(number),
                secret_hash="none",
            )
            session.add(pupil)
            session.flush()
            truth = truths()[number - 1]
            measures = {"mass": truth.mass_g * 0.97, "failure load": truth.load_N * 1.2}
            session.add(
                Submission(assignment_id=work.id, version_id=version.id, student_id=pupil.id, number=1, file_name="b", file=b"", file_sha256="0",
                           state=MARKED, outcome={"measures": measures, "analysis": {"first_failure": {"member": "a-b", "mode": "buckling"}, "members": []}})
            )  # fmt: skip
    session.flush()
    return staff[0], staff[1], contest.id


def send(records: Records, by: int, station: int, typed: Typed) -> str:
    """As a browser sends it, with the question answered; what became of it."""
    try:
        with records.write() as session:
            take(session, session.get_one(Person, by), session.get_one(Station, station), typed)
    except Question:
        return send(records, by, station, Typed(typed.key, typed.number, typed.value, typed.unit, sure=True))
    except Taken:
        return "taken"
    return "kept"


@pytest.fixture
def season(records: Records) -> tuple[Records, int, int, int]:
    """All entered, frozen and in a running order."""
    with records.write() as session:
        one, other, contest = school(session)
        rulebook.save(session, session.get_one(Contest, contest), RULES, "", None)
        for submission in session.query(Submission).order_by(Submission.id).all():
            name_entry(session, one, submission, Asked(), BEFORE)
        assert freeze(session, contest) == 150
        draw_order(session, contest, 3)
        return records, contest, one.id, other.id


def test_the_official_list_of_a_season_equals_an_independent_one(season: tuple[Records, int, int, int]) -> None:
    records, contest, one, other = season
    with records.write() as session:
        people = [session.get_one(Person, id_) for id_ in (one, other)]
        safe = safety_list(rulebook.in_force(session, contest)[1])
        scales = [open_station(session, who, contest, WEIGH_IN, f"Scale {who.id}", []).id for who in people]
        rigs = [open_station(session, who, contest, LOAD_TEST, f"Rig {who.id}", safe).id for who in people]
        order = [entry.number for entry in session.query(Entry).order_by(Entry.running)]
    slips, away, sent = set(order[20:25]), [], []
    for place, number in enumerate(order):
        truth, turn = truths()[number - 1], place % 2
        mass = truth.mass_g * 10 if number in slips else truth.mass_g  # a decimal point that slipped
        todo = [
            (scales[turn], Typed(f"mass-{number:04}", str(number), f"{mass:.1f}")),
            (rigs[turn], Typed(f"load-{number:04}", str(number), str(truth.reading_kg), "kg")),
        ]
        away += todo
        if place in range(40, 55) or place in range(90, 110):
            continue  # the network is away: the browsers keep what is typed
        for station, typed in away:
            sent.append(send(records, (one, other)[turn], station, typed))
        if place in (55, 110):  # back again, and an answer was lost on the way: everything is sent once more
            again = [send(records, (one, other)[turn], station, typed) for station, typed in away]
            assert set(again) == {"kept"}
        away = []
    assert sent == ["kept"] * 300
    assert send(records, other, rigs[1], Typed("load-second", "5", "9", "kg")) == "taken"
    with records.write() as session:
        for row in session.query(RawReading).filter(RawReading.key.in_([f"mass-{n:04}" for n in slips])).all():
            undo(session, session.get_one(Person, one), row, f"undo-{row.id:04}", "The point slipped.")
    for number in slips:
        assert (
            send(records, one, scales[0], Typed(f"right-{number:03}", str(number), str(truths()[number - 1].mass_g)))
            == "kept"
        )
    finish(records, contest, one)
    with records.read() as session:
        public = session.query(Publication).one()
        assert {line["number"]: line["place"] for line in public.lines if line["place"]} == expected()
        for line in public.lines:
            truth = truths()[line["number"] - 1]
            assert (line["mass g"], line["load N"]) == (truth.mass_g, pytest.approx(truth.load_N))
        parted = {line["number"]: line["decided by"] for line in public.lines}
        assert all(parted[number] == "named earlier" for pair in TIES for number in pair)
        assert differences(session, public) == []
        assert session.query(RawReading).count() == 300 + 2 * len(slips)


def finish(records: Records, contest: int, one: int) -> None:
    """Two disqualifications, a protest with its answer, a second pair of eyes by a third person, the list."""
    with records.write() as session:
        who = session.get_one(Person, one)
        entries = {entry.number: entry for entry in session.query(Entry)}
        for number in OUT:
            rule(session, who, entries[number], DISQUALIFIED, "Metal in a joint.")
        answer(who, protest(session, who, entries[33], "It was loaded too fast."), "The film shows 12 s.")
        third = Person(role=TEACHER, name="Third", sign_in_name="third", secret_hash="none")
        session.add(third)
        session.flush()
        for number in standings(session, contest).unconfirmed:
            confirm(session, third, entries[number])
        publish(session, who, session.get_one(Contest, contest), "")
