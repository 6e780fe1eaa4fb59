"""Boards: best attempts, shared ranks, aliases."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from service.contest.board import own_standing, places
from service.records import queries
from service.records.engine import Records
from service.records.models import MARKED, Submission
from service.records.queries import BoardLine
from tests.service import rows
from tests.service.site import GIRDER, HEAVY_GIRDER, TOO_DEEP, Site


def lines(*efficiencies: float) -> list[BoardLine]:
    ordered = sorted(efficiencies, reverse=True)
    return [BoardLine(n, n, f"Alias {n}", value) for n, value in enumerate(ordered)]


def test_equal_efficiency_shares_a_rank_and_the_next_rank_is_left_out() -> None:
    assert [place.rank for place in places(lines(500, 400, 400, 300))] == [1, 2, 2, 4]


def test_what_looks_equal_is_equal() -> None:
    assert [place.rank for place in places(lines(400.04, 399.96, 399.9))] == [1, 1, 3]


@given(st.lists(st.floats(0, 5000), max_size=30))
def test_a_rank_is_one_more_than_those_ahead(values: list[float]) -> None:
    found = places(lines(*values))
    assert [place.rank for place in found] == sorted(place.rank for place in found)
    assert all(place.rank == 1 + sum(o.efficiency > place.efficiency for o in found) for place in found)


def test_who_is_not_on_the_board_has_no_standing() -> None:
    assert own_standing(lines(500), 7) is None


def test_the_best_attempt_on_the_board_counts_on_either_database(either: Records) -> None:
    with either.write() as session:
        given = rows.assignment(session)
        nell, finn = rows.student(session, given), rows.student(session, given, "Finn Ash")
        for student, number, efficiency, on_board in (
            (nell, 1, 300.0, True),
            (nell, 2, 450.0, True),
            (nell, 3, 900.0, False),
            (finn, 1, 450.0, True),
            (finn, 2, None, True),
        ):
            job = rows.hand_in(session, given, student, number)
            found = session.get_one(Submission, job.subject_id)
            found.state, found.efficiency, found.on_board = MARKED, efficiency, on_board
            found.outcome = {"measures": {"failure load": 210.5, "mass": 48.25}}
    with either.read() as session:
        board = queries.assignment_board(session, given.id)
        assert [(line.student_id, line.efficiency) for line in board] == [(nell.id, 450.0), (finn.id, 450.0)]
        details = queries.loads_and_masses(session, [board[0].submission_id])
        assert details == {board[0].submission_id: (210.5, 48.25)}


def test_the_class_board_shows_own_class_and_the_contest_board_all(site: Site) -> None:
    site.hand_in(site.signed_in("Ada Fern"), HEAVY_GIRDER)
    site.hand_in(site.signed_in("Cleo Marsh"), GIRDER, site.other_assignment)
    site.work()
    ada = site.signed_in("Ada Fern")
    own = ada.get(f"/boards/assignments/{site.assignment}").text
    everybody = ada.get(f"/boards/contests/{site.contest}").text
    assert "1 student on the board" in own
    assert "2 students on the board" in everybody
    assert everybody.index("646.4") < everybody.index("(you)")


def test_a_truss_that_breaks_a_limit_is_not_on_the_board(site: Site) -> None:
    client = site.signed_in("Ada Fern")
    site.hand_in(client, TOO_DEEP)
    site.work()
    page = client.get(f"/boards/assignments/{site.assignment}").text
    assert "Nobody is on the board yet." in page
    assert "You are not on the board yet." in page


def test_beyond_the_tenth_place_only_the_student_sees_the_row(site: Site) -> None:
    client = site.signed_in("Ada Fern")
    site.hand_in(client)
    site.work()
    with site.records.write() as session:
        from service.people import enrol
        from service.records.models import Person

        enrol.add_class(session, "Many", "10A", [f"Student {n}" for n in range(11)])
        own = session.query(Submission).one()
        for person in session.query(Person).filter(Person.class_id == 3):
            session.add(
                Submission(
                    assignment_id=own.assignment_id, version_id=own.version_id, student_id=person.id, number=1,
                    file_name="a", file=b"a", file_sha256="", state="marked", on_board=True, efficiency=700.0 + person.id, judgements={},
                )
            )  # fmt: skip
    page = client.get(f"/boards/assignments/{site.assignment}").text
    assert "Your own place, 12th of 12: only you see it here" in page
    assert "646.4" not in site.signed_in("Ben Holt").get(f"/boards/assignments/{site.assignment}").text
