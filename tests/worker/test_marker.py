"""Order -> Outcome: pure, deterministic, and never an error for what a file holds."""

from __future__ import annotations

import base64

from hypothesis import given, settings
from hypothesis import strategies as st

from rubric import library
from rubric.messages.orders import DrawOrder, MarkOrder
from rubric.rubrics import read_rubric
from tests.corpus.mistaken import G as GOOD
from worker.marker import UNASKED, draw, mark, mark_file

BRIEF = library.brief("footbridge")
RUBRIC = library.rubric("footbridge")


def order(data: bytes) -> MarkOrder:
    return MarkOrder(
        job=7, attempt="t", file_name="x.yaml", file_base64=base64.b64encode(data).decode(), brief=BRIEF, rubric=RUBRIC
    )


def test_a_good_file_is_solved_marked_praised_advised_and_drawn() -> None:
    outcome = mark(order(f"title: Kite\n{GOOD}".encode()))
    assert (outcome.job, outcome.attempt, outcome.title, outcome.mistakes) == (7, "t", "Kite", ())
    assert outcome.analysis is not None
    assert outcome.marks.total > 20
    assert outcome.praise[0] == "Your truss is stable: it keeps its shape under load."
    assert 1 <= len(outcome.steps) <= 3
    assert outcome.drawing is not None


def test_a_truss_that_breaks_a_limit_stays_off_the_board() -> None:
    within = GOOD.replace("[300, 150]", "[300, 120]").replace("a-d", "a-e").replace("d-c", "e-c")
    assert not mark_file(GOOD.encode(), BRIEF, RUBRIC).on_board  # rafters of 335 mm, and the brief allows 250 mm
    assert mark_file(within.encode(), BRIEF, RUBRIC).mistakes


def test_a_mechanism_is_told_which_bar_to_add() -> None:
    outcome = mark_file(GOOD.replace("  b-d: square3\n", "").encode(), BRIEF, RUBRIC)
    assert outcome.analysis is not None
    assert outcome.analysis.state == "mechanism"
    assert outcome.steps[0].title == "Add a member from joint b to joint d"
    assert outcome.marks.criteria[0].points == 0


def test_a_file_with_mistakes_has_each_line_quoted() -> None:
    outcome = mark_file(GOOD.replace("b-d: square3", "b-q: square3").encode(), BRIEF, RUBRIC)
    assert [(mistake.line, mistake.quote) for mistake in outcome.mistakes] == [(11, "  b-q: square3")]
    assert outcome.analysis is None


WORKING = "working: {reactions: {a: 50 up}, forces: {a-b: 50 T, a-d: 60 C, b-d: 9 T}}\n"
ASKS_FOR_IT = read_rubric(
    b"title: By hand\ncriteria:\n- {name: Reactions, kind: working, asks: reactions, points: 4}\n"
    b"- {name: Forces, kind: working, asks: forces, within: 1 %, points: 10}\n"
)


def test_working_by_hand_is_marked_for_each_criterion_that_asks_for_it() -> None:
    outcome = mark_file(f"{GOOD}{WORKING}".encode(), BRIEF, ASKS_FOR_IT)
    assert [a.verdict for a in outcome.working["Reactions"]] == ["right", "left out"]
    assert {a.name for a in outcome.working["Forces"]} == {"a-b", "b-c", "a-d", "d-c", "b-d"}
    assert outcome.marks.criteria[0].points == 2


def test_working_that_no_rubric_asks_for_is_compared_too_as_far_as_it_goes() -> None:
    outcome = mark_file(f"{GOOD}{WORKING}".encode(), BRIEF, RUBRIC)
    assert {a.name for a in outcome.working[UNASKED]} == {"a y", "a-b", "a-d", "b-d"}
    assert mark_file(GOOD.encode(), BRIEF, RUBRIC).working == {}


def test_a_truss_is_worked_out_by_hand_with_hinges_and_without_its_own_weight() -> None:
    full = BRIEF.model_copy(update={"self_weight": "counted", "joints": "rigid"})
    heavy, light = (mark_file(f"{GOOD}{WORKING}".encode(), brief, ASKS_FOR_IT) for brief in (full, BRIEF))
    assert heavy.analysis.members[0].force_N != light.analysis.members[0].force_N
    assert heavy.working == light.working


def test_a_students_own_truss_leaves_its_fingerprint_and_a_given_one_does_not() -> None:
    problem = library.brief("forces-by-hand")
    assert problem.problem is not None
    own, given = mark_file(GOOD.encode(), BRIEF, RUBRIC), mark_file(b"working: {}\n", problem, RUBRIC)
    assert own.fingerprint is not None
    assert (len(own.fingerprint.joints), own.fingerprint.span_mm) == (len(own.analysis.joints), 600)
    assert given.fingerprint is None


def test_the_same_order_gives_the_same_bytes_a_thousand_times() -> None:
    first = mark(order(GOOD.encode())).model_dump_json()
    assert all(mark(order(GOOD.encode())).model_dump_json() == first for _ in range(999))


def test_the_envelope_of_a_brief_is_drawn() -> None:
    drawn = draw(DrawOrder(job=1, attempt="a", brief=BRIEF))
    assert "600" in drawn.drawing.svg
    assert drawn.drawing.alternative


@settings(max_examples=150, deadline=None)
@given(st.binary(max_size=400))
def test_no_bytes_make_the_marker_fail(data: bytes) -> None:
    assert mark_file(data, BRIEF, RUBRIC).marks.out_of == 100


@settings(max_examples=100, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 600), st.integers(0, 180)), min_size=1, max_size=8, unique=True), st.data())
def test_any_joints_and_members_give_an_outcome(places: list[tuple[int, int]], data: st.DataObject) -> None:
    names = ["a", "b", "c", *(f"j{i}" for i in range(len(places)))]
    at = dict(zip(names, [(0, 0), (300, 0), (600, 0), *places], strict=True))
    pairs = st.tuples(st.sampled_from(names), st.sampled_from(names))
    bars = data.draw(st.lists(pairs, min_size=1, max_size=20))
    text = "joints:\n" + "".join(f"  {n}: [{x}, {y}]\n" for n, (x, y) in at.items()) + "members:\n"
    text += "".join(f"  {a}-{b}: square5\n" for a, b in dict.fromkeys(bars))
    outcome = mark_file(text.encode(), BRIEF, RUBRIC)
    assert bool(outcome.mistakes) != bool(outcome.analysis)
