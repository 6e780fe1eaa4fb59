"""A file that is still being written is looked at: what is understood, and nothing that a mark is made of."""

from __future__ import annotations

import base64
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubric import library
from rubric.brief import Brief
from rubric.messages.orders import SketchOrder
from rubric.messages.outcomes import Sketched
from service.drawings import drawing_fault
from tests.corpus.mistaken import CASES
from tests.service.site import GIRDER, MECHANISM, MISTAKEN, TOO_DEEP
from worker.marker import mark_file
from worker.sketching import look, sketch

BRIEF, RUBRIC = library.brief("footbridge"), library.rubric("footbridge")


def advised(advice: str) -> Brief:
    return BRIEF.model_copy(update={"advice": advice})


def test_a_good_truss_is_counted_drawn_and_said_to_stand() -> None:
    seen = look(GIRDER, BRIEF, 7, "abc")
    assert (seen.job, seen.attempt, seen.title) == (7, "abc", "Double-post girder")
    assert (seen.joints, seen.members, seen.stands, seen.mistakes, seen.limits_broken) == (8, 13, True, (), ())
    assert seen.drawing is not None
    assert drawing_fault(seen.drawing.svg) is None
    assert "It is loaded with 100 N down at c." in seen.drawing.alternative


def test_an_order_is_answered_by_its_own_numbers() -> None:
    order = SketchOrder(job=3, attempt="x", file_base64=base64.b64encode(GIRDER).decode(), brief=BRIEF)
    assert sketch(order) == look(GIRDER, BRIEF, 3, "x")


def test_with_a_mistake_what_was_understood_is_still_drawn() -> None:
    seen = look(MISTAKEN, BRIEF)
    assert (seen.joints, seen.members, seen.stands) == (8, 13, None)
    (mistake,) = seen.mistakes
    assert (mistake.line, mistake.found) == (6, "the stick 'sqare5'")
    assert seen.drawing is not None


def test_a_joint_whose_place_cannot_be_read_is_left_out_with_what_hangs_on_it() -> None:
    seen = look(b"joints:\n  a: [0, 0]\n  b: [x, 3]\n  c: [300, 40]\nmembers: {a-b: square5, a-c: square5}\n", BRIEF)
    assert (seen.joints, seen.members) == (2, 1)
    assert seen.drawing is not None
    assert ">b<" not in seen.drawing.svg


@pytest.mark.parametrize("text", [b"", b"joints: {a: [0", b"\x00\x01", b"[1, 2]", b"title: x\n", b"\xff\xfea"])
def test_what_cannot_be_read_at_all_has_mistakes_and_no_drawing(text: bytes) -> None:
    seen = look(text, BRIEF)
    assert seen.mistakes
    assert (seen.drawing, seen.stands) == (None, None)


def test_mistakes_are_word_for_word_those_of_marking() -> None:
    for case in CASES:
        if case.with_brief:
            assert look(case.data, BRIEF).mistakes == mark_file(case.data, BRIEF, RUBRIC).mistakes, case.name


def test_a_limit_of_shape_is_told_and_one_of_mass_is_not() -> None:
    assert look(TOO_DEEP, BRIEF).limits_broken == (
        "The highest joint is 190 mm above the deck; the brief allows 180 mm.",
    )
    light = BRIEF.model_copy(update={"limits": BRIEF.limits.model_copy(update={"mass_g": 1.0})})
    assert mark_file(GIRDER, light, RUBRIC).analysis.limits_broken != ()  # type: ignore[union-attr]
    assert look(GIRDER, light).limits_broken == ()


@pytest.mark.parametrize(
    ("advice", "moving", "titles"),
    [
        ("none", False, []),
        ("where to look", True, ["Look for the shape that is not a triangle"]),
        ("what to try", True, ["Add a member from joint b to joint h", "Look for the shape that is not a triangle"]),
    ],
)
def test_of_a_mechanism_as_much_is_told_as_the_brief_lets_advice_go(
    advice: str, moving: bool, titles: list[str]
) -> None:
    seen = look(MECHANISM, advised(advice))
    assert (seen.stands, bool(seen.moving)) == (False, moving)
    assert [step.title for step in seen.steps] == titles
    assert seen.drawing is not None
    assert ("Joints that move are filled." in seen.drawing.svg) == moving


def test_of_a_problem_set_the_answers_are_counted_and_not_judged() -> None:
    brief = library.brief("forces-by-hand")
    right, wrong = (f"working: {{forces: {{a-b: {n} T}}, reactions: {{a: 45 up}}}}\n".encode() for n in (60, 999))
    seen = look(right, brief)
    assert (seen.answers, seen.stands, seen.limits_broken, seen.mistakes) == (2, None, (), ())
    assert look(wrong, brief) == seen


def test_nothing_that_a_mark_is_made_of_is_told() -> None:
    assert not {"analysis", "measures", "marks", "mass_g", "failure_load_N"} & set(Sketched.model_fields)
    for stick in (b"square3", b"square5 x2"):
        seen = look(GIRDER.replace(b"square3", stick), BRIEF)
        assert seen.drawing is not None
        assert "breaks" not in seen.drawing.svg
        assert not re.search(r"\d (g|kg|MPa|%)", seen.drawing.svg)


@given(st.binary(max_size=300) | st.text(max_size=300).map(str.encode))
def test_no_text_makes_it_fail(data: bytes) -> None:
    assert isinstance(look(data, BRIEF), Sketched)


@given(st.integers(0, len(GIRDER)))
def test_a_file_cut_off_anywhere_is_looked_at(end: int) -> None:
    seen = look(GIRDER[:end], BRIEF)
    assert seen.drawing is None or drawing_fault(seen.drawing.svg) is None
