"""Problems whose answer is known: the brief gives the truss, students hand in their working alone."""

from __future__ import annotations

import pytest

from rubric import library
from rubric.brief import Brief
from rubric.problems import Refused
from worker.feedback.figures import envelope
from worker.marker import mark_file
from worker.truss.reader import read_truss

BRIEF, RUBRIC = library.brief("forces-by-hand"), library.rubric("forces-by-hand")
RIGHT = b"""title: Mine
working:
  reactions: {a: 45 up, d: 45 up}
  forces: {a-b: 60 T, b-c: 60 T, c-d: 60 T, a-e: 75 C, e-f: 60 C, f-d: 75 C, e-b: 45 T, f-c: 45 T}
  zero members: [e-c]
"""


def test_working_that_is_right_earns_all_points_and_no_place_on_a_board() -> None:
    found = mark_file(RIGHT, BRIEF, RUBRIC)
    assert (found.mistakes, found.marks.total, found.marks.out_of) == ((), 30, 30)
    assert [row.seen for row in found.marks.criteria] == ["2 of 2 right", "9 of 9 right", "1 of 1 right"]
    assert not found.on_board


def test_a_file_that_brings_its_own_truss_and_no_working_is_told() -> None:
    with pytest.raises(Refused) as refused:
        read_truss(b"joints: {a: [0, 0]}\n", BRIEF)
    assert [str(problem) for problem in refused.value.problems] == [
        "line 1, column 1: found a block 'joints'; expected the truss as the brief gives it. "
        "To mend it: take the block 'joints' out: your working is enough.",
        "line 1, column 1: found no working; expected what you worked out by hand. "
        "To mend it: write 'working:' and below it lines such as '  forces: {a-b: 80 C}'.",
    ]


def test_the_given_truss_is_drawn_with_its_joints_named() -> None:
    svg = envelope(BRIEF).svg
    assert all(f">{name}</text>" in svg for name in "abcdef")


BAD = [
    ({"joints": {"a": [0, 0], "b": [200, 0]}, "members": {"a-x": "bar"}}, "the member 'a-x'"),
    ({"joints": {"a": [0, 0], "b": [200, 0]}, "members": {"a-b": "bar", "b-a": "bar"}}, "the member 'b-a'"),
    ({"joints": {"a": [0, 0], "b": [0.1, 0]}, "members": {"a-b": "bar"}}, "the joints a and b in one place"),
    ({"joints": {"a": [0, 0], "b": [200, 0]}, "members": {"a-b": "beam"}}, "the stick 'beam'"),
    ({"joints": {"a": [0, 0], "b": [200, 0]}, "members": {"a-b": "bar"}}, "a problem without a joint at [600, 0]"),
]


@pytest.mark.parametrize(("problem", "said"), BAD)
def test_a_problem_that_no_student_could_solve_is_refused_of_the_teacher(problem: object, said: str) -> None:
    with pytest.raises(ValueError, match="expected") as refused:
        Brief.model_validate({**BRIEF.model_dump(exclude={"problem"}), "problem": problem})
    assert said in str(refused.value)
