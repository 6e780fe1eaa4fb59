"""A class at one assignment, as the database finds it out: the same as the pure rows, on both databases."""

from __future__ import annotations

import random
from datetime import datetime, timedelta

import pytest

from rubric.rules.attempts import Attempts, Counts
from service.classes import class_rows, overview
from service.records import at_the_desk, queries
from service.records.engine import Records
from service.records.models import MARKED, NOT_MARKED, RECEIVED, Notice, Person, Submission, Teaching
from tests.service.rows import assignment, hand_in, student

NAMES = ("Élodie", "elena", "Zoe", "Ada", "Ben", "Cleo", "Dan", "Finn")


def _fill(records: Records, seed: int) -> tuple[int, int]:
    """A class whose attempts are at random in every state; its assignment and its teacher."""
    dice = random.Random(seed)
    with records.write() as session:
        given = assignment(session)
        given.newest.due = datetime(2027, 3, 15, 16)
        for name in NAMES:
            one = student(session, given, name)
            for number in range(1, dice.randint(0, 4) + 1):
                row = session.get_one(Submission, hand_in(session, given, one, number).subject_id)
                _somehow(dice, row)
                if dice.random() < 0.1:
                    session.add(Notice(class_id=given.class_id, submission_id=row.id, text="Look", settled=False))
        session.flush()
        return given.id, session.query(Teaching).one().person_id


def _somehow(dice: random.Random, row: Submission) -> None:
    row.state = dice.choice([RECEIVED, MARKED, MARKED, MARKED, NOT_MARKED])
    row.handed_in = datetime(2027, 3, 15, 12) + timedelta(hours=dice.randint(0, 8))
    row.total = dice.choice([None, 40.0, 60.0, 60.0, 80.0])
    row.has_mistakes = dice.random() < 0.3
    row.waiting_points = dice.choice([None, 0.0, 10.0])
    row.efficiency, row.on_board = dice.choice([None, 200.0, 300.0]), dice.random() < 0.5
    row.held = dice.random() < 0.3


@pytest.mark.parametrize("counts", ["best", "last", "first"])
def test_the_database_finds_the_same_rows_as_python_does(either: Records, counts: Counts) -> None:
    rule = Attempts(counts=counts)
    number, teacher = _fill(either, seed=11)
    with either.read() as session:
        found = queries.assignment(session, session.get_one(Person, teacher), number)
        assert found is not None
        lines = queries.attempts(session, session.get_one(Person, teacher), number)
        noticed = at_the_desk.noticed(session, number)
        expected = overview.rows(found.school_class.students, lines, rule, noticed)
        heads = class_rows.heads(session, found, rule)
        assert class_rows.full(session, heads) == expected
        assert [head.state for head in heads] == [row.state for row in expected]
        assert len({head.state for head in heads}) > 2
        assert sum(head.held for head in heads) == sum(line.held for line in lines) > 0
        assert [head.to_judge for head in heads] == [bool(r.counts and r.counts.waiting_points) for r in expected]


def test_the_table_is_made_without_reading_all_attempts_themselves(records: Records) -> None:
    number, teacher = _fill(records, seed=12)
    with records.read() as session:
        found = queries.assignment(session, session.get_one(Person, teacher), number)
        assert found is not None
        query = class_rows._statement(found, Attempts(), [1, 2])
        said = str(query.compile(records.engine, compile_kwargs={"literal_binds": True}))
        plan = [row[3] for row in session.connection().exec_driver_sql(f"EXPLAIN QUERY PLAN {said}")]
    over_all = [line for line in plan if "submissions" in line and "number=?" not in line]
    assert len(over_all) == 2
    assert all("COVERING INDEX" in line for line in over_all), plan
