"""Places, settled when marks are released."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubric import library
from rubric.messages.names import PRINT
from rubric.rules.attempts import Attempts
from service.classes.placing import counting, place_among
from service.records.models import Submission
from service.records.queries import Entrant
from tests.service.site import GIRDER, HEAVY_GIRDER, MECHANISM, Site, post

CRITERIA = library.rubric("footbridge").model_dump(mode="json")["criteria"]


def place(among: str = "class", by: str = "efficiency") -> dict[str, Any]:
    return {
        "name": "Place", "kind": "place", "among": among, "by": by, "earns": [[1, 8.0], [2, 4.0]], "points": 8.0,
    }  # fmt: skip


@pytest.fixture
def contest(site: Site) -> Site:
    """The site with points for places, in class 8B, and marks that wait."""
    site.ask(**{"release": "by hand", "out of": 108.0, "criteria": [*CRITERIA, place()]})
    return site


def handed_in(site: Site, name: str, *texts: bytes, assignment: int = 0) -> list[int]:
    found = [site.hand_in(site.signed_in(name), text, assignment) for text in texts]
    site.work()
    return found


def release(site: Site, *attempts: int, **more: str) -> None:
    fields = {"do": "release", "attempt": [str(one) for one in attempts], **more}
    post(site.signed_in("Tess Birch"), f"/staff/assignments/{site.assignment}/release", **fields)


def places(site: Site) -> dict[int, tuple[int, int]]:
    with site.records.read() as session:
        kept = {one.id: one.places.get("Place") for one in session.query(Submission)}
    return {number: (found["place"], found["of"]) for number, found in kept.items() if found}


def test_places_wait_until_the_release_and_then_earn_their_points(contest: Site) -> None:
    [ada], [ben] = handed_in(contest, "Ada Fern", GIRDER), handed_in(contest, "Ben Holt", HEAVY_GIRDER)
    assert "not settled yet" in contest.signed_in("Tess Birch").get(f"/attempts/{ada}").text
    release(contest, which="all")
    assert places(contest) == {ada: (1, 2), ben: (2, 2)}
    assert sorted(job.kind for job in contest.sender.sent) == [PRINT, PRINT]
    page = contest.signed_in("Ada Fern").get(f"/attempts/{ada}").text
    assert "place 1 of 2 in the class" in page
    assert "98 of 108 points" in page


def test_who_is_level_shares_a_place_and_a_mechanism_has_none(contest: Site) -> None:
    [ada], ben = handed_in(contest, "Ada Fern", GIRDER), handed_in(contest, "Ben Holt", GIRDER, MECHANISM)
    release(contest, which="all")
    assert places(contest) == {ada: (1, 2), ben[0]: (1, 2)}


def test_a_place_does_not_depend_on_who_is_released_first(contest: Site) -> None:
    [ada], [ben] = handed_in(contest, "Ada Fern", HEAVY_GIRDER), handed_in(contest, "Ben Holt", GIRDER)
    release(contest, ada)
    assert places(contest) == {ada: (2, 2)}
    release(contest, ben)
    assert places(contest) == {ada: (2, 2), ben: (1, 2)}


def test_each_attempt_is_compared_with_others_but_never_with_the_students_own(contest: Site) -> None:
    ada, [ben] = handed_in(contest, "Ada Fern", GIRDER, HEAVY_GIRDER), handed_in(contest, "Ben Holt", HEAVY_GIRDER)
    release(contest, which="all")
    assert places(contest) == {ada[0]: (1, 2), ada[1]: (1, 2), ben: (2, 2)}


def test_a_later_hand_in_is_placed_at_the_next_release_and_a_given_place_stays(contest: Site) -> None:
    [ada] = handed_in(contest, "Ada Fern", HEAVY_GIRDER)
    release(contest, which="all")
    [ben] = handed_in(contest, "Ben Holt", GIRDER)
    assert places(contest) == {ada: (1, 1)}
    release(contest, which="all")
    assert places(contest) == {ada: (1, 1), ben: (1, 2)}


def test_a_place_settled_anew_is_told_to_who_had_another(contest: Site) -> None:
    [ada] = handed_in(contest, "Ada Fern", HEAVY_GIRDER)
    release(contest, which="all")
    handed_in(contest, "Ben Holt", GIRDER)
    teacher = contest.signed_in("Tess Birch")
    post(teacher, f"/attempts/{ada}/release", do="hold")
    release(contest, ada, places="anew")
    assert places(contest)[ada] == (2, 2)
    assert "from 98 to 94 points." in contest.signed_in("Ada Fern").get(f"/attempts/{ada}").text
    history = teacher.get(f"/attempts/{ada}").text
    assert "place 1 of 1" in history
    assert "place 2 of 2" in history


def test_places_in_the_contest_count_all_its_classes(contest: Site) -> None:
    contest.ask(criteria=[*CRITERIA, place("contest")])
    [cleo] = handed_in(contest, "Cleo Marsh", GIRDER, assignment=contest.other_assignment)
    [ada] = handed_in(contest, "Ada Fern", HEAVY_GIRDER)
    release(contest, which="all")
    assert places(contest) == {ada: (2, 2)}
    assert cleo not in places(contest)


def test_where_the_rubric_says_by_hand_no_setting_lets_marks_go_at_once(contest: Site) -> None:
    teacher = contest.signed_in("Tess Birch")
    address = f"/staff/assignments/{contest.assignment}/release"
    assert "The rubric says <code>release: by hand</code>" in teacher.get(address).text
    post(teacher, f"{address}/setting", release="at once")
    [ada] = handed_in(contest, "Ada Fern", GIRDER)
    assert "Your truss stands" in contest.signed_in("Ada Fern").get(f"/attempts/{ada}").text


@given(st.floats(1, 5000), st.lists(st.floats(1, 5000), max_size=20))
def test_a_place_is_one_more_than_those_ahead(value: float, others: list[float]) -> None:
    entrants = [Entrant(number, 50, other) for number, other in enumerate(others)]
    found, turned = place_among(value, entrants, "efficiency"), place_among(value, entrants[::-1], "efficiency")
    assert found == turned
    assert found.place == 1 + sum(round(other, 1) > round(value, 1) for other in others)
    assert found.of == 1 + len(others)


def test_where_less_is_better_the_lightest_is_first() -> None:
    others = [Entrant(1, 50, 40.0), Entrant(2, 50, 60.0), Entrant(3, 50, None)]
    assert place_among(50.0, others, "mass").model_dump() == {"place": 2, "of": 3}
    assert place_among(40.001, others, "mass").place == 1


def test_of_each_student_the_attempt_that_counts_is_compared() -> None:
    own = [Entrant(1, 50, 300), Entrant(1, 80, 200), Entrant(1, 60, 100), Entrant(2, 10, 900)]
    values = {rule: [one.value for one in counting(own, Attempts(counts=rule))] for rule in ("best", "last", "first")}
    assert values == {"best": [200, 900], "last": [100, 900], "first": [300, 900]}
