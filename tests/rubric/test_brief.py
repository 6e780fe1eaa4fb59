"""Briefs: what a teacher writes, and what is said where it does not fit."""

from __future__ import annotations

import pytest

from rubric import library
from rubric.brief import Brief, read_brief
from rubric.problems import Refused

SMALL = """title: Small
span: 600 mm
load: {places: midspan, target: 200 N}
wood: {material: balsa}
stock: {square5: {section: 5 x 5 mm, length: 900 mm, count: 14}}
"""


def problems(text: str) -> list[str]:
    with pytest.raises(Refused) as refused:
        read_brief(text.encode())
    return [str(problem) for problem in refused.value.problems]


def changed(old: str, new: str) -> list[str]:
    assert old in SMALL
    return problems(SMALL.replace(old, new))


def test_a_small_brief_fills_in_the_rest() -> None:
    brief = read_brief(SMALL.encode())
    assert (brief.span_mm, brief.sides, brief.side_share, brief.supports.left) == (600, 2, 0.5, "pin")
    assert brief.limits.mass_g is None


@pytest.mark.parametrize("name", library.brief_names())
def test_a_ready_brief_survives_the_journey_as_json(name: str) -> None:
    brief = library.brief(name)
    assert Brief.model_validate_json(brief.model_dump_json()) == brief


def test_there_are_at_least_two_ready_briefs_and_rubrics() -> None:
    assert len(library.brief_names()) >= 2
    assert all(library.rubric(name).criteria for name in library.rubric_names())


def test_units_and_shares_are_read_as_they_are_written() -> None:
    text = SMALL.replace("600 mm", "0.6 m").replace("200 N", "0.2 kN") + "sides: 3\nshare: 40 %\n"
    brief = read_brief(text.encode())
    assert (brief.span_mm, brief.load.target_N, brief.side_share) == (600, 200, 0.4)


MISTAKES = [
    ("600 mm", "600 km", "line 2, column 7: found '600 km'; expected a length in mm, cm, m, in. "
     "To mend it: write a plain number and a unit, such as '12.5 mm'."),
    ("600 mm", "-3 mm", "line 2, column 7: found '-3 mm'; expected a length of 1e-06 or more. To mend it: write a larger number."),
    ("span", "spam", "line 1, column 1: found no 'span'; expected the distance between the supports. "
     "To mend it: add a line such as 'span: 600 mm'."),
    ("midspan", "middle", "line 3, column 16: found 'middle'; expected 'midspan', 'along the deck' or a list of different "
     "places measured from the left support. To mend it: write for example 'places: [200 mm, 400 mm]'."),
    ("midspan", "[100 mm, 700 mm]", "line 1, column 1: found a load at 700 mm; expected places between 0 and the span of "
     "600 mm. To mend it: move it."),
    ("balsa", "blasa", "line 4, column 1: found the material 'blasa', whose values are not known; expected a wood of the table, "
     "or all of density, modulus, tension, compression and shear. To mend it: did you mean 'balsa'?"),
    ("5 x 5 mm", "5 mm", "line 5, column 28: found '5 mm'; expected width x thickness in mm, each 0.1 to 500. "
     "To mend it: write for example '5 x 5 mm'."),
    ("count: 14", "count: 1.5", "line 5, column 61: found '1.5'; expected a whole number from 1 to 10000. "
     "To mend it: write it in digits."),
    ("stock: {square5: {section: 5 x 5 mm, length: 900 mm, count: 14}}", "stock: {}",
     "line 5, column 1: found a block of keys; expected the sticks of one kit by name. To mend it: write it as "
     "'stock: {square5: {section: 5 x 5 mm, length: 900 mm, count: 12}}'."),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "said"), MISTAKES, ids=lambda value: value[:30])
def test_a_mistake_in_a_brief_is_told_in_these_words(old: str, new: str, said: str) -> None:
    assert said in changed(old, new)


EXTRA = [
    ("dates: {due: 2027-13-01}", "line 6, column 14: found '2027-13-01'; expected a date and time. "
     "To mend it: write for example '2027-03-01 16:00'."),
    ("dates: {opens: 2027-03-02, due: 2027-03-01}", "line 6, column 1: found opening on 2027-03-02 00:00:00 and due on "
     "2027-03-01 00:00:00; expected opening before the due date. To mend it: swap the two."),
    ("dates: {due: 2027-03-01T10:00:00+02:00}", "line 6, column 14: found '2027-03-01T10:00:00+02:00'; expected a date "
     "between 2000 and 2200 in the school's own time. To mend it: leave the zone out."),
    ("limits: {depth abov: 3 mm}", "line 6, column 22: found the unknown key 'depth abov'; expected a key of this block. "
     "To mend it: did you mean 'depth above'?"),
    ("effective length: 9", "line 6, column 19: found '9'; expected effective length over joint distance, 0.5 to 2. "
     "To mend it: write it as 'effective length: 1'."),
    ("supports: {left: welded}", "line 6, column 18: found 'welded'; expected 'pin', 'roller', 'roller y' or 'roller 30'. "
     "To mend it: use one of 'pin', 'roller'."),
    ("share: 30 %", "line 1, column 1: found a share of 30% for the most loaded of 2 side trusses; expected at least 50%. "
     "To mend it: write 'share: equal' or a larger share."),
    ("title: Again", "line 6, column 1: found 'title' a second time; expected each name once (the first stands in line 1). "
     "To mend it: take one of the two out, or give it another name."),
]  # fmt: skip


@pytest.mark.parametrize(("line", "said"), EXTRA, ids=lambda value: value[:30])
def test_a_wrong_line_more_in_a_brief_is_told_in_these_words(line: str, said: str) -> None:
    assert problems(f"{SMALL}{line}\n") == [said]


def test_all_mistakes_of_a_brief_are_told_at_once() -> None:
    text = SMALL.replace("600 mm", "long").replace("200 N", "heavy").replace("5 x 5 mm", "thin")
    assert [problem.split(":")[0] for problem in problems(text)] == [
        "line 2, column 7",
        "line 3, column 33",
        "line 5, column 28",
    ]
