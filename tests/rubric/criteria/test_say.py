"""A teacher's own words."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from rubric.criteria.say import PLACEHOLDERS, fill
from rubric.evidence import Evidence
from rubric.marking import mark
from tests.rubric.criteria.made import first, rubric

WORDS = "say: {earned: 'Well done, {name}.', some: 'Nearly: {seen}. {how}', not earned: '{missing} of {out of} to go. {why}'}"
SCALE = rubric("scale", f"measure: efficiency, earns: {{100: 0, 300: 20}}, {WORDS}")


def test_the_teachers_words_stand_for_ours_with_the_placeholders_filled_in() -> None:
    assert first(SCALE, efficiency=300.0).why == "Well done, It."
    some = first(SCALE, efficiency=200.0)
    assert some.why == "Nearly: the efficiency is 200. Raise the efficiency to 300 to earn all 20 points."
    assert (some.earn_more, some.seen) == ("", "the efficiency is 200")
    assert first(SCALE, efficiency=50.0).why == "20 of 20 to go. That is below 100, where the scale begins."


def test_our_own_words_stand_where_there_was_nothing_to_judge() -> None:
    assert first(SCALE, mechanisms=1.0, efficiency=None).why == "A truss that can move has no efficiency."
    assert mark(SCALE, Evidence()).criteria[0].why == "The file could not be read to its end."


def test_our_own_words_stand_where_the_teacher_left_a_case_out() -> None:
    made = rubric("threshold", "measure: mass, at most: 60 g, say: {not earned: Too heavy.}")
    assert first(made, mass=50.0).why == "That is what was asked."
    assert (first(made, mass=70.0).why, first(made, mass=70.0).earn_more) == ("Too heavy.", "")


@given(st.sampled_from(PLACEHOLDERS), st.text())
def test_what_is_filled_in_is_never_read_again(name: str, text: str) -> None:
    values = dict.fromkeys(PLACEHOLDERS, "") | {name: text}
    assert fill(f"a {{{name}}} b", values) == f"a {text} b"
