"""How working by hand is laid out for pages and sheets."""

from __future__ import annotations

from typing import Any

from rubric.by_hand import answer_lines, by_hand
from rubric.evidence import Answer


def answer(name: str, verdict: str, **more: Any) -> Answer:
    usual = {"about": "force", "given": "75 N T", "given_N": 75.0, "true_N": 62.5, "said": "Look at joint b again."}
    return Answer.model_validate(usual | {"name": name, "verdict": verdict} | more)


REACTION = answer("a y", "sense", about="reaction", given="60 N up", given_N=60.0, true_N=50.0)
SHEET = (
    answer("a-b", "right"),
    REACTION,
    answer("b-c", "follows"),
    answer("c-d", "left out", given="", given_N=None),
    answer("d-e", "wrong", true_N=-80.04),
)


def test_theirs_stands_beside_ours_with_units_and_senses() -> None:
    lines = answer_lines(SHEET)
    assert [(line.name, line.given, line.holds) for line in lines] == [
        ("a-b", "75 N T", "62.5 N T"),
        ("support a, upward", "60 N up", "50 N up"),
        ("b-c", "75 N T", "62.5 N T"),
        ("c-d", "\N{EN DASH}", "62.5 N T"),
        ("d-e", "75 N T", "80 N C"),
    ]


def test_the_first_slip_alone_is_marked_and_right_answers_need_no_words() -> None:
    lines = answer_lines(SHEET)
    assert [line.name for line in lines if line.first] == ["support a, upward"]
    assert [line.said for line in lines if not line.said] == ["", ""]
    assert [line.verdict for line in lines][:2] == ["Right", "Right direction, wrong size"]


def test_slips_and_what_was_left_out_are_told_apart_from_what_follows() -> None:
    (one,) = by_hand({"Forces": SHEET})
    assert [line.name for line in one.slips] == ["support a, upward", "d-e"]
    assert one.left_out == ("c-d",)
    assert not one.all_right
    assert by_hand({"Forces": SHEET[:1]})[0].all_right


def test_a_file_without_working_shows_none() -> None:
    assert by_hand({"Forces": SHEET[3:4]}) == ()
    assert by_hand({}) == ()


def test_a_zero_member_holds_nought_and_a_truss_without_any_has_none() -> None:
    zero = answer("b-d", "right", about="zero", given="0 N", given_N=0.0, true_N=0.0)
    none = answer("zero members", "right", about="zero", given="none", given_N=None, true_N=0.0)
    assert [line.holds for line in answer_lines((zero, none))] == ["0 N", "none"]
